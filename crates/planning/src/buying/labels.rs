//! Closes the gap of a node in which every supplier is decided.
//!
//! Offer after offer, every number of packs that could still be part of a better purchase is added
//! to every partial purchase: a label, which knows what it cost, what is covered, and what is still
//! to be spent with each supplier whose least sum binds. A label that another one beats in all of
//! these is dropped, and so is one whose bound is no better than the best purchase. If too many are
//! left, the most promising are kept and the bound of the others is remembered; the node then comes
//! back with more room.

use super::basket::{self, Basket};
use super::model::{Group, Money, OfferLine};
use super::search::{Node, Search};
use super::table::{PARTS, Prices, Table};

/// Labels kept at first; eight times as many each time that was too few.
pub(super) const FIRST_WIDTH: usize = 256;
/// So many of the cheapest labels are compared with every label.
const COMPARED: usize = 64;

/// A partial purchase.
struct Label {
    /// Paid so far, missing stones of finished groups included.
    cost: Money,
    /// Within a group: what is bought of the classes before the last, once that is begun; and the
    /// state of the table.
    entered: usize,
    state: usize,
    /// Still to be spent, by binding supplier.
    due: Vec<Money>,
    /// The label it came from, and the packs that were added.
    from: (usize, u64),
    /// No purchase that goes on from here counts less.
    bound: Money,
    /// What it would come to if all that is to come were covered as cheaply as can be, and what were
    /// then still due were spent for nothing.
    guess: Money,
}

/// What is the same for all labels of a node.
struct Frame {
    prices: Prices,
    /// Suppliers whose least sum binds, with it.
    binding: Vec<(usize, Money)>,
    deliveries: Money,
    tables: Vec<Table>,
    /// Packs of the cheapest covers.
    cheapest: Basket,
    /// Labels that count more are set aside.
    limit: Money,
    /// No purchase that was set aside counts less.
    aside: Money,
    width: usize,
}

/// Searches `node`. `None` if nothing better is left in it, else what is left.
pub(super) fn close(search: &mut Search, mut node: Node) -> Option<Node> {
    let n = node.choices.len();
    let floors: Vec<Money> = (0..n).map(|s| node.floor(search.model, s)).collect();
    node.tracked |= (0..n).filter(|&s| node.back[s] > 0).fold(0, |set, s| set | 1 << s);
    let mut frame = Frame::new(search, &node, &floors)?;
    let finished = frame.extend_all(search);
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

/// What is still to come after an offer.
#[derive(Clone, Default)]
struct Rest {
    /// What the groups to come count at least.
    counted: Money,
    /// What the cheapest covers still spend, by binding supplier.
    spent: Vec<Money>,
}

/// An offer to be added: its group, its place among those that the table knows, and what follows.
struct Step {
    group: usize,
    at: usize,
    rest: Rest,
}

impl Frame {
    /// `None` if nothing better is in the node.
    fn new(search: &mut Search, node: &Node, floors: &[Money]) -> Option<Frame> {
        let prices = node.prices();
        let mut least = floors.iter().zip(&node.back).map(|(f, b)| f * b).sum::<Money>();
        least += node.deliveries(search.model) * PARTS;
        let (mut tables, mut cheapest) = (vec![], vec![]);
        for group in &search.model.groups {
            let table = Table::new(group, search.model.missing, &prices);
            search.steps = search.steps.saturating_sub(table.steps());
            least += table.least();
            cheapest.push(table.packs(group, &prices));
            tables.push(table);
        }
        if !search.may_beat(least) {
            return None;
        }
        // One whole unit of money is gained at least, or the purchase is no better. The best one
        // mostly lies near the bound: the first time, only there is looked.
        let room = (search.best.0 - 1) * PARTS - least;
        let room = if node.width == FIRST_WIDTH { room / 8 } else { room };
        let tracked = |s: &usize| node.tracked >> s & 1 == 1 && floors[*s] > 0;
        Some(Frame {
            binding: (0..floors.len()).filter(tracked).map(|s| (s, floors[s])).collect(),
            deliveries: node.deliveries(search.model),
            prices,
            tables,
            cheapest,
            limit: least + room,
            aside: search.best.0 * PARTS,
            width: node.width,
        })
    }

    /// Every offer in turn, with what comes after it.
    fn steps(&self, groups: &[Group]) -> Vec<Step> {
        let mut rest = Rest { counted: 0, spent: vec![0; self.binding.len()] };
        let mut steps = vec![];
        // Small packs come last: with them, sums are met that large ones left open.
        let smallest = |g: &usize| groups[*g].lines.iter().map(|l| l.price(u64::MAX)).min();
        let mut order: Vec<usize> = (0..groups.len()).collect();
        order.sort_by_key(smallest);
        for g in order {
            let group = &groups[g];
            for (at, &i) in self.tables[g].lines.iter().enumerate().rev() {
                steps.push(Step { group: g, at, rest: rest.clone() });
                let line = &group.lines[i];
                if let Some(b) = self.place(line.supplier) {
                    rest.spent[b] += line.cost(self.cheapest[g][i]);
                }
            }
            // Groups without an open offer are counted from the beginning.
            if !self.tables[g].lines.is_empty() {
                rest.counted += self.tables[g].least();
            }
        }
        steps.reverse();
        steps
    }

    /// The place of `supplier` among those whose least sum binds.
    fn place(&self, supplier: usize) -> Option<usize> {
        self.binding.iter().position(|b| b.0 == supplier)
    }

    /// Adds offer after offer; the best purchase that comes out and its cost, if there is one that
    /// may be better than the best known.
    fn extend_all(&mut self, search: &mut Search) -> Option<(Money, Basket)> {
        let model = search.model;
        let steps = self.steps(&model.groups);
        // Groups without an open offer miss what they miss.
        let bare = (0..model.groups.len()).filter(|&g| self.tables[g].lines.is_empty());
        let missing: Money = bare.map(|g| self.tables[g].least() / PARTS).sum();
        let due = self.binding.iter().map(|b| b.1).collect();
        let cost = self.deliveries + missing;
        let first = Label { cost, entered: 0, state: 0, due, from: (0, 0), bound: 0, guess: 0 };
        let mut layers = vec![vec![first]];
        for step in &steps {
            let group = &model.groups[step.group];
            let table = &self.tables[step.group];
            if table.joins(step.at) {
                layers.last_mut()?.iter_mut().for_each(|l| enter(group, l));
            }
            let mut next = vec![];
            for (from, label) in layers[layers.len() - 1].iter().enumerate() {
                self.extend(search, step, from, label, &mut next);
                if search.steps == 0 {
                    return None;
                }
            }
            let table = &self.tables[step.group];
            if step.at + 1 == table.lines.len() {
                let joined = table.joined();
                next.iter_mut().for_each(|l| finish(group, l, joined, model.missing));
            }
            layers.push(self.kept(next, &mut search.steps));
        }
        self.mend(search, &steps, &layers);
        let last = layers.last()?;
        let best = last.iter().enumerate().filter(|(_, l)| l.due.iter().all(|&d| d == 0));
        let (at, label) = best.min_by_key(|(i, l)| (l.cost, *i))?;
        Some((label.cost, self.basket(search, &steps, &layers, at)))
    }

    /// Adds every number of packs of a step's offer to `label`.
    fn extend(
        &mut self,
        search: &mut Search,
        step: &Step,
        from: usize,
        label: &Label,
        next: &mut Vec<Label>,
    ) {
        let group = &search.model.groups[step.group];
        let table = &self.tables[step.group];
        let line = &group.lines[table.lines[step.at]];
        let place = self.place(line.supplier);
        let lost = Lost::new(group, label, table.begun(step.at), search.model.missing);
        let after = table.after(step.at);
        let least = lost.all(after[after.len() - 1]);
        let base = label.cost * PARTS + step.rest.counted;
        for packs in 0..=self.most_useful(group, line, place) {
            search.steps = search.steps.saturating_sub(1);
            let spent = line.cost(packs);
            let state = group.after(label.state, line, packs);
            let due = |b: usize| {
                let due = label.due[b];
                if place == Some(b) { (due - spent).max(0) } else { due }
            };
            let back = |b: usize| self.prices.back[self.binding[b].0];
            let owed: Money = (0..label.due.len()).map(|b| due(b) * back(b)).sum();
            let here = base + spent * PARTS + owed;
            let bound = here + lost.all(after[state]);
            if bound <= self.limit {
                let open = |b: usize| (due(b) - step.rest.spent[b]).max(0) * (PARTS - back(b));
                let guess = bound + (0..label.due.len()).map(open).sum::<Money>();
                next.push(Label {
                    cost: label.cost + spent,
                    entered: label.entered,
                    state,
                    due: (0..label.due.len()).map(due).collect(),
                    from: (from, packs),
                    bound,
                    guess,
                });
            } else {
                self.aside = bound.min(self.aside);
                // From here on it only becomes dearer, whatever it covers.
                if packs >= line.last_break() && here + least > self.limit {
                    self.aside = (here + least).min(self.aside);
                    break;
                }
            }
        }
    }

    /// Packs of `line` beyond which more neither cover nor reach a least sum.
    fn most_useful(&self, group: &Group, line: &OfferLine, place: Option<usize>) -> u64 {
        let covering = group.classes[line.class].enough.div_ceil(line.units.max(1));
        let price = line.price(u64::MAX);
        let due = place.map_or(0, |b| self.binding[b].1);
        let reaching = if price > 0 { (due + price - 1) / price } else { 0 };
        let useful = u64::try_from(reaching).unwrap_or(u64::MAX);
        covering.max(line.last_break()).max(useful).min(line.most.unwrap_or(u64::MAX))
    }

    /// Offers what comes of the most promising labels that fall short, with more packs.
    fn mend(&self, search: &mut Search, steps: &[Step], layers: &[Vec<Label>]) {
        let last = &layers[steps.len()];
        let mut promising: Vec<usize> = (0..last.len()).collect();
        promising.sort_by_key(|&at| (last[at].guess, at));
        for at in promising.into_iter().take(FIRST_WIDTH) {
            let basket = self.basket(search, steps, layers, at);
            if let Some(mended) = basket::mended(search.model, &basket) {
                search.offer(&mended);
            }
        }
    }

    /// The purchase of a label of the last layer.
    fn basket(&self, search: &Search, steps: &[Step], layers: &[Vec<Label>], at: usize) -> Basket {
        let groups = &search.model.groups;
        let mut basket: Basket = groups.iter().map(|g| vec![0; g.lines.len()]).collect();
        let mut at = at;
        for (layer, step) in layers[1..].iter().zip(steps).rev() {
            let (from, packs) = layer[at].from;
            basket[step.group][self.tables[step.group].lines[step.at]] = packs;
            at = from;
        }
        basket
    }

    /// The labels that no other beats, at most as many as there is room for.
    fn kept(&mut self, mut labels: Vec<Label>, steps: &mut u64) -> Vec<Label> {
        // Sorting takes its time too.
        *steps = steps.saturating_sub(labels.len() as u64 * 4);
        let key = |l: &Label| (l.entered, l.state);
        labels.sort_unstable_by(|a, b| {
            (key(a), &a.due, a.cost, a.from).cmp(&(key(b), &b.due, b.cost, b.from))
        });
        labels.dedup_by(|b, a| key(a) == key(b) && a.due == b.due);
        // Comparing takes longest: what has no prospect of being kept is left out.
        self.trim(&mut labels, self.width.saturating_mul(2));
        labels.sort_unstable_by(|a, b| (a.cost, key(a), &a.due).cmp(&(b.cost, key(b), &b.due)));
        let mut kept: Vec<Label> = vec![];
        for label in labels {
            let due = |k: &Label| k.due.iter().zip(&label.due).all(|(k, l)| k <= l);
            let beats = |k: &Label| key(k) == key(&label) && due(k);
            let n = kept.len().min(COMPARED);
            *steps = steps.saturating_sub(1 + n as u64 / 8);
            if !kept.last().is_some_and(beats) && !kept[..n].iter().any(beats) {
                kept.push(label);
            }
        }
        self.trim(&mut kept, self.width);
        kept
    }

    /// Leaves `width` labels: half of them by their bound, half by what they promise, since low
    /// bounds alone would keep what falls short in the end.
    fn trim(&mut self, labels: &mut Vec<Label>, width: usize) {
        if labels.len() <= width {
            return;
        }
        labels.sort_unstable_by(|a, b| {
            (a.bound, a.cost, a.state, &a.due).cmp(&(b.bound, b.cost, b.state, &b.due))
        });
        labels[width / 2..].sort_unstable_by(|a, b| {
            (a.guess, a.bound, a.state, &a.due).cmp(&(b.guess, b.bound, b.state, &b.due))
        });
        for cut in labels.drain(width..) {
            self.aside = cut.bound.min(self.aside);
        }
    }
}

/// Goes on from the state of all classes but the last to that of the last.
fn enter(group: &Group, label: &mut Label) {
    label.entered = label.state;
    label.state = group.enter(label.state);
}

/// Ends a group: what is missing is counted.
fn finish(group: &Group, label: &mut Label, joined: bool, missing: Money) {
    if !joined {
        enter(group, label);
    }
    label.cost += Money::from(group.missing(label.entered, label.state)) * missing;
    label.entered = 0;
    label.state = 0;
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
    fn new(group: &Group, label: &Label, begun: bool, missing: Money) -> Lost {
        if !begun {
            return Lost::default();
        }
        let stone = missing * PARTS;
        Lost {
            short: Money::from(group.junction[label.entered].short) * stone,
            excess: Money::from(group.excess(label.entered)) * stone,
            stone,
        }
    }

    /// What `row` says with what it leaves out.
    fn all(&self, row: Money) -> Money {
        row + self.short - if row >= self.stone { self.excess } else { 0 }
    }
}
