//! Batches through one pair of hands or two, in an order fixed beforehand.
//!
//! Because the order is fixed, every beginning is a maximum of ends before it, moved on to the next
//! working time: nothing that ends earlier can make anything later. (Greedy rules that pick what is
//! ready lack this: R. L. Graham, Bounds on multiprocessing timing anomalies, 1969.)

use super::Activity;
use super::batches::{Batch, BatchStep, Takes};
use super::clock::Clock;
use super::cpm::Timing;

/// Stage of a batch that goes through hands next: batch and stage, by index.
pub(super) type Turn = (usize, usize);

/// What a run needs to know.
pub(super) struct Setting<'a> {
    pub(super) clock: &'a Clock,
    pub(super) start: i64,
    pub(super) bench: u64,
    pub(super) hands: usize,
    /// When the stones of each piece are here, minutes; `i64::MIN` if they are.
    pub(super) stones_at: &'a [i64],
}

/// An activity in time.
pub(super) struct Node {
    pub(super) batch: usize,
    /// Index among the batch's steps; none where a place on the bench is waited for.
    pub(super) step: Option<usize>,
    /// Which pair of hands, from 0.
    pub(super) hands: Option<usize>,
    /// What has to end before: the batch's own step, or its wait for a place, setting up, then the
    /// hands' last.
    pub(super) before: Vec<usize>,
    pub(super) end: i64,
}

/// How a run ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Ran {
    /// All done.
    Done {
        /// At this minute.
        end: i64,
        /// Sum of the ends of all hands-on work: the smaller, the more float is left.
        hands_ends: i64,
    },
    /// A batch would wait for a place that only later work frees.
    Stuck,
    /// Beyond the horizon.
    Endless,
}

/// Runs `turns`, then packs batch by batch. `nodes` receives every activity if it is given.
pub(super) fn run(
    batches: &[Batch],
    turns: &[Turn],
    setting: &Setting,
    nodes: Option<&mut Vec<Node>>,
) -> Ran {
    let mut state = State {
        batches,
        setting,
        hands: vec![(setting.start, None); setting.hands],
        done: vec![(setting.start, None); batches.len()],
        set_up: vec![(setting.start, None); setting.stones_at.len()],
        freed: batches.iter().map(|b| (b.on_bench == 0).then_some((setting.start, None))).collect(),
        bench: Bench { first_on: 0, used: 0, free_at: setting.start, free_node: None, next: 0 },
        nodes,
        n_nodes: 0,
        hands_ends: 0,
    };
    for (b, stage) in turns {
        if *stage == 0 && !state.take_places(*b) {
            return Ran::Stuck;
        }
        for step in batches[*b].stages[*stage].clone() {
            if !state.step(*b, step) {
                return Ran::Endless;
            }
        }
    }
    for (b, batch) in batches.iter().enumerate() {
        let staged = batch.stages.last().map_or(0, |s| s.end);
        for step in staged..batch.steps.len() {
            if !state.step(b, step) {
                return Ran::Endless;
            }
        }
    }
    let end = state.done.iter().map(|d| d.0).max().unwrap_or(setting.start);
    Ran::Done { end, hands_ends: state.hands_ends }
}

struct State<'a, 'n> {
    batches: &'a [Batch],
    setting: &'a Setting<'a>,
    /// When each pair is free, and the node that it did last.
    hands: Vec<(i64, Option<usize>)>,
    /// When each batch's last step ended, or it had its place, and the node of that.
    done: Vec<(i64, Option<usize>)>,
    /// When each piece was set up, or the order if the piece was not yet, and the node of that.
    set_up: Vec<(i64, Option<usize>)>,
    /// When each batch left the bench, and its node.
    freed: Vec<Option<(i64, Option<usize>)>>,
    bench: Bench,
    nodes: Option<&'n mut Vec<Node>>,
    n_nodes: usize,
    hands_ends: i64,
}

/// Places are given in the order of batches: a batch takes those of the ones before it.
struct Bench {
    /// The first batch that may still lie on it.
    first_on: usize,
    /// Places of the batches from there to `next`.
    used: u64,
    /// When all before `first_on` have left.
    free_at: i64,
    free_node: Option<usize>,
    /// The batch whose turn it is.
    next: usize,
}

impl State<'_, '_> {
    /// Gives batch `b` its places; false if they cannot become free before it.
    fn take_places(&mut self, b: usize) -> bool {
        debug_assert_eq!(b, self.bench.next, "batches come to the bench in order");
        self.bench.next = b + 1;
        if self.batches[b].on_bench == 0 {
            return true;
        }
        self.bench.used += u64::from(self.batches[b].copies());
        let mut left = vec![];
        while self.bench.used > self.setting.bench {
            let leaver = self.bench.first_on;
            let Some((at, node)) = self.freed.get(leaver).copied().flatten() else {
                return false;
            };
            if self.batches[leaver].on_bench > 0 {
                self.bench.used -= u64::from(self.batches[leaver].copies());
            }
            self.bench.free_at = self.bench.free_at.max(at);
            self.bench.first_on += 1;
            left.extend(node);
        }
        if !left.is_empty() {
            left.extend(self.bench.free_node);
            let end = self.bench.free_at;
            self.bench.free_node =
                self.record(|| Node { batch: b, step: None, hands: None, before: left, end });
        }
        self.done[b] = (self.bench.free_at, self.bench.free_node);
        true
    }

    /// Does one step of batch `b` at its earliest; false beyond the horizon.
    fn step(&mut self, b: usize, step: usize) -> bool {
        let batch: &BatchStep = &self.batches[b].steps[step];
        let piece = self.batches[b].piece;
        let (mut ready, own) = self.done[b];
        let mut set_up = None;
        if step == 0 {
            ready = ready.max(self.set_up[piece].0);
            set_up = self.set_up[piece].1;
        }
        if batch.needs_stones {
            ready = ready.max(self.setting.stones_at[piece]);
        }
        let (end, hands, last) = match &batch.takes {
            Takes::Clock(minutes) => (ready + minutes, None, None),
            Takes::Hands(blocks) => {
                let pair = first_free(&self.hands);
                let (free_at, last) = self.hands[pair];
                let Some((_, end)) = fit(self.setting.clock, blocks, ready.max(free_at)) else {
                    return false;
                };
                (end, Some(pair), last)
            }
        };
        let before = || own.into_iter().chain(set_up).chain(last).collect();
        let node =
            self.record(|| Node { batch: b, step: Some(step), hands, before: before(), end });
        if let Some(pair) = hands {
            self.hands[pair] = (end, node);
            self.hands_ends += end;
        }
        self.done[b] = (end, node);
        if batch.activity == Activity::SettingUp {
            // The first of all begins the order, and every piece waits for that.
            let waits = if b == 0 { 0..self.set_up.len() } else { piece..piece + 1 };
            self.set_up[waits].fill((end, node));
        }
        if step + 1 == self.batches[b].on_bench {
            self.freed[b] = Some((end, node));
        }
        true
    }

    fn record(&mut self, node: impl FnOnce() -> Node) -> Option<usize> {
        let nodes = self.nodes.as_mut()?;
        nodes.push(node());
        self.n_nodes += 1;
        Some(self.n_nodes - 1)
    }
}

/// The pair that is free first, the first of them if both are.
fn first_free(hands: &[(i64, Option<usize>)]) -> usize {
    let mut best = 0;
    for (i, h) in hands.iter().enumerate() {
        if h.0 < hands[best].0 {
            best = i;
        }
    }
    best
}

/// Beginning and end of stretches of work, one after another, from `not_before` on.
pub(super) fn fit(clock: &Clock, blocks: &[i64], not_before: i64) -> Option<(i64, i64)> {
    let mut at = not_before;
    let mut begin = None;
    for len in blocks {
        let from = clock.earliest(at, *len)?;
        begin = begin.or(Some(from));
        at = from + len;
    }
    Some((begin.unwrap_or(at), at))
}

/// Beginning and end of stretches of work, one after another, that are done by `not_after`.
fn fit_before(clock: &Clock, blocks: &[i64], not_after: i64) -> Option<(i64, i64)> {
    let mut at = not_after;
    let mut end = None;
    for len in blocks.iter().rev() {
        let from = clock.latest(at, *len)?;
        end = end.or(Some(from + len));
        at = from;
    }
    Some((at, end.unwrap_or(at)))
}

/// The recorded nodes as tasks of the critical path method, on the maker's calendar.
pub(super) struct OnCalendar<'a> {
    pub(super) batches: &'a [Batch],
    pub(super) setting: &'a Setting<'a>,
    pub(super) nodes: &'a [Node],
}

impl OnCalendar<'_> {
    pub(super) fn step(&self, node: usize) -> Option<&BatchStep> {
        let n = &self.nodes[node];
        n.step.map(|s| &self.batches[n.batch].steps[s])
    }

    /// When the stones of a step are here; `i64::MIN` for a step that needs none.
    pub(super) fn stones_at(&self, node: usize) -> i64 {
        match self.step(node) {
            Some(step) if step.needs_stones => {
                self.setting.stones_at[self.batches[self.nodes[node].batch].piece]
            }
            _ => i64::MIN,
        }
    }
}

impl Timing for OnCalendar<'_> {
    fn earliest(&self, task: usize, not_before: i64) -> (i64, i64) {
        let ready = not_before.max(self.setting.start).max(self.stones_at(task));
        match self.step(task).map(|s| &s.takes) {
            None => (ready, ready),
            Some(Takes::Clock(minutes)) => (ready, ready + minutes),
            // The run fitted the same stretches before, so there is room for them.
            Some(Takes::Hands(blocks)) => {
                fit(self.setting.clock, blocks, ready).unwrap_or((ready, ready))
            }
        }
    }

    fn latest(&self, task: usize, not_after: i64) -> (i64, i64) {
        match self.step(task).map(|s| &s.takes) {
            None => (not_after, not_after),
            Some(Takes::Clock(minutes)) => (not_after - minutes, not_after),
            Some(Takes::Hands(blocks)) => {
                fit_before(self.setting.clock, blocks, not_after).unwrap_or((not_after, not_after))
            }
        }
    }
}
