//! Scatter: stones of mixed sizes, close and without rows.

use crate::seat::Seat;
use crate::{Stopped, Watch};
use geometry::Walls;

/// One size to scatter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct ScatterSize {
    /// Radius that keeps the stones apart: half the diameter plus half the spacing, mm.
    pub(crate) radius: f64,
    /// Wanted share by count; the shares add up to 1.
    pub(crate) share: f64,
}
