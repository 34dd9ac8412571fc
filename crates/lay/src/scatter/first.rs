//! The first places of a lay: where a stone touches the zone's edge, before any other is set.

use super::edge::{Edges, goes_on_smoothly};
use super::tangent::meet;
use crate::{Stopped, Watch};
use geometry::{Point, Walls};

/// How many pairs of edges are looked at for a place in their corner, at most.
const PAIRS: usize = 4_000_000;
/// After how many edges the watcher is asked.
const WATCHED: usize = 1024;

/// Takes the first places.
pub(crate) trait Takes {
    /// The radius of each form, mm.
    fn radii(&self) -> &[f64];
    /// A random number in 0..1: where along an edge to look.
    fn fraction(&mut self) -> f64;
    /// A place for a stone of `form`, which need not be free.
    fn offer(&mut self, form: usize, centre: Point);
}

/// Offers the first places: along every edge and in every corner between two.
///
/// What is left free in the end is bounded by stones, which offer their own places, or by edges
/// alone: then it has a corner between two edges, or is so smooth that a point beside an edge, of
/// which there is one at every few tenths of a stone, is free.
pub(crate) fn places(
    walls: &Walls,
    edges: &Edges,
    watch: &dyn Watch,
    to: &mut impl Takes,
) -> Result<(), Stopped> {
    let step = 0.25 * to.radii().iter().copied().fold(f64::INFINITY, f64::min);
    let (mut pairs, mut way) = (0, step);
    for i in 0..edges.n_segments() {
        if i.is_multiple_of(WATCHED) && watch.stopped() {
            return Err(Stopped);
        }
        way += walls.segments()[i].length();
        if way >= step {
            way = 0.0;
            beside(edges, i, to);
        }
        if pairs < PAIRS {
            pairs += corners(walls, edges, i, to);
        }
    }
    Ok(())
}

/// Offers places that touch segment `i`: at its ends and somewhere between.
fn beside(edges: &Edges, i: usize, to: &mut impl Takes) {
    for edge in edges.of(i) {
        let t = to.fraction();
        for form in 0..to.radii().len() {
            let r = to.radii()[form];
            for p in [0.0, t, 1.0].into_iter().filter_map(|t| edge.beside(t, r)) {
                to.offer(form, p);
            }
        }
    }
}

/// Offers the places that touch segment `i` and a later one. Returns how many were looked at.
fn corners(walls: &Walls, edges: &Edges, i: usize, to: &mut impl Takes) -> usize {
    let segments = walls.segments();
    let s = segments[i];
    let radius_max = to.radii().iter().copied().fold(0.0, f64::max);
    let reach = s.length() / 2.0 + 2.0 * (radius_max + walls.keep_max());
    let near = walls.within(s.point_at(0.5), reach);
    let mut pairs = 0;
    let corner = |&j: &usize| {
        let t = &segments[j];
        j > i && !goes_on_smoothly(&s, t) && !goes_on_smoothly(t, &s)
    };
    for other in near.into_iter().filter(corner).flat_map(|j| edges.of(j)) {
        for edge in edges.of(i) {
            pairs += to.radii().len();
            for form in 0..to.radii().len() {
                let r = to.radii()[form];
                let (Some(a), Some(b)) = (edge.locus(r), other.locus(r)) else { continue };
                for p in meet(a, b).into_iter().flatten() {
                    if edge.spans(p) && other.spans(p) {
                        to.offer(form, p);
                    }
                }
            }
        }
    }
    pairs
}
