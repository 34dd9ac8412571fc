//! A region grown or shrunk by a distance.

use super::{clip, corners, flattened, region_of};
use crate::Region;
use crate::shapes::{CHORD_ERROR_MM, Side};

/// The places of `region` at least `d` mm (not negative) from every edge, as polygons; `None` if
/// there are none. Its segments carry `tag`.
///
/// Edges lie within 0.003 mm of the true ones: the region's arcs and the round corners are both
/// followed by chords. Seed stones or bound zones with it; decide clearance by exact distance,
/// with [`Walls`](crate::Walls).
pub fn inset(region: &Region, d: f64, tag: u8) -> Option<Region> {
    moved_edges(region, -d, tag)
}

/// The places at most `d` mm (not negative) from `region`, as polygons. Its segments carry `tag`.
///
/// As near the true ones as with [`inset`]. `None` only if the region itself is lost: one thinner
/// than the step of 1e-6 mm to which the edges are rounded.
pub fn outset(region: &Region, d: f64, tag: u8) -> Option<Region> {
    moved_edges(region, d, tag)
}

fn moved_edges(region: &Region, d: f64, tag: u8) -> Option<Region> {
    if d == 0.0 {
        return Some(region.tagged(tag));
    }
    let flat = flattened(region, CHORD_ERROR_MM, Side::Inside)?;
    let moved = clip::offset(&corners(&flat), d, CHORD_ERROR_MM);
    Some(region_of(&moved)?.tagged(tag))
}
