//! A change that a maker makes to a lay by hand.

use crate::Place;
use geometry::Point;

/// A change by hand. Changes are made one after the other, in the order of their list: of two that
/// speak of the same spot, the later one holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Change {
    /// A stone exactly here, whatever the arrangement does: stones of the arrangement that would
    /// come too close are left out.
    Set {
        /// Where.
        place: Place,
        /// Index into [`Piece::kinds`](crate::Piece::kinds).
        kind: usize,
    },
    /// No stone covers this spot: the one that does is taken away, and fillers stay off its place.
    Clear {
        /// The spot.
        at: Place,
    },
    /// The stone that covers this spot becomes one of this kind, about the same centre.
    Recolour {
        /// The spot.
        at: Place,
        /// Index into [`Piece::kinds`](crate::Piece::kinds).
        kind: usize,
    },
}

impl Change {
    /// The place it speaks of.
    pub fn place(&self) -> Place {
        match *self {
            Change::Set { place, .. } => place,
            Change::Clear { at } | Change::Recolour { at, .. } => at,
        }
    }

    /// The point of that place.
    pub(crate) fn point(&self) -> Point {
        self.place().point()
    }
}
