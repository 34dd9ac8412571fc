//! How much of a zone's edge has no stone beside it.

use crate::zone_lay::{disc_radius, keep};
use crate::{Piece, Zone};
use geometry::{Curve, DiscGrid, Point, Segment, Walls};

/// The share of the edge, by length, from which the nearest stone is so far that a whole stone of
/// the zone's smallest kind would go between: 0..=1.
///
/// Closed form: every stone hides from the edge what a circle about it cuts out of it.
pub(crate) fn share(piece: &Piece, zone: &Zone, edges: &Walls, drawn: &DiscGrid) -> f64 {
    let smallest = zone
        .mix
        .iter()
        .map(|m| disc_radius(&piece.kinds[m.kind], zone))
        .fold(f64::INFINITY, f64::min);
    let keep = keep(zone);
    let (mut bare, mut total) = (0.0, 0.0);
    for s in edges.segments() {
        let far = 2.0 * smallest + keep[usize::from(s.tag).min(2)] + zone.spacing_mm / 2.0;
        let length = s.length();
        total += length;
        bare += length * bare_part(s, length, far, drawn);
    }
    if total > 0.0 { bare / total } else { 0.0 }
}

/// The part of one segment that no disc comes within `far` of, 0..=1.
fn bare_part(s: &Segment, length: f64, far: f64, drawn: &DiscGrid) -> f64 {
    if length <= 0.0 {
        return 0.0;
    }
    // In pieces, so that a long edge does not ask for every stone at once.
    let reach = far + drawn.radius_max();
    let n = ((length / (2.0 * reach)).ceil() as u32).clamp(1, 1 << 20);
    let mut bare = 0.0;
    for i in 0..n {
        let (a, b) = (f64::from(i) / f64::from(n), f64::from(i + 1) / f64::from(n));
        let mid = s.point_at((a + b) / 2.0);
        let mut hidden: Vec<(f64, f64)> = drawn
            .around(mid, length / f64::from(n) + reach)
            .flat_map(|k| {
                let d = drawn.discs()[k];
                cut(s, length, d.centre, d.radius + far)
            })
            .flatten()
            .map(|(lo, hi)| (lo.max(a), hi.min(b)))
            .filter(|(lo, hi)| lo < hi)
            .collect();
        hidden.sort_by(|p, q| p.0.total_cmp(&q.0));
        let mut at = a;
        for (lo, hi) in hidden {
            bare += (lo - at).max(0.0);
            at = at.max(hi);
        }
        bare += (b - at).max(0.0);
    }
    bare
}

/// The stretches of `s` inside the circle, as parts of its length; they may run beyond 0..=1.
///
/// Two, because a large circle can hold both ends of an arc and not its middle.
fn cut(s: &Segment, length: f64, centre: Point, radius: f64) -> [Option<(f64, f64)>; 2] {
    match s.curve {
        Curve::Line => {
            let along = (s.to - s.from) / length;
            let foot = (centre - s.from).dot(along);
            let off = (centre - s.from).cross(along);
            let h2 = radius * radius - off * off;
            let stretch =
                (h2 > 0.0).then(|| ((foot - h2.sqrt()) / length, (foot + h2.sqrt()) / length));
            [stretch, None]
        }
        Curve::Arc { centre: c, radius: rho, ccw } => {
            let d = centre - c;
            let dist = d.norm();
            if dist + rho <= radius {
                return [Some((0.0, 1.0)), None];
            }
            if dist == 0.0 {
                return [None; 2];
            }
            // The circle cuts the arc's circle within this angle of the line of centres.
            let cos = (rho * rho + dist * dist - radius * radius) / (2.0 * rho * dist);
            if cos >= 1.0 {
                return [None; 2];
            }
            let half = libm::acos(cos.max(-1.0));
            let start = s.from - c;
            let turn = libm::atan2(start.cross(d), start.dot(d));
            let at = if ccw { turn } else { -turn };
            let sweep = length / rho;
            // Seen from the arc's start, the same stretch comes again a turn later.
            [at, at + std::f64::consts::TAU]
                .map(|at| Some(((at - half) / sweep, (at + half) / sweep)))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use geometry::{Disc, shapes};

    fn bare(region: &geometry::Region, far: f64, discs: Vec<Disc>) -> Vec<f64> {
        let grid = DiscGrid::new(discs);
        region.segments().map(|s| bare_part(s, s.length(), far, &grid)).collect()
    }

    #[test]
    fn agrees_with_samples() {
        // The slow twin: 20,000 points on each edge.
        let region = shapes::heart(30.0, 28.0);
        let at = |x, y, radius| Disc { centre: Point::new(x, y), radius };
        let discs =
            vec![at(-9.0, 6.0, 3.0), at(4.0, -6.0, 2.0), at(10.0, 9.0, 1.0), at(0.0, 0.0, 4.0)];
        let exact = bare(&region, 2.5, discs.clone());
        for (s, exact) in region.segments().zip(exact) {
            let n = 20_000;
            let is_bare = |i: &u32| {
                let p = s.point_at((f64::from(*i) + 0.5) / f64::from(n));
                discs.iter().all(|d| d.centre.distance(p) - d.radius > 2.5)
            };
            let sampled = (0..n).filter(is_bare).count() as f64 / f64::from(n);
            assert!((exact - sampled).abs() < 2e-4, "{exact} against {sampled}");
        }
    }

    #[test]
    fn a_large_circle_hides_both_ends_of_an_arc() {
        // The upper half of a circle of radius 2, and a stone below its middle: of 180 degrees,
        // the first and the last 30 are hidden (law of cosines).
        let region = shapes::circle(4.0);
        let arc = region.segments().next().expect("a circle has an edge");
        let d = Disc { centre: Point::new(0.0, -1.0), radius: 7f64.sqrt() - 2.0 };
        let exact = bare_part(arc, arc.length(), 2.0, &DiscGrid::new(vec![d]));
        assert!((exact - 120.0 / 180.0).abs() < 1e-12, "{exact}");
    }

    #[test]
    fn without_stones_all_of_it_is_bare() {
        assert!(bare(&shapes::circle(10.0), 1.0, vec![]).iter().all(|b| *b == 1.0));
    }
}
