//! Whether the edges of two regions touch or cross.

use crate::{Bounds, Curve, Point, Region, Segment};

/// Edges nearer than this count as touching, mm: well above rounding, well below the tolerance.
const TOUCH_MM: f64 = 1e-9;

/// Whether an edge of `a` touches or crosses an edge of `b`.
pub(super) fn regions_meet(a: &Region, b: &Region) -> bool {
    let near = b.bounds().grown(TOUCH_MM);
    let boxed = |s: &Segment| (s.bounds().grown(TOUCH_MM), *s);
    let mut others: Vec<(Bounds, Segment)> = b.segments().map(boxed).collect();
    others.sort_by(|p, q| p.0.min.x.total_cmp(&q.0.min.x));
    a.segments().map(boxed).filter(|(box_a, _)| box_a.meets(near)).any(|(box_a, s)| {
        let n = others.partition_point(|(box_b, _)| box_b.min.x <= box_a.max.x);
        others[..n].iter().any(|(box_b, t)| box_a.meets(*box_b) && segments_meet(&s, t))
    })
}

fn segments_meet(s: &Segment, t: &Segment) -> bool {
    let touches =
        |a: &Segment, b: &Segment| b.distance(a.from) <= TOUCH_MM || b.distance(a.to) <= TOUCH_MM;
    if touches(s, t) || touches(t, s) {
        return true;
    }
    match (s.curve, t.curve) {
        (Curve::Line, Curve::Line) => lines_cross(s, t),
        (Curve::Line, Curve::Arc { .. }) => line_meets_arc(s, t),
        (Curve::Arc { .. }, Curve::Line) => line_meets_arc(t, s),
        (Curve::Arc { .. }, Curve::Arc { .. }) => arcs_meet(s, t),
    }
}

/// Whether two straight pieces cross, no end of one near the other.
fn lines_cross(s: &Segment, t: &Segment) -> bool {
    let side = |of: &Segment, p: Point| (of.to - of.from).cross(p - of.from) > 0.0;
    side(s, t.from) != side(s, t.to) && side(t, s.from) != side(t, s.to)
}

fn line_meets_arc(line: &Segment, arc: &Segment) -> bool {
    let Curve::Arc { centre, radius, .. } = arc.curve else { return false };
    let len = line.length();
    if len == 0.0 {
        return false;
    }
    let along = (line.to - line.from) / len;
    let foot = (centre - line.from).dot(along);
    let h = (line.from + along * foot).distance(centre);
    if h > radius + TOUCH_MM {
        return false;
    }
    let half = (radius * radius - h * h).max(0.0).sqrt();
    [foot - half, foot + half]
        .into_iter()
        .any(|t| (0.0..=len).contains(&t) && arc.distance(line.from + along * t) <= 2.0 * TOUCH_MM)
}

fn arcs_meet(s: &Segment, t: &Segment) -> bool {
    let (Curve::Arc { centre: a, radius: ra, .. }, Curve::Arc { centre: b, radius: rb, .. }) =
        (s.curve, t.curve)
    else {
        return false;
    };
    let d = a.distance(b);
    // Equal circles meet in an end of one of the two, and that has been looked at.
    if d <= TOUCH_MM || d > ra + rb + TOUCH_MM || d < (ra - rb).abs() - TOUCH_MM {
        return false;
    }
    let along = (d * d + ra * ra - rb * rb) / (2.0 * d);
    let half = (ra * ra - along * along).max(0.0).sqrt();
    let unit = (b - a) / d;
    [half, -half].into_iter().any(|h| {
        let p = a + unit * along + unit.left() * h;
        // At a touch from within or without the crossing is known to the root of the rounding.
        s.distance(p) <= 10.0 * TOUCH_MM && t.distance(p) <= 10.0 * TOUCH_MM
    })
}
