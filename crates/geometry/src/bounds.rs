//! An upright box.

use crate::Point;

/// A box with sides along the axes, in millimetres. May be empty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// Lower left corner.
    pub min: Point,
    /// Upper right corner.
    pub max: Point,
}

impl Bounds {
    /// The box that holds nothing.
    pub const EMPTY: Bounds = Bounds {
        min: Point::new(f64::INFINITY, f64::INFINITY),
        max: Point::new(f64::NEG_INFINITY, f64::NEG_INFINITY),
    };

    /// The smallest box around the points.
    pub fn of(points: impl IntoIterator<Item = Point>) -> Bounds {
        points.into_iter().fold(Bounds::EMPTY, Bounds::with)
    }

    /// Grown to hold `p`.
    #[must_use]
    pub fn with(self, p: Point) -> Bounds {
        Bounds {
            min: Point::new(self.min.x.min(p.x), self.min.y.min(p.y)),
            max: Point::new(self.max.x.max(p.x), self.max.y.max(p.y)),
        }
    }

    /// Grown to hold `other`.
    #[must_use]
    pub fn union(self, other: Bounds) -> Bounds {
        if other.is_empty() { self } else { self.with(other.min).with(other.max) }
    }

    /// Grown by `d` on all sides.
    #[must_use]
    pub fn grown(self, d: f64) -> Bounds {
        let by = Point::new(d, d);
        Bounds { min: self.min - by, max: self.max + by }
    }

    /// Whether it holds no point.
    pub fn is_empty(self) -> bool {
        !(self.min.x <= self.max.x && self.min.y <= self.max.y)
    }

    /// Width, left to right; 0 if empty.
    pub fn width(self) -> f64 {
        (self.max.x - self.min.x).max(0.0)
    }

    /// Height; 0 if empty.
    pub fn height(self) -> f64 {
        (self.max.y - self.min.y).max(0.0)
    }

    /// The middle.
    pub fn centre(self) -> Point {
        self.min.lerp(self.max, 0.5)
    }

    /// Whether the two boxes share a point.
    pub fn meets(self, other: Bounds) -> bool {
        self.min.x <= other.max.x
            && other.min.x <= self.max.x
            && self.min.y <= other.max.y
            && other.min.y <= self.max.y
    }

    /// Distance from `p` to the box; 0 inside.
    pub fn distance(self, p: Point) -> f64 {
        let dx = (self.min.x - p.x).max(p.x - self.max.x).max(0.0);
        let dy = (self.min.y - p.y).max(p.y - self.max.y).max(0.0);
        Point::new(dx, dy).norm()
    }

    /// Distance from `p` to the farthest corner.
    pub fn farthest(self, p: Point) -> f64 {
        let dx = (p.x - self.min.x).abs().max((self.max.x - p.x).abs());
        let dy = (p.y - self.min.y).abs().max((self.max.y - p.y).abs());
        Point::new(dx, dy).norm()
    }
}
