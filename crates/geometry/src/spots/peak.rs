//! Whether a point is a local maximum of the distance from everything near it.

use super::feature::{Features, Slope};
use crate::Point;
use crate::shapes::CHORD_ERROR_MM;
use std::f64::consts::{PI, TAU};

/// A local maximum of the distance from everything.
#[derive(Clone, Copy, Debug)]
pub(super) struct Peak {
    pub(super) centre: Point,
    pub(super) radius: f64,
    /// Whether the maximum may be one of many that differ by next to nothing: the middle of a
    /// strip, or between edges alone.
    pub(super) smooth: bool,
}

impl Peak {
    /// Whether `other` is no larger, differs by next to nothing, and covers nearly the same.
    pub(super) fn stands_for(&self, other: &Peak) -> bool {
        let less = self.radius - other.radius;
        (0.0..=CHORD_ERROR_MM).contains(&less)
            && self.centre.distance(other.centre) < 0.1 * other.radius
    }
}

/// How a point was found to lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Lie {
    Peak,
    /// No higher than the points beside it along a crest.
    Level,
    Slope,
}

/// How `p`, at distance `radius` from the nearest of the things in `list`, lies. Things no more
/// than `slack` farther count as touched; directions within `blur` radians of opposite as opposite.
pub(super) fn lie(
    features: &Features,
    list: &[u32],
    p: Point,
    radius: f64,
    (slack, blur): (f64, f64),
) -> Lie {
    let mut ways: Vec<Point> = Vec::with_capacity(8);
    let touched = list.iter().filter(|&&i| features.value(i, p) <= radius + slack);
    for &i in touched.clone() {
        match features.slope(i, p, 0.0) {
            Slope::Towards(way, _) => ways.push(way),
            Slope::Apex(all) => ways.extend(all),
            Slope::Unclear => {}
        }
    }
    if let [a, b, c] = ways[..]
        && a.cross(b).min(b.cross(c)).min(c.cross(a)) > 1e-6
    {
        return Lie::Peak;
    }
    let Some((start, gap)) = widest_gap(&ways) else { return Lie::Slope };
    if gap < PI - blur {
        return Lie::Peak;
    }
    if gap > PI + blur {
        return Lie::Slope;
    }
    // All ways but two opposite ones lead to one side: whether the crest between those two rises
    // there is a matter of how they bend.
    let (side, on) = (Point::unit(start), Point::unit(start - PI / 2.0));
    let alone = ways.iter().all(|w| w.cross(side).abs() < blur.max(1e-6));
    let step = 1e-3 * radius;
    let crest = |q: Point| {
        let (mut a, mut b) = (f64::INFINITY, f64::INFINITY);
        for &i in touched.clone() {
            let v = features.value(i, q);
            match features.slope(i, p, 0.0) {
                Slope::Towards(way, _) if way.dot(side) > 0.5 => a = a.min(v),
                Slope::Towards(way, _) if way.dot(side) < -0.5 => b = b.min(v),
                Slope::Towards(..) => {}
                Slope::Apex(_) | Slope::Unclear => (a, b) = (a.min(v), b.min(v)),
            }
        }
        (a + b) / 2.0 - radius
    };
    let rise = crest(p + on * step);
    let rise = if alone { rise.max(crest(p - on * step)) } else { rise };
    // A bend of radius ρ would give step²/4ρ = 2.5e-7 ρ.
    if rise > 1e-10 * radius {
        Lie::Slope
    } else if rise < -1e-10 * radius {
        Lie::Peak
    } else {
        Lie::Level
    }
}

/// The widest angle in which none of the directions lies: where it starts, and its size.
fn widest_gap(ways: &[Point]) -> Option<(f64, f64)> {
    let mut angles: Vec<f64> = ways.iter().map(|w| w.angle()).collect();
    angles.sort_by(f64::total_cmp);
    let first = *angles.first()?;
    angles.push(first + TAU);
    let gaps = angles.windows(2).map(|w| (w[0], w[1] - w[0]));
    gaps.max_by(|a, b| a.1.total_cmp(&b.1))
}
