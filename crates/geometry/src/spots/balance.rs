//! Points equally far from two or three things: the only places where an empty circle can be
//! largest.

use super::feature::Primitive::{self, Circle, Line};
use crate::Point;

/// Calls `f` with every point that may be a peak of the distance from `things`, relative to their
/// origin. Many are none: each is to be tried.
pub(super) fn balances(things: &[Primitive], mut f: impl FnMut(Point)) {
    for (i, a) in things.iter().enumerate() {
        if let Circle { centre, radius } = a
            && *radius < 0.0
        {
            f(*centre);
        }
        for (j, b) in things[..i].iter().enumerate() {
            if let Some(p) = between_two(a, b) {
                f(p);
            }
            for c in &things[..j] {
                between_three([a, b, c]).into_iter().flatten().for_each(&mut f);
            }
        }
    }
}

/// The balance between two things that is no mere pass: between an arc seen from within and
/// anything, or anywhere along the middle of two that run side by side.
fn between_two(a: &Primitive, b: &Primitive) -> Option<Point> {
    match (a, b) {
        (Line { normal: m, offset: o }, Line { normal: n, offset: q }) => {
            ((*m + *n).norm2() < 1e-18).then(|| *m * ((o - q) / 2.0))
        }
        (Circle { .. }, Line { .. }) => between_two(b, a),
        (Line { normal, offset }, Circle { centre, radius }) => {
            let past = (-radius - (normal.dot(*centre) - offset)) / 2.0;
            (*radius < 0.0 && past >= 0.0).then(|| *centre + *normal * past)
        }
        (Circle { radius: r, .. }, Circle { radius: s, .. }) if r.min(*s) >= 0.0 => None,
        (Circle { radius: r, .. }, Circle { radius: s, .. }) if s < r => between_two(b, a),
        (Circle { centre: c, radius: r }, Circle { centre: d, radius: s }) => {
            let apart = *c - *d;
            let gap = apart.norm();
            if gap < 1e-13 {
                // Concentric to the last bit: any point of the circle half way between.
                let towards = if c.norm() > 0.0 { -c.normalised() } else { Point::new(1.0, 0.0) };
                return (*s >= 0.0).then(|| *c + towards * ((s - r) / 2.0));
            }
            let (unit, past) = if *s >= 0.0 {
                (apart / gap, (s - r - gap) / 2.0)
            } else {
                (-apart / gap, (gap - r + s) / 2.0)
            };
            (past >= 0.0).then(|| *c + unit * past)
        }
    }
}

/// The points equally far from three things.
///
/// With the distance as third unknown, each line gives a linear equation, and so does each pair of
/// circles; what they leave is a line in three dimensions, to be met with the cone of one circle.
fn between_three(things: [&Primitive; 3]) -> [Option<Point>; 2] {
    let cone = things.iter().find_map(|t| match t {
        Circle { centre, radius } => Some((*centre, *radius)),
        Line { .. } => None,
    });
    let mut rows = [[0.0; 4]; 3];
    let mut n = 0;
    let mut skipped = false;
    for t in things {
        rows[n] = match (t, cone) {
            (Line { normal, offset }, _) => [normal.x, normal.y, -1.0, *offset],
            (Circle { .. }, Some(_)) if !skipped => {
                skipped = true;
                continue;
            }
            (Circle { centre: c, radius: r }, Some((base, w))) => {
                let d = *c - base;
                let rhs = d.dot(*c + base) - (r - w) * (r + w);
                [2.0 * d.x, 2.0 * d.y, 2.0 * (r - w), rhs]
            }
            (Circle { .. }, None) => return [None, None],
        };
        n += 1;
    }
    let Some((at, way)) = meet([rows[0], rows[1]]) else { return [None, None] };
    let point = |t: f64| Point::new(at[0] + way[0] * t, at[1] + way[1] * t);
    let Some((base, w)) = cone else {
        let r = rows[2];
        let along = r[0] * way[0] + r[1] * way[1] + r[2] * way[2];
        let left = r[3] - (r[0] * at[0] + r[1] * at[1] + r[2] * at[2]);
        return [(along.abs() > 1e-12).then(|| point(left / along)), None];
    };
    let (p, v) = (Point::new(at[0], at[1]) - base, Point::new(way[0], way[1]));
    let h = at[2] + w;
    let a = v.norm2() - way[2] * way[2];
    let b = p.dot(v) - h * way[2];
    let c = p.norm2() - h * h;
    roots(a, b, c).map(|t| t.map(point).and_then(|p| polished(things, p)))
}

/// One step of Newton's method: the equations above lose digits where the three lie nearly in a
/// row. `None` if that leads elsewhere.
fn polished(things: [&Primitive; 3], p: Point) -> Option<Point> {
    let [(f, u), (g, v), (h, w)] = things.map(|t| match t {
        Line { normal, offset } => (normal.dot(p) - offset, *normal),
        Circle { centre, radius } => {
            let d = p - *centre;
            let n = d.norm();
            let sign = if *radius < 0.0 { -1.0 } else { 1.0 };
            (sign * n - radius, if n > 0.0 { d * (sign / n) } else { Point::ORIGIN })
        }
    });
    let (a, b) = (u - w, v - w);
    let det = a.cross(b);
    if det.abs() < 1e-12 {
        return Some(p);
    }
    let (r, s) = (h - f, h - g);
    let step = Point::new(r * b.y - s * a.y, a.x * s - b.x * r) / det;
    // The root of the other sign solves the squared equation, not the true one.
    (step.norm2() < 1e-6).then_some(p + step)
}

/// Where two planes meet: a point and a unit direction.
fn meet(rows: [[f64; 4]; 2]) -> Option<([f64; 3], [f64; 3])> {
    let cross = |a: [f64; 3], b: [f64; 3]| {
        [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
    };
    let [a, b] = rows.map(|r| [r[0], r[1], r[2]]);
    let v = cross(a, b);
    let n2 = v[0] * v[0] + v[1] * v[1] + v[2] * v[2];
    let size = |a: [f64; 3]| a[0] * a[0] + a[1] * a[1] + a[2] * a[2];
    // Planes that are one, as far as can be told.
    if n2 <= 1e-20 * size(a) * size(b) {
        return None;
    }
    let (from_b, from_a) = (cross(b, v), cross(v, a));
    let at = [0, 1, 2].map(|i| (rows[0][3] * from_b[i] + rows[1][3] * from_a[i]) / n2);
    let n = n2.sqrt();
    Some((at, v.map(|x| x / n)))
}

/// The roots of a t² + 2 b t + c.
fn roots(a: f64, b: f64, c: f64) -> [Option<f64>; 2] {
    let d = b * b - a * c;
    // A touch may miss by rounding: what is tried there is tried exactly.
    if d < -1e-9 * b * b {
        return [None, None];
    }
    let q = -(b + d.max(0.0).sqrt().copysign(b));
    if q == 0.0 {
        return [(a != 0.0).then_some(0.0), None];
    }
    let finite = |t: f64| t.is_finite().then_some(t);
    [finite(c / q), finite(q / a)]
}
