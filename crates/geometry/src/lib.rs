//! Flat regions and exact distances: the room where millimetres are decided.
//!
//! A [`Region`] is bounded by lines and circular arcs; it may have holes and several parts.
//! Coordinates are millimetres, y up. Everything here is exact to the rounding of `f64` unless
//! its documentation states a tolerance. This is the only crate that names outside geometry
//! crates; nothing in it knows what a stone is, and it reads no file of any format.
//!
//! | need | item |
//! |---|---|
//! | a point or a displacement | [`Point`] |
//! | a box | [`Bounds`] |
//! | a line or an arc | [`Segment`], [`Curve`] |
//! | a closed boundary, a bounded piece of the plane | [`Ring`], [`Region`], [`RegionError`] |
//! | ready-made outlines | [`shapes`] |
//! | how far from the edge, asked often | [`Walls`] |
//! | where along a line or circle there is room | [`Walls::spans_on_line`], [`Walls::spans_on_circle`] |
//! | inset, outset, union, difference, intersection (flattened, tolerance stated) | [`boolean`] |
//! | discs near a place | [`DiscGrid`] |
//! | largest empty circles | [`spots`] |

pub mod boolean;
mod bounds;
mod box_tree;
mod disc_grid;
mod point;
mod region;
mod ring;
mod segment;
pub mod shapes;
mod span;
pub mod spots;
mod walls;

pub use bounds::Bounds;
pub use disc_grid::{Disc, DiscGrid};
pub use point::Point;
pub use region::{Region, RegionError};
pub use ring::Ring;
pub use segment::{Curve, Segment};
pub use walls::Walls;

/// The promise of every lay, in millimetres: no overlap and no crossing above this.
///
/// It is far below what a hand or a printer can place (about 0.1 mm) and far above the rounding
/// of `f64` at the size of a workpiece (1e-12 mm at 2 m).
pub const TOLERANCE_MM: f64 = 1e-6;
