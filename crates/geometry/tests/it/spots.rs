//! The largest empty circles: closed forms, planted answers, laws, and a slow twin.

use crate::support::{close, point, random, region, with_holes};
use geometry::spots::{EmptyCircle, at_least, largest};
use geometry::{Disc, DiscGrid, Point, Region, Walls, shapes};
use rand::RngExt;
use rand_chacha::ChaCha8Rng;
use std::f64::consts::{FRAC_PI_2, PI, TAU};

fn spots(region: &Region, discs: &[Disc], how_many: usize) -> Vec<EmptyCircle> {
    largest(&Walls::new(region, |_| 0.0), &DiscGrid::new(discs.to_vec()), how_many)
}

fn disc(x: f64, y: f64, radius: f64) -> Disc {
    Disc { centre: Point::new(x, y), radius }
}

/// Distance to the nearest edge or disc, by looking at all.
fn room(region: &Region, discs: &[Disc], p: Point) -> f64 {
    let gaps = discs.iter().map(|d| d.centre.distance(p) - d.radius);
    gaps.fold(region.clearance(p), f64::min)
}

/// The largest empty circle by a dense grid and shrinking steps from its best places.
fn slow_largest(region: &Region, discs: &[Disc]) -> f64 {
    let b = region.bounds();
    let n = 90;
    let mut seeds: Vec<(f64, Point)> = (0..n * n)
        .map(|k| {
            let t = Point::new(f64::from(k % n) + 0.5, f64::from(k / n) + 0.5) / f64::from(n);
            let p = b.min + Point::new(t.x * b.width(), t.y * b.height());
            (room(region, discs, p), p)
        })
        .collect();
    seeds.sort_by(|a, b| b.0.total_cmp(&a.0));
    let size = b.width().max(b.height()) / f64::from(n);
    seeds[..12].iter().map(|s| climb(region, discs, s.1, size).0).fold(0.0, f64::max)
}

/// The radius and place reached from `at` by steps upwards, ever shorter ones. So many directions
/// are tried that a narrow crest is followed.
fn climb(region: &Region, discs: &[Disc], mut at: Point, mut step: f64) -> (f64, Point) {
    let mut best = room(region, discs, at);
    while step > 1e-9 {
        let around = (0..100).map(|k| at + Point::unit(TAU * f64::from(k) / 100.0) * step);
        let tries = around.map(|q| (room(region, discs, q), q));
        let top = tries.max_by(|a, b| a.0.total_cmp(&b.0)).expect("a hundred");
        if top.0 > best {
            (best, at) = top;
            step *= 1.3;
        } else {
            step *= 0.7;
        }
    }
    (best, at)
}

/// Discs thrown down at random that keep clear of one another; some reach over the edge.
fn scene(rng: &mut ChaCha8Rng, region: &Region, tries: usize) -> Vec<Disc> {
    let b = region.bounds();
    let mut discs: Vec<Disc> = vec![];
    for _ in 0..tries {
        let radius = [1.4, 1.95, 2.35, 3.2][rng.random_range(0..4)];
        let x = rng.random_range(b.min.x..b.max.x);
        let centre = Point::new(x, rng.random_range(b.min.y..b.max.y));
        if discs.iter().all(|d| d.centre.distance(centre) >= d.radius + radius) {
            discs.push(Disc { centre, radius });
        }
    }
    discs
}

/// What must hold of any list of spots: empty, inside, in order, apart, and none can grow.
fn check_laws(region: &Region, discs: &[Disc], found: &[EmptyCircle]) {
    for s in found {
        assert!(s.radius > 0.0);
        close(room(region, discs, s.centre), s.radius, 1e-9);
        for k in 0..16 {
            let step = (1e-4 * s.radius).min(1e-4);
            let beside = s.centre + Point::unit(TAU * f64::from(k) / 16.0) * step;
            assert!(room(region, discs, beside) <= s.radius + 2e-8, "{s:?} grows");
        }
    }
    assert!(found.windows(2).all(|w| w[0].radius >= w[1].radius - 1e-9));
    for (i, a) in found.iter().enumerate() {
        assert!(found[..i].iter().all(|b| a.centre.distance(b.centre) > 1e-6), "twice: {a:?}");
    }
}

#[test]
fn inscribed_circles_have_their_closed_forms() {
    let first = |region: &Region| spots(region, &[], 1)[0];
    close(first(&shapes::rectangle(60.0, 40.0)).radius, 20.0, 1e-12);
    close(first(&shapes::circle(50.0)).radius, 25.0, 1e-12);
    close(first(&shapes::rounded_rectangle(60.0, 40.0, 20.0)).radius, 20.0, 1e-12);
    close(first(&shapes::rounded_rectangle(60.0, 40.0, 7.0)).radius, 20.0, 1e-12);
    // Triangle: area over half the perimeter.
    let corners = [Point::new(0.0, 0.0), Point::new(30.0, 2.0), Point::new(11.0, 19.0)];
    let triangle = shapes::polygon(&corners);
    close(first(&triangle).radius, 2.0 * triangle.area() / triangle.perimeter(), 1e-12);
    // Regular polygon: the apothem. Star: to the inner corners.
    close(first(&shapes::regular_polygon(7, 30.0)).radius, 15.0 * libm::cos(PI / 7.0), 1e-12);
    close(first(&shapes::star(5, 60.0, 0.5)).radius, 15.0, 1e-12);
    // An ellipse within: its short half axis, less the chord's error.
    close(first(&shapes::ellipse(60.0, 35.0, shapes::Side::Inside)).radius, 17.5, 0.001);
    // An outline of many equal edges: the apothem.
    let many = first(&shapes::regular_polygon(2000, 50.0));
    close(many.radius, 25.0 * libm::cos(PI / 2000.0), 1e-8);
    assert!(many.centre.norm() < 1e-6);
    // Heart, on its axis at height y over the lobes' centres: touching both side arcs, and the
    // cusp from below.
    let (half, drop) = (25.0, 45.0 - 12.5);
    let side = (half * half + drop * drop) / 50.0;
    // Distance y below the cusp = side − √((side − half)² + y²), solved for y.
    let off = side - half;
    let y = (side * side - off * off) / (2.0 * side);
    close(first(&shapes::heart(50.0, 45.0)).radius, y, 1e-9);
}

#[test]
fn a_lens_is_widest_between_its_arcs() {
    use geometry::{Ring, Segment};
    let (c, r) = (Point::new(4.0, 0.0), 5.0);
    let (top, bottom) = (Point::new(0.0, 3.0), Point::new(0.0, -3.0));
    let lens = Ring {
        segments: vec![
            Segment::arc(bottom, top, -c, r, true),
            Segment::arc(top, bottom, c, r, true),
        ],
    };
    let region = Region::new(vec![lens]).expect("two arcs");
    let found = spots(&region, &[], 5);
    assert_eq!(found.len(), 1);
    close(found[0].radius, 1.0, 1e-12);
    assert!(found[0].centre.norm() < 1e-9);
}

#[test]
fn pockets_of_the_lattices_follow_descartes() {
    // Descartes' theorem on three and on four touching circles of diameter d: the pocket between
    // measures (2/√3 − 1) d = 0.1547 d and (√2 − 1) d = 0.4142 d.
    let d = 3.9;
    let region = shapes::rectangle(60.0, 40.0);
    let mut honeycomb = vec![];
    let mut square = vec![];
    for row in -6..=6 {
        for column in -8..=8 {
            let (x, y) = (f64::from(column) * d, f64::from(row) * d);
            square.push(disc(x, y, d / 2.0));
            let shift = if row % 2 == 0 { 0.0 } else { d / 2.0 };
            honeycomb.push(disc(x + shift, y * 0.75f64.sqrt(), d / 2.0));
        }
    }
    let middle = |s: &EmptyCircle| s.centre.x.abs() < 25.0 && s.centre.y.abs() < 15.0;
    for (discs, share, to_disc) in [
        (honeycomb, 2.0 / 3f64.sqrt() - 1.0, 3f64.sqrt() / 3.0),
        (square, 2f64.sqrt() - 1.0, 0.5f64.sqrt()),
    ] {
        let found = spots(&region, &discs, usize::MAX);
        check_laws(&region, &discs, &found);
        let inner: Vec<_> = found.iter().filter(|s| middle(s)).collect();
        assert!(inner.len() > 80);
        for s in inner {
            close(2.0 * s.radius, share * d, 1e-9);
            let near = discs.iter().map(|d| d.centre.distance(s.centre)).fold(f64::MAX, f64::min);
            close(near, to_disc * d, 1e-9);
        }
    }
}

#[test]
fn a_missing_stone_leaves_its_own_size() {
    let d = 2.8;
    let at = |i: i32, j: i32| {
        Point::new((f64::from(i) + 0.5 * f64::from(j)) * d, f64::from(j) * d * 0.75f64.sqrt())
    };
    let all = (-9..=9).flat_map(|i| (-9..=9).map(move |j| (i, j)));
    let discs: Vec<Disc> = all
        .filter(|&ij| ij != (1, 2))
        .map(|(i, j)| Disc { centre: at(i, j), radius: d / 2.0 })
        .collect();
    let found = spots(&shapes::rectangle(24.0, 18.0), &discs, 3);
    close(found[0].radius, d / 2.0, 1e-9);
    assert!(found[0].centre.distance(at(1, 2)) < 1e-9);
    assert!(found[1].radius < 0.1 * d);
}

#[test]
fn descartes_gives_the_circle_between_three_unequal_ones() {
    // Soddy: k = k₁ + k₂ + k₃ + 2√(k₁k₂ + k₂k₃ + k₃k₁) for touching circles of curvature kᵢ.
    for seed in 0..50 {
        let rng = &mut random(seed);
        let [a, b, c] = [(); 3].map(|()| rng.random_range(0.75..5.5));
        let (ab, ac, bc): (f64, f64, f64) = (a + b, a + c, b + c);
        let x = (ab * ab + ac * ac - bc * bc) / (2.0 * ab);
        let discs = [disc(0.0, 0.0, a), disc(ab, 0.0, b), disc(x, (ac * ac - x * x).sqrt(), c)];
        let [k1, k2, k3] = [1.0 / a, 1.0 / b, 1.0 / c];
        let soddy = 1.0 / (k1 + k2 + k3 + 2.0 * (k1 * k2 + k2 * k3 + k3 * k1).sqrt());
        let found = spots(&shapes::rectangle(200.0, 200.0), &discs, usize::MAX);
        assert!(found.iter().any(|s| (s.radius - soddy).abs() < 1e-9), "{soddy} in {found:?}");
    }
}

#[test]
fn one_of_n_circles_packed_in_a_circle_comes_back() {
    // The best known packings of 3, 4, 7 and 19 circles in a unit circle (proved for these n;
    // Graham, Lubachevsky et al.): r = 0.46410, 0.41421, 0.33333, 0.20560.
    let ring = |n: u32, rho: f64, shift: f64| {
        (0..n).map(move |i| Point::unit(shift + TAU * f64::from(i) / f64::from(n)) * rho)
    };
    let r19 = 1.0 / (1.0 + 2f64.sqrt() + 6f64.sqrt());
    let nineteen = std::iter::once(Point::ORIGIN).chain(ring(6, 2.0 * r19, 0.0)).chain(ring(
        12,
        1.0 - r19,
        PI / 12.0,
    ));
    let cases: [(f64, f64, Vec<Point>); 4] = [
        (0.46410, 2.0 * 3f64.sqrt() - 3.0, ring(3, 4.0 - 2.0 * 3f64.sqrt(), FRAC_PI_2).collect()),
        (0.41421, 2f64.sqrt() - 1.0, ring(4, 2.0 - 2f64.sqrt(), 0.3).collect()),
        (
            0.33333,
            1.0 / 3.0,
            std::iter::once(Point::ORIGIN).chain(ring(6, 2.0 / 3.0, 0.1)).collect(),
        ),
        (0.20560, r19, nineteen.collect()),
    ];
    for (published, r, centres) in cases {
        close(r, published, 1e-5);
        for missing in [0, centres.len() - 1] {
            let rest = centres.iter().enumerate().filter(|(i, _)| *i != missing);
            let discs: Vec<Disc> = rest.map(|(_, c)| Disc { centre: *c, radius: r }).collect();
            let found = spots(&shapes::circle(2.0), &discs, 1);
            assert!(found[0].radius >= r - 1e-9, "{} < {r}", found[0].radius);
            if missing == 0 && centres.len() != 3 && centres.len() != 4 {
                close(found[0].radius, r, 1e-9);
            }
        }
    }
}

#[test]
fn a_strip_is_lined_with_circles_that_do_not_overlap() {
    let found = spots(&shapes::rectangle(100.0, 8.0), &[], 40);
    assert!(found.iter().all(|s| (s.radius - 4.0).abs() < 1e-9));
    assert!((1..=12).contains(&found.len()), "{}", found.len());
    for (i, a) in found.iter().enumerate() {
        assert!(found[..i].iter().all(|b| a.centre.distance(b.centre) >= 8.0 - 1e-9));
    }
    // The same as many short collinear edges.
    let top = (0..500).map(|i| Point::new(50.0 - 0.2 * f64::from(i), 4.0));
    let bottom = (0..500).map(|i| Point::new(-50.0 + 0.2 * f64::from(i), -4.0));
    let pieces: Vec<Point> = bottom.chain(top).collect();
    close(spots(&shapes::polygon(&pieces), &[], 1)[0].radius, 4.0, 1e-9);
    // Between two circles, exact and as polygons.
    let ring = with_holes(&shapes::circle(50.0), &[(Point::ORIGIN, 15.0)]);
    let exact = spots(&ring, &[], 30);
    assert!(exact.iter().all(|s| (s.radius - 5.0).abs() < 1e-9) && !exact.is_empty());
    let flat = geometry::boolean::flattened(&ring, 0.001, shapes::Side::Inside).expect("ring");
    let found = spots(&flat, &[], 30);
    assert!(found.iter().all(|s| (s.radius - 5.0).abs() < 0.002));
    assert!((3..=30).contains(&found.len()), "{}", found.len());
}

#[test]
fn parts_necks_and_holes_are_searched_alike() {
    let two = Region::new(
        [shapes::circle(10.0), shapes::circle(16.0).moved(Point::new(40.0, 3.0))]
            .iter()
            .flat_map(|r| r.rings().to_vec())
            .collect(),
    )
    .expect("two parts");
    let found = spots(&two, &[], 9);
    assert_eq!(found.len(), 2);
    close(found[0].radius, 8.0, 1e-12);
    close(found[1].radius, 5.0, 1e-12);
    let holed = with_holes(&shapes::rectangle(40.0, 40.0), &[(Point::ORIGIN, 10.0)]);
    let found = spots(&holed, &[], 9);
    // In each corner: (20 − r)·√2 = 10 + r.
    let corner = (20.0 * 2f64.sqrt() - 10.0) / (1.0 + 2f64.sqrt());
    assert_eq!(found.len(), 4);
    for s in &found {
        close(s.radius, corner, 1e-9);
    }
    let order: Vec<(bool, bool)> =
        found.iter().map(|s| (s.centre.y > 0.0, s.centre.x > 0.0)).collect();
    assert_eq!(order, [(false, false), (false, true), (true, false), (true, true)]);
}

#[test]
fn nothing_beats_the_first_on_random_scenes() {
    for seed in 0..40 {
        let rng = &mut random(seed);
        let mut region = region(rng);
        while region.segments().count() > 200 {
            region = crate::support::region(rng);
        }
        let tries = [0, 1, 3, 10, 60, 400][seed as usize % 6];
        let discs = scene(rng, &region, tries);
        let found = spots(&region, &discs, 12);
        check_laws(&region, &discs, &found);
        let slow = slow_largest(&region, &discs);
        assert!(found[0].radius >= slow - 1e-8, "seed {seed}: {} < {slow}", found[0].radius);
        assert!(found[0].radius <= slow + 1e-3, "seed {seed}: the twin is no search");
    }
}

#[test]
fn every_peak_of_a_dense_grid_is_found() {
    for seed in 0..12 {
        let rng = &mut random(100 + seed);
        let region = with_holes(&shapes::rectangle(30.0, 24.0), &[(Point::new(3.0, 2.0), 2.5)]);
        let discs = scene(rng, &region, 300);
        let walls = Walls::new(&region, |_| 0.0);
        let found = at_least(&walls, &DiscGrid::new(discs.clone()), 0.05);
        check_laws(&region, &discs, &found);
        let n = 400;
        let value = |i: i32, j: i32| {
            let t = Point::new(f64::from(i) / f64::from(n), f64::from(j) / f64::from(n));
            let p = Point::new(-15.0 + 30.0 * t.x, -12.0 + 24.0 * t.y);
            (room(&region, &discs, p), p)
        };
        let grid: Vec<(f64, Point)> =
            (0..=n).flat_map(|j| (0..=n).map(move |i| (i, j))).map(|(i, j)| value(i, j)).collect();
        let at = |i: i32, j: i32| grid[(j * (n + 1) + i) as usize];
        for j in 2..n - 1 {
            for i in 2..n - 1 {
                let (v, p) = at(i, j);
                let around = (-2..=2).flat_map(|b| (-2..=2).map(move |a| (a, b)));
                let top = around.filter(|&ab| ab != (0, 0)).all(|(a, b)| at(i + a, j + b).0 < v);
                if v > 0.12 && top {
                    // On a crest the grid has tops of its own: climb on.
                    let (v, p) = climb(&region, &discs, p, 0.1);
                    // The climb may end on a crest too narrow for it, short of the peak.
                    let near = |s: &EmptyCircle| s.centre.distance(p) < 0.5 && s.radius >= v - 1e-9;
                    assert!(found.iter().any(near), "seed {seed}: no spot near {p:?}, {v}");
                }
            }
        }
    }
}

#[test]
fn spots_move_with_the_scene() {
    for seed in 0..20 {
        let rng = &mut random(200 + seed);
        let region = shapes::star(5, 60.0, 0.6);
        let discs = scene(rng, &region, 300);
        let (angle, by) = (rng.random_range(0.0..7.0), point(rng, 100.0));
        let unit = Point::unit(angle);
        let moved: Vec<Disc> = discs
            .iter()
            .map(|d| Disc { centre: d.centre.turned(unit) + by, radius: d.radius })
            .collect();
        let here = spots(&region, &discs, 12);
        let there = spots(&region.turned(angle).moved(by), &moved, 12);
        assert_eq!(here.len(), there.len());
        for (a, b) in here.iter().zip(&there) {
            close(a.radius, b.radius, 1e-9);
        }
        assert!((here[0].centre.turned(unit) + by).distance(there[0].centre) < 1e-6);
    }
}

#[test]
fn at_least_and_largest_agree() {
    let rng = &mut random(7);
    let region = shapes::rounded_rectangle(60.0, 40.0, 5.0);
    let discs = scene(rng, &region, 2000);
    let walls = Walls::new(&region, |_| 1.0);
    let grid = DiscGrid::new(discs);
    let all = at_least(&walls, &grid, 0.0);
    for n in [1, 2, 12, 50] {
        assert_eq!(largest(&walls, &grid, n), all[..n]);
    }
    let some = at_least(&walls, &grid, all[20].radius - 1e-6);
    assert_eq!(some, all[..21]);
    assert!(largest(&walls, &grid, 0).is_empty());
}

#[test]
fn odd_scenes_do_no_harm() {
    let region = shapes::rectangle(20.0, 10.0);
    let cases: Vec<Vec<Disc>> = vec![
        // One on another, many times over; of no size; all over the region; far outside.
        vec![disc(1.0, 1.0, 2.0); 40],
        vec![disc(0.0, 0.0, 0.0), disc(5.0, 0.0, 0.0), disc(-5.0, 0.0, 0.0)],
        vec![disc(0.0, 0.0, 50.0)],
        vec![disc(500.0, 0.0, 1.0), disc(-500.0, 900.0, 1.0)],
        // In a row; on the edge; at the corners; within one another.
        (0..20).map(|i| disc(f64::from(i) - 9.5, 0.0, 0.5)).collect(),
        (0..20).map(|i| disc(f64::from(i) - 9.5, 5.0, 0.5)).collect(),
        vec![
            disc(-10.0, -5.0, 3.0),
            disc(10.0, 5.0, 3.0),
            disc(10.0, -5.0, 3.0),
            disc(-10.0, 5.0, 3.0),
        ],
        vec![disc(0.0, 0.0, 4.0), disc(0.5, 0.0, 2.0), disc(0.5, 0.0, 2.0)],
        // Many on one circle about an empty middle.
        (0..40)
            .map(|i| {
                let c = Point::unit(TAU * f64::from(i) / 40.0) * 4.0;
                Disc { centre: c, radius: 0.2 }
            })
            .collect(),
    ];
    for (k, discs) in cases.into_iter().enumerate() {
        let found = spots(&region, &discs, 12);
        check_laws(&region, &discs, &found);
        assert_eq!(found.is_empty(), k == 2, "case {k}");
        if k == 8 {
            assert!(found.iter().any(|s| (s.radius - 3.8).abs() < 1e-7 && s.centre.norm() < 1e-6));
        }
    }
}

#[test]
fn a_disc_in_the_middle_of_a_circle_leaves_a_ring() {
    // The widest circle between them is half of what their radii leave, and lies anywhere round;
    // or on the far side, if the disc lies off the middle by a rounding.
    let circle = shapes::circle(4.0);
    for off in [0.0, 1e-12, 1e-10, 9e-10, 2e-9, 1e-8, 1e-6] {
        for radius in [1.95, 1.0, 0.1] {
            let found = spots(&circle, &[disc(off, -off, radius)], 3);
            assert!(!found.is_empty(), "nothing beside a disc of radius {radius}, off by {off}");
            let wanted = (2.0 - radius + off * 2.0_f64.sqrt()) / 2.0;
            assert!((found[0].radius - wanted).abs() < 1e-8, "{off}: {found:?}");
        }
    }
}
