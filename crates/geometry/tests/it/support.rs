//! Random scenes from named seeds, and comparisons.

use geometry::{Curve, Point, Region, Ring, Segment, shapes};
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;

/// The generator for case `seed`.
pub fn random(seed: u64) -> ChaCha8Rng {
    ChaCha8Rng::seed_from_u64(seed)
}

/// A point in a square of half side `half` about the origin.
pub fn point(rng: &mut ChaCha8Rng, half: f64) -> Point {
    Point::new(rng.random_range(-half..half), rng.random_range(-half..half))
}

/// A polygon without crossings: `n` corners in the order of their angles about the origin.
pub fn starlike(rng: &mut ChaCha8Rng, n: usize, size: f64) -> Vec<Point> {
    (0..n)
        .map(|i| {
            let angle = std::f64::consts::TAU * (i as f64 + rng.random_range(0.0..0.8)) / n as f64;
            Point::unit(angle) * (size * rng.random_range(0.3..1.0))
        })
        .collect()
}

/// One full circle as a ring, counter-clockwise.
pub fn circle_ring(centre: Point, radius: f64) -> Ring {
    let (e, w) = (centre + Point::new(radius, 0.0), centre - Point::new(radius, 0.0));
    let half = |a, b| Segment::arc(a, b, centre, radius, true);
    Ring { segments: vec![half(e, w), half(w, e)] }
}

/// `region` less round holes at the given places.
pub fn with_holes(region: &Region, holes: &[(Point, f64)]) -> Region {
    let mut rings = region.rings().to_vec();
    rings.extend(holes.iter().map(|(c, r)| circle_ring(*c, *r).reversed()));
    Region::new(rings).expect("sound rings")
}

/// A region of one of many makes: with holes, arcs, corners in and out, many corners.
pub fn region(rng: &mut ChaCha8Rng) -> Region {
    let plain = match rng.random_range(0..8) {
        0 => with_holes(
            &shapes::rectangle(60.0, 40.0),
            &[(point(rng, 8.0), 3.0), (Point::new(-22.0, point(rng, 9.0).y), 4.5)],
        ),
        1 => shapes::heart(50.0, 45.0),
        2 => shapes::star(5, 60.0, rng.random_range(0.3..0.7)),
        3 => shapes::rounded_rectangle(60.0, 40.0, rng.random_range(1.0..19.0)),
        4 => shapes::ellipse(60.0, 35.0, shapes::Side::Inside),
        5 => shapes::polygon(&starlike(rng, 2000, 30.0)),
        6 => with_holes(&shapes::circle(50.0), &[(point(rng, 6.0), 5.0)]),
        _ => {
            let n = rng.random_range(3..40);
            shapes::polygon(&starlike(rng, n, 30.0))
        }
    };
    plain.turned(rng.random_range(0.0..7.0)).moved(point(rng, 20.0))
}

/// The region as the `geo` crate knows it; its rings must consist of lines.
pub fn to_geo(region: &Region) -> geo::MultiPolygon {
    let line = |r: &Ring| {
        assert!(r.segments.iter().all(|s| s.curve == Curve::Line));
        geo::LineString::from(r.segments.iter().map(|s| (s.from.x, s.from.y)).collect::<Vec<_>>())
    };
    let holes: Vec<&Ring> = region.rings().iter().filter(|r| r.is_hole()).collect();
    let exteriors = region.rings().iter().filter(|r| !r.is_hole());
    let polygons = exteriors.map(|outer| {
        let within = holes.iter().filter(|h| {
            // Holes may touch the exterior in a corner: ask in the middle of an edge.
            outer.winding(h.segments[0].point_at(0.5)) > 0
        });
        geo::Polygon::new(line(outer), within.map(|h| line(h)).collect())
    });
    geo::MultiPolygon::new(polygons.collect())
}

/// Asserts that two numbers agree to `tolerance`.
#[track_caller]
pub fn close(found: f64, wanted: f64, tolerance: f64) {
    assert!((found - wanted).abs() <= tolerance, "found {found}, wanted {wanted} ± {tolerance}");
}
