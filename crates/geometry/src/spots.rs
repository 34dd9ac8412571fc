//! The largest empty circles.
//!
//! Let d(p) be the distance from p to the nearest thing: an edge of the region or the rim of a
//! disc. A circle about p with radius d(p) holds nothing; the ones that cannot grow by moving are
//! the local maxima of d. All are found, each to the rounding of `f64`.
//!
//! The way: squares of the plane are halved again and again, each with the list of the things that
//! can be nearest anywhere in it (d changes by no more than one goes: it is 1-Lipschitz). A square
//! is dropped when d cannot reach what is asked for in it, or when all its things leave one common
//! way to climb. When few things are left, every point equally far from three of them (Apollonius'
//! problem; any mix of discs, lines, arcs and corners is one linear and one quadratic equation),
//! and every balance between two, is written down and tried.

mod balance;
mod feature;
mod peak;
mod search;

use crate::shapes::CHORD_ERROR_MM;
use crate::{Disc, DiscGrid, Point, Walls};
use feature::Features;
use peak::Peak;
use search::Search;

/// An empty circle that cannot grow by moving.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EmptyCircle {
    /// Its centre.
    pub centre: Point,
    /// Its radius in millimetres.
    pub radius: f64,
}

/// Empty circles below this radius are the touching of neighbours, mm.
const RADIUS_MIN_MM: f64 = 1e-6;

/// The `how_many` largest empty circles that lie inside the region and meet no disc, largest
/// first; equal ones (to 1e-9 mm) from the lowest up, then from the left. Fewer if there are not
/// as many; none smaller than 1e-6 mm.
///
/// The first is the largest there is, to 1e-8 mm. Distances are to the edges themselves: what the
/// walls want kept is not looked at. Where a circle can be pushed along between two edges, or
/// between edges that follow a curve in short steps, without losing more than
/// [`CHORD_ERROR_MM`], circles that do not overlap stand for all.
pub fn largest(walls: &Walls, discs: &DiscGrid, how_many: usize) -> Vec<EmptyCircle> {
    let features = Features::new(walls, discs);
    let mut want = how_many;
    loop {
        let mut search = Search::new(&features, walls, RADIUS_MIN_MM, want);
        let peaks = search.run();
        let complete = peaks.len() < want;
        let found = distinct(peaks, walls, discs, how_many);
        if complete || found.len() >= how_many {
            return found;
        }
        // Several of the largest stood for one spot: rarely, so that all may be looked for.
        want = usize::MAX;
    }
}

/// All empty circles of at least `radius_min` mm, as [`largest`] gives them.
pub fn at_least(walls: &Walls, discs: &DiscGrid, radius_min: f64) -> Vec<EmptyCircle> {
    let features = Features::new(walls, discs);
    let floor = radius_min.max(RADIUS_MIN_MM);
    let mut peaks = Search::new(&features, walls, floor, usize::MAX).run();
    peaks.retain(|p| p.radius >= floor);
    distinct(peaks, walls, discs, usize::MAX)
}

/// Distance from `p` to the nearest edge or disc, negative outside and in a disc.
fn room(walls: &Walls, discs: &DiscGrid, p: Point) -> f64 {
    let (nearest, i) = walls.nearest(p);
    let edge = nearest + if i < walls.segments().len() { walls.keep(i) } else { 0.0 };
    let edge = if walls.contains(p) { edge } else { -edge };
    discs.gap(p, edge.abs()).map_or(edge, |g| g.min(edge))
}

/// The first `limit` peaks in order, each place once.
fn distinct(
    mut peaks: Vec<Peak>,
    walls: &Walls,
    discs: &DiscGrid,
    limit: usize,
) -> Vec<EmptyCircle> {
    let key = |p: &Peak| (-(p.radius * 1e9).round(), p.centre.y, p.centre.x);
    peaks.sort_by(|a, b| {
        let (a, b) = (key(a), key(b));
        a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)).then(a.2.total_cmp(&b.2))
    });
    let places = peaks.iter().map(|p| Disc { centre: p.centre, radius: p.radius }).collect();
    let grid = DiscGrid::new(places);
    let mut taken = vec![false; peaks.len()];
    let mut found = vec![];
    for (i, peak) in peaks.iter().enumerate() {
        if found.len() == limit {
            break;
        }
        let reach = if peak.smooth { peak.radius + grid.radius_max() } else { 1e-6 };
        let mut others = grid.around(peak.centre, reach).filter(|&j| taken[j]);
        if others.any(|j| same_spot(&peaks[j], peak, walls, discs)) {
            continue;
        }
        taken[i] = true;
        found.push(EmptyCircle { centre: peak.centre, radius: peak.radius });
    }
    found
}

/// Whether two peaks, the larger first, stand for one spot.
fn same_spot(a: &Peak, b: &Peak, walls: &Walls, discs: &DiscGrid) -> bool {
    let apart = b.centre - a.centre;
    let gap = apart.norm();
    if gap < 1e-6 {
        return true;
    }
    let alike = a.smooth && b.smooth && a.radius - b.radius <= CHORD_ERROR_MM;
    if !alike || gap >= a.radius + b.radius {
        return false;
    }
    // The crest between the two may curve: look for it across the middle.
    let (middle, across) = (a.centre.lerp(b.centre, 0.5), apart.left());
    let at = |t: f64| room(walls, discs, middle + across * t);
    if at(0.0) >= b.radius - CHORD_ERROR_MM {
        return true;
    }
    let (mut lo, mut hi) = (-0.5, 0.5);
    // Down to a thousandth of the least that matters, for circles of up to 100 mm.
    for _ in 0..40 {
        let (p, q) = (lo + (hi - lo) / 3.0, hi - (hi - lo) / 3.0);
        if at(p) < at(q) { lo = p } else { hi = q }
    }
    at((lo + hi) / 2.0) >= b.radius - CHORD_ERROR_MM
}
