//! The pocket front: every place that touches two things and is still free, best first.

use super::edge::Edges;
use super::field::{Field, TOUCH};
use super::first::Takes;
use super::ring::fraction;
use super::tangent::{Locus, circle_circle, meet};
use geometry::Point;
use rand::Rng;
use rand_chacha::ChaCha8Rng;
use std::cmp::{Ordering, Reverse};
use std::collections::BinaryHeap;

/// What a contact is worth, in mean radii of gap: a place that touches a third thing, or leaves a
/// gap smaller than this to it, is better than one in the open. Found by trial on mixes of one to
/// eight sizes, like the three below; 0.5 to 0.8 differ by less than 1 % of coverage.
const CONTACT: f64 = 0.7;

/// A gap counts as lost when it is narrower than this many of the smallest diameters. Wider ones
/// are left to be closed by another stone.
const LOST: f64 = 0.6;

/// What a contact between two stones of one size costs more than another: against clumps.
const ALIKE: f64 = 0.03;

/// What it costs to run ahead, for each mean radius of way from where the front began: keeps the
/// front level, and with it the working set small.
const AHEAD: f64 = 0.015;

/// Steps of cost in one mean radius. Costs are compared in whole steps, so that the last bits of a
/// coordinate do not decide.
const STEPS: f64 = 1e4;

/// Steps of distance in one mean radius, for putting neighbours in order.
const ORDER: f64 = 1e6;

/// Length of a heap below which it is never cleared of stale places.
const FEW: usize = 4096;

/// A place on the front.
#[derive(Clone, Copy, Debug)]
struct Pocket {
    /// Cost in steps and, where equal, a random number.
    key: (i32, u32),
    centre: Point,
    /// Way from where the front began, mm.
    depth: f32,
    /// Discs from this one on have not been held against it yet.
    since: u32,
}

impl PartialEq for Pocket {
    fn eq(&self, other: &Pocket) -> bool {
        self.key == other.key
    }
}

impl Eq for Pocket {}

impl PartialOrd for Pocket {
    fn partial_cmp(&self, other: &Pocket) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Pocket {
    fn cmp(&self, other: &Pocket) -> Ordering {
        self.key.cmp(&other.key)
    }
}

/// A disc near the one just placed.
#[derive(Clone, Copy)]
struct Near {
    centre: Point,
    radius: f64,
    /// From the edge of this one to the centre of the one just placed, in steps too coarse for
    /// rounding to matter; then by age.
    order: (u64, u32),
    depth: f32,
    form: u32,
}

/// The places where a stone would touch two things, for each form, best first.
///
/// A place costs what the gaps around it lose, less what its contacts are worth (see `link`). That
/// sum only grows by links to discs that come later, so it is brought up to date when the place
/// comes to the top of its heap, and a place that is no longer free is thrown out there. No place
/// that is free is ever lost: when every heap is empty, no stone of any form fits anywhere.
pub(crate) struct Front<'a> {
    /// What has been placed.
    pub(crate) field: Field<'a>,
    /// Everything random.
    pub(crate) rng: ChaCha8Rng,
    /// The radius of each form, mm.
    pub(crate) radii: Vec<f64>,
    edges: &'a Edges,
    heaps: Vec<BinaryHeap<Reverse<Pocket>>>,
    /// Length at which each heap is next cleared of stale places.
    clear_at: Vec<usize>,
    /// Gap that no other stone will close, mm.
    lost: f64,
    radius_mean: f64,
    radius_max: f64,
    near: Vec<Near>,
}

impl<'a> Front<'a> {
    /// An empty front for forms of these radii; `radius_mean` is their mean by count.
    pub(crate) fn new(
        field: Field<'a>,
        edges: &'a Edges,
        radii: Vec<f64>,
        radius_mean: f64,
        rng: ChaCha8Rng,
    ) -> Front<'a> {
        let radius_min = radii.iter().copied().fold(f64::INFINITY, f64::min);
        Front {
            field,
            rng,
            edges,
            heaps: radii.iter().map(|_| BinaryHeap::new()).collect(),
            clear_at: vec![FEW; radii.len()],
            lost: 2.0 * radius_min * LOST,
            radius_mean,
            radius_max: radii.iter().copied().fold(0.0, f64::max),
            radii,
            near: vec![],
        }
    }

    /// The cost of the best free place of `form`, in mean radii; none if there is no place.
    pub(crate) fn best(&mut self, form: usize) -> Option<f64> {
        let now = self.field.count();
        loop {
            let &Reverse(top) = self.heaps[form].peek()?;
            if top.since == now {
                return Some(f64::from(top.key.0) / STEPS);
            }
            let updated = self.updated(form, top);
            match (updated, self.heaps[form].peek_mut()) {
                (Some(pocket), Some(mut slot)) => *slot = Reverse(pocket),
                (_, slot) => drop(slot.map(std::collections::binary_heap::PeekMut::pop)),
            }
        }
    }

    /// Places a stone of `form` on the best place that `best` last returned.
    pub(crate) fn take(&mut self, form: usize) {
        if let Some(Reverse(p)) = self.heaps[form].pop() {
            self.place(form, p.centre, p.depth);
        }
    }

    /// Places a stone and adds every free place at which another would touch it and a second
    /// thing.
    pub(crate) fn place(&mut self, form: usize, centre: Point, depth: f32) {
        let radius = self.radii[form];
        let mut near = std::mem::take(&mut self.near);
        self.gather(centre, radius + 2.0 * self.radius_max + self.lost, &mut near);
        self.field.add(centre, radius, form, depth);
        let wall_reach = radius + 2.0 * self.radius_max;
        let walls = if self.field.clear_of_walls(centre) >= wall_reach {
            vec![]
        } else {
            self.field.walls.within(centre, wall_reach + self.field.walls.keep_max())
        };
        let edges = self.edges;
        for other in 0..self.radii.len() {
            let r = self.radii[other];
            let rho = radius + r;
            // One step more than enough.
            let within = |d: f64| ((d / self.radius_mean + 2.0 / ORDER) * ORDER) as u64;
            let n_meeting = near.partition_point(|n| n.order.0 <= within(rho + r));
            let n_linked = near.partition_point(|n| n.order.0 <= within(rho + r + self.lost));
            let linked = &near[..n_linked];
            for n in &near[..n_meeting] {
                let depth = n.depth.min(depth) + rho as f32;
                for p in circle_circle(centre, rho, n.centre, n.radius + r).into_iter().flatten() {
                    self.consider(other, p, form, linked, depth);
                }
            }
            let about = Locus::Circle { centre, radius: rho };
            for edge in walls.iter().flat_map(|&w| edges.of(w)) {
                let Some(locus) = edge.locus(r) else { continue };
                for p in meet(about, locus).into_iter().flatten() {
                    if edge.spans(p) {
                        self.consider(other, p, form, linked, 0.0);
                    }
                }
            }
        }
        self.near = near;
    }

    /// Fills `near` with the discs whose edge lies within `reach` of `p`, nearest first.
    fn gather(&self, p: Point, reach: f64, near: &mut Vec<Near>) {
        near.clear();
        self.field.each(p, reach + self.radius_max, 0, |id, d| {
            let edge_distance = d.centre.distance(p) - d.radius;
            if edge_distance < reach {
                let order = ((edge_distance / self.radius_mean * ORDER + 0.5) as u64, id);
                let (centre, radius, depth, form) = (d.centre, d.radius, d.depth, d.form);
                near.push(Near { centre, radius, order, depth, form });
            }
            true
        });
        near.sort_unstable_by_key(|n| n.order);
    }

    /// Adds `p` as a place for `form`, touching the disc of form `about` just placed, if it is
    /// free of the discs in `near` and of the walls.
    fn consider(&mut self, form: usize, p: Point, about: usize, near: &[Near], depth: f32) {
        let r = self.radii[form];
        let mut cost = self.link(0.0, form, about as u32);
        for n in near {
            let reach = r + n.radius + self.lost;
            let d2 = (p - n.centre).norm2();
            if d2 < reach * reach {
                let gap = d2.sqrt() - r - n.radius;
                if gap < -TOUCH {
                    return;
                }
                cost += self.link(gap, form, n.form);
            }
        }
        if self.field.inside(p, r) {
            cost += self.wall_link(form, p);
            self.push(form, p, cost, depth);
        }
    }

    /// What a gap between two neighbours costs, in mean radii. The bare area along a gap that
    /// stays open grows in proportion to it.
    fn link(&self, gap: f64, form: usize, other: u32) -> f64 {
        if gap >= self.lost {
            return 0.0;
        }
        let gap = gap.max(0.0);
        let alike = if form as u32 == other { ALIKE * (1.0 - gap / self.lost) } else { 0.0 };
        gap / self.radius_mean - CONTACT + alike
    }

    fn wall_link(&mut self, form: usize, p: Point) -> f64 {
        let r = self.radii[form];
        if self.field.clear_of_walls(p) >= r + self.lost {
            return 0.0;
        }
        self.link(self.field.walls.nearest(p).0 - r, form, u32::MAX)
    }

    /// Cost of the links to discs placed at or after `since`; none if one of them is in the way.
    fn links_since(&self, form: usize, centre: Point, since: u32) -> Option<f64> {
        let r = self.radii[form];
        let mut cost = 0.0;
        let free = self.field.each(centre, r + self.radius_max + self.lost, since, |_, d| {
            let reach = r + d.radius + self.lost;
            let d2 = (centre - d.centre).norm2();
            if d2 >= reach * reach {
                return true;
            }
            let gap = d2.sqrt() - r - d.radius;
            cost += self.link(gap, form, d.form);
            gap >= -TOUCH
        });
        free.then_some(cost)
    }

    /// The same place held against every disc placed since; none if it is no longer free.
    fn updated(&self, form: usize, pocket: Pocket) -> Option<Pocket> {
        let more = self.links_since(form, pocket.centre, pocket.since)?;
        let key = (pocket.key.0.saturating_add(steps(more)), pocket.key.1);
        Some(Pocket { key, since: self.field.count(), ..pocket })
    }

    fn push(&mut self, form: usize, centre: Point, cost: f64, depth: f32) {
        let ahead = AHEAD * f64::from(depth) / self.radius_mean;
        let key = (steps(cost + ahead), self.rng.next_u32());
        let since = self.field.count();
        self.heaps[form].push(Reverse(Pocket { key, centre, depth, since }));
        if self.heaps[form].len() > self.clear_at[form] {
            self.clear_stale(form);
        }
    }

    fn clear_stale(&mut self, form: usize) {
        let all = std::mem::take(&mut self.heaps[form]).into_vec();
        let fresh = all.into_iter().filter_map(|Reverse(p)| self.updated(form, p).map(Reverse));
        let fresh: Vec<_> = fresh.collect();
        self.clear_at[form] = 2 * fresh.len() + FEW;
        self.heaps[form] = fresh.into();
    }
}

impl Takes for Front<'_> {
    fn radii(&self) -> &[f64] {
        &self.radii
    }

    fn fraction(&mut self) -> f64 {
        fraction(&mut self.rng)
    }

    /// Adds `centre` as a place for `form` if it is free, whatever it touches.
    fn offer(&mut self, form: usize, centre: Point) {
        let r = self.radii[form];
        if self.field.free(centre, r) && self.field.inside(centre, r) {
            let links = self.links_since(form, centre, 0).unwrap_or(0.0);
            let cost = links + self.wall_link(form, centre);
            self.push(form, Point::new(centre.x, centre.y), cost, 0.0);
        }
    }
}

fn steps(cost: f64) -> i32 {
    (cost * STEPS + 0.5).floor() as i32
}
