//! A place found by an arrangement, before a colouring gives it a kind.

use geometry::Point;

/// A place for a stone of one size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seat {
    /// Its centre, mm, y up.
    pub centre: Point,
    /// Which of the zone's sizes: an index into the list the arrangement was given.
    pub size: usize,
    /// Its place along the row, so that equal numbers line up from row to row: the lattice's own
    /// column in rows, the place in its ring or strip elsewhere. Colourings go by it.
    pub column: i64,
    /// Its row, from 1.
    pub row: u32,
}
