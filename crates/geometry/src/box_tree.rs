//! Segments in a tree of boxes: the nearest one, and those near a place.

use crate::{Bounds, Point, Segment};

/// Segments to a leaf.
const LEAF: usize = 4;

/// Boxes around ever smaller runs of segments. A boundary is already in an order in which
/// neighbours lie together, so that halving the list makes a good tree.
#[derive(Clone, Debug)]
pub(crate) struct BoxTree {
    nodes: Vec<Node>,
}

#[derive(Clone, Copy, Debug)]
struct Node {
    bounds: Bounds,
    /// The largest distance to keep from any segment below.
    keep: f64,
    first: u32,
    count: u32,
    /// Index of the second child; the first one follows its parent. 0 for a leaf.
    second: u32,
}

impl BoxTree {
    /// The tree over `segments`, each with a distance to keep.
    pub(crate) fn new(segments: &[Segment], keep: &[f64]) -> BoxTree {
        let mut tree = BoxTree { nodes: Vec::with_capacity(2 * segments.len() / LEAF + 1) };
        if !segments.is_empty() {
            tree.build(segments, keep, 0);
        }
        tree
    }

    fn build(&mut self, segments: &[Segment], keep: &[f64], first: usize) {
        let at = self.nodes.len();
        let bounds = segments.iter().fold(Bounds::EMPTY, |b, s| b.union(s.bounds()));
        let keep_max = keep.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let (first_index, count) = (first as u32, segments.len() as u32);
        self.nodes.push(Node { bounds, keep: keep_max, first: first_index, count, second: 0 });
        if segments.len() > LEAF {
            let half = segments.len() / 2;
            self.build(&segments[..half], &keep[..half], first);
            self.nodes[at].second = self.nodes.len() as u32;
            self.build(&segments[half..], &keep[half..], first + half);
        }
    }

    /// The least `value` of any segment and its index, the lower index of equal ones. `value` must
    /// be at least the distance from `p` less what is to be kept.
    pub(crate) fn least(&self, p: Point, value: impl Fn(usize) -> f64) -> (f64, usize) {
        let mut best = (f64::INFINITY, usize::MAX);
        if self.nodes.is_empty() {
            return best;
        }
        let bound = |i: usize| self.nodes[i].bounds.distance(p) - self.nodes[i].keep;
        let mut stack = [(0.0, 0usize); 64];
        stack[0] = (bound(0), 0);
        let mut n = 1;
        while n > 0 {
            n -= 1;
            let (least, at) = stack[n];
            if least > best.0 {
                continue;
            }
            let node = &self.nodes[at];
            if node.second == 0 {
                for i in node.first as usize..(node.first + node.count) as usize {
                    let v = value(i);
                    if v < best.0 || v == best.0 && i < best.1 {
                        best = (v, i);
                    }
                }
                continue;
            }
            let (a, b) = (at + 1, node.second as usize);
            let (a, b) = ((bound(a), a), (bound(b), b));
            // The nearer one last, to be looked at first.
            let (far, near) = if a.0 <= b.0 { (b, a) } else { (a, b) };
            stack[n] = far;
            stack[n + 1] = near;
            n += 2;
        }
        best
    }

    /// Calls `f` with each segment in a leaf whose box passes `wanted`, in order.
    pub(crate) fn visit(&self, wanted: impl Fn(&Bounds) -> bool, mut f: impl FnMut(usize)) {
        let mut at = 0;
        while at < self.nodes.len() {
            let node = &self.nodes[at];
            if !wanted(&node.bounds) {
                // Everything below stands between here and the next node outside.
                at = self.end_of(at);
                continue;
            }
            if node.second == 0 {
                (node.first..node.first + node.count).for_each(|i| f(i as usize));
            }
            at += 1;
        }
    }

    /// The first node after those below `at`.
    fn end_of(&self, mut at: usize) -> usize {
        while self.nodes[at].second != 0 {
            at = self.nodes[at].second as usize;
        }
        at + 1
    }
}
