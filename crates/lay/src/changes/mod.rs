//! Changes by hand, made to a zone once its stones are arranged and coloured.
//!
//! A change belongs to the zone its place lies in, so that zones stay independent. All of a zone's
//! changes are made to the stones of its arrangement, in their order; then fillers are added, which
//! keep off what was cleared; then the changes that found no stone so far are made to the fillers.
//! A filler is so taken away or recoloured without any other moving.
//!
//! What a change asks for is weighed to half of [`TOLERANCE_MM`]: what is rounded in a document
//! still fits, and the lay is sound all the same.

mod cells;
mod rows;
mod said;
mod zone;

use crate::zone_lay::keep;
use crate::{Finding, Piece, Stone};
use geometry::{Disc, TOLERANCE_MM, Walls};
use zone::Worked;

/// A stone may be too close to another or to an edge by this much, mm.
const JUST_MM: f64 = TOLERANCE_MM / 2.0;

/// The changes of a piece by zone, as indices into [`Piece::changes`].
pub(crate) struct ByZone {
    /// For each zone its own, in their order.
    pub(crate) of_zone: Vec<Vec<usize>>,
    /// What is to be said of those in no zone.
    pub(crate) found: Vec<Finding>,
}

/// Which zone each change of `piece` belongs to: the first in which its place lies.
pub(crate) fn by_zone(piece: &Piece) -> ByZone {
    let mut by_zone = ByZone { of_zone: vec![vec![]; piece.zones.len()], found: vec![] };
    if piece.changes.is_empty() {
        return by_zone;
    }
    let walls = |zone: &crate::Zone| {
        let keep = keep(zone);
        Walls::new(&zone.region, |tag| keep[usize::from(tag).min(2)])
    };
    let walls: Vec<Walls> = piece.zones.iter().map(walls).collect();
    for (no, change) in piece.changes.iter().enumerate() {
        match walls.iter().position(|w| w.contains(change.point())) {
            Some(zone) => by_zone.of_zone[zone].push(no),
            None => by_zone.found.push(said::in_no_zone(piece, &walls, no)),
        }
    }
    by_zone
}

/// What is left of a zone's changes when those to its arrangement are made.
#[derive(Default)]
pub(crate) struct Changed {
    /// Where stones were taken away: fillers stay off.
    pub(crate) cleared: Vec<Disc>,
    /// Changes that found no stone.
    open: Vec<usize>,
    /// What is to be said, by the number of its change.
    found: Vec<(usize, Finding)>,
}

/// Makes the changes `own` of a zone to the stones of its arrangement, and puts what was set into
/// the row of its nearest neighbour.
pub(crate) fn of_arrangement(
    piece: &Piece,
    zone_idx: usize,
    own: &[usize],
    stones: &mut Vec<Stone>,
) -> Changed {
    let mut changed = Changed::default();
    if own.is_empty() {
        return changed;
    }
    let mut worked = Worked::new(piece, zone_idx, std::mem::take(stones), 0);
    for &no in own {
        worked.make(no, &mut changed);
    }
    *stones = worked.in_bench_order();
    changed
}

/// Makes the changes that found no stone so far to the fillers, the last `n_fillers` of `stones`,
/// and gives what is to be said of all changes of the zone.
pub(crate) fn of_fillers(
    piece: &Piece,
    zone_idx: usize,
    mut changed: Changed,
    n_fillers: usize,
    stones: &mut Vec<Stone>,
) -> Vec<Finding> {
    let open = std::mem::take(&mut changed.open);
    if !open.is_empty() && n_fillers > 0 {
        let first = stones.len() - n_fillers;
        let mut worked = Worked::new(piece, zone_idx, std::mem::take(stones), first);
        for no in open {
            worked.make(no, &mut changed);
        }
        *stones = worked.left();
    } else {
        changed.open = open;
    }
    let nothing = |&no: &usize| (no, said::no_stone(piece, zone_idx, no));
    changed.found.extend(changed.open.iter().map(nothing));
    changed.found.sort_by_key(|f| f.0);
    changed.found.into_iter().map(|f| f.1).collect()
}
