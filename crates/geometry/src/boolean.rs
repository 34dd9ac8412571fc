//! Inset, outset and the boolean operations.
//!
//! Arcs stay exact where no edge of one region touches an edge of the other. Elsewhere both are
//! flattened first, so that the result leaves the true one by at most [`CHORD_ERROR_MM`], on the
//! inside. Corners that come in go out to the last bit; crossings are rounded to 1e-8 mm.
//!
//! Coordinates beyond [`LIMIT_MM`] are refused by [`clean`] and meaningless to the others.

mod clip;
mod flatten;
mod meet;
mod offset;

pub use clip::LIMIT_MM;
pub use flatten::flattened;
pub use offset::{inset, outset};

use crate::shapes::{CHORD_ERROR_MM, Side};
use crate::{Point, Region, RegionError, Ring, Walls};
use clip::Operation;

/// Parts smaller than this are what rounding leaves behind, mm².
const SLIVER_MM2: f64 = 1e-6;

/// Which places a set of crossing rings encloses.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FillRule {
    /// Those that the rings go round a number of times that is not 0.
    NonZero,
    /// Those that the rings go round an odd number of times.
    EvenOdd,
}

/// The region that polygons of any orientation enclose, whether they cross themselves or each
/// other: exteriors counter-clockwise, holes clockwise, slivers under 1e-6 mm² dropped. Corners
/// keep their coordinates but for those that lie within a straight edge, which go; crossings are
/// rounded to 1e-8 mm. Each polygon is closed if it is not; tags are 0.
///
/// # Errors
/// `Empty` without polygons, `NotFinite` and `TooFar` for the first bad coordinate, `NoArea` (of
/// ring 0) if nothing is enclosed.
pub fn clean(rings: &[Vec<Point>], rule: FillRule) -> Result<Region, RegionError> {
    if rings.is_empty() {
        return Err(RegionError::Empty);
    }
    for (i, ring) in rings.iter().enumerate() {
        if !ring.iter().all(|p| p.is_finite()) {
            return Err(RegionError::NotFinite { ring: i });
        }
        if ring.iter().any(|p| p.x.abs().max(p.y.abs()) > LIMIT_MM) {
            return Err(RegionError::TooFar { ring: i });
        }
    }
    let found = clip::clip(Operation::Clean(rule), rings, &[]);
    region_of(&found).ok_or(RegionError::NoArea { ring: 0 })
}

/// What lies in `a` or in `b`. Segments keep their tags; where edges of both coincide, `a`'s count.
/// `None` only if both together enclose nothing.
pub fn union(a: &Region, b: &Region) -> Option<Region> {
    if meet::regions_meet(a, b) {
        return flat(Operation::Union, a, b);
    }
    assemble(kept(a, b, false).chain(kept(b, a, false)).cloned().collect())
}

/// What lies in `a` and in `b`; `None` if that is nothing. Segments keep their tags; where edges
/// of both coincide, `a`'s count.
pub fn intersection(a: &Region, b: &Region) -> Option<Region> {
    if meet::regions_meet(a, b) {
        return flat(Operation::Intersection, a, b);
    }
    assemble(kept(a, b, true).chain(kept(b, a, true)).cloned().collect())
}

/// What lies in `a` but not in `b`; `None` if that is nothing. Segments keep their tags, those of
/// `b` too; where edges of both coincide, `a`'s count.
pub fn difference(a: &Region, b: &Region) -> Option<Region> {
    if meet::regions_meet(a, b) {
        return flat(Operation::Difference, a, b);
    }
    let cut = kept(b, a, true).map(Ring::reversed);
    assemble(kept(a, b, false).cloned().chain(cut).collect())
}

/// The rings of `of` that lie within `other`, or those that do not; no edges of the two meet.
fn kept<'a>(of: &'a Region, other: &'a Region, within: bool) -> impl Iterator<Item = &'a Ring> {
    of.rings()
        .iter()
        .filter(move |r| r.segments.first().is_some_and(|s| other.contains(s.from) == within))
}

fn assemble(rings: Vec<Ring>) -> Option<Region> {
    Region::new(rings).ok()
}

/// The operation on flattened outlines, tags found again by place.
fn flat(operation: Operation, a: &Region, b: &Region) -> Option<Region> {
    // What is taken off must not be too small, or the rest would reach beyond the true one.
    let side = match operation {
        Operation::Difference => Side::Outside,
        _ => Side::Inside,
    };
    let a = flattened(a, CHORD_ERROR_MM, Side::Inside)?;
    let b = flattened(b, CHORD_ERROR_MM, side)?;
    let mut result = region_of(&clip::clip(operation, &corners(&a), &corners(&b)))?;
    let sources = Region::of_rings(a.rings().iter().chain(b.rings()).cloned().collect());
    let near = Walls::new(&sources, |_| 0.0);
    for s in result.rings_mut().iter_mut().flat_map(|r| &mut r.segments) {
        let (_, source) = near.nearest(s.point_at(0.5));
        s.tag = near.segments().get(source).map_or(0, |t| t.tag);
    }
    Some(result)
}

/// The corners of rings that consist of lines.
fn corners(region: &Region) -> Vec<Vec<Point>> {
    region.rings().iter().map(|r| r.segments.iter().map(|s| s.from).collect()).collect()
}

/// The region of tidy polygons, slivers dropped; `None` if none is left.
fn region_of(polygons: &[Vec<Point>]) -> Option<Region> {
    let rings: Vec<Ring> = polygons.iter().map(|p| Ring::polygon(p)).collect();
    let rings = rings.into_iter().filter(|r| r.signed_area().abs() >= SLIVER_MM2).collect();
    Region::new(rings).ok()
}
