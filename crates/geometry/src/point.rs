//! A point of the plane, or a displacement between two.

use std::ops::{Add, Div, Mul, Neg, Sub};

/// A point or a displacement, in millimetres; x right, y up.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Point {
    /// To the right.
    pub x: f64,
    /// Upwards.
    pub y: f64,
}

impl Point {
    /// The origin.
    pub const ORIGIN: Point = Point { x: 0.0, y: 0.0 };

    /// The point at (`x`, `y`).
    pub const fn new(x: f64, y: f64) -> Point {
        Point { x, y }
    }

    /// The unit vector at `angle` radians, counter-clockwise from x.
    pub fn unit(angle: f64) -> Point {
        let (sin, cos) = libm::sincos(angle);
        Point::new(cos, sin)
    }

    /// Scalar product.
    pub fn dot(self, other: Point) -> f64 {
        self.x * other.x + self.y * other.y
    }

    /// Signed area of the parallelogram of the two; positive if `other` is to the left.
    pub fn cross(self, other: Point) -> f64 {
        self.x * other.y - self.y * other.x
    }

    /// Length.
    pub fn norm(self) -> f64 {
        self.norm2().sqrt()
    }

    /// Length squared.
    pub fn norm2(self) -> f64 {
        self.dot(self)
    }

    /// Distance to another point.
    pub fn distance(self, other: Point) -> f64 {
        (self - other).norm()
    }

    /// The same vector turned a quarter to the left.
    pub fn left(self) -> Point {
        Point::new(-self.y, self.x)
    }

    /// The same direction at length 1; the zero vector stays zero.
    pub fn normalised(self) -> Point {
        let n = self.norm();
        if n > 0.0 { self / n } else { self }
    }

    /// The angle of the vector in radians, in (−π, π].
    pub fn angle(self) -> f64 {
        libm::atan2(self.y, self.x)
    }

    /// The point `t` of the way to `other`.
    pub fn lerp(self, other: Point, t: f64) -> Point {
        self + (other - self) * t
    }

    /// Turned by the angle whose unit vector is `unit`.
    pub fn turned(self, unit: Point) -> Point {
        Point::new(self.x * unit.x - self.y * unit.y, self.x * unit.y + self.y * unit.x)
    }

    /// Whether both coordinates are finite numbers.
    pub fn is_finite(self) -> bool {
        self.x.is_finite() && self.y.is_finite()
    }
}

impl Add for Point {
    type Output = Point;
    fn add(self, o: Point) -> Point {
        Point::new(self.x + o.x, self.y + o.y)
    }
}

impl Sub for Point {
    type Output = Point;
    fn sub(self, o: Point) -> Point {
        Point::new(self.x - o.x, self.y - o.y)
    }
}

impl Mul<f64> for Point {
    type Output = Point;
    fn mul(self, k: f64) -> Point {
        Point::new(self.x * k, self.y * k)
    }
}

impl Div<f64> for Point {
    type Output = Point;
    fn div(self, k: f64) -> Point {
        Point::new(self.x / k, self.y / k)
    }
}

impl Neg for Point {
    type Output = Point;
    fn neg(self) -> Point {
        Point::new(-self.x, -self.y)
    }
}
