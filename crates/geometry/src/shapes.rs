//! Ready-made outlines, each centred on the origin and given in millimetres.
//!
//! Sizes must be positive and finite; the functions panic otherwise, since a document is checked
//! before it comes here.

use crate::{Curve, Point, Region, Ring, Segment};

/// On which side of a true curve its straight pieces may lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Within the curve: for an exterior.
    Inside,
    /// Around the curve: for a hole.
    Outside,
}

/// How far straight pieces may leave a curve that is neither line nor arc, mm.
pub const CHORD_ERROR_MM: f64 = 0.001;

/// A rectangle, `width` × `height`.
pub fn rectangle(width: f64, height: f64) -> Region {
    let (x, y) = (width / 2.0, height / 2.0);
    polygon(&[Point::new(-x, -y), Point::new(x, -y), Point::new(x, y), Point::new(-x, y)])
}

/// A rectangle with round corners; `corner` is at most half the shorter side.
pub fn rounded_rectangle(width: f64, height: f64, corner: f64) -> Region {
    let r = corner.min(width.min(height) / 2.0);
    if r <= 0.0 {
        return rectangle(width, height);
    }
    let (x, y) = (width / 2.0 - r, height / 2.0 - r);
    let corners = [(x, -y), (x, y), (-x, y), (-x, -y)];
    let from = [(0.0, -1.0), (1.0, 0.0), (0.0, 1.0), (-1.0, 0.0)];
    let mut segments: Vec<Segment> = Vec::with_capacity(8);
    let mut at = Point::new(-x, -y) + Point::new(0.0, -r);
    for (i, (cx, cy)) in corners.into_iter().enumerate() {
        let centre = Point::new(cx, cy);
        let dir = |k: usize| Point::new(from[k % 4].0, from[k % 4].1);
        let (start, end) = (centre + dir(i) * r, centre + dir(i + 1) * r);
        if at.distance(start) > 1e-12 {
            segments.push(Segment::line(at, start));
            at = start;
        }
        segments.push(Segment::arc(at, end, centre, r, true));
        at = end;
    }
    // The walk ends where it began, to the last bit: close it on its own first point.
    let first = segments[0].from;
    if let Some(last) = segments.last_mut() {
        last.to = first;
    }
    one(Ring { segments })
}

/// A circle.
pub fn circle(diameter: f64) -> Region {
    let r = diameter / 2.0;
    let (e, w) = (Point::new(r, 0.0), Point::new(-r, 0.0));
    let half = |from, to| Segment::arc(from, to, Point::ORIGIN, r, true);
    one(Ring { segments: vec![half(e, w), half(w, e)] })
}

/// An ellipse as a polygon on the given side of the true curve, within [`CHORD_ERROR_MM`]. It
/// touches its box exactly: inside with corners, outside with edges.
pub fn ellipse(width: f64, height: f64, side: Side) -> Region {
    let (a, b) = (width / 2.0, height / 2.0);
    // The affine image of a regular n-gon: the chord's error is at most a(1 − cos(π/n)), the
    // tangent's a(1/cos(π/n) − 1), which is the larger.
    let half_step = libm::acos(1.0 / (1.0 + CHORD_ERROR_MM / a.max(b)));
    // A multiple of 4 has a corner, or an edge, at each end of both axes.
    let n = (((std::f64::consts::FRAC_PI_4 / half_step).ceil() as u32) * 4).max(12);
    let (grow, shift) = match side {
        Side::Inside => (1.0, 0.0),
        Side::Outside => (1.0 / libm::cos(std::f64::consts::PI / f64::from(n)), 0.5),
    };
    let corner = |i: u32| {
        let u = Point::unit(std::f64::consts::TAU * (f64::from(i) + shift) / f64::from(n));
        Point::new(u.x * a * grow, u.y * b * grow)
    };
    polygon(&(0..n).map(corner).collect::<Vec<_>>())
}

/// A regular polygon of `corners` corners on a circle of diameter `across`, one corner on top.
pub fn regular_polygon(corners: u32, across: f64) -> Region {
    let step = std::f64::consts::TAU / f64::from(corners);
    let top = std::f64::consts::FRAC_PI_2;
    let corner = |i| Point::unit(top + step * f64::from(i)) * (across / 2.0);
    polygon(&(0..corners).map(corner).collect::<Vec<_>>())
}

/// A star of `points` points on a circle of diameter `across`, one on top; its inner corners lie
/// on a circle `inner` times as large, `inner` in 0..1.
pub fn star(points: u32, across: f64, inner: f64) -> Region {
    let step = std::f64::consts::PI / f64::from(points);
    let top = std::f64::consts::FRAC_PI_2;
    let corner = |i: u32| {
        let r = if i.is_multiple_of(2) { across / 2.0 } else { across / 2.0 * inner };
        Point::unit(top + step * f64::from(i)) * r
    };
    polygon(&(0..2 * points).map(corner).collect::<Vec<_>>())
}

/// A heart: two half circles above, an arc down each side to the tip. `height` must be at least
/// three quarters of `width`: a flatter one would sag below its tip.
pub fn heart(width: f64, height: f64) -> Region {
    let (half, r) = (width / 2.0, width / 4.0);
    let drop = height - r;
    // The side arc leaves its lobe upright, so that its centre is level with the lobes' centres.
    let side = (half * half + drop * drop) / width;
    let (east, west) = (Point::new(half, 0.0), Point::new(-half, 0.0));
    let tip = Point::new(0.0, -drop);
    let lobe = |from, to, x| Segment::arc(from, to, Point::new(x, 0.0), r, true);
    let segments = vec![
        Segment::arc(tip, east, Point::new(half - side, 0.0), side, true),
        lobe(east, Point::ORIGIN, r),
        lobe(Point::ORIGIN, west, -r),
        Segment::arc(west, tip, Point::new(side - half, 0.0), side, true),
    ];
    let heart = one(Ring { segments });
    let middle = heart.bounds().centre();
    heart.moved(-middle)
}

/// The polygon through `points`, in either direction; it must enclose some area and not cross
/// itself.
pub fn polygon(points: &[Point]) -> Region {
    let ring = Ring::polygon(points);
    one(if ring.is_hole() { ring.reversed() } else { ring })
}

fn one(ring: Ring) -> Region {
    debug_assert!(
        ring.segments
            .iter()
            .all(|s| !matches!(s.curve, Curve::Arc { radius, .. } if radius <= 0.0))
    );
    match Region::new(vec![ring]) {
        Ok(region) => region,
        Err(e) => panic!("a ready-made outline was asked for with impossible sizes: {e}"),
    }
}
