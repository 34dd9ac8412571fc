//! Where along a row or a circle a disc has room: closed forms, one answer for every stone of it.

use crate::{Curve, Point, Segment, Walls};
use std::f64::consts::TAU;

impl Walls {
    /// The stretches of the horizontal line at `y` on which a disc of `radius` has room, as
    /// (first x, last x) of its centre, left to right.
    ///
    /// Closed form: what each edge blocks of the line is cut out of it. A stretch may be a single
    /// point where the disc just fits.
    pub fn spans_on_line(&self, y: f64, radius: f64) -> Vec<(f64, f64)> {
        let b = self.bounds();
        let mut blocked = vec![];
        for i in self.near_row(y, radius + self.keep_max()) {
            block_line(&self.segments()[i], y, radius + self.keep(i), &mut blocked);
        }
        blocked.sort_by(|p, q| p.0.total_cmp(&q.0).then(p.1.total_cmp(&q.1)));
        blocked.push((b.max.x, b.max.x));
        let mut free = vec![];
        let mut from = b.min.x;
        for (lo, hi) in blocked {
            // Two edges that just leave room for one disc meet at the same x but for rounding.
            if lo >= from - 1e-9 && lo <= b.max.x {
                let (lo, from) = if lo < from { (from, from) } else { (lo, from) };
                if self.contains(Point::new((from + lo) / 2.0, y)) {
                    free.push((from, lo));
                }
            }
            from = from.max(hi);
        }
        free
    }

    /// The stretches of a circle on which a disc of `radius` has room, as (first, last) angle of
    /// its centre in radians, counter-clockwise, first in 0..2π and last up to a turn more. The
    /// whole circle is (0, 2π).
    pub fn spans_on_circle(&self, centre: Point, rho: f64, radius: f64) -> Vec<(f64, f64)> {
        let mut cuts = vec![];
        self.near_circle(centre, rho, radius + self.keep_max(), |i| {
            cut_circle(&self.segments()[i], centre, rho, radius + self.keep(i), &mut cuts);
        });
        cuts.sort_by(f64::total_cmp);
        // A circle along an edge just keeps its distance, but for rounding.
        let fits_at = |a: f64| self.room(centre + Point::unit(a) * rho) >= radius - 1e-9;
        // In the middle of a stretch the disc may by chance just touch, and not fit beside it.
        let fits = |a: f64, b: f64| [0.5, 0.25, 0.75].iter().all(|t| fits_at(a + (b - a) * t));
        let Some(&first) = cuts.first() else {
            return if fits(0.1, 0.1 + TAU) { vec![(0.0, TAU)] } else { vec![] };
        };
        cuts.push(first + TAU);
        let mut spans: Vec<(f64, f64)> = vec![];
        for w in cuts.windows(2) {
            if w[1] - w[0] < 1e-12 || !fits(w[0], w[1]) {
                continue;
            }
            match spans.last_mut() {
                Some(last) if last.1 == w[0] => last.1 = w[1],
                _ => spans.push((w[0], w[1])),
            }
        }
        join_over_start(&mut spans, first);
        spans
    }
}

/// A stretch that runs through the first cut was split there: put it together again.
fn join_over_start(spans: &mut Vec<(f64, f64)>, first: f64) {
    if let [head, .., tail] = spans.as_slice()
        && head.0 == first
        && tail.1 == first + TAU
    {
        let joined = (tail.0, head.1 + TAU);
        spans.pop();
        spans[0] = joined;
        spans.rotate_left(1);
    } else if let [(a, b)] = spans.as_slice()
        && b - a >= TAU
    {
        spans[0] = (0.0, TAU);
    }
}

/// Adds the stretches of the line at `y` that lie closer than `d` to `s`.
fn block_line(s: &Segment, y: f64, d: f64, out: &mut Vec<(f64, f64)>) {
    let bounds = s.bounds();
    if y <= bounds.min.y - d || y >= bounds.max.y + d {
        return;
    }
    let caps = [chord(s.from, d, y), chord(s.to, d, y)];
    match s.curve {
        Curve::Line => {
            // Within `d` of a straight piece is convex: one stretch, from first to last crossing.
            let mut hull = caps.into_iter().flatten().fold(NOTHING, cover);
            let along = s.to - s.from;
            let len = along.norm();
            if len > 0.0 {
                let side = along.left() * (d / len);
                for shift in [side, -side] {
                    hull = cover_crossing(hull, s.from + shift, s.to + shift, y);
                }
            }
            // With nothing to keep, an edge still parts inside from outside.
            if hull.0 <= hull.1 {
                out.push(hull);
            }
        }
        Curve::Arc { centre, radius, .. } => {
            out.extend(caps.into_iter().flatten());
            let Some(outer) = chord(centre, radius + d, y) else { return };
            let Some((lo, hi)) = within_sector(s, centre, y, outer) else { return };
            match (radius > d).then(|| chord(centre, radius - d, y)).flatten() {
                Some((a, b)) => {
                    let parts = [(lo, hi.min(a)), (lo.max(b), hi)];
                    out.extend(parts.into_iter().filter(|p| p.0 <= p.1));
                }
                None => out.push((lo, hi)),
            }
        }
    }
}

const NOTHING: (f64, f64) = (f64::INFINITY, f64::NEG_INFINITY);

fn cover(a: (f64, f64), b: (f64, f64)) -> (f64, f64) {
    (a.0.min(b.0), a.1.max(b.1))
}

fn cover_crossing(hull: (f64, f64), a: Point, b: Point, y: f64) -> (f64, f64) {
    if (a.y < y) == (b.y < y) {
        return hull;
    }
    let x = a.x + (b.x - a.x) * ((y - a.y) / (b.y - a.y));
    cover(hull, (x, x))
}

/// The stretch of the line at `y` inside the circle of radius `r` about `c`.
fn chord(c: Point, r: f64, y: f64) -> Option<(f64, f64)> {
    let h2 = r * r - (y - c.y) * (y - c.y);
    (h2 > 0.0).then(|| (c.x - h2.sqrt(), c.x + h2.sqrt()))
}

/// The part of the stretch whose points lie in the arc's sector; a sector of at most half a turn
/// is convex.
fn within_sector(
    s: &Segment,
    centre: Point,
    y: f64,
    (mut lo, mut hi): (f64, f64),
) -> Option<(f64, f64)> {
    let Curve::Arc { ccw, .. } = s.curve else { return None };
    let (a, b) = (s.from - centre, s.to - centre);
    let (a, b) = if ccw { (a, b) } else { (b, a) };
    let dy = y - centre.y;
    // cross(a, d) ≥ 0 and cross(d, b) ≥ 0, with d = (x − centre.x, dy): both linear in x.
    for (k, c) in [(-a.y, a.x * dy), (b.y, -b.x * dy)] {
        if k == 0.0 {
            if c < 0.0 {
                return None;
            }
            continue;
        }
        let x = centre.x - c / k;
        if k > 0.0 { lo = lo.max(x) } else { hi = hi.min(x) }
    }
    (lo < hi).then_some((lo, hi))
}

/// Adds the angles at which the circle crosses the curve at distance `d` from `s`.
fn cut_circle(s: &Segment, centre: Point, rho: f64, d: f64, cuts: &mut Vec<f64>) {
    let mut add = |p: Point| {
        let a = (p - centre).angle();
        cuts.push(if a < 0.0 { a + TAU } else { a });
    };
    for end in [s.from, s.to] {
        meet_circles(centre, rho, end, d).into_iter().flatten().for_each(&mut add);
    }
    match s.curve {
        Curve::Line => {
            let len = s.length();
            if len == 0.0 {
                return;
            }
            let along = (s.to - s.from) / len;
            for shift in [along.left() * d, -(along.left() * d)] {
                let from = s.from + shift - centre;
                let foot = -from.dot(along);
                let h2 = rho * rho - (from + along * foot).norm2();
                if h2 < 0.0 {
                    continue;
                }
                for t in [foot - h2.sqrt(), foot + h2.sqrt()] {
                    if (0.0..=len).contains(&t) {
                        add(centre + from + along * t);
                    }
                }
            }
        }
        Curve::Arc { centre: c, radius, .. } => {
            for r in [radius + d, radius - d] {
                if r <= 0.0 {
                    continue;
                }
                for p in meet_circles(centre, rho, c, r).into_iter().flatten() {
                    if s.spans_direction(p - c) {
                        add(p);
                    }
                }
            }
        }
    }
}

/// Where two circles cross; touching counts once or twice.
fn meet_circles(a: Point, ra: f64, b: Point, rb: f64) -> [Option<Point>; 2] {
    let d = b - a;
    let dist = d.norm();
    if dist == 0.0 {
        return [None, None];
    }
    let along = (dist * dist + ra * ra - rb * rb) / (2.0 * dist);
    let h2 = ra * ra - along * along;
    if h2 < 0.0 {
        return [None, None];
    }
    let u = d / dist;
    let (foot, side) = (a + u * along, u.left() * h2.sqrt());
    [Some(foot + side), Some(foot - side)]
}
