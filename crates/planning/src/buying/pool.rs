//! Covers seen so far, and which parts to give back if there were no others.

use super::model::{Model, Money};
use super::search::Node;
use super::table::PARTS;

/// Covers of every group, each once by what it spends.
pub(super) struct Pool {
    covers: Vec<Vec<Seen>>,
}

/// One cover of a group.
struct Seen {
    /// Suppliers bought from, by bit.
    suppliers: u64,
    /// Cost, missing stones included.
    cost: Money,
    /// What is spent, by supplier that is bought from.
    spent: Vec<(usize, Money)>,
}

impl Pool {
    /// Nothing bought in any group.
    pub(super) fn new(model: &Model) -> Pool {
        let mut pool = Pool { covers: model.groups.iter().map(|_| vec![]).collect() };
        for (g, group) in model.groups.iter().enumerate() {
            pool.add(model, g, &vec![0; group.lines.len()]);
        }
        pool
    }

    /// Adds the cover `packs` of group `g`, unless one that spends the same is there.
    pub(super) fn add(&mut self, model: &Model, g: usize, packs: &[u64]) {
        let group = &model.groups[g];
        let mut spent = vec![0; model.terms.len()];
        let (mut suppliers, mut cost) = (0, 0);
        for (line, &x) in group.lines.iter().zip(packs).filter(|(_, x)| **x > 0) {
            suppliers |= 1 << line.supplier;
            spent[line.supplier] += line.cost(x);
            cost += line.cost(x);
        }
        cost += Money::from(group.missing_after(packs)) * model.missing;
        let spent = spent.into_iter().enumerate().filter(|s| s.1 > 0).collect();
        let same = |s: &Seen| s.suppliers == suppliers && s.cost == cost && s.spent == spent;
        if !self.covers[g].iter().any(same) {
            self.covers[g].push(Seen { suppliers, cost, spent });
        }
    }

    /// Work of one [`climb`](Pool::climb), in steps.
    pub(super) fn steps(&self) -> u64 {
        let covers: usize = self.covers.iter().map(Vec::len).sum();
        (covers * CLIMBS) as u64 / 4
    }

    /// The parts to give back for which the bound of `node` would be largest if there were no other
    /// covers, and that bound. Stops once it is `target`.
    pub(super) fn climb(&self, model: &Model, node: &Node, target: Money) -> (Money, Vec<Money>) {
        let floors: Vec<Money> = (0..node.choices.len()).map(|s| node.floor(model, s)).collect();
        let mut climb = Climb {
            covers: self.of(node.open()),
            target: target - node.deliveries(model) * PARTS,
            best: (Money::MIN, node.back.clone()),
            misses: vec![],
            floors,
        };
        climb.try_here(node.back.clone());
        climb.along_each();
        climb.slopes();
        climb.along_each();
        (climb.best.0 + node.deliveries(model) * PARTS, climb.best.1)
    }

    /// Covers that buy from open suppliers only, by group.
    fn of(&self, open: u64) -> Vec<Vec<&Seen>> {
        let may = |s: &&Seen| s.suppliers & !open == 0;
        self.covers.iter().map(|covers| covers.iter().filter(may).collect()).collect()
    }
}

/// Bounds taken in one climb, about.
const CLIMBS: usize = 50;

/// A search for the parts that give the largest bound over some covers: a concave function of the
/// parts, with kinks where another cover becomes the cheapest.
struct Climb<'p> {
    covers: Vec<Vec<&'p Seen>>,
    floors: Vec<Money>,
    target: Money,
    best: (Money, Vec<Money>),
    /// By how much each supplier misses its least sum at the best parts: the slope there.
    misses: Vec<Money>,
}

impl Climb<'_> {
    /// The bound with the parts `back`, and its slope.
    fn bound(&self, back: &[Money]) -> (Money, Vec<Money>) {
        let mut bound: Money = self.floors.iter().zip(back).map(|(f, b)| f * b).sum();
        let mut misses = self.floors.clone();
        let counted = |s: &&Seen| {
            s.cost * PARTS - s.spent.iter().map(|&(i, spent)| spent * back[i]).sum::<Money>()
        };
        for group in &self.covers {
            let least = group.iter().map(|s| (counted(s), s)).min_by_key(|c| c.0);
            if let Some((counted, cover)) = least {
                bound += counted;
                cover.spent.iter().for_each(|&(i, spent)| misses[i] -= spent);
            }
        }
        (bound, misses)
    }

    /// Keeps `back` if it is better. By how much each supplier misses its least sum there.
    fn try_here(&mut self, back: Vec<Money>) -> Vec<Money> {
        let (bound, misses) = self.bound(&back);
        if bound > self.best.0 {
            self.best = (bound, back);
            self.misses = misses.clone();
        }
        misses
    }

    /// Whether the parts of supplier `s` may be changed for the better.
    fn may_move(&self, s: usize) -> bool {
        let (miss, back) = (self.misses[s], self.best.1[s]);
        self.floors[s] > 0 && ((miss > 0 && back < PARTS) || (miss < 0 && back > 0))
    }

    /// Halves along one supplier after the other to where its least sum is just met.
    fn along_each(&mut self) {
        for s in 0..self.floors.len() {
            if !self.may_move(s) || self.best.0 >= self.target {
                continue;
            }
            let mut back = self.best.1.clone();
            let here = back[s];
            let (mut low, mut high) =
                if self.misses[s] > 0 { (here, PARTS + 1) } else { (-1, here) };
            while high - low > 1 {
                back[s] = (low + high) / 2;
                let misses = self.try_here(back.clone());
                if misses[s] > 0 { low = back[s] } else { high = back[s] }
            }
        }
    }

    /// Goes along the slope, less far each time it does not help, back at the best each time.
    fn slopes(&mut self) {
        // An eighth of the whole at first.
        let mut far = PARTS as f64 / 8.0;
        while far >= 1.0 && self.best.0 < self.target {
            let free: Vec<usize> = (0..self.floors.len()).filter(|&s| self.may_move(s)).collect();
            let steepest = free.iter().map(|&s| self.misses[s].abs()).max().unwrap_or(0);
            if free.len() < 2 || steepest == 0 {
                return;
            }
            let mut back = self.best.1.clone();
            for &s in &free {
                let by = (far * self.misses[s] as f64 / steepest as f64).round() as Money;
                back[s] = (back[s] + by).clamp(0, PARTS);
            }
            let before = self.best.0;
            self.try_here(back);
            if self.best.0 == before {
                far /= 2.0;
            }
        }
    }
}
