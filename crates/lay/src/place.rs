//! A place on a piece.

use geometry::Point;

/// The surface on which places are given.
///
/// Only the plane exists today. A place always names its chart, so that walls (angle and meridian
/// length) can come without changing what a place is.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize, schemars::JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum Chart {
    /// Flat: u is x and v is y in millimetres, y up.
    Plane,
}

/// Where a stone lies: two coordinates on a chart, and how far it is turned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// The surface.
    pub chart: Chart,
    /// On the plane: x, mm.
    pub u: f64,
    /// On the plane: y, mm, up.
    pub v: f64,
    /// Degrees counter-clockwise from u; 0 for round stones.
    pub turn_deg: f64,
}

impl Place {
    /// A place on the plane, unturned, rounded to the 1e-9 mm that every lay is rounded to.
    pub fn on_plane(p: Point) -> Place {
        Place { chart: Chart::Plane, u: rounded(p.x), v: rounded(p.y), turn_deg: 0.0 }
    }

    /// The point of the plane.
    pub fn point(&self) -> Point {
        Point::new(self.u, self.v)
    }
}

/// Rounded to 1e-9 mm; never −0.
pub fn rounded(mm: f64) -> f64 {
    (mm * 1e9).round() / 1e9 + 0.0
}
