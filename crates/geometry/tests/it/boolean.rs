//! Cleaning, the boolean operations, inset and outset.

use crate::support::{circle_ring, close, point, random, region, starlike, to_geo, with_holes};
use geo::{Area, BooleanOps};
use geometry::boolean::{self, FillRule};
use geometry::{Curve, Point, Region, RegionError, Walls, shapes};
use rand::RngExt;
use std::f64::consts::PI;

fn points(xy: &[(f64, f64)]) -> Vec<Point> {
    xy.iter().map(|&(x, y)| Point::new(x, y)).collect()
}

#[test]
fn a_bow_tie_has_two_parts() {
    let bow = points(&[(0.0, 0.0), (10.0, 10.0), (10.0, 0.0), (0.0, 10.0)]);
    for rule in [FillRule::NonZero, FillRule::EvenOdd] {
        let region = boolean::clean(std::slice::from_ref(&bow), rule).expect("two triangles");
        assert_eq!(region.rings().len(), 2);
        assert!(region.rings().iter().all(|r| !r.is_hole()));
        close(region.area(), 50.0, 1e-9);
        assert!(region.contains(Point::new(1.0, 5.0)) && region.contains(Point::new(9.0, 5.0)));
        assert!(!region.contains(Point::new(5.0, 1.0)));
    }
}

#[test]
fn the_fill_rule_decides_what_a_pentagram_encloses() {
    let corner = |i: u32| Point::unit(PI * (0.5 + 0.8 * f64::from(i))) * 10.0;
    let pentagram: Vec<Point> = (0..5).map(corner).collect();
    // By hand: the pentagon in the middle is scaled by 1/φ² against the one through the tips.
    let whole = boolean::clean(std::slice::from_ref(&pentagram), FillRule::NonZero).expect("star");
    let tips = boolean::clean(std::slice::from_ref(&pentagram), FillRule::EvenOdd).expect("tips");
    let phi = (1.0 + 5f64.sqrt()) / 2.0;
    let pentagon = 2.5 * 100.0 * libm::sin(2.0 * PI / 5.0) / (phi * phi * phi * phi);
    close(whole.area() - tips.area(), pentagon, 1e-6);
    assert_eq!((whole.rings().len(), tips.rings().len()), (1, 5));
}

#[test]
fn cleaning_orients_and_nests_whatever_way_rings_run() {
    let square = |h: f64| points(&[(-h, -h), (-h, h), (h, h), (h, -h)]);
    let rings = [square(3.0), square(10.0), square(1.0)];
    let region = boolean::clean(&rings, FillRule::EvenOdd).expect("ring in ring");
    close(region.area(), 400.0 - 36.0 + 4.0, 1e-9);
    assert_eq!(region.rings().iter().filter(|r| r.is_hole()).count(), 1);
    assert!(!region.contains(Point::new(2.0, 0.0)) && region.contains(Point::ORIGIN));
    let filled = boolean::clean(&rings, FillRule::NonZero).expect("one square");
    close(filled.area(), 400.0, 1e-9);
}

#[test]
fn cleaning_keeps_coordinates_to_the_last_bit_and_drops_slivers() {
    let third = 1.0 / 3.0;
    let outline = points(&[(third, third), (10.0 + third, third), (third, 7.0 - third)]);
    let sliver = points(&[(20.0, 0.0), (20.000_1, 0.0), (20.0, 0.000_1)]);
    let region = boolean::clean(&[outline.clone(), sliver], FillRule::NonZero).expect("triangle");
    assert_eq!(region.rings().len(), 1);
    for p in outline {
        assert!(region.segments().any(|s| s.from == p));
    }
}

#[test]
fn cleaning_refuses_what_encloses_nothing() {
    let clean = |rings: &[Vec<Point>]| boolean::clean(rings, FillRule::NonZero);
    assert_eq!(clean(&[]), Err(RegionError::Empty));
    assert_eq!(clean(&[vec![]]), Err(RegionError::NoArea { ring: 0 }));
    let line = points(&[(0.0, 0.0), (5.0, 5.0), (9.0, 9.0)]);
    assert_eq!(clean(std::slice::from_ref(&line)), Err(RegionError::NoArea { ring: 0 }));
    let bad = points(&[(0.0, 0.0), (f64::NAN, 5.0), (9.0, 0.0)]);
    assert_eq!(clean(&[line.clone(), bad]), Err(RegionError::NotFinite { ring: 1 }));
    let far = points(&[(0.0, 0.0), (1e9, 5.0), (9.0, 0.0)]);
    assert_eq!(clean(&[line, far]), Err(RegionError::TooFar { ring: 1 }));
}

#[test]
fn cleaned_scribbles_have_the_area_that_geo_finds() {
    // Oracle: the `geo` crate's own sweep (i_overlay), even-odd by symmetric differences.
    for seed in 0..60 {
        let rng = &mut random(seed);
        let n = rng.random_range(3..30);
        let scribble: Vec<Point> = (0..n).map(|_| point(rng, 30.0)).collect();
        let Ok(region) = boolean::clean(std::slice::from_ref(&scribble), FillRule::EvenOdd) else {
            panic!("a scribble of {n} corners encloses something");
        };
        // Fan of triangles: even-odd of the closed walk.
        let triangle = |w: &[Point]| {
            let ring = [scribble[0], w[0], w[1]].map(|p| (p.x, p.y)).to_vec();
            geo::MultiPolygon::new(vec![geo::Polygon::new(ring.into(), vec![])])
        };
        let empty = geo::MultiPolygon::new(vec![]);
        let fan = scribble[1..].windows(2).fold(empty, |sum, w| sum.xor(&triangle(w)));
        close(region.area(), fan.unsigned_area(), 1e-3);
        let sound = |r: &geometry::Ring| !r.segments.is_empty() && r.signed_area() != 0.0;
        assert!(region.rings().iter().all(sound));
    }
}

#[test]
fn booleans_agree_with_geo_on_random_polygons() {
    for seed in 0..200 {
        let rng = &mut random(seed);
        let sizes = (rng.random_range(3..40), rng.random_range(3..40));
        let a = shapes::polygon(&starlike(rng, sizes.0, 30.0)).moved(point(rng, 20.0));
        let b = shapes::polygon(&starlike(rng, sizes.1, 30.0)).moved(point(rng, 20.0));
        let (ga, gb) = (to_geo(&a), to_geo(&b));
        let area = |r: Option<Region>| r.map_or(0.0, |r| r.area());
        // 1e-4 mm²: geo snaps to a grid of its own.
        close(area(boolean::union(&a, &b)), ga.union(&gb).unsigned_area(), 1e-4);
        close(area(boolean::intersection(&a, &b)), ga.intersection(&gb).unsigned_area(), 1e-4);
        close(area(boolean::difference(&a, &b)), ga.difference(&gb).unsigned_area(), 1e-4);
    }
}

#[test]
fn areas_add_up_and_points_agree_on_regions_with_arcs_and_holes() {
    for seed in 0..120 {
        let rng = &mut random(1000 + seed);
        let (a, b) = (region(rng), region(rng));
        let area = |r: &Option<Region>| r.as_ref().map_or(0.0, Region::area);
        let (u, i) = (boolean::union(&a, &b), boolean::intersection(&a, &b));
        let (d, e) = (boolean::difference(&a, &b), boolean::difference(&b, &a));
        // Flattened by 0.001 mm along some of the edges, within.
        let lost = 0.002 * (a.perimeter() + b.perimeter());
        close(area(&u), a.area() + b.area() - area(&i), lost);
        close(area(&d), a.area() - area(&i), lost);
        close(area(&e), b.area() - area(&i), lost);
        let (wa, wb) = (Walls::new(&a, |_| 0.0), Walls::new(&b, |_| 0.0));
        for _ in 0..200 {
            let p = point(rng, 50.0);
            let (room_a, room_b) = (wa.room(p), wb.room(p));
            if room_a.abs().min(room_b.abs()) < 0.0015 {
                continue;
            }
            let (in_a, in_b) = (room_a > 0.0, room_b > 0.0);
            let holds = |r: &Option<Region>| r.as_ref().is_some_and(|r| r.contains(p));
            assert_eq!(holds(&u), in_a || in_b, "seed {seed} at {p:?}");
            assert_eq!(holds(&i), in_a && in_b, "seed {seed} at {p:?}");
            assert_eq!(holds(&d), in_a && !in_b, "seed {seed} at {p:?}");
        }
    }
}

#[test]
fn results_never_reach_beyond_the_true_region() {
    for seed in 0..60 {
        let rng = &mut random(2000 + seed);
        let (a, b) = (region(rng), region(rng));
        let corner = |r: &Region| r.segments().map(|s| s.point_at(0.5)).collect::<Vec<_>>();
        let (wa, wb) = (Walls::new(&a, |_| 0.0), Walls::new(&b, |_| 0.0));
        for p in boolean::difference(&a, &b).iter().flat_map(corner) {
            assert!(wa.room(p) >= -1e-7 && wb.room(p) <= 1e-7, "seed {seed} at {p:?}");
        }
        for p in boolean::intersection(&a, &b).iter().flat_map(corner) {
            assert!(wa.room(p) >= -1e-7 && wb.room(p) >= -1e-7, "seed {seed} at {p:?}");
        }
    }
}

#[test]
fn arcs_stay_exact_where_edges_do_not_meet() {
    let blank = shapes::circle(60.0).tagged(3);
    let inner = shapes::circle(20.0).moved(Point::new(5.0, 2.0)).tagged(7);
    let ring = boolean::difference(&blank, &inner).expect("a ring");
    close(ring.area(), PI * (900.0 - 100.0), 1e-9);
    assert!(ring.segments().all(|s| matches!(s.curve, Curve::Arc { .. })));
    assert_eq!(ring.segments().map(|s| s.tag).collect::<Vec<_>>(), [3, 3, 7, 7]);
    close(boolean::intersection(&blank, &inner).expect("inner").area(), 100.0 * PI, 1e-9);
    close(boolean::union(&blank, &inner).expect("blank").area(), 900.0 * PI, 1e-9);
    assert_eq!(boolean::difference(&inner, &blank), None);
    let apart = shapes::circle(10.0).moved(Point::new(100.0, 0.0));
    assert_eq!(boolean::intersection(&blank, &apart), None);
    assert_eq!(boolean::union(&blank, &apart).expect("two").rings().len(), 2);
    // Cutting with a region that has a hole around another hole leaves an island.
    let target = with_holes(&blank, &[(Point::ORIGIN, 25.0)]);
    let island = boolean::difference(&shapes::circle(80.0), &target).expect("two parts");
    close(island.area(), PI * (1600.0 - 900.0 + 625.0), 1e-9);
}

#[test]
fn tags_follow_the_edges_through_crossings() {
    let a = shapes::rectangle(40.0, 20.0).tagged(0);
    let b = shapes::circle(16.0).moved(Point::new(20.0, 0.0)).tagged(1);
    let rest = boolean::difference(&a, &b).expect("bitten");
    let (mut own, mut shared) = (0.0, 0.0);
    for s in rest.segments() {
        let to_circle = (s.point_at(0.5).distance(Point::new(20.0, 0.0)) - 8.0).abs();
        assert_eq!(s.tag == 1, to_circle < 0.002, "{s:?}");
        *(if s.tag == 1 { &mut shared } else { &mut own }) += s.length();
    }
    close(shared, 8.0 * PI, 1e-2);
    close(own, 40.0 + 40.0 + 20.0 + 4.0, 1e-2);
}

#[test]
fn collinear_edges_with_different_tags_stay_apart() {
    let a = shapes::rectangle(40.0, 20.0).tagged(0);
    let b = shapes::rectangle(10.0, 20.0).moved(Point::new(25.0, 0.0)).tagged(1);
    let both = boolean::union(&a, &b).expect("longer");
    close(both.area(), 50.0 * 20.0, 1e-9);
    let b_length: f64 = both.segments().filter(|s| s.tag == 1).map(|s| s.length()).sum();
    close(b_length, 10.0 + 20.0 + 10.0, 1e-6);
    // Where edges of both coincide, those of the first region count.
    let same = boolean::intersection(&a, &a.tagged(1)).expect("itself");
    assert!(same.segments().all(|s| s.tag == 0));
    close(same.area(), 800.0, 1e-9);
    assert_eq!(boolean::difference(&a, &a), None);
}

#[test]
fn steiner_gives_the_area_of_an_outset() {
    // Steiner 1840: area A + P·d + π·d² and perimeter P + 2π·d for every convex region.
    let convex = [
        shapes::rectangle(60.0, 40.0),
        shapes::circle(50.0),
        shapes::regular_polygon(3, 40.0),
        shapes::regular_polygon(7, 30.0),
        shapes::rounded_rectangle(60.0, 40.0, 5.0),
        shapes::ellipse(60.0, 35.0, shapes::Side::Inside),
    ];
    for region in convex {
        for d in [0.5, 3.0, 11.0] {
            let grown = boolean::outset(&region, d, 4).expect("larger");
            let p = region.perimeter();
            // The edge errs by 0.003 mm at most.
            close(grown.area(), region.area() + p * d + PI * d * d, 0.003 * grown.perimeter());
            close(grown.perimeter(), p + 2.0 * PI * d, 0.01);
            assert!(grown.segments().all(|s| s.tag == 4));
        }
    }
}

#[test]
fn the_inset_of_a_rectangle_is_a_rectangle() {
    let inset = boolean::inset(&shapes::rectangle(60.0, 40.0), 2.5, 9).expect("smaller");
    close(inset.area(), 55.0 * 35.0, 1e-6);
    assert_eq!(inset.segments().count(), 4);
    assert!(inset.segments().all(|s| s.tag == 9));
    assert_eq!(boolean::inset(&shapes::rectangle(60.0, 40.0), 20.0, 0), None);
    let same = boolean::inset(&shapes::heart(40.0, 35.0), 0.0, 1).expect("itself");
    assert_eq!(same, shapes::heart(40.0, 35.0).tagged(1));
}

#[test]
fn a_neck_parts_and_a_hole_grows() {
    let bone = points(&[
        (0.0, 0.0),
        (10.0, 0.0),
        (10.0, 4.0),
        (20.0, 4.0),
        (20.0, 0.0),
        (30.0, 0.0),
        (30.0, 10.0),
        (20.0, 10.0),
        (20.0, 6.0),
        (10.0, 6.0),
        (10.0, 10.0),
        (0.0, 10.0),
    ]);
    let parts = boolean::inset(&shapes::polygon(&bone), 1.5, 0).expect("two squares");
    assert_eq!(parts.rings().len(), 2);
    // By hand: 7 × 7 each, and what the round corners leave open before the neck.
    let open = 3.0 - (1.25f64.sqrt() + 2.25 * libm::asin(1.0 / 1.5));
    close(parts.area(), 2.0 * (49.0 + open), 0.003 * parts.perimeter());
    let holed = with_holes(&shapes::rectangle(60.0, 40.0), &[(Point::ORIGIN, 5.0)]);
    let inset = boolean::inset(&holed, 2.0, 0).expect("smaller");
    close(inset.area(), 56.0 * 36.0 - 49.0 * PI, 0.003 * inset.perimeter());
}

#[test]
fn offsets_keep_their_distance_and_reach_it() {
    for seed in 0..80 {
        let rng = &mut random(3000 + seed);
        let mut region = region(rng);
        while region.segments().count() > 1000 {
            // A thousand spikes, outset, cross one another a million times.
            region = crate::support::region(rng);
        }
        let d = rng.random_range(0.2..4.0);
        let walls = Walls::new(&region, |_| 0.0);
        if let Some(inset) = boolean::inset(&region, d, 0) {
            for s in inset.segments() {
                close(walls.room(s.from), d, 0.003);
            }
        }
        let outset = boolean::outset(&region, d, 0).expect("larger");
        for s in outset.segments() {
            close(walls.room(s.from), -d, 0.003);
        }
        for _ in 0..100 {
            let p = point(rng, 60.0);
            let room = walls.room(p);
            if (room + d).abs() > 0.004 {
                assert_eq!(outset.contains(p), room > -d);
            }
        }
    }
}

#[test]
fn insets_of_arcs_agree_with_cavalier_contours() {
    // Oracle: exact arc offsets by the `cavalier_contours` crate.
    use cavalier_contours::polyline::{PlineSource, PlineSourceMut, Polyline};
    let shapes = [
        shapes::heart(50.0, 45.0),
        shapes::rounded_rectangle(60.0, 40.0, 7.0),
        shapes::circle(30.0),
        shapes::star(6, 50.0, 0.6),
    ];
    for region in shapes {
        let mut line = Polyline::new_closed();
        for s in &region.rings()[0].segments {
            line.add(s.from.x, s.from.y, libm::tan(s.sweep() / 4.0));
        }
        for d in [0.3, 1.0, 2.5, 5.0] {
            let exact: f64 = line.parallel_offset(d).iter().map(|p| p.area()).sum();
            let ours = boolean::inset(&region, d, 0).map_or(0.0, |r| r.area());
            close(ours, exact, 0.003 * region.perimeter());
        }
    }
}

#[test]
fn flattening_stays_on_its_side() {
    use shapes::Side;
    for seed in 0..40 {
        let rng = &mut random(4000 + seed);
        let region = region(rng);
        let within = boolean::flattened(&region, 0.01, Side::Inside).expect("within");
        let around = boolean::flattened(&region, 0.01, Side::Outside).expect("around");
        assert!(within.segments().chain(around.segments()).all(|s| s.curve == Curve::Line));
        let walls = Walls::new(&region, |_| 0.0);
        for (flat, sign) in [(&within, 1.0), (&around, -1.0)] {
            for s in flat.segments() {
                for t in [0.0, 0.25, 0.5, 0.75] {
                    let gap = sign * walls.room(s.point_at(t));
                    assert!((-1e-9..0.010_001).contains(&gap), "seed {seed}: {gap}");
                }
            }
        }
        assert!(within.area() <= region.area() && region.area() <= around.area());
    }
}

#[test]
fn a_crowded_outline_is_quick_enough() {
    let rng = &mut random(5);
    let a = shapes::polygon(&starlike(rng, 2000, 30.0));
    let b = Region::new(vec![circle_ring(Point::ORIGIN, 20.0)]).expect("circle");
    let cut = boolean::intersection(&a, &b).expect("overlap");
    assert!(cut.area() < a.area().min(b.area()));
}
