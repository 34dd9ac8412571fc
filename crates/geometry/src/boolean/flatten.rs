//! Arcs into straight pieces, on a stated side.

use crate::ring::chords;
use crate::shapes::Side;
use crate::{Curve, Point, Region, Ring, Segment};

/// `region` with its arcs made straight, within `tolerance` mm: wholly within the true region, or
/// wholly around it. Corners and tags are kept. `None` if nothing is left within (a region thinner
/// than the tolerance).
///
/// An arc that bulges out of the region becomes chords if the result is to lie within, and a chain
/// of tangents if it is to lie around; one that bulges into it the other way round.
pub fn flattened(region: &Region, tolerance: f64, side: Side) -> Option<Region> {
    let ring = |r: &Ring| {
        let mut segments = Vec::with_capacity(r.segments.len());
        r.segments.iter().for_each(|s| flatten(s, tolerance, side, &mut segments));
        Ring { segments }
    };
    // A ring thinner than the tolerance may come to nothing; the others stay.
    let solid = |r: &Ring| r.signed_area().abs() > 1e-9;
    Region::new(region.rings().iter().map(ring).filter(solid).collect()).ok()
}

fn flatten(s: &Segment, tolerance: f64, side: Side, out: &mut Vec<Segment>) {
    let Curve::Arc { ccw, .. } = s.curve else {
        out.push(*s);
        return;
    };
    let mut at = s.from;
    let mut go = |to: Point| {
        if to != at {
            out.push(Segment::line(at, to).tagged(s.tag));
            at = to;
        }
    };
    // The region is on the left: a counter-clockwise arc bulges out of it.
    if ccw == (side == Side::Inside) {
        let n = chords(s, tolerance);
        (1..n).for_each(|i| go(s.point_at(f64::from(i) / f64::from(n))));
    } else {
        tangent_corners(s, tolerance).for_each(&mut go);
    }
    go(s.to);
}

/// The corners of a chain of tangents to an arc that starts and ends with it and leaves it by at
/// most `tolerance` mm.
fn tangent_corners(s: &Segment, tolerance: f64) -> impl Iterator<Item = Point> + use<> {
    let (centre, radius) = match s.curve {
        Curve::Arc { centre, radius, .. } => (centre, radius),
        Curve::Line => (s.from, 0.0),
    };
    let sweep = s.sweep();
    // A corner lies at r / cos(half step).
    let half = libm::acos((radius / (radius + tolerance)).clamp(-1.0, 1.0));
    let n = ((sweep.abs() / (2.0 * half)).ceil() as u32).clamp(1, 4096).max(
        // Two tangents at the ends of half a turn never meet.
        if sweep.abs() > 2.0 { 2 } else { 1 },
    );
    let half = sweep / f64::from(2 * n);
    let reach = (s.from - centre) / libm::cos(half);
    (0..n).map(move |i| centre + reach.turned(Point::unit(half * f64::from(2 * i + 1))))
}
