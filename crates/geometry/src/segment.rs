//! One straight or circular piece of a boundary.

use crate::{Bounds, Point};

/// How a [`Segment`] goes from its start to its end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Curve {
    /// Straight.
    Line,
    /// Along a circle, at most half way round.
    Arc {
        /// Centre of the circle.
        centre: Point,
        /// Radius of the circle in millimetres; authoritative for distances.
        radius: f64,
        /// Whether the arc goes counter-clockwise.
        ccw: bool,
    },
}

/// A straight or circular piece of a boundary, directed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Segment {
    /// Where it starts.
    pub from: Point,
    /// Where it ends.
    pub to: Point,
    /// The way between.
    pub curve: Curve,
    /// A label of the caller's; [`boolean`](crate::boolean) operations carry it along.
    pub tag: u8,
}

impl Segment {
    /// A straight segment with tag 0.
    pub fn line(from: Point, to: Point) -> Segment {
        Segment { from, to, curve: Curve::Line, tag: 0 }
    }

    /// An arc of at most half a turn, with tag 0.
    pub fn arc(from: Point, to: Point, centre: Point, radius: f64, ccw: bool) -> Segment {
        Segment { from, to, curve: Curve::Arc { centre, radius, ccw }, tag: 0 }
    }

    /// Length in millimetres.
    pub fn length(&self) -> f64 {
        match self.curve {
            Curve::Line => self.from.distance(self.to),
            Curve::Arc { radius, .. } => radius * self.sweep().abs(),
        }
    }

    /// Angle an arc sweeps, in radians, positive counter-clockwise; 0 for a line.
    pub fn sweep(&self) -> f64 {
        let Curve::Arc { centre, ccw, .. } = self.curve else { return 0.0 };
        let (a, b) = (self.from - centre, self.to - centre);
        let turn = libm::atan2(a.cross(b), a.dot(b));
        match (ccw, turn < 0.0) {
            (true, true) => turn + std::f64::consts::TAU,
            (false, false) => turn - std::f64::consts::TAU,
            _ => turn,
        }
    }

    /// The smallest upright box around the segment.
    pub fn bounds(&self) -> Bounds {
        let mut b = Bounds::of([self.from, self.to]);
        if let Curve::Arc { centre, radius, .. } = self.curve {
            for dir in [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)] {
                let p = centre + Point::new(dir.0, dir.1) * radius;
                if self.spans_direction(p - centre) {
                    b = b.with(p);
                }
            }
        }
        b
    }

    /// For an arc: whether the ray from the centre along `d` meets it.
    ///
    /// Two cross products, no angles: an arc sweeps at most half a turn.
    pub fn spans_direction(&self, d: Point) -> bool {
        let Curve::Arc { centre, ccw, .. } = self.curve else { return false };
        let (a, b) = (self.from - centre, self.to - centre);
        if ccw {
            a.cross(d) >= 0.0 && d.cross(b) >= 0.0
        } else {
            a.cross(d) <= 0.0 && d.cross(b) <= 0.0
        }
    }

    /// The point of the segment nearest to `p`.
    pub fn closest(&self, p: Point) -> Point {
        match self.curve {
            Curve::Line => {
                let d = self.to - self.from;
                let len2 = d.norm2();
                if len2 == 0.0 {
                    return self.from;
                }
                let t = ((p - self.from).dot(d) / len2).clamp(0.0, 1.0);
                if t == 1.0 { self.to } else { self.from + d * t }
            }
            Curve::Arc { centre, radius, .. } => {
                let d = p - centre;
                let n = d.norm();
                if n > 0.0 && self.spans_direction(d) {
                    return centre + d * (radius / n);
                }
                if p.distance(self.from) <= p.distance(self.to) { self.from } else { self.to }
            }
        }
    }

    /// Distance from `p`, in millimetres, never negative.
    pub fn distance(&self, p: Point) -> f64 {
        if let Curve::Arc { centre, radius, .. } = self.curve {
            let d = p - centre;
            return if self.spans_direction(d) {
                (d.norm() - radius).abs()
            } else {
                p.distance(self.from).min(p.distance(self.to))
            };
        }
        p.distance(self.closest(p))
    }

    /// The point `t` of the way along, `t` in 0..=1.
    pub fn point_at(&self, t: f64) -> Point {
        match self.curve {
            Curve::Line => self.from.lerp(self.to, t),
            Curve::Arc { centre, .. } => {
                if t == 0.0 {
                    self.from
                } else if t == 1.0 {
                    self.to
                } else {
                    centre + (self.from - centre).turned(Point::unit(self.sweep() * t))
                }
            }
        }
    }

    /// Twice the signed area between the segment and the origin (Green's theorem).
    pub fn area_term(&self) -> f64 {
        let chord = self.from.cross(self.to);
        match self.curve {
            Curve::Line => chord,
            Curve::Arc { radius, .. } => {
                let s = self.sweep();
                chord + radius * radius * (s - libm::sin(s))
            }
        }
    }

    /// The same piece walked the other way.
    #[must_use]
    pub fn reversed(&self) -> Segment {
        let curve = match self.curve {
            Curve::Line => Curve::Line,
            Curve::Arc { centre, radius, ccw } => Curve::Arc { centre, radius, ccw: !ccw },
        };
        Segment { from: self.to, to: self.from, curve, tag: self.tag }
    }

    /// The same piece with another label.
    #[must_use]
    pub fn tagged(self, tag: u8) -> Segment {
        Segment { tag, ..self }
    }

    /// Every point moved by `f`, which must be a similarity that keeps orientation and scales
    /// lengths by `scale`.
    #[must_use]
    pub(crate) fn mapped(&self, f: &impl Fn(Point) -> Point, scale: f64) -> Segment {
        let curve = match self.curve {
            Curve::Line => Curve::Line,
            Curve::Arc { centre, radius, ccw } => {
                Curve::Arc { centre: f(centre), radius: radius * scale, ccw }
            }
        };
        Segment { from: f(self.from), to: f(self.to), curve, tag: self.tag }
    }

    /// Winding contribution of the segment round `p`: how often, signed, the ray from `p` towards
    /// +x is crossed upwards. A point on the boundary may count either way.
    pub(crate) fn winding(&self, p: Point) -> i32 {
        let Curve::Arc { centre, radius, ccw } = self.curve else {
            return line_winding(self.from, self.to, p);
        };
        // The chord's crossing, corrected by whether `p` lies between chord and arc.
        let chord = line_winding(self.from, self.to, p);
        if p.distance(centre) >= radius {
            return chord;
        }
        // A point on the chord is well inside the circle: it must fall to the side that the
        // chord's own crossing puts it on, which is the right, or just above if level.
        let along = self.to - self.from;
        let side = along.cross(p - self.from);
        let right = side < 0.0 || side == 0.0 && (along.y != 0.0 || along.x < 0.0);
        match (ccw, right) {
            // A counter-clockwise arc bulges to the right of its chord.
            (true, true) => chord + 1,
            (false, false) => chord - 1,
            _ => chord,
        }
    }
}

fn line_winding(a: Point, b: Point, p: Point) -> i32 {
    if (a.y <= p.y) == (b.y <= p.y) {
        return 0;
    }
    let side = (b - a).cross(p - a);
    match (b.y > a.y, side > 0.0) {
        (true, true) => 1,
        (false, false) => -1,
        _ => 0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Upper and lower half of the circle of radius 2 about the origin, counter-clockwise.
    fn halves() -> [Segment; 2] {
        let (e, w) = (Point::new(2.0, 0.0), Point::new(-2.0, 0.0));
        [Segment::arc(e, w, Point::ORIGIN, 2.0, true), Segment::arc(w, e, Point::ORIGIN, 2.0, true)]
    }

    #[test]
    fn a_point_on_the_chord_of_an_arc_is_counted_once() {
        // Chords level, upright and slanting, through the point.
        for quarter in 0..8 {
            let unit = Point::unit(std::f64::consts::FRAC_PI_4 * f64::from(quarter));
            let turn = |s: Segment| s.mapped(&|p| p.turned(unit), 1.0);
            for t in [-0.9, -0.5, 0.0, 0.25, 0.75] {
                let p = turn(halves()[0]).from * t;
                let around: i32 = halves().map(turn).iter().map(|s| s.winding(p)).sum();
                assert_eq!(around, 1, "turned {quarter} eighths, at {t}");
                let back: i32 = halves().map(|s| turn(s).reversed().winding(p)).iter().sum();
                assert_eq!(back, -1, "turned {quarter} eighths, at {t}");
            }
        }
    }

    #[test]
    fn half_a_circle_by_hand() {
        let [upper, lower] = halves();
        assert!((upper.length() - std::f64::consts::TAU).abs() < 1e-15);
        assert!((upper.area_term() + lower.area_term() - 8.0 * std::f64::consts::PI).abs() < 1e-14);
        assert_eq!(upper.bounds().max, Point::new(2.0, 2.0));
        assert_eq!(upper.bounds().min, Point::new(-2.0, 0.0));
        assert!(upper.point_at(0.5).distance(Point::new(0.0, 2.0)) < 1e-15);
        assert_eq!(upper.closest(Point::new(0.0, 0.5)), Point::new(0.0, 2.0));
        assert_eq!(upper.distance(Point::new(2.0, -1.5)), 1.5);
        assert_eq!(upper.distance(Point::new(0.0, 5.0)), 3.0);
    }

    #[test]
    fn the_closest_point_is_the_nearest_of_many() {
        let line = Segment::line(Point::new(-1.0, 2.0), Point::new(3.0, -1.0));
        let arc =
            Segment::arc(Point::new(3.0, 0.0), Point::new(0.0, 3.0), Point::ORIGIN, 3.0, true);
        for s in [line, arc, arc.reversed()] {
            for i in 0..400 {
                let p = Point::new(f64::from(i % 20) - 10.0, f64::from(i / 20) - 10.0) * 0.5;
                let many = (0..=1000).map(|k| s.point_at(f64::from(k) / 1000.0).distance(p));
                let least = many.fold(f64::INFINITY, f64::min);
                assert!((s.distance(p) - p.distance(s.closest(p))).abs() < 1e-12);
                assert!(s.distance(p) <= least + 1e-12 && s.distance(p) > least - 0.003);
            }
        }
    }
}
