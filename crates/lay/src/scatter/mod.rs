//! Scatter: stones of mixed sizes, close and without rows.
//!
//! A [front] of pockets is worked off: each new stone touches two things (stones, edges,
//! corners), and of all such places the one that wastes least comes first. A price on each size
//! holds its share by count. Random numbers only break ties and choose where to begin, so that
//! another seed gives another lay.

pub(crate) mod edge;
pub(crate) mod field;
pub(crate) mod first;
mod front;
mod grow;
pub(crate) mod ring;
mod shares;
mod strips;
pub(crate) mod tangent;

use crate::seat::Seat;
use crate::{Stopped, Watch};
use geometry::{Point, Region, Walls};
use shares::Shares;

/// One size to scatter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct ScatterSize {
    /// Radius that keeps the stones apart: half the diameter plus half the spacing, mm.
    pub(crate) radius: f64,
    /// Wanted share by count; the shares add up to 1.
    pub(crate) share: f64,
}

/// What a scatter gives.
#[derive(Clone, Debug)]
pub(crate) struct Scattered {
    /// The stones' places, row by row.
    pub(crate) seats: Vec<Seat>,
}

/// How often a lay is grown again with other aims when its shares did not come out, if it is small
/// and if it is large.
const PASSES: (usize, usize) = (12, 4);
/// Number of stones from which a lay is large.
const LARGE: usize = 1000;

/// Lays stones of `sizes` at random into the region.
///
/// `walls` are the walls of `region`, their distances less half a spacing; a stone fits where the
/// room is at least its radius, and two stones may touch. `ring_holes` sets a ring round every
/// hole first. The same arguments give the same bytes.
pub(crate) fn scatter(
    region: &Region,
    walls: &Walls,
    sizes: &[ScatterSize],
    ring_holes: bool,
    seed: u64,
    watch: &dyn Watch,
) -> Result<Scattered, Stopped> {
    let ground = grow::Ground::new(region, walls, sizes, ring_holes, watch);
    let fitting = ground.fitting()?;
    let wanted = Shares::new(sizes).among(|size| fitting[size]);
    let mut aim = wanted.clone();
    let mut best: Option<(f64, Vec<(Point, usize)>)> = None;
    for pass in 0..PASSES.0 as u64 {
        let stones = ground.grow(&aim, seed, pass)?;
        let count = shares::count(stones.iter().map(|s| s.1), sizes.len());
        let miss = wanted.miss(&count);
        let n = stones.len();
        aim.correct(&wanted, &count);
        if best.as_ref().is_none_or(|b| miss < b.0) {
            best = Some((miss, stones));
        }
        if miss <= shares::HELD || sizes.len() < 2 || (n >= LARGE && pass + 1 >= PASSES.1 as u64) {
            break;
        }
    }
    let mut stones = best.map(|b| b.1).unwrap_or_default();
    wanted.thin_out(&mut stones, &ground.radii);
    let height = 2.0 * ground.radii.iter().copied().fold(0.0, f64::max);
    Ok(Scattered { seats: strips::in_strips(&stones, walls.bounds().max.y, height) })
}

#[cfg(test)]
mod tests;
