//! The search through ever smaller squares.

use super::balance::balances;
use super::feature::{Features, Primitive, Slope};
use super::peak::{Lie, Peak, lie};
use crate::{Point, Walls};
use std::cmp::Reverse;
use std::collections::BinaryHeap;
use std::f64::consts::SQRT_2;

/// So few things are tried by threes at once.
const FEW: usize = 4;

/// More things than this are never tried by threes.
const MANY: usize = 16;

/// Half the side of a square that counts as a point, mm.
const POINT_MM: f64 = 5e-9;

/// Radii that differ by less are equal, mm.
const EQUAL_MM: f64 = 1e-9;

/// How many of the latest peaks along crests are looked at for one that is all but the same.
const LOOK_BACK: usize = 256;

pub(super) struct Search<'a> {
    features: &'a Features,
    walls: &'a Walls,
    /// No peak below this is asked for.
    floor: f64,
    /// So many of the largest peaks are asked for.
    want: usize,
    peaks: Vec<Peak>,
    /// Those of them that may be one of many along a crest, the latest last.
    crests: Vec<Peak>,
    /// The largest `want` radii so far, as bits, the least first.
    largest: BinaryHeap<Reverse<u64>>,
    /// Lists of things, one behind the other: that of each square being looked at.
    lists: Vec<u32>,
    values: Vec<f64>,
    slopes: Vec<(Point, f64)>,
    primitives: Vec<Primitive>,
    points: Vec<Point>,
}

/// A square under investigation.
#[derive(Clone, Copy)]
struct Square {
    middle: Point,
    half: f64,
    /// Where the list of the square around it starts and ends.
    list: (usize, usize),
    /// Whether it lies inside the region, if no edge runs through.
    inside: Option<bool>,
    /// How often halving has not made the list shorter.
    stalled: usize,
}

impl<'a> Search<'a> {
    pub(super) fn new(features: &'a Features, walls: &'a Walls, floor: f64, want: usize) -> Self {
        Search {
            features,
            walls,
            floor,
            want,
            peaks: vec![],
            crests: vec![],
            largest: BinaryHeap::new(),
            lists: vec![],
            values: vec![],
            slopes: vec![],
            primitives: vec![],
            points: vec![],
        }
    }

    /// Every peak that may be among the largest, in no particular order; some more than once.
    pub(super) fn run(&mut self) -> Vec<Peak> {
        let bounds = self.walls.bounds();
        if self.want == 0 || bounds.is_empty() {
            return vec![];
        }
        self.lists = (0..self.features.len() as u32).collect();
        // Off the round numbers, so that peaks of regular scenes rarely lie on a border.
        let half = 0.513_7 * bounds.width().max(bounds.height());
        let middle = bounds.centre() + Point::new(0.007_31, 0.003_77) * half;
        let list = (0, self.lists.len());
        self.visit(Square { middle, half, list, inside: None, stalled: 0 });
        std::mem::take(&mut self.peaks)
    }

    fn threshold(&self) -> f64 {
        match self.largest.peek() {
            Some(Reverse(bits)) if self.largest.len() == self.want => {
                self.floor.max(f64::from_bits(*bits) - 2.0 * EQUAL_MM)
            }
            _ => self.floor,
        }
    }

    fn visit(&mut self, square: Square) {
        let Square { middle, half, .. } = square;
        let reach = half * SQRT_2;
        let Some((least, inside, edge_near)) = self.look(&square, reach) else { return };
        let start = self.lists.len();
        for k in 0..self.values.len() {
            if self.values[k] <= least + 2.0 * reach {
                let i = self.lists[square.list.0 + k];
                self.lists.push(i);
            }
        }
        let list = (start, self.lists.len());
        let n = list.1 - list.0;
        let same = n == square.list.1 - square.list.0;
        let stalled = if same { square.stalled + 1 } else { 0 };
        if self.common_way(list, middle, reach) {
            // Everything in the square can be left behind by going one way: no peak.
        } else if n <= (FEW + stalled).min(MANY) {
            self.solve(list, middle, half, inside && !edge_near);
        } else if half < POINT_MM {
            self.settle(list, middle, reach);
        } else {
            let inside = (!edge_near).then_some(inside);
            let q = half / 2.0;
            for (dx, dy) in [(-q, -q), (q, -q), (-q, q), (q, q)] {
                let middle = middle + Point::new(dx, dy);
                self.visit(Square { middle, half: q, list, inside, stalled });
            }
        }
        self.lists.truncate(start);
    }

    /// The values of the things listed at the middle; the least of them, whether the middle lies
    /// inside, and whether an edge may run through the square. `None` if the square cannot hold
    /// what is asked for.
    fn look(&mut self, square: &Square, reach: f64) -> Option<(f64, bool, bool)> {
        let (mut least, mut least_edge) = (f64::INFINITY, f64::INFINITY);
        self.values.clear();
        for &i in &self.lists[square.list.0..square.list.1] {
            let v = self.features.value(i, square.middle);
            self.values.push(v);
            least = least.min(v);
            if self.features.is_edge(i) {
                least_edge = least_edge.min(v);
            }
        }
        let asked = self.threshold();
        if least + reach < asked {
            return None;
        }
        let inside = square.inside.unwrap_or_else(|| self.walls.contains(square.middle));
        if !inside && reach - least_edge < asked {
            return None;
        }
        Some((least, inside, least_edge <= reach))
    }

    /// Whether there is a direction in which the distance from every thing listed grows, anywhere
    /// within `reach` of `p`.
    fn common_way(&mut self, (start, end): (usize, usize), p: Point, reach: f64) -> bool {
        self.slopes.clear();
        // The ends of the fan of directions, if it is narrower than half a turn.
        let (mut right, mut left) = (Point::ORIGIN, Point::ORIGIN);
        for &i in &self.lists[start..end] {
            let Slope::Towards(way, swing) = self.features.slope(i, p, reach) else {
                return false;
            };
            if swing * reach >= 1.0 {
                return false;
            }
            if self.slopes.is_empty() {
                (right, left) = (way, way);
            } else if right.cross(way) < 0.0 {
                right = way;
            } else if left.cross(way) > 0.0 {
                left = way;
            }
            self.slopes.push((way, swing * reach));
        }
        let way = (right + left).normalised();
        self.slopes.iter().all(|(w, sine)| w.dot(way) > sine + 1e-9)
    }

    /// Tries every balance of the few things listed.
    fn solve(&mut self, list: (usize, usize), middle: Point, half: f64, inside: bool) {
        let mut things = std::mem::take(&mut self.primitives);
        things.clear();
        for &i in &self.lists[list.0..list.1] {
            self.features.primitives(i, middle, &mut things);
        }
        let mut points = std::mem::take(&mut self.points);
        points.clear();
        let border = half + 1e-9;
        balances(&things, |p| {
            let near = p.x.abs() <= border && p.y.abs() <= border;
            if near && points.iter().all(|q| q.distance(p) > EQUAL_MM) {
                points.push(p);
            }
        });
        for &p in &points {
            self.try_point(list, middle + p, inside);
        }
        self.primitives = things;
        self.points = points;
    }

    fn try_point(&mut self, (start, end): (usize, usize), p: Point, inside: bool) {
        let list = &self.lists[start..end];
        let values = list.iter().map(|&i| self.features.value(i, p));
        let radius = values.fold(f64::INFINITY, f64::min);
        if radius < self.threshold() || !(inside || self.walls.contains(p)) {
            return;
        }
        let found = lie(self.features, list, p, radius, (EQUAL_MM, 1e-7));
        self.keep(found, start, end, p, radius);
    }

    /// A square as small as a point in which many things are still equally near.
    fn settle(&mut self, (start, end): (usize, usize), p: Point, reach: f64) {
        let list = &self.lists[start..end];
        let values = list.iter().map(|&i| self.features.value(i, p));
        let radius = values.fold(f64::INFINITY, f64::min);
        if radius < self.threshold() || !self.walls.contains(p) {
            return;
        }
        let found = lie(self.features, list, p, radius, (4.0 * reach, 0.01));
        self.keep(found, start, end, p, radius);
    }

    fn keep(&mut self, found: Lie, start: usize, end: usize, p: Point, radius: f64) {
        if found == Lie::Slope {
            return;
        }
        let touches = |i: &u32| self.features.value(*i, p) <= radius + 2.0 * EQUAL_MM;
        let mut touched = self.lists[start..end].iter().filter(|i| touches(i));
        let smooth = found == Lie::Level || touched.all(|&i| self.features.is_edge(i));
        let peak = Peak { centre: p, radius, smooth };
        if smooth {
            if self.crests.iter().rev().take(LOOK_BACK).any(|c| c.stands_for(&peak)) {
                return;
            }
            self.crests.push(peak);
        }
        self.peaks.push(peak);
        // Of positive numbers the bits are in the same order.
        self.largest.push(Reverse(radius.to_bits()));
        if self.largest.len() > self.want {
            self.largest.pop();
        }
    }
}
