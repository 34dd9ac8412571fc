//! A market in whole numbers: money in its smallest unit, stones in units of each group.
//!
//! Kinds fall into groups that share no supply: one kind alone, or kinds that stand in for one
//! another. Suppliers tie groups together only by what is spent with each.

use super::error::MAX_DECIMALS;
use super::market::{Market, Offer};
use super::stand_ins::{Matches, serve};
use rust_decimal::Decimal;
use std::cmp::Reverse;

/// Money in the smallest unit that any price of the market has.
pub(super) type Money = i128;

/// States that the table of one group may have. Above it packs are rounded to coarser units.
const MOST_STATES: u64 = 1 << 16;

/// A market in whole numbers.
#[derive(Debug)]
pub(super) struct Model {
    /// Decimals of [`Money`].
    pub(super) decimals: u32,
    /// By supplier.
    pub(super) terms: Vec<Terms>,
    /// Kinds that share supply.
    pub(super) groups: Vec<Group>,
    /// What a missing stone counts: more than any purchase costs, so that covering comes first.
    pub(super) missing: Money,
    /// Whether packs had to be rounded to coarser units somewhere.
    pub(super) rounded: bool,
}

/// What a supplier asks for beside the price of goods.
#[derive(Clone, Copy, Debug)]
pub(super) struct Terms {
    pub(super) delivery: Money,
    pub(super) free_from: Option<Money>,
    pub(super) minimum: Money,
    /// Whether it delivers in time.
    pub(super) in_time: bool,
}

impl Terms {
    /// What the delivery of goods worth `goods` costs; `None` if so little is not sold.
    pub(super) fn charge(&self, goods: Money, packs: u64) -> Option<Money> {
        match self.free_from {
            _ if packs == 0 => Some(0),
            _ if goods < self.minimum => None,
            Some(free_from) if goods >= free_from => Some(0),
            _ => Some(self.delivery),
        }
    }
}

/// Kinds that share supply, and the offers that cover them.
#[derive(Debug)]
pub(super) struct Group {
    /// Stones needed, by demand.
    pub(super) needs: Vec<u64>,
    /// Supply by whom it may serve, the largest last.
    pub(super) classes: Vec<Class>,
    /// Offers, those of one class side by side.
    pub(super) lines: Vec<OfferLine>,
    /// What the last class has to do, by state of all others.
    pub(super) junction: Vec<Junction>,
}

/// What is left when all classes but the last are bought.
///
/// What was bought of them matters only by this: of the last class so many stones are of use, and
/// so many stones are missing whatever is bought of it. So it needs a table over its own units
/// alone, and not over those of all classes.
#[derive(Clone, Copy, Debug)]
pub(super) struct Junction {
    /// Stones missing even if the last class had no end.
    pub(super) short: u64,
    /// Stones of the last class that are of use.
    pub(super) due: u64,
}

/// Supply that may serve the same demands.
#[derive(Debug)]
pub(super) struct Class {
    /// Demands that it may serve, by bit.
    pub(super) serves: u64,
    /// Stones on the shelf.
    pub(super) stock: u64,
    /// Stones in a unit.
    pub(super) unit: u64,
    /// So many units bought serve all that the class may serve.
    pub(super) enough: u64,
    /// How far apart two states are that differ by one unit of this class.
    pub(super) stride: u64,
}

/// One offer.
#[derive(Debug)]
pub(super) struct OfferLine {
    /// The offer (index into the market's).
    pub(super) offer: usize,
    pub(super) supplier: usize,
    pub(super) class: usize,
    /// Units in a pack.
    pub(super) units: u64,
    /// From so many packs on each pack costs so much; the first from 1 on, falling in price.
    pub(super) tiers: Vec<(u64, Money)>,
    /// Packs there are.
    pub(super) most: Option<u64>,
}

impl OfferLine {
    /// Price of each pack when `packs` are bought.
    pub(super) fn price(&self, packs: u64) -> Money {
        let held = self.tiers.iter().rev().find(|t| t.0 <= packs);
        held.or(self.tiers.first()).map_or(0, |t| t.1)
    }

    /// What `packs` cost.
    pub(super) fn cost(&self, packs: u64) -> Money {
        self.price(packs) * Money::from(packs)
    }

    /// Packs above `have` for which the line first costs `sum` at each of its prices, or all that
    /// there are.
    pub(super) fn tries(&self, have: u64, sum: Money) -> impl Iterator<Item = u64> {
        let most = self.most.unwrap_or(u64::MAX);
        let reaching = move |&(from, price): &(u64, Money)| {
            let packs = if price > 0 { (sum + price - 1) / price } else { 0 };
            u64::try_from(packs).unwrap_or(u64::MAX).max(from).min(most)
        };
        self.tiers.iter().map(reaching).filter(move |&x| x > have)
    }

    /// The pack from which the last price break holds.
    pub(super) fn last_break(&self) -> u64 {
        self.tiers.last().map_or(1, |t| t.0)
    }
}

/// How packs are rounded to units where a group has too many states.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Rounding {
    /// A pack counts for less than it holds: what covers then covers in truth.
    Down,
    /// A pack counts for more than it holds: nothing that covers in truth costs less.
    Up,
}

impl Group {
    /// A group of these parts, for tests.
    #[cfg(test)]
    pub(super) fn joined(needs: Vec<u64>, classes: Vec<Class>, lines: Vec<OfferLine>) -> Group {
        let mut group = Group { needs, classes, lines, junction: vec![] };
        sort_classes(&mut group);
        group.join();
        group
    }

    /// States of all classes but the last: units bought of each, up to enough.
    fn n_states(&self) -> u64 {
        let before = &self.classes[..self.last()];
        before.iter().fold(1u64, |n, c| n.saturating_mul(c.enough + 1))
    }

    /// The last class.
    pub(super) fn last(&self) -> usize {
        self.classes.len() - 1
    }

    /// Whether a pack of some line is not what its units say.
    fn is_rounded(&self, market: &Market) -> bool {
        let pack = |l: &OfferLine| u64::from(market.offers[l.offer].pack);
        self.lines.iter().any(|l| l.units * self.classes[l.class].unit != pack(l))
    }

    /// Units of class `class` in `state`: a state of all classes but the last, or of the last alone.
    pub(super) fn units(&self, state: usize, class: usize) -> u64 {
        let c = &self.classes[class];
        state as u64 / c.stride % (c.enough + 1)
    }

    /// The state after `packs` more of `line`.
    pub(super) fn after(&self, state: usize, line: &OfferLine, packs: u64) -> usize {
        let class = &self.classes[line.class];
        let have = self.units(state, line.class);
        let more = line.units.saturating_mul(packs).min(class.enough - have);
        state + (more * class.stride) as usize
    }

    /// The state in which the last class is begun, after `state` of all others: as if all were
    /// bought but what is of use.
    pub(super) fn enter(&self, state: usize) -> usize {
        let class = &self.classes[self.last()];
        (class.enough - self.junction[state].due.div_ceil(class.unit)) as usize
    }

    /// Stones by which the units of use exceed the stones of use after `state`.
    pub(super) fn excess(&self, state: usize) -> u64 {
        let (due, unit) = (self.junction[state].due, self.classes[self.last()].unit);
        due.div_ceil(unit) * unit - due
    }

    /// Stones missing when the last class ends in `end`, after `state` of all others.
    pub(super) fn missing(&self, state: usize, end: usize) -> u64 {
        let class = &self.classes[self.last()];
        let left = (class.enough - end as u64) * class.unit;
        self.junction[state].short + left.saturating_sub(self.excess(state))
    }

    /// Stones missing when `packs` of every line are bought.
    pub(super) fn missing_after(&self, packs: &[u64]) -> u64 {
        let mut bought = vec![0u64; self.classes.len()];
        for (line, &x) in self.lines.iter().zip(packs) {
            let stones = line.units.saturating_mul(x).saturating_mul(self.classes[line.class].unit);
            bought[line.class] = bought[line.class].saturating_add(stones);
        }
        let (without, with) = self.lacking(&bought);
        without.max(with)
    }

    /// By Hall's theorem, the most that some of the demands need beyond what may serve any of them,
    /// when `bought` stones of every class are there: among demands that the last class does not
    /// serve, and among the others.
    fn lacking(&self, bought: &[u64]) -> (u64, u64) {
        let (mut without, mut with) = (0, 0);
        for set in 1..1u64 << self.needs.len() {
            let needs = self.needs.iter().enumerate().filter(|(i, _)| set >> i & 1 == 1);
            let need: u64 = needs.map(|n| n.1).sum();
            let serving = self.classes.iter().zip(bought).filter(|(c, _)| c.serves & set != 0);
            let supply = serving.fold(0u64, |n, (c, b)| n.saturating_add(c.stock + b));
            let lacking = need.saturating_sub(supply);
            if self.classes[self.last()].serves & set == 0 {
                without = lacking.max(without);
            } else {
                with = lacking.max(with);
            }
        }
        (without, with)
    }

    /// Finds what is left for the last class after every state of the others.
    fn join(&mut self) {
        let n = self.n_states() as usize;
        let last = self.last();
        let mut bought = vec![0; self.classes.len()];
        let mut junction = Vec::with_capacity(n);
        let sold = self.lines.iter().any(|l| l.class == last);
        for state in 0..n {
            for (c, bought) in bought[..last].iter_mut().enumerate() {
                *bought = self.units(state, c) * self.classes[c].unit;
            }
            let (without, with) = self.lacking(&bought);
            junction.push(if sold {
                Junction { short: without, due: with.saturating_sub(without) }
            } else {
                Junction { short: without.max(with), due: 0 }
            });
        }
        let class = &mut self.classes[last];
        let due = junction.iter().map(|j| j.due.div_ceil(class.unit));
        class.enough = due.max().unwrap_or(0);
        class.stride = 1;
        self.junction = junction;
    }
}

impl Model {
    /// The market in whole numbers, rounded where a group has too many states. Late suppliers take
    /// part only if `late`.
    pub(super) fn new(market: &Market, matches: &Matches, rounding: Rounding, late: bool) -> Model {
        let decimals = decimals(market);
        let money = |d: Decimal| whole(d, decimals);
        let in_time = |lead: u32| late || market.days.is_none_or(|days| lead <= days);
        let terms: Vec<Terms> = market
            .suppliers
            .iter()
            .map(|s| Terms {
                delivery: money(s.delivery),
                free_from: s.free_from.map(money),
                minimum: s.minimum.map_or(0, money),
                in_time: in_time(s.lead_days),
            })
            .collect();
        let builder = Builder { market, matches, terms: &terms, decimals, rounding };
        let mut rounded = false;
        let groups: Vec<Group> = matches
            .groups(market)
            .iter()
            .flat_map(|wanted| groups(&builder, wanted, &mut rounded))
            .collect();
        rounded |= groups.iter().any(|g| g.is_rounded(market));
        let missing = 1 + dearest(&groups, &terms);
        Model { decimals, terms, groups, missing, rounded }
    }

    /// Money as a decimal.
    pub(super) fn decimal(&self, money: Money) -> Decimal {
        Decimal::try_from_i128_with_scale(money, self.decimals).unwrap_or(Decimal::MAX)
    }
}

/// The most decimals of any price.
fn decimals(market: &Market) -> u32 {
    let suppliers = market
        .suppliers
        .iter()
        .flat_map(|s| [Some(s.delivery), s.free_from, s.minimum].into_iter().flatten());
    let offers =
        market.offers.iter().flat_map(|o| o.breaks.iter().map(|b| b.price).chain([o.price]));
    // As written: `6.20` keeps its two decimals, so that a total shows them too.
    suppliers.chain(offers).map(|d| d.scale().min(MAX_DECIMALS)).max().unwrap_or(0)
}

/// `money` in units of ten to the power of −`decimals`.
fn whole(money: Decimal, decimals: u32) -> Money {
    let money = money.normalize();
    let missing = decimals.saturating_sub(money.scale());
    (0..missing).fold(money.mantissa(), |m, _| m * 10)
}

/// One group before it is put into units: who needs what, and who may serve whom.
struct Share {
    /// Stones needed, by demand.
    needs: Vec<u64>,
    /// Kind, demands that it may serve by bit, stones on the shelf.
    supply: Vec<(usize, u64, u64)>,
}

/// Demands of one group whose sets are all tried.
const MOST_DEMANDS: usize = 6;

impl Share {
    fn new(market: &Market, matches: &Matches, wanted: &[usize]) -> Share {
        let serves = |kind: usize| {
            let bits = wanted.iter().take(64).enumerate();
            let bits = bits.filter(|&(_, &w)| matches.may_serve(kind, w));
            bits.fold(0u64, |set, (i, _)| set | 1 << i)
        };
        let supply = (0..market.kinds.len()).map(|k| (k, serves(k), matches.on_shelf(k)));
        Share {
            needs: wanted.iter().map(|&w| market.kinds[w].need).collect(),
            supply: supply.filter(|s| s.1 != 0).collect(),
        }
    }

    /// Every kind bound to one demand, itself or else the first that it may serve, after the shelf
    /// has served what it can: what covers then covers in truth.
    fn apart(market: &Market, matches: &Matches, wanted: &[usize]) -> Vec<Share> {
        let n = market.kinds.len();
        let shelf: Vec<u64> = (0..n).map(|k| matches.on_shelf(k)).collect();
        let mut need = vec![0; n];
        wanted.iter().for_each(|&w| need[w] = market.kinds[w].need);
        serve(matches, &shelf, &need).iter().for_each(|&(_, w, stones)| need[w] -= stones);
        let bound = |k: usize| {
            let itself = wanted.contains(&k).then_some(k);
            itself.or_else(|| wanted.iter().copied().find(|&w| matches.may_serve(k, w)))
        };
        let share = |&w: &usize| Share {
            needs: vec![need[w]],
            supply: (0..n).filter(|&k| bound(k) == Some(w)).map(|k| (k, 1, 0)).collect(),
        };
        wanted.iter().map(share).collect()
    }

    /// Every kind serves every demand: nothing that covers in truth costs less.
    fn together(market: &Market, matches: &Matches, wanted: &[usize]) -> Share {
        let serves = |&k: &usize| wanted.iter().any(|&w| matches.may_serve(k, w));
        Share {
            needs: vec![wanted.iter().map(|&w| market.kinds[w].need).sum()],
            supply: (0..market.kinds.len())
                .filter(serves)
                .map(|k| (k, 1, matches.on_shelf(k)))
                .collect(),
        }
    }
}

/// The groups of the needed kinds `wanted`: one, or an approximation of it if there would be too
/// many states.
fn groups(builder: &Builder, wanted: &[usize], rounded: &mut bool) -> Vec<Group> {
    let Builder { market, matches, rounding, .. } = builder;
    if wanted.len() <= MOST_DEMANDS {
        let group = builder.group(&Share::new(market, matches, wanted));
        if let Some(group) = group {
            return vec![group];
        }
    }
    *rounded = true;
    let shares = match rounding {
        Rounding::Down => Share::apart(market, matches, wanted),
        Rounding::Up => vec![Share::together(market, matches, wanted)],
    };
    shares.iter().filter_map(|s| builder.group(s)).collect()
}

/// What groups are built from.
struct Builder<'m> {
    market: &'m Market,
    matches: &'m Matches,
    terms: &'m [Terms],
    decimals: u32,
    rounding: Rounding,
}

impl Builder<'_> {
    /// The group of `share`; `None` if there would be too many states.
    fn group(&self, share: &Share) -> Option<Group> {
        let mut classes: Vec<Class> = vec![];
        let mut class_of = vec![None; self.market.kinds.len()];
        let mut supply = share.supply.clone();
        supply.sort_by_key(|&(kind, set, _)| (set.count_ones(), set, kind));
        for (kind, set, stock) in supply {
            if classes.last().is_none_or(|c| c.serves != set) {
                classes.push(Class { serves: set, stock: 0, unit: 1, enough: 0, stride: 1 });
            }
            let last = classes.len() - 1;
            classes[last].stock += stock;
            class_of[kind] = Some(last);
        }
        let lines = self.lines(&class_of);
        let needs = share.needs.clone();
        let mut group = Group { needs, classes, lines, junction: vec![] };
        self.set_units(&mut group);
        sort_classes(&mut group);
        if group.n_states() > MOST_STATES {
            return None;
        }
        group.join();
        Some(group)
    }

    /// Offers of the kinds that have a class.
    fn lines(&self, class_of: &[Option<usize>]) -> Vec<OfferLine> {
        let line = |(i, o): (usize, &Offer)| {
            let class = class_of[o.kind]?;
            let breaks = o.breaks.iter().map(|b| (b.packs, whole(b.price, self.decimals)));
            let tiers = [(1, whole(o.price, self.decimals))].into_iter().chain(breaks);
            let tiers = tiers.filter(|t| o.packs.is_none_or(|most| t.0 <= most)).collect();
            Some(OfferLine {
                offer: i,
                supplier: o.supplier,
                class,
                units: 0,
                tiers,
                most: o.packs,
            })
        };
        let offers = self.market.offers.iter().enumerate();
        offers
            .filter(|(_, o)| self.terms[o.supplier].in_time && o.packs != Some(0))
            .filter_map(line)
            .collect()
    }

    /// Chooses the unit of every class: what all its packs divide by, or coarser if one class alone
    /// would have too many states.
    fn set_units(&self, group: &mut Group) {
        let Group { needs, classes, lines, .. } = group;
        let pack = |l: &OfferLine| u64::from(self.market.offers[l.offer].pack);
        let alone = classes.len() == 1;
        for (i, class) in classes.iter_mut().enumerate() {
            let wanted = (0..needs.len()).filter(|&d| class.serves >> d & 1 == 1);
            let wanted: u64 = wanted.map(|d| needs[d]).sum();
            // Stock that may serve one demand only is for that.
            let one = class.serves.count_ones() == 1;
            let most = if one { wanted.saturating_sub(class.stock) } else { wanted };
            let packs: Vec<u64> = lines.iter().filter(|l| l.class == i).map(pack).collect();
            if !packs.is_empty() {
                class.unit = packs.iter().copied().fold(0, gcd).max(1);
                if alone {
                    class.unit = class.unit.max(most.div_ceil(MOST_STATES));
                }
                class.enough = most.div_ceil(class.unit);
            }
        }
        for line in lines.iter_mut() {
            let unit = classes[line.class].unit;
            line.units = match self.rounding {
                Rounding::Down => pack(line) / unit,
                Rounding::Up => pack(line).div_ceil(unit),
            };
        }
    }
}

/// Brings the classes into the order that makes the smallest table: the largest last, since it needs
/// no states of the others; before it those with many offers first, since the rows of a class span
/// the states of all classes before it.
fn sort_classes(group: &mut Group) {
    let Group { classes, lines, .. } = group;
    let n_lines = |c: usize| lines.iter().filter(|l| l.class == c).count();
    let mut order: Vec<usize> = (0..classes.len()).collect();
    order.sort_by_key(|&c| (Reverse(n_lines(c)), c));
    if let Some(&largest) = order.iter().max_by_key(|&&c| (classes[c].enough, Reverse(c))) {
        order.retain(|&c| c != largest);
        order.push(largest);
    }
    let mut place = vec![0; classes.len()];
    order.iter().enumerate().for_each(|(to, &from)| place[from] = to);
    lines.iter_mut().for_each(|l| l.class = place[l.class]);
    lines.sort_by_key(|l| (l.class, l.offer));
    let mut sorted: Vec<(usize, Class)> = place.into_iter().zip(classes.drain(..)).collect();
    sorted.sort_by_key(|c| c.0);
    classes.extend(sorted.into_iter().map(|c| c.1));
    let mut stride = 1u64;
    for class in classes.iter_mut() {
        class.stride = stride;
        stride = stride.saturating_mul(class.enough + 1);
    }
}

fn gcd(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

/// More than any sensible purchase costs: every line alone covers its group and reaches its
/// supplier's limits.
fn dearest(groups: &[Group], terms: &[Terms]) -> Money {
    let deliveries: Money = terms.iter().map(|t| t.delivery).sum();
    let lines = groups.iter().flat_map(|g| g.lines.iter().map(move |l| (g, l)));
    let goods: Money = lines
        .map(|(g, l)| {
            let enough = g.classes[l.class].enough.div_ceil(l.units.max(1));
            let dearest = l.tiers.first().map_or(0, |t| t.1);
            let t = &terms[l.supplier];
            dearest * Money::from(enough.max(l.last_break()) + 1)
                + t.minimum.max(t.free_from.unwrap_or(0))
        })
        .sum();
    deliveries + goods
}
