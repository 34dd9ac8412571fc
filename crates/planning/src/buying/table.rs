//! The cheapest cover of one group, when some of what is spent with each supplier is given back.
//!
//! A table over offers and states, from the last offer to the first: the least that the offers from
//! this one on must cost when so many units are already bought (a bounded knapsack turned round;
//! R. Bellman, Dynamic Programming, 1957).

use super::model::{Group, Money, OfferLine};

/// Parts into which money is divided while some of it is given back: all is reckoned in
/// 1/[`PARTS`] of the smallest unit, exactly.
pub(super) const PARTS: Money = 1024;

/// What counts while a table is made.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Prices {
    /// Suppliers that may be bought from, by bit.
    pub(super) open: u64,
    /// How many of [`PARTS`] parts of what is spent are given back, by supplier: 0 to `PARTS` − 1.
    pub(super) back: Vec<Money>,
}

impl Prices {
    /// Whether `line` may be bought.
    fn sells(&self, line: &OfferLine) -> bool {
        self.open >> line.supplier & 1 == 1
    }

    /// What `money` spent on `line` counts.
    pub(super) fn counted(&self, line: &OfferLine, money: Money) -> Money {
        money * (PARTS - self.back[line.supplier])
    }
}

/// Least counted cost from every state on.
pub(super) struct Table {
    /// Offers that may be bought (indices into the group's lines).
    pub(super) lines: Vec<usize>,
    /// `rows[i][state]`: from the i-th of them on, for states in which nothing of later classes is
    /// bought. The last row counts what is missing in the end.
    pub(super) rows: Vec<Vec<Money>>,
}

impl Table {
    /// The table of `group`; `missing` is what counts for missing stones in every state.
    pub(super) fn new(group: &Group, missing: &[Money], prices: &Prices) -> Table {
        let sells = |&i: &usize| prices.sells(&group.lines[i]);
        let lines: Vec<usize> = (0..group.lines.len()).filter(sells).collect();
        let mut rows = vec![missing.to_vec()];
        for &i in lines.iter().rev() {
            let next = &rows[rows.len() - 1];
            rows.push(row(group, &group.lines[i], prices, next));
        }
        rows.reverse();
        Table { lines, rows }
    }

    /// The least counted cost.
    pub(super) fn least(&self) -> Money {
        self.rows[0][0]
    }

    /// Work that it took, in steps.
    pub(super) fn steps(&self) -> u64 {
        self.rows.iter().map(|row| row.len() as u64).sum()
    }

    /// Packs of every line of the group in one cheapest cover.
    pub(super) fn packs(&self, group: &Group, prices: &Prices) -> Vec<u64> {
        let mut packs = vec![0; group.lines.len()];
        let mut state = 0;
        for (at, &i) in self.lines.iter().enumerate() {
            let (here, next) = (&self.rows[at], &self.rows[at + 1]);
            if here[state] == next[state] {
                continue;
            }
            let line = &group.lines[i];
            let costs =
                |x: u64| prices.counted(line, line.cost(x)) + next[group.after(state, line, x)];
            let most = most_useful(group, line, state);
            if let Some(x) = (1..=most).find(|&x| costs(x) == here[state]) {
                packs[i] = x;
                state = group.after(state, line, x);
            }
        }
        packs
    }
}

/// Packs of `line` beyond which more are never cheaper, from `state` on.
fn most_useful(group: &Group, line: &OfferLine, state: usize) -> u64 {
    let open = group.classes[line.class].enough - group.units(state, line.class);
    let covering = if line.units == 0 { 0 } else { open.div_ceil(line.units) };
    let useful = covering.max(line.last_break());
    line.most.map_or(useful, |most| useful.min(most))
}

/// The row of `line` from the row after it. Of later classes nothing is bought yet, so only states
/// without them matter: those at the beginning.
fn row(group: &Group, line: &OfferLine, prices: &Prices, next: &[Money]) -> Vec<Money> {
    let class = &group.classes[line.class];
    let enough = class.enough as usize;
    let (units, stride) = (line.units.min(class.enough) as usize, class.stride as usize);
    let next = &next[..stride * (enough + 1)];
    let mut row = next.to_vec();
    if line.units == 0 {
        return row;
    }
    let plenty = line.most.is_none_or(|most| most.saturating_mul(line.units) >= class.enough);
    let mut column = vec![0; enough + 1];
    for base in 0..stride {
        let after = |have: usize| base + have.min(enough) * stride;
        for &(from, price) in &line.tiers {
            let each = prices.counted(line, price);
            let first = each * Money::from(from);
            let jump = line.units.saturating_mul(from).min(class.enough) as usize;
            if plenty {
                // Prices fall with the number of packs, so nothing is lost by letting each price
                // hold for more packs than it does.
                for have in (0..=enough).rev() {
                    let mut least = first + next[after(have + jump)];
                    if have < enough {
                        least = least.min(column[(have + units).min(enough)] + each);
                    }
                    column[have] = least;
                    let cell = &mut row[after(have)];
                    *cell = least.min(*cell);
                }
            } else {
                let most = line.most.unwrap_or(u64::MAX);
                for have in 0..enough {
                    let cell = &mut row[after(have)];
                    for packs in from..=most {
                        let bought = (line.units * packs) as usize;
                        let cost = each * Money::from(packs) + next[after(have + bought)];
                        *cell = cost.min(*cell);
                        if have + bought >= enough {
                            break;
                        }
                    }
                }
            }
        }
    }
    row
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::buying::model::Class;
    use proptest::prelude::*;

    fn group(need: u64, lines: Vec<OfferLine>) -> Group {
        let classes = vec![Class { serves: 1, stock: 0, unit: 1, enough: need, stride: 1 }];
        Group { needs: vec![need], classes, lines }
    }

    /// Every purchase tried.
    fn tried(group: &Group, missing: &[Money], line: usize, state: usize) -> Money {
        let Some(l) = group.lines.get(line) else { return missing[state] * PARTS };
        (0..=l.most.unwrap_or(9).min(9))
            .map(|x| l.cost(x) * PARTS + tried(group, missing, line + 1, group.after(state, l, x)))
            .min()
            .unwrap_or(0)
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 128, failure_persistence: None, ..ProptestConfig::default() })]
        #[test]
        fn a_table_finds_what_trying_everything_finds(
            need in 0u64..9,
            lines in prop::collection::vec((1u64..4, 1i128..30, prop::option::of(0u64..4), 2u64..5, 0i128..10), 0..4),
        ) {
            let line = |&(units, price, most, from, off): &(u64, i128, Option<u64>, u64, i128)| OfferLine {
                offer: 0, supplier: 0, class: 0, units,
                tiers: [(1, price), (from, (price - off).max(0))].into_iter()
                    .filter(|t| most.is_none_or(|m| t.0 <= m)).collect(),
                most,
            };
            let lines: Vec<OfferLine> = lines.iter().map(line).filter(|l| l.most != Some(0)).collect();
            let group = group(need, lines);
            let missing: Vec<Money> = group.missing().iter().map(|&m| Money::from(m) * 1000).collect();
            let counted: Vec<Money> = missing.iter().map(|m| m * PARTS).collect();
            let prices = Prices { open: 1, back: vec![0] };
            let table = Table::new(&group, &counted, &prices);
            prop_assert_eq!(table.least(), tried(&group, &missing, 0, 0));
            let packs = table.packs(&group, &prices);
            let (mut state, mut cost) = (0, 0);
            for (line, &x) in group.lines.iter().zip(&packs) {
                cost += line.cost(x);
                state = group.after(state, line, x);
                prop_assert!(line.most.is_none_or(|most| x <= most));
            }
            prop_assert_eq!(table.least(), (cost + missing[state]) * PARTS);
        }
    }
}
