//! The largest empty circles. (First, slow version; the exact one replaces it.)

use crate::{DiscGrid, Point, Walls};

/// An empty circle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EmptyCircle {
    /// Its centre.
    pub centre: Point,
    /// Its radius, mm.
    pub radius: f64,
}

/// The largest empty circles.
pub fn largest(walls: &Walls, discs: &DiscGrid, how_many: usize) -> Vec<EmptyCircle> {
    let mut all = at_least(walls, discs, 0.0);
    all.truncate(how_many);
    all
}

/// Every empty circle of at least `radius_min`.
pub fn at_least(walls: &Walls, discs: &DiscGrid, radius_min: f64) -> Vec<EmptyCircle> {
    let b = walls.bounds();
    let d = |p: Point| walls.room(p).min(discs.gap(p, 1e3).unwrap_or(1e3));
    let mut found = vec![];
    for i in 0..60 {
        for j in 0..60 {
            let at = Point::new(
                (f64::from(i) + 0.5) / 60.0 * b.width(),
                (f64::from(j) + 0.5) / 60.0 * b.height(),
            );
            let mut p = b.min + at;
            let mut step = b.width().max(b.height()) / 120.0;
            while step > 1e-9 {
                let best = [
                    (1.0, 0.0),
                    (-1.0, 0.0),
                    (0.0, 1.0),
                    (0.0, -1.0),
                    (0.7, 0.7),
                    (-0.7, 0.7),
                    (0.7, -0.7),
                    (-0.7, -0.7),
                ]
                .map(|(x, y)| p + Point::new(x, y) * step)
                .into_iter()
                .max_by(|a, c| d(*a).total_cmp(&d(*c)))
                .unwrap_or(p);
                if d(best) > d(p) { p = best } else { step /= 2.0 }
            }
            let radius = d(p);
            if radius > radius_min
                && !found.iter().any(|c: &EmptyCircle| c.centre.distance(p) < 1e-3)
            {
                found.push(EmptyCircle { centre: p, radius });
            }
        }
    }
    found.sort_by(|a, b| b.radius.total_cmp(&a.radius));
    found
}
