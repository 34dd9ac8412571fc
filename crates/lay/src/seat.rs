//! A place found by an arrangement, before a colouring gives it a kind.

use geometry::Point;

/// A place for a stone of one size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Seat {
    /// Its centre, mm, y up.
    pub(crate) centre: Point,
    /// Which of the zone's sizes: an index into the list the arrangement was given.
    pub(crate) size: usize,
    /// Its row, from 1.
    pub(crate) row: u32,
}
