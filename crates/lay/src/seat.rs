//! A place found by an arrangement, before a colouring gives it a kind.

use geometry::Point;

/// A place for a stone of one size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seat {
    /// Its centre, mm, y up.
    pub centre: Point,
    /// Which of the zone's sizes: an index into the list the arrangement was given.
    pub size: usize,
    /// Its row, from 1.
    pub row: u32,
}
