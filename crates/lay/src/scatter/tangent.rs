//! Closed forms: where a disc touches two things at once.

use geometry::Point;

/// Where the centre of a disc of a given radius may lie so that it touches one thing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Locus {
    /// The straight line through a point along a unit vector.
    Line {
        /// A point of it.
        through: Point,
        /// Its direction, of length 1.
        along: Point,
    },
    /// A circle.
    Circle {
        /// Its centre.
        centre: Point,
        /// Its radius, mm.
        radius: f64,
    },
}

/// Where two loci meet: the centres of the discs that touch both things.
///
/// Parallel lines and circles about one centre meet nowhere or everywhere; both count as nowhere.
/// Loci that just touch, up to rounding, meet once (given twice).
pub(crate) fn meet(a: Locus, b: Locus) -> [Option<Point>; 2] {
    match (a, b) {
        (Locus::Circle { centre: p, radius: r }, Locus::Circle { centre: q, radius: s }) => {
            circle_circle(p, r, q, s)
        }
        (Locus::Line { through, along }, Locus::Circle { centre, radius })
        | (Locus::Circle { centre, radius }, Locus::Line { through, along }) => {
            line_circle(through, along, centre, radius)
        }
        (Locus::Line { through: p, along: u }, Locus::Line { through: q, along: v }) => {
            [line_line(p, u, q, v), None]
        }
    }
}

/// Two circles meet on their radical line, `x` along the line of centres, `±√(r² − x²)` off it.
pub(crate) fn circle_circle(p: Point, r: f64, q: Point, s: f64) -> [Option<Point>; 2] {
    let d = q - p;
    let d2 = d.norm2();
    if d2 <= 0.0 {
        return [None, None];
    }
    let x = 0.5 * (1.0 + (r - s) * (r + s) / d2);
    let h2 = r * r / d2 - x * x;
    let Some(h) = root(h2, x * x) else { return [None, None] };
    let foot = p + d * x;
    let side = d.left() * h;
    [Some(foot + side), Some(foot - side)]
}

/// A line meets a circle `±√(r² − h²)` from the foot of the centre, `h` off the line.
fn line_circle(through: Point, along: Point, centre: Point, radius: f64) -> [Option<Point>; 2] {
    let from = centre - through;
    let t = from.dot(along);
    let h = from.cross(along);
    let Some(half) = root(radius * radius - h * h, h * h) else { return [None, None] };
    [Some(through + along * (t + half)), Some(through + along * (t - half))]
}

fn line_line(p: Point, u: Point, q: Point, v: Point) -> Option<Point> {
    let det = u.cross(v);
    // Directions within 1e-9 rad: they meet, if at all, further off than any workpiece reaches.
    (det.abs() > 1e-9).then(|| p + u * ((q - p).cross(v) / det))
}

/// √x, 0 where `x` is so small beside `scale` that its sign is rounding.
///
/// A disc that just goes through between two others gets one place and not two beside each other.
/// What that gives up of the tangency is half of `x`: 5e-13 of the radius.
fn root(x: f64, scale: f64) -> Option<f64> {
    let nought = 1e-12 * scale;
    if x > nought { Some(x.sqrt()) } else { (x >= -nought).then_some(0.0) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn distance(locus: Locus, p: Point) -> f64 {
        match locus {
            Locus::Circle { centre, radius } => (p.distance(centre) - radius).abs(),
            // Not the way it was made: by the area of a triangle on the line.
            Locus::Line { through, along } => {
                let (a, b) = (through - along * 50.0, through + along * 50.0);
                ((a - p).cross(b - p) / 100.0).abs()
            }
        }
    }

    fn point() -> impl Strategy<Value = Point> {
        (-20.0..20.0, -20.0..20.0).prop_map(|(x, y)| Point::new(x, y))
    }

    fn locus() -> impl Strategy<Value = Locus> {
        let line = (point(), 0.0..std::f64::consts::TAU)
            .prop_map(|(through, a)| Locus::Line { through, along: Point::unit(a) });
        let circle =
            (point(), 0.1..15.0f64).prop_map(|(centre, radius)| Locus::Circle { centre, radius });
        prop_oneof![line, circle]
    }

    proptest! {
        #![proptest_config(ProptestConfig {
            cases: 2000,
            failure_persistence: None,
            rng_seed: proptest::test_runner::RngSeed::Fixed(2),
            ..ProptestConfig::default()
        })]

        #[test]
        fn where_loci_meet_lies_on_both(a in locus(), b in locus()) {
            for p in meet(a, b).into_iter().flatten() {
                // Lines that meet far off lose digits in proportion.
                let far = 1e-12 * (1.0 + p.norm() * p.norm());
                prop_assert!(distance(a, p) < 1e-9 + far, "{p:?} off {a:?}");
                prop_assert!(distance(b, p) < 1e-9 + far, "{p:?} off {b:?}");
            }
        }

        #[test]
        fn circles_that_cross_meet_twice(p in point(), q in point(), r in 0.1..15.0f64, s in 0.1..15.0f64) {
            let d = p.distance(q);
            prop_assume!((d - r - s).abs() > 1e-6 && (d - (r - s).abs()).abs() > 1e-6);
            let n = circle_circle(p, r, q, s).into_iter().flatten().count();
            prop_assert_eq!(n, if d < r + s && d > (r - s).abs() { 2 } else { 0 });
        }

        #[test]
        fn a_line_meets_a_circle_that_it_crosses(p in point(), q in point(), r in 0.1..15.0f64, a in 0.0..6.0f64) {
            let (line, circle) = (Locus::Line { through: p, along: Point::unit(a) }, Locus::Circle { centre: q, radius: r });
            let off = distance(line, q);
            prop_assume!((off - r).abs() > 1e-6);
            prop_assert_eq!(meet(line, circle).into_iter().flatten().count(), if off < r { 2 } else { 0 });
        }
    }

    #[test]
    fn a_disc_between_two_equal_ones_sits_on_the_third_corner() {
        // Three touching discs of radius 1: an equilateral triangle of side 2, height √3.
        let found = circle_circle(Point::new(-1.0, 0.0), 2.0, Point::new(1.0, 0.0), 2.0);
        assert!(found[0].unwrap().distance(Point::new(0.0, 3.0_f64.sqrt())) < 1e-12);
        assert!(found[1].unwrap().distance(Point::new(0.0, -(3.0_f64.sqrt()))) < 1e-12);
    }

    #[test]
    fn circles_that_just_touch_meet_and_circles_about_one_centre_do_not() {
        let [a, b] = circle_circle(Point::ORIGIN, 0.1, Point::new(0.3, 0.0), 0.2);
        assert!(a.unwrap().distance(Point::new(0.1, 0.0)) < 1e-7);
        assert!(b.unwrap().distance(Point::new(0.1, 0.0)) < 1e-7);
        assert_eq!(circle_circle(Point::ORIGIN, 1.0, Point::ORIGIN, 1.0), [None, None]);
    }
}
