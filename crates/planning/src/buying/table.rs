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
    /// How many of [`PARTS`] parts of what is spent are given back, by supplier: 0 to `PARTS`.
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
    /// How many of them are not of the last class.
    cut: usize,
    /// From each offer on, for states in which nothing of later classes is bought. Behind the offers
    /// of all classes but the last stands what the last one adds to their states, and behind its own
    /// offers what its missing units count.
    rows: Vec<Vec<Money>>,
}

impl Table {
    /// The table of `group`, in which a missing stone counts `missing`.
    pub(super) fn new(group: &Group, missing: Money, prices: &Prices) -> Table {
        let sells = |&i: &usize| prices.sells(&group.lines[i]);
        let lines: Vec<usize> = (0..group.lines.len()).filter(sells).collect();
        let cut = lines.iter().filter(|&&i| group.lines[i].class != group.last()).count();
        let class = &group.classes[group.last()];
        let stone = missing * PARTS;
        let end = (0..=class.enough).map(|have| Money::from((class.enough - have) * class.unit));
        let mut rows: Vec<Vec<Money>> = vec![end.map(|left| left * stone).collect()];
        for &i in lines[cut..].iter().rev() {
            rows.push(row(group, &group.lines[i], prices, &rows[rows.len() - 1]));
        }
        let last = &rows[rows.len() - 1];
        let joined = |state: usize| {
            let least = last[group.enter(state)];
            // Purchases cost less than a missing stone counts: so much, and stones are missing; then
            // the units of use that are no stones of use were counted among them.
            let excess = if least >= stone { group.excess(state) } else { 0 };
            least + (Money::from(group.junction[state].short) - Money::from(excess)) * stone
        };
        rows.push((0..group.junction.len()).map(joined).collect());
        for &i in lines[..cut].iter().rev() {
            rows.push(row(group, &group.lines[i], prices, &rows[rows.len() - 1]));
        }
        rows.reverse();
        Table { lines, cut, rows }
    }

    /// The least counted cost.
    pub(super) fn least(&self) -> Money {
        self.rows[0][0]
    }

    /// Whether the last class begins with the `at`-th offer.
    pub(super) fn joins(&self, at: usize) -> bool {
        at == self.cut
    }

    /// Whether the last class is begun before the `at`-th offer or with it.
    pub(super) fn begun(&self, at: usize) -> bool {
        at >= self.cut
    }

    /// Whether an offer of the last class may be bought.
    pub(super) fn joined(&self) -> bool {
        self.cut < self.lines.len()
    }

    /// The row from the `at`-th offer on, and the one after it.
    fn row(&self, at: usize) -> (&[Money], &[Money]) {
        let at = at + usize::from(at >= self.cut);
        (&self.rows[at], &self.rows[at + 1])
    }

    /// The row after the `at`-th offer: the least that the offers behind it count, within the last
    /// class without what is missing whatever is bought of it.
    pub(super) fn after(&self, at: usize) -> &[Money] {
        self.row(at).1
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
            if self.joins(at) {
                state = group.enter(state);
            }
            let (here, next) = self.row(at);
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
    use proptest::test_runner::{RngAlgorithm, RngSeed};

    const MISSING: Money = 1000;
    /// More packs than all demands together have stones.
    const MOST: u64 = 9;

    fn cases() -> ProptestConfig {
        ProptestConfig {
            cases: 512,
            failure_persistence: None,
            rng_algorithm: RngAlgorithm::ChaCha,
            rng_seed: RngSeed::Fixed(20_263),
            ..ProptestConfig::default()
        }
    }

    /// Every purchase tried.
    fn tried(group: &Group, packs: &mut Vec<u64>) -> Money {
        let Some(line) = group.lines.get(packs.len()) else {
            let cost: Money = group.lines.iter().zip(&*packs).map(|(l, &x)| l.cost(x)).sum();
            return cost + Money::from(group.missing_after(packs)) * MISSING;
        };
        let mut least = Money::MAX;
        for x in 0..=line.most.unwrap_or(MOST).min(MOST) {
            packs.push(x);
            least = tried(group, packs).min(least);
            packs.pop();
        }
        least
    }

    /// Class, units in a pack, price, what the break takes off, where it begins, packs there are.
    type Drawn = (usize, u64, i128, i128, u64, Option<u64>);

    fn line(drawn: &Drawn, classes: usize) -> OfferLine {
        let &(class, units, price, off, from, most) = drawn;
        let tiers = [(1, price), (from, (price - off).max(0))];
        let tiers = tiers.into_iter().filter(|t| most.is_none_or(|m| t.0 <= m)).collect();
        OfferLine { offer: 0, supplier: 0, class: class % classes, units, tiers, most }
    }

    proptest! {
        #![proptest_config(cases())]
        #[test]
        fn a_table_finds_what_trying_everything_finds(
            needs in prop::collection::vec(0u64..4, 1..4),
            classes in prop::collection::vec((1u64..8, 0u64..3, 1u64..4), 1..4),
            lines in prop::collection::vec(
                (0usize..3, 1u64..4, 1i128..30, 0i128..10, 2u64..5, prop::option::of(1u64..4)), 0..4),
        ) {
            let all = (1 << needs.len()) - 1;
            let class = |&(serves, stock, unit): &(u64, u64, u64)| Class {
                serves: if serves & all == 0 { 1 } else { serves & all },
                stock,
                unit,
                enough: needs.iter().sum::<u64>().div_ceil(unit),
                stride: 1,
            };
            let classes: Vec<Class> = classes.iter().map(class).collect();
            let lines = lines.iter().map(|l| line(l, classes.len())).collect();
            let group = Group::joined(needs, classes, lines);
            let prices = Prices { open: 1, back: vec![0] };
            let table = Table::new(&group, MISSING, &prices);
            prop_assert_eq!(table.least(), tried(&group, &mut vec![]) * PARTS);
            let packs = table.packs(&group, &prices);
            let cost: Money = group.lines.iter().zip(&packs).map(|(l, &x)| l.cost(x)).sum();
            let missing = Money::from(group.missing_after(&packs)) * MISSING;
            prop_assert_eq!(table.least(), (cost + missing) * PARTS);
            prop_assert!(group.lines.iter().zip(&packs).all(|(l, x)| l.most.is_none_or(|m| *x <= m)));
        }
    }
}
