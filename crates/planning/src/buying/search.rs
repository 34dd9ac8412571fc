//! The cheapest purchase over all groups: which suppliers to use, and which of their limits to
//! reach.
//!
//! Groups are tied together only by what is spent with each supplier. A supplier is left out, paid
//! for its delivery (its minimum reached), or bought from for so much that delivery is free. These
//! choices are branched over, best bound first (A. H. Land, A. G. Doig, Econometrica 28, 1960).
//! Where a choice asks for a least sum, part of what is spent there is given back and the sum is
//! charged once (Lagrangian relaxation; A. M. Geoffrion, Mathematical Programming Study 2, 1974):
//! groups fall apart, and their tables give a bound that no purchase beats. What gap remains when
//! all is chosen is closed by [`super::labels`].

use super::basket::{self, Basket};
use super::labels;
use super::model::{Model, Money};
use super::pool::Pool;
use super::table::{PARTS, Prices, Table};
use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};

/// What a search found.
#[derive(Debug)]
pub(super) struct Found {
    /// Packs by group and line.
    pub(super) basket: Basket,
    /// Goods, deliveries, and missing stones at the model's price for them.
    pub(super) cost: Money,
    /// No purchase costs less than this, counted the same way.
    pub(super) bound: Money,
}

/// What is decided about one supplier.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Choice {
    /// Nothing yet: its delivery and limits are not counted.
    Open,
    /// Nothing is bought from it.
    Out,
    /// Its delivery is paid; its minimum must be reached.
    Paid,
    /// Its threshold and its minimum must be reached; delivery is free.
    Free,
}

/// A set of purchases: all that keep to the choices.
#[derive(Clone, Debug)]
pub(super) struct Node {
    pub(super) choices: Vec<Choice>,
    /// Parts given back, by supplier.
    pub(super) back: Vec<Money>,
    /// No purchase of the node counts less, in 1/[`PARTS`].
    pub(super) bound: Money,
    /// Suppliers, by bit, whose least sums are looked at when the gap is closed.
    pub(super) tracked: u64,
    /// Labels that may be kept when the gap is closed.
    pub(super) width: usize,
}

impl Node {
    /// Suppliers that may be bought from, by bit.
    pub(super) fn open(&self) -> u64 {
        let sold = self.choices.iter().enumerate().filter(|(_, c)| **c != Choice::Out);
        sold.fold(0, |set, (s, _)| set | 1 << s)
    }

    /// The least sum that supplier `s` must be paid for goods.
    pub(super) fn floor(&self, model: &Model, s: usize) -> Money {
        let terms = &model.terms[s];
        match self.choices[s] {
            Choice::Open | Choice::Out => 0,
            Choice::Paid => terms.minimum,
            Choice::Free => terms.minimum.max(terms.free_from.unwrap_or(0)),
        }
    }

    /// Deliveries that are paid for.
    pub(super) fn deliveries(&self, model: &Model) -> Money {
        let paid = self.choices.iter().zip(&model.terms).filter(|(c, _)| **c == Choice::Paid);
        paid.map(|(_, t)| t.delivery).sum()
    }

    /// The node's prices.
    pub(super) fn prices(&self) -> Prices {
        Prices { open: self.open(), back: self.back.clone() }
    }
}

/// What is known while searching.
pub(super) struct Search<'m> {
    pub(super) model: &'m Model,
    /// The best purchase so far and its cost.
    pub(super) best: (Money, Basket),
    /// Steps left.
    pub(super) steps: u64,
    /// Covers seen so far.
    pool: Pool,
    /// Suppliers of each group, by bit.
    suppliers: Vec<u64>,
    /// Cheapest covers already found, by group.
    known: Vec<BTreeMap<Prices, (Money, Vec<u64>)>>,
}

/// The cheapest purchase that can be found in `steps`.
pub(super) fn cheapest(model: &Model, steps: u64) -> Found {
    let mut search = Search::new(model, steps);
    let mut seq = 0u64;
    let mut heap: BinaryHeap<Reverse<(Money, u64)>> = BinaryHeap::new();
    let mut nodes: BTreeMap<u64, Node> = BTreeMap::new();
    let mut waiting = vec![search.root()];
    loop {
        for node in waiting.drain(..).filter(|n| search.may_beat(n.bound)) {
            seq += 1;
            heap.push(Reverse((node.bound, seq)));
            nodes.insert(seq, node);
        }
        let Some(Reverse((bound, id))) = heap.pop() else { break };
        let Some(node) = nodes.remove(&id) else { continue };
        if !search.may_beat(bound) {
            break;
        }
        if search.steps == 0 {
            let bound = ceil(bound).min(search.best.0);
            return Found { basket: search.best.1, cost: search.best.0, bound };
        }
        waiting = match search.branching(&node) {
            Some(supplier) => search.children(&node, supplier),
            None => labels::close(&mut search, node).into_iter().collect(),
        };
    }
    Found { bound: search.best.0, cost: search.best.0, basket: search.best.1 }
}

/// Whole money at least as much as `counted`.
fn ceil(counted: Money) -> Money {
    -(-counted).div_euclid(PARTS)
}

impl<'m> Search<'m> {
    fn new(model: &'m Model, steps: u64) -> Search<'m> {
        let nothing: Basket = model.groups.iter().map(|g| vec![0; g.lines.len()]).collect();
        let short = model.groups.iter().zip(&nothing).map(|(g, none)| g.missing_after(none));
        let short = Money::from(short.sum::<u64>()) * model.missing;
        let suppliers = model
            .groups
            .iter()
            .map(|g| g.lines.iter().fold(0u64, |set, line| set | 1 << line.supplier));
        Search {
            model,
            pool: Pool::new(model),
            best: (short, nothing),
            steps,
            suppliers: suppliers.collect(),
            known: vec![BTreeMap::new(); model.groups.len()],
        }
    }

    /// Whether a purchase that counts `counted` or a little more would be better than the best.
    pub(super) fn may_beat(&self, counted: Money) -> bool {
        ceil(counted) < self.best.0
    }

    /// Everything is still possible.
    fn root(&mut self) -> Node {
        let model = self.model;
        let sells = self.suppliers.iter().fold(0, |set, s| set | s);
        let choice = |(s, terms): (usize, &super::model::Terms)| {
            if sells >> s & 1 == 0 {
                Choice::Out
            } else if terms.delivery == 0 && terms.minimum == 0 {
                Choice::Paid
            } else {
                Choice::Open
            }
        };
        let mut node = Node {
            choices: model.terms.iter().enumerate().map(choice).collect(),
            back: vec![0; model.terms.len()],
            bound: 0,
            tracked: 0,
            width: labels::FIRST_WIDTH,
        };
        self.tighten(&mut node);
        node
    }

    /// The cheapest cover of every group at `prices`: what all count, and the packs.
    fn covers(&mut self, prices: &Prices) -> (Money, Basket) {
        let mut counted = 0;
        let mut basket = vec![];
        for (g, group) in self.model.groups.iter().enumerate() {
            let open = prices.open & self.suppliers[g];
            let part = |(s, b): (usize, &Money)| if open >> s & 1 == 1 { *b } else { 0 };
            let key = Prices { open, back: prices.back.iter().enumerate().map(part).collect() };
            if let Some((least, packs)) = self.known[g].get(&key) {
                counted += least;
                basket.push(packs.clone());
                continue;
            }
            let table = Table::new(group, self.model.missing, &key);
            let packs = table.packs(group, &key);
            self.steps = self.steps.saturating_sub(table.steps());
            counted += table.least();
            self.pool.add(self.model, g, &packs);
            basket.push(packs.clone());
            self.known[g].insert(key, (table.least(), packs));
        }
        (counted, basket)
    }

    /// Keeps the purchase if it is better than the best.
    pub(super) fn offer(&mut self, basket: &Basket) {
        if let Some(cost) = basket::cost(self.model, basket)
            && cost < self.best.0
        {
            self.best = (cost, basket.clone());
        }
    }

    /// The bound of `node` with the parts `back`, kept if it is better.
    fn try_back(&mut self, node: &mut Node, back: &[Money]) {
        let prices = Prices { open: node.open(), back: back.to_vec() };
        let (covers, basket) = self.covers(&prices);
        self.offer(&basket);
        let n = self.model.terms.len();
        let charged: Money = (0..n).map(|s| node.floor(self.model, s) * back[s]).sum();
        let bound = covers + charged + node.deliveries(self.model) * PARTS;
        if bound > node.bound {
            node.bound = bound;
            node.back = back.to_vec();
        }
    }

    /// Raises the bound of `node` by cutting planes (J. E. Kelley, Journal of SIAM 8, 1960): the
    /// parts that are best for the covers known so far are tried on all covers, which brings new
    /// ones, until those change nothing.
    fn tighten(&mut self, node: &mut Node) {
        /// Rounds after which the bound hardly rises.
        const ROUNDS: usize = 6;
        self.try_back(node, &node.back.clone());
        for _ in 0..ROUNDS {
            if !self.may_beat(node.bound) || self.steps == 0 {
                return;
            }
            let target = self.best.0 * PARTS;
            let (promised, back) = self.pool.climb(self.model, node, target);
            self.steps = self.steps.saturating_sub(self.pool.steps());
            if promised <= node.bound {
                return;
            }
            self.try_back(node, &back);
            // What is left of the promise is less than a unit of money.
            if node.bound + PARTS > promised {
                return;
            }
        }
    }

    /// The supplier to decide next: the one whose uncounted charge is largest, then any that is open.
    fn branching(&mut self, node: &Node) -> Option<usize> {
        let (_, basket) = self.covers(&node.prices());
        if let Some(mended) = basket::mended(self.model, &basket) {
            self.offer(&mended);
        }
        let goods = basket::goods(self.model, &basket);
        let open = (0..goods.len()).filter(|&s| node.choices[s] == Choice::Open);
        let uncounted = |s: usize| {
            let (spent, packs) = goods[s];
            let terms = &self.model.terms[s];
            terms.charge(spent, packs).unwrap_or(terms.delivery.max(terms.minimum - spent))
        };
        open.max_by_key(|&s| (uncounted(s), goods[s].0, Reverse(s)))
    }

    /// The node with every choice for `supplier`.
    fn children(&mut self, node: &Node, supplier: usize) -> Vec<Node> {
        let terms = &self.model.terms[supplier];
        let mut choices = vec![Choice::Out];
        match terms.free_from {
            Some(free_from) if free_from <= terms.minimum => choices.push(Choice::Free),
            Some(_) if terms.delivery > 0 => choices.extend([Choice::Paid, Choice::Free]),
            _ => choices.push(Choice::Paid),
        }
        let mut children = vec![];
        for choice in choices {
            let mut child = node.clone();
            child.choices[supplier] = choice;
            if choice == Choice::Out {
                child.back[supplier] = 0;
            }
            self.tighten(&mut child);
            children.push(child);
        }
        children
    }
}
