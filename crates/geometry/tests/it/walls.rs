//! Walls and spans against slow twins that look at every segment.

use crate::support::{close, point, random, region, starlike, to_geo, with_holes};
use geometry::{Curve, Point, Region, Walls, shapes};
use rand::RngExt;
use std::f64::consts::TAU;

#[test]
fn room_agrees_with_clearance_where_nothing_is_kept() {
    for seed in 0..60 {
        let rng = &mut random(seed);
        let region = region(rng);
        let walls = Walls::new(&region, |_| 0.0);
        for _ in 0..150 {
            let p = point(rng, 60.0);
            assert_eq!(walls.contains(p), region.contains(p), "seed {seed} at {p:?}");
            close(walls.room(p), region.clearance(p), 1e-12);
        }
    }
}

#[test]
fn room_takes_off_what_each_edge_wants_kept() {
    for seed in 0..40 {
        let rng = &mut random(100 + seed);
        let plain = region(rng);
        let mut rings = plain.rings().to_vec();
        for (i, s) in rings.iter_mut().flat_map(|r| &mut r.segments).enumerate() {
            s.tag = (i % 3) as u8;
        }
        let region = Region::new(rings).expect("the same rings");
        let keep = |tag: u8| [0.5, 0.0, 1.7][usize::from(tag)];
        let walls = Walls::new(&region, keep);
        for _ in 0..100 {
            let p = point(rng, 60.0);
            let slow = region.segments().map(|s| s.distance(p) - keep(s.tag));
            let slow = slow.fold(f64::INFINITY, f64::min);
            let (fast, at) = walls.nearest(p);
            close(fast, slow, 1e-12);
            close(walls.segments()[at].distance(p) - walls.keep(at), slow, 1e-12);
            if region.contains(p) {
                close(walls.room(p), slow, 1e-12);
            } else {
                assert!(walls.room(p) <= 0.0);
            }
        }
    }
}

#[test]
fn outside_by_just_what_is_kept_there_is_no_room() {
    let walls = Walls::new(&shapes::rectangle(20.0, 20.0), |_| 3.0);
    close(walls.room(Point::new(13.0, 0.0)), -6.0, 1e-12);
    close(walls.room(Point::ORIGIN), 7.0, 1e-12);
    close(walls.room(Point::new(9.0, 0.0)), -2.0, 1e-12);
}

#[test]
fn within_finds_what_a_look_at_each_finds() {
    for seed in 0..40 {
        let rng = &mut random(200 + seed);
        let region = region(rng);
        let walls = Walls::new(&region, |_| 0.0);
        for _ in 0..30 {
            let (p, reach) = (point(rng, 60.0), rng.random_range(0.0..15.0));
            let near = |(i, s): (usize, &geometry::Segment)| (s.distance(p) <= reach).then_some(i);
            let slow: Vec<usize> = region.segments().enumerate().filter_map(near).collect();
            assert_eq!(walls.within(p, reach), slow);
        }
    }
}

#[test]
fn sides_are_told_apart_close_to_corners_and_level_with_them() {
    for seed in 0..60 {
        let rng = &mut random(300 + seed);
        let region = region(rng);
        let walls = Walls::new(&region, |_| 0.0);
        for s in region.segments().take(60) {
            let middle = s.point_at(0.02);
            let left = (s.point_at(0.021) - middle).left().normalised() * 1e-6;
            let inner = walls.contains(middle + left);
            assert!(inner, "seed {seed}: the region is on the left of {s:?}");
            assert!(
                !walls.contains(middle - left),
                "seed {seed}: outside is on the right of {s:?}"
            );
            // Level with a corner, from far away.
            assert!(!walls.contains(Point::new(-200.0, s.from.y)));
            let p = Point::new(point(rng, 30.0).x, s.from.y);
            if region.clearance(p).abs() > 1e-9 {
                let around = p + Point::new(0.0, 1e-10);
                assert_eq!(walls.contains(p), walls.contains(around), "seed {seed} at {p:?}");
            }
        }
    }
}

#[test]
fn sides_near_corners_agree_with_geo() {
    // Oracle: the `geo` crate, whose sidedness rests on robust predicates.
    use geo::Contains;
    for seed in 0..40 {
        let rng = &mut random(350 + seed);
        let n = rng.random_range(3..200);
        let region = shapes::polygon(&starlike(rng, n, 30.0));
        let (walls, geo) = (Walls::new(&region, |_| 0.0), to_geo(&region));
        for s in region.segments() {
            for off in [1e-3, 1e-6, 1e-9] {
                let p = s.from + point(rng, off);
                if region.clearance(p).abs() > 1e-13 {
                    let wanted = geo.contains(&geo::Point::new(p.x, p.y));
                    assert_eq!(walls.contains(p), wanted, "seed {seed} at {p:?}");
                }
            }
        }
    }
}

/// Every place of many along a line or circle either has room and is in a span, or has none and
/// is in none, but within `slack` of the turn.
fn compare(
    seed: u64,
    walls: &Walls,
    radius: f64,
    at: impl Fn(f64) -> (f64, Point),
    spans: &[(f64, f64)],
    turn: Option<f64>,
) {
    for k in 0..3000 {
        let (t, p) = at(f64::from(k) / 3000.0);
        let holds = |t: f64| spans.iter().any(|&(a, b)| a <= t && t <= b);
        let in_span = holds(t) || turn.is_some_and(|turn| holds(t + turn));
        let room = walls.room(p) - radius;
        if room.abs() > 1e-8 {
            assert_eq!(in_span, room > 0.0, "seed {seed}: {p:?} has {room} to spare in {spans:?}");
        }
    }
}

#[test]
fn spans_on_lines_agree_with_dense_looking() {
    for seed in 0..80 {
        let rng = &mut random(400 + seed);
        let region = region(rng);
        let keep = rng.random_range(0.0..1.0);
        let walls = Walls::new(&region, |_| keep);
        let b = region.bounds();
        for _ in 0..6 {
            let radius = rng.random_range(0.05..3.0);
            let y = rng.random_range(b.min.y - 1.0..b.max.y + 1.0);
            let spans = walls.spans_on_line(y, radius);
            assert!(spans.windows(2).all(|w| w[0].1 < w[1].0), "in order and apart");
            for &(x0, x1) in &spans {
                for x in [x0, (x0 + x1) / 2.0, x1] {
                    assert!(walls.room(Point::new(x, y)) >= radius - 2e-9, "seed {seed}");
                }
            }
            let at = |t: f64| {
                let x = b.min.x - 1.0 + (b.width() + 2.0) * t;
                (x, Point::new(x, y))
            };
            compare(seed, &walls, radius, at, &spans, None);
        }
    }
}

#[test]
fn spans_on_circles_agree_with_dense_looking() {
    for seed in 0..80 {
        let rng = &mut random(500 + seed);
        let region = region(rng);
        let keep = rng.random_range(0.0..1.0);
        let walls = Walls::new(&region, |_| keep);
        for _ in 0..5 {
            let radius = rng.random_range(0.05..3.0);
            let (centre, rho) = (point(rng, 25.0), rng.random_range(0.5..40.0));
            let spans = walls.spans_on_circle(centre, rho, radius);
            for &(a, b) in &spans {
                assert!((0.0..TAU).contains(&a) && a <= b && b <= a + TAU + 1e-12);
                for t in [a, (a + b) / 2.0, b] {
                    let room = walls.room(centre + Point::unit(t) * rho);
                    assert!(room >= radius - 2e-9, "seed {seed}: {room} for {radius}");
                }
            }
            let at = |t: f64| (t * TAU, centre + Point::unit(t * TAU) * rho);
            compare(seed, &walls, radius, at, &spans, Some(TAU));
        }
    }
}

#[test]
fn a_disc_that_just_fits_has_a_place() {
    let walls = Walls::new(&shapes::rectangle(30.0, 4.0), |_| 0.5);
    // Height 4, margins 0.5: a radius of 1.5 fits on the middle line only.
    let spans = walls.spans_on_line(0.0, 1.5);
    assert_eq!(spans.len(), 1);
    close(spans[0].0, -13.0, 1e-9);
    close(spans[0].1, 13.0, 1e-9);
    assert!(walls.spans_on_line(0.1, 1.5).is_empty());
    let point_like = walls.spans_on_line(0.0, 1.5).len() + walls.spans_on_line(0.0, 1.6).len();
    assert_eq!(point_like, 1);
    // A row in a slot that is one disc wide.
    let slot = Walls::new(&shapes::rectangle(3.0, 30.0), |_| 0.0);
    let spans = slot.spans_on_line(2.0, 1.5);
    assert_eq!(spans.len(), 1);
    close(spans[0].0, 0.0, 1e-9);
    close(spans[0].1, 0.0, 1e-9);
}

#[test]
fn a_ring_along_the_edge_of_a_circle_is_whole() {
    for (diameter, keep, radius) in [(50.0, 0.7, 1.3), (60.0, 0.1, 0.7), (33.3, 0.0, 1.1)] {
        let walls = Walls::new(&shapes::circle(diameter), |_| keep);
        let rho = diameter / 2.0 - keep - radius;
        assert_eq!(walls.spans_on_circle(Point::ORIGIN, rho, radius), [(0.0, TAU)]);
        assert!(walls.spans_on_circle(Point::ORIGIN, rho + 1e-6, radius).is_empty());
        assert_eq!(walls.spans_on_circle(Point::ORIGIN, rho - 1e-6, radius), [(0.0, TAU)]);
    }
}

#[test]
fn spans_join_over_the_start() {
    // A hole in the west blocks one stretch: the free one runs through angle 0.
    let region = with_holes(&shapes::circle(50.0), &[(Point::new(-15.0, 0.0), 3.0)]);
    let walls = Walls::new(&region, |_| 0.0);
    let spans = walls.spans_on_circle(Point::ORIGIN, 15.0, 1.0);
    assert_eq!(spans.len(), 1);
    // By hand: chord of 4 between circles about the origin and the hole's centre.
    let half = 2.0 * libm::asin(4.0 / 30.0);
    close(spans[0].0, std::f64::consts::PI + half, 1e-12);
    close(spans[0].1, 3.0 * std::f64::consts::PI - half, 1e-12);
}

#[test]
fn a_line_of_no_width_is_parted_by_the_edges() {
    let region = with_holes(&shapes::rectangle(40.0, 20.0), &[(Point::ORIGIN, 5.0)]);
    let spans = Walls::new(&region, |_| 0.0).spans_on_line(3.0, 0.0);
    assert_eq!(spans.len(), 2);
    close(spans[0].1, -4.0, 1e-12);
    close(spans[1].0, 4.0, 1e-12);
}

#[test]
fn ready_made_outlines_have_their_size_and_area() {
    use std::f64::consts::PI;
    let size = |r: &Region, w: f64, h: f64| {
        close(r.bounds().width(), w, 1e-9);
        close(r.bounds().height(), h, 1e-9);
        assert!(r.bounds().centre().norm() < 1e-9);
    };
    for (region, area) in [
        (shapes::rectangle(60.0, 40.0), 2400.0),
        (shapes::rounded_rectangle(60.0, 40.0, 5.0), 2400.0 - (4.0 - PI) * 25.0),
        (shapes::rounded_rectangle(60.0, 40.0, 20.0), 800.0 + PI * 400.0),
    ] {
        size(&region, 60.0, 40.0);
        close(region.area(), area, 1e-9);
    }
    size(&shapes::circle(30.0), 30.0, 30.0);
    close(shapes::circle(30.0).perimeter(), 30.0 * PI, 1e-12);
    for side in [shapes::Side::Inside, shapes::Side::Outside] {
        let ellipse = shapes::ellipse(60.0, 35.0, side);
        size(&ellipse, 60.0, 35.0);
        close(ellipse.area(), PI * 30.0 * 17.5, 0.001 * ellipse.perimeter());
        let inner = ellipse.area() < PI * 30.0 * 17.5;
        assert_eq!(inner, side == shapes::Side::Inside);
    }
    size(&shapes::heart(50.0, 45.0), 50.0, 45.0);
    let hexagon = shapes::regular_polygon(6, 20.0);
    close(hexagon.area(), 1.5 * 3f64.sqrt() * 100.0, 1e-9);
    close(hexagon.bounds().height(), 20.0, 1e-9);
    // 2·points triangles with the angle π/points between radii R and r.
    let star = shapes::star(5, 20.0, 0.4);
    close(star.area(), 5.0 * 10.0 * 4.0 * libm::sin(PI / 5.0), 1e-9);
}

#[test]
fn arcs_and_windings_survive_turning_moving_and_scaling() {
    for seed in 0..40 {
        let rng = &mut random(600 + seed);
        let region = region(rng);
        let (angle, by, k) =
            (rng.random_range(0.0..7.0), point(rng, 50.0), rng.random_range(0.2..5.0));
        let mapped = region.turned(angle).scaled(k).moved(by);
        close(mapped.area(), region.area() * k * k, 1e-9 * mapped.area());
        close(mapped.perimeter(), region.perimeter() * k, 1e-9 * mapped.perimeter());
        for _ in 0..30 {
            let p = point(rng, 50.0);
            let q = p.turned(Point::unit(angle)) * k + by;
            close(mapped.clearance(q), region.clearance(p) * k, 1e-10);
        }
    }
}

#[test]
fn a_region_refuses_what_is_no_ring() {
    use geometry::{RegionError, Ring, Segment};
    let square = shapes::rectangle(2.0, 2.0).rings()[0].clone();
    assert_eq!(Region::new(vec![]), Err(RegionError::Empty));
    let mut open = square.clone();
    open.segments.pop();
    let refused = Region::new(vec![square.clone(), open]);
    assert_eq!(refused, Err(RegionError::Open { ring: 1, gap_mm: 2.0 }));
    let flat = Ring::polygon(&[Point::ORIGIN, Point::new(1.0, 0.0)]);
    assert_eq!(Region::new(vec![flat]), Err(RegionError::NoArea { ring: 0 }));
    assert_eq!(Region::new(vec![Ring { segments: vec![] }]), Err(RegionError::NoArea { ring: 0 }));
    let mut wild = square.clone();
    wild.segments[1].to.x = f64::NAN;
    assert_eq!(Region::new(vec![wild]), Err(RegionError::NotFinite { ring: 0 }));
    // An arc whose ends do not lie on its circle.
    let mut bent = shapes::circle(2.0).rings()[0].clone();
    bent.segments[0].curve = Curve::Arc { centre: Point::ORIGIN, radius: 1.1, ccw: true };
    assert_eq!(
        Region::new(vec![bent]),
        Err(RegionError::OffCircle { ring: 0, off_mm: 0.10000000000000009 })
    );
    // A piece of no length says nothing and goes.
    let mut twice = square.clone();
    twice.segments.insert(1, Segment::line(twice.segments[1].from, twice.segments[1].from));
    assert_eq!(Region::new(vec![twice]).expect("a square").segments().count(), 4);
}
