//! Against values from outside the project; the source stands beside each.

use crate::support::{kind, lay, piece, zone};
use geometry::{Disc, DiscGrid, Point, Region, Walls, boolean, shapes, spots};
use lay::{Along, Arrangement, Rings, Rows, Scatter, sizes};
use std::f64::consts::PI;

const HONEYCOMB: Arrangement = Arrangement::Honeycomb(Rows::Locked(Along::Bottom));
const SQUARE: Arrangement = Arrangement::Square(Rows::Locked(Along::Bottom));
const MOST: Arrangement = Arrangement::Honeycomb(Rows::Most { steps: 600 });
const RINGS: Arrangement = Arrangement::Rings(Rings {
    centre: None,
    staggered: false,
    nested: false,
    around_holes: false,
});
const SCATTER: Arrangement = Arrangement::Scatter(Scatter { ring_holes: true });

/// How many stones of `diameter`, set by touch, an arrangement puts into a region.
fn count(region: Region, arrangement: Arrangement, diameter: f64) -> usize {
    lay(&piece(vec![kind(diameter, diameter)], vec![zone(region, arrangement, &[1.0])]))
        .stones
        .len()
}

/// The density that growing rectangles tend to. What an edge costs is proportional to its length:
/// N·π/4·d² = ρA − cP; two sizes of one form give ρ.
fn density_at_infinity(arrangement: Arrangement, rise: f64, rows: [f64; 2]) -> f64 {
    let [a, b] = rows.map(|n| {
        // A whole number of rows and of stones, so that nothing is left over at the far edges.
        let (w, h) = ((1.0 + (n - 1.0) * rise).round(), 1.0 + (n - 1.0) * rise);
        let n = count(shapes::rectangle(w, h), arrangement, 1.0) as f64;
        (n * PI / 4.0, w * h, 2.0 * (w + h))
    });
    (b.0 * a.2 - a.0 * b.2) / (b.1 * a.2 - a.1 * b.2)
}

#[test]
fn densities_tend_to_the_closed_forms() {
    // π/√12: Thue 1910, Fejes Tóth 1943. π/4: closed form of the square lattice.
    let honeycomb = density_at_infinity(HONEYCOMB, 3.0_f64.sqrt() / 2.0, [101.0, 401.0]);
    assert!((honeycomb / (PI / 12.0_f64.sqrt()) - 1.0).abs() < 1e-3, "{honeycomb}");
    let square = density_at_infinity(SQUARE, 1.0, [100.0, 300.0]);
    assert!((square / (PI / 4.0) - 1.0).abs() < 1e-3, "{square}");
}

#[test]
fn stones_per_square_inch_agree_with_the_trade_tables() {
    // Two trade tables of stones per square inch: SS12 67.14 and 67; SS16 42.41; SS20 29.20 and
    // 30; SS30 15.68. Touching square grid at the mid diameter, counted on 40 × 40 in so that the
    // edge does not matter (0.2 % table, 0.5 % edge).
    for (ss, table) in [(12, 67.14), (16, 42.41), (20, 29.20), (30, 15.68)] {
        let (least, most) = sizes::round(ss).unwrap();
        let d = (least + most) / 2.0;
        let side = 40.0 * 25.4;
        let n = count(shapes::rectangle(side, side), SQUARE, d) as f64 / 1600.0;
        assert!((n / table - 1.0).abs() < 0.008, "SS{ss}: {n} against {table}");
        // Honeycomb is 2/√3 times as many: closed form.
        let h = count(shapes::rectangle(side, side), HONEYCOMB, d) as f64 / 1600.0;
        assert!((h / n / (2.0 / 3.0_f64.sqrt()) - 1.0).abs() < 0.008, "SS{ss}: {h}");
    }
}

/// The largest bare spot of a lay far from its edges.
fn pocket(arrangement: Arrangement) -> f64 {
    let zone = zone(shapes::rectangle(30.0, 30.0), arrangement, &[1.0]);
    let laid = lay(&piece(vec![kind(2.0, 2.0)], vec![zone]));
    let disc = |s: &lay::Stone| Disc { centre: s.place.point(), radius: 1.0 };
    let discs = DiscGrid::new(laid.stones.iter().map(disc).collect());
    let inner = Walls::new(&shapes::rectangle(12.0, 12.0), |_| 0.0);
    2.0 * spots::largest(&inner, &discs, 1)[0].radius
}

#[test]
fn pockets_have_the_size_that_descartes_theorem_gives() {
    // Descartes' theorem: between three touching stones (2/√3 − 1)·d, between four in a square
    // (√2 − 1)·d; closed forms.
    assert!((pocket(HONEYCOMB) / 2.0 - (2.0 / 3.0_f64.sqrt() - 1.0)).abs() < 1e-6);
    assert!((pocket(SQUARE) / 2.0 - (2.0_f64.sqrt() - 1.0)).abs() < 1e-6);
}

#[test]
fn counts_in_a_circle_never_beat_the_record() {
    // Most unit circles in a circle of radius n: OEIS A023393.
    let most = [1, 2, 7, 11, 19, 27, 38, 50, 64, 80, 98, 118];
    for (i, &most) in most.iter().enumerate() {
        let circle = || shapes::circle(2.0 * (i as f64 + 1.0));
        for arrangement in [HONEYCOMB, SQUARE, MOST, RINGS, SCATTER] {
            let n = count(circle(), arrangement, 2.0);
            assert!(n <= most, "radius {}: {n} > {most} by {arrangement:?}", i + 1);
            assert!(n > 0, "radius {}: nothing by {arrangement:?}", i + 1);
        }
        // Seven in a circle of radius 3, 19 in one of 5 are the honeycomb itself and its rings.
        if i + 1 == 3 {
            assert_eq!(count(circle(), RINGS, 2.0), 7);
        }
    }
}

#[test]
fn counts_never_beat_oler_or_voronoi() {
    // Oler 1961 (from memory): points 1 apart in a convex region number at most
    // 2A/√3 + P/2 + 1. Voronoi ceiling (truncated cell, Fejes Tóth; from memory):
    // N ≤ area(region of centres grown by 2r/√3) / (2√3 r²).
    for (w, h, d) in [(60.0, 40.0, 2.6), (31.0, 7.7, 1.9), (17.3, 17.3, 4.7)] {
        let (cw, ch) = (w - d, h - d);
        let oler = 2.0 * cw * ch / 3.0_f64.sqrt() / (d * d) + (cw + ch) / d + 1.0;
        let centres = shapes::rectangle(cw, ch);
        let grown = boolean::outset(&centres, d / 3.0_f64.sqrt(), 0).unwrap().area();
        let voronoi = grown / (2.0 * 3.0_f64.sqrt() * d * d / 4.0);
        for arrangement in [HONEYCOMB, SQUARE, MOST, RINGS, SCATTER] {
            let n = count(shapes::rectangle(w, h), arrangement, d) as f64;
            assert!(n <= oler + 1e-9, "{n} > Oler's {oler} by {arrangement:?}");
            assert!(n <= voronoi + 1e-9, "{n} > Voronoi's {voronoi} by {arrangement:?}");
        }
    }
}

#[test]
fn scatters_are_denser_than_chance_and_no_denser_than_the_honeycomb() {
    // Random sequential addition jams at 0.547 (J. Stat. Phys. 166 (2017) 39); π/√12 is the
    // ceiling for equal discs (Thue 1910).
    let d = 2.0;
    let n = count(shapes::rectangle(200.0, 200.0), SCATTER, d) as f64;
    let density = n * PI / 4.0 * d * d / 40_000.0;
    assert!(density > 0.70 && density < PI / 12.0_f64.sqrt(), "{density}");
}

#[test]
fn a_small_stone_finds_its_way_through_a_wall_of_centres() {
    // A planted answer: one stone's room, to the last 1e-9 mm.
    let region = shapes::rectangle(2.0, 2.0).moved(Point::new(5.0, 3.0));
    for arrangement in [HONEYCOMB, SQUARE, MOST, RINGS, SCATTER] {
        assert_eq!(count(region.clone(), arrangement, 2.0), 1, "{arrangement:?}");
    }
}
