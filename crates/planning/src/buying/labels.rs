//! Closes the gap of a node in which every supplier is decided.
//!
//! Group after group, every cover that could still be part of a better purchase is added to every
//! partial purchase (a label: what it cost, and what is still to be spent with each supplier whose
//! least sum binds). A label that another one beats in all of these is dropped, and so is one whose
//! bound is no better than the best purchase. If too many are left, the most promising are kept and
//! the bound of the others is remembered; the node then comes back with more room.

use super::basket::{self, Basket};
use super::model::{Group, Money};
use super::search::{Node, Search};
use super::table::{PARTS, Prices, Table};

/// Labels kept at first; eight times as many each time that was too few.
pub(super) const FIRST_WIDTH: usize = 64;
/// So many of the cheapest labels are compared with every label.
const COMPARED: usize = 256;

/// One way to cover a group.
struct Cover {
    packs: Vec<u64>,
    /// Cost, missing stones included.
    cost: Money,
    /// Spent with each supplier whose least sum binds.
    spent: Vec<Money>,
    /// Counted cost above the cheapest.
    excess: Money,
}

/// A partial purchase.
struct Label {
    cost: Money,
    /// Still to be spent, by binding supplier.
    due: Vec<Money>,
    /// The label it came from, and the cover that was added.
    from: (usize, usize),
    /// No purchase that goes on from here counts less.
    bound: Money,
    /// What it would come to if every group to come were covered as cheaply as can be, and what
    /// were then still due were spent for nothing.
    guess: Money,
}

/// What is the same for all labels of a node.
struct Frame {
    prices: Prices,
    /// Suppliers whose least sum binds, with it.
    binding: Vec<(usize, Money)>,
    deliveries: Money,
    /// No purchase that was set aside counts less.
    aside: Money,
}

/// Searches `node`. `None` if nothing better is left in it, else what is left.
pub(super) fn close(search: &mut Search, mut node: Node) -> Option<Node> {
    let prices = node.prices();
    let n = node.choices.len();
    let floors: Vec<Money> = (0..n).map(|s| node.floor(search.model, s)).collect();
    node.tracked |= (0..n).filter(|&s| node.back[s] > 0).fold(0, |set, s| set | 1 << s);
    let tracked = |s: &usize| node.tracked >> s & 1 == 1 && floors[*s] > 0;
    let mut frame = Frame {
        binding: (0..n).filter(tracked).map(|s| (s, floors[s])).collect(),
        deliveries: node.deliveries(search.model),
        aside: search.best.0 * PARTS,
        prices,
    };
    let all = covers(search, &mut frame, &node)?;
    let finished = extend(search, &mut frame, &all, node.width);
    if search.steps == 0 {
        return Some(node);
    }
    if let Some((cost, basket)) = finished {
        search.offer(&basket);
        let goods = basket::goods(search.model, &basket);
        let missed = (0..n).filter(|&s| goods[s].0 < floors[s]).fold(0, |set, s| set | 1 << s);
        if missed != 0 {
            // It was no purchase of the node: a least sum that did not bind binds now.
            node.tracked |= missed;
            node.bound = node.bound.max(frame.aside.min(cost * PARTS));
            return search.may_beat(node.bound).then_some(node);
        }
    }
    if !search.may_beat(frame.aside) {
        return None;
    }
    node.bound = node.bound.max(frame.aside);
    node.width = node.width.saturating_mul(8);
    Some(node)
}

/// Every group with its covers that may be part of a better purchase; `None` if there is none.
fn covers(search: &mut Search, frame: &mut Frame, node: &Node) -> Option<Vec<(usize, Vec<Cover>)>> {
    let charged: Money = frame.binding.iter().map(|&(s, floor)| floor * node.back[s]).sum();
    let mut tables = vec![];
    let mut least = charged + frame.deliveries * PARTS;
    for group in &search.model.groups {
        let table = Table::new(group, search.model.missing, &frame.prices);
        search.steps = search.steps.saturating_sub(table.steps());
        least += table.least();
        tables.push(table);
    }
    if !search.may_beat(least) {
        return None;
    }
    // One whole unit of money is gained at least, or the purchase is no better.
    let room = (search.best.0 - 1) * PARTS - least;
    let mut all = vec![];
    for (g, table) in tables.iter().enumerate() {
        let group = &search.model.groups[g];
        // The best purchase mostly lies near the bound: the first time, only there is looked.
        let mut room = if node.width == FIRST_WIDTH { room / 8 } else { room };
        if node.width == FIRST_WIDTH {
            frame.aside = frame.aside.min(least + room + 1);
        }
        // Few rooms are tried: each is an eighth of the one before.
        let found = loop {
            let mut lister = Lister::new(search, frame, group, table, room, node.width);
            if lister.list(0, 0, 0, Lost::default()) {
                break lister.found;
            }
            let cheapest = lister.cheapest();
            room /= 8;
            if room == 0 {
                frame.aside = frame.aside.min(least);
                break vec![cheapest];
            }
            frame.aside = frame.aside.min(least + room + 1);
        };
        all.push((g, reduced(found)));
    }
    all.sort_by_key(|(g, covers)| (covers.len(), *g));
    Some(all)
}

/// Of covers that spend the same, the cheapest; cheap ones first.
fn reduced(mut covers: Vec<Cover>) -> Vec<Cover> {
    covers.sort_by(|a, b| (&a.spent, a.cost, &a.packs).cmp(&(&b.spent, b.cost, &b.packs)));
    covers.dedup_by(|b, a| a.spent == b.spent);
    covers.sort_by(|a, b| (a.excess, &a.packs).cmp(&(b.excess, &b.packs)));
    covers
}

/// What a row of the last class leaves out, counted; nothing before that class.
#[derive(Clone, Copy, Default)]
struct Lost {
    /// Stones missing whatever is bought of the last class.
    short: Money,
    /// Units of use that are no stones of use: they were counted as missing if any are.
    excess: Money,
    /// One stone.
    stone: Money,
}

impl Lost {
    /// What `row` says with what it leaves out.
    fn all(&self, row: Money) -> Money {
        row + self.short - if row >= self.stone { self.excess } else { 0 }
    }
}

/// Lists the covers of a group whose counted cost is at most `room` above the cheapest.
struct Lister<'a> {
    frame: &'a Frame,
    group: &'a Group,
    table: &'a Table,
    /// What a missing stone counts.
    missing: Money,
    room: Money,
    packs: Vec<u64>,
    found: Vec<Cover>,
    most: usize,
    steps: &'a mut u64,
}

impl<'a> Lister<'a> {
    fn new(
        search: &'a mut Search,
        frame: &'a Frame,
        group: &'a Group,
        table: &'a Table,
        room: Money,
        width: usize,
    ) -> Lister<'a> {
        Lister {
            frame,
            group,
            table,
            missing: search.model.missing,
            room,
            packs: vec![0; group.lines.len()],
            found: vec![],
            most: width.saturating_mul(2),
            steps: &mut search.steps,
        }
    }

    /// Lists from the `at`-th open line on; `false` if there are too many. `lost` says how to read
    /// the table's rows within the last class.
    fn list(&mut self, at: usize, mut state: usize, counted: Money, mut lost: Lost) -> bool {
        *self.steps = self.steps.saturating_sub(1);
        let Some(&i) = self.table.lines.get(at) else {
            let cover = self.cover(counted);
            self.found.push(cover);
            return self.found.len() < self.most;
        };
        if self.table.joins(at) {
            let stone = self.missing * PARTS;
            lost = Lost {
                short: Money::from(self.group.junction[state].short) * stone,
                excess: Money::from(self.group.excess(state)) * stone,
                stone,
            };
            state = self.group.enter(state);
        }
        let line = &self.group.lines[i];
        let limit = self.table.least() + self.room;
        let next = self.table.after(at);
        let most = line.most.unwrap_or(u64::MAX).min(self.largest(i));
        for x in 0..=most {
            let after = self.group.after(state, line, x);
            let cost = counted + self.frame.prices.counted(line, line.cost(x));
            if cost + lost.all(next[after]) <= limit {
                self.packs[i] = x;
                if !self.list(at + 1, after, cost, lost) {
                    self.packs[i] = 0;
                    return false;
                }
            } else if x >= line.last_break() && cost + lost.all(next[next.len() - 1]) > limit {
                // From here on it only becomes dearer, whatever it covers.
                break;
            }
        }
        self.packs[i] = 0;
        true
    }

    /// Packs of line `i` beyond which more neither cover nor reach a least sum.
    fn largest(&self, i: usize) -> u64 {
        let line = &self.group.lines[i];
        let covering = self.group.classes[line.class].enough.div_ceil(line.units.max(1));
        let price = line.price(u64::MAX);
        let due = self.frame.binding.iter().find(|b| b.0 == line.supplier).map_or(0, |b| b.1);
        let reaching = if price > 0 { (due + price - 1) / price } else { 0 };
        covering.max(line.last_break()).max(u64::try_from(reaching).unwrap_or(u64::MAX))
    }

    fn cover(&self, counted: Money) -> Cover {
        let mut spent = vec![0; self.frame.binding.len()];
        let missing = Money::from(self.group.missing_after(&self.packs)) * self.missing;
        let mut cost = missing;
        for (line, &x) in self.group.lines.iter().zip(&self.packs).filter(|(_, x)| **x > 0) {
            cost += line.cost(x);
            if let Some(b) = self.frame.binding.iter().position(|b| b.0 == line.supplier) {
                spent[b] = (spent[b] + line.cost(x)).min(self.frame.binding[b].1);
            }
        }
        let excess = counted + missing * PARTS - self.table.least();
        Cover { packs: self.packs.clone(), cost, spent, excess }
    }

    /// The cover that the table itself finds.
    fn cheapest(&mut self) -> Cover {
        self.packs = self.table.packs(self.group, &self.frame.prices);
        let lines = self.group.lines.iter().zip(&self.packs);
        let counted = lines.map(|(l, &x)| self.frame.prices.counted(l, l.cost(x))).sum();
        self.cover(counted)
    }
}

/// What the groups to come cost and spend at least.
#[derive(Clone, Default)]
struct Rest {
    counted: Money,
    /// Cost of the covers that count least, and what they spend by binding supplier.
    cost: Money,
    spent: Vec<Money>,
}

/// Adds group after group; the best purchase that comes out and its cost, if there is one that may
/// be better than the best known.
fn extend(
    search: &mut Search,
    frame: &mut Frame,
    all: &[(usize, Vec<Cover>)],
    width: usize,
) -> Option<(Money, Basket)> {
    let mut rests = rests(search, frame, all);
    let due: Vec<Money> = frame.binding.iter().map(|b| b.1).collect();
    let back: Vec<Money> = frame.binding.iter().map(|b| frame.prices.back[b.0]).collect();
    let first = Label { cost: frame.deliveries, due, from: (0, 0), bound: 0, guess: 0 };
    let mut layers = vec![vec![first]];
    for (_, covers) in all {
        let rest = rests.pop().unwrap_or_default();
        let mut next = vec![];
        for (l, label) in layers[layers.len() - 1].iter().enumerate() {
            search.steps = search.steps.saturating_sub(covers.len() as u64);
            for (c, cover) in covers.iter().enumerate() {
                let due = |i: usize| (label.due[i] - cover.spent[i]).max(0);
                let cost = label.cost + cover.cost;
                let owed: Money = (0..back.len()).map(|i| due(i) * back[i]).sum();
                let bound = cost * PARTS + rest.counted + owed;
                if search.may_beat(bound) {
                    let open: Money =
                        (0..back.len()).map(|i| (due(i) - rest.spent[i]).max(0)).sum();
                    let guess = cost + rest.cost + open;
                    let due = (0..back.len()).map(due).collect();
                    next.push(Label { cost, due, from: (l, c), bound, guess });
                }
            }
            if search.steps == 0 {
                return None;
            }
        }
        layers.push(kept(next, width, frame, &mut search.steps));
    }
    // Those that fall short may still be mended.
    let last = &layers[all.len()];
    let mut promising: Vec<usize> = (0..last.len()).collect();
    promising.sort_by_key(|&at| (last[at].guess, at));
    for at in promising.into_iter().take(FIRST_WIDTH) {
        let basket = basket_of(search, all, &layers, at);
        if let Some(mended) = basket::mended(search.model, &basket) {
            search.offer(&mended);
        }
    }
    let best = last.iter().enumerate().filter(|(_, l)| l.due.iter().all(|&d| d == 0));
    let (at, label) = best.min_by_key(|(i, l)| (l.cost, *i))?;
    Some((label.cost, basket_of(search, all, &layers, at)))
}

/// The purchase of a label of the last layer.
fn basket_of(
    search: &Search,
    all: &[(usize, Vec<Cover>)],
    layers: &[Vec<Label>],
    mut at: usize,
) -> Basket {
    let mut basket: Basket = search.model.groups.iter().map(|_| vec![]).collect();
    for (layer, (g, covers)) in layers[1..].iter().zip(all).rev() {
        let (from, cover) = layer[at].from;
        basket[*g] = covers[cover].packs.clone();
        at = from;
    }
    basket
}

/// What the groups after each come to at least; the first group's last.
fn rests(search: &Search, frame: &Frame, all: &[(usize, Vec<Cover>)]) -> Vec<Rest> {
    let nothing = Rest { spent: vec![0; frame.binding.len()], ..Rest::default() };
    let mut rests = vec![nothing];
    for (g, covers) in all.iter().skip(1).rev() {
        let mut rest = rests[rests.len() - 1].clone();
        // Covers are sorted by what they count.
        if let Some(cheapest) = covers.first() {
            rest.counted += counted(search, frame, *g, cheapest);
            rest.cost += cheapest.cost;
            rest.spent.iter_mut().zip(&cheapest.spent).for_each(|(r, s)| *r += s);
        }
        rests.push(rest);
    }
    rests
}

/// What a cover counts.
fn counted(search: &Search, frame: &Frame, g: usize, cover: &Cover) -> Money {
    let lines = search.model.groups[g].lines.iter().zip(&cover.packs);
    let (cost, counted) = lines.fold((0, 0), |(cost, counted), (line, &x)| {
        let spent = line.cost(x);
        (cost + spent, counted + frame.prices.counted(line, spent))
    });
    counted + (cover.cost - cost) * PARTS
}

/// The labels that no other beats, at most `width`; what is set aside is remembered in `frame`.
fn kept(mut labels: Vec<Label>, width: usize, frame: &mut Frame, steps: &mut u64) -> Vec<Label> {
    labels.sort_unstable_by(|a, b| (&a.due, a.cost, a.from).cmp(&(&b.due, b.cost, b.from)));
    labels.dedup_by(|b, a| a.due == b.due);
    // Comparing takes longest: what has no prospect of being kept is left out.
    trim(&mut labels, width.saturating_mul(4), frame);
    labels.sort_unstable_by(|a, b| (a.cost, &a.due).cmp(&(b.cost, &b.due)));
    // Against one least sum, the last one kept owes least of all.
    let compared = if frame.binding.len() > 1 { COMPARED } else { 0 };
    let mut kept: Vec<Label> = vec![];
    for label in labels {
        let beats = |k: &Label| k.due.iter().zip(&label.due).all(|(k, l)| k <= l);
        let n = kept.len().min(compared);
        *steps = steps.saturating_sub(1 + n as u64 / 8);
        if !kept.last().is_some_and(beats) && !kept[..n].iter().any(beats) {
            kept.push(label);
        }
    }
    trim(&mut kept, width, frame);
    kept
}

/// Leaves `width` labels: half of them by their bound, half by what they promise, since low bounds
/// alone would keep what falls short in the end.
fn trim(labels: &mut Vec<Label>, width: usize, frame: &mut Frame) {
    if labels.len() <= width {
        return;
    }
    labels.sort_unstable_by(|a, b| (a.bound, a.cost, &a.due).cmp(&(b.bound, b.cost, &b.due)));
    labels[width / 2..]
        .sort_unstable_by(|a, b| (a.guess, a.bound, &a.due).cmp(&(b.guess, b.bound, &b.due)));
    for cut in labels.drain(width..) {
        frame.aside = cut.bound.min(frame.aside);
    }
}
