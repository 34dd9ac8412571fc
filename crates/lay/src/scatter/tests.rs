//! What every scatter promises.

use super::{ScatterSize, scatter};
use crate::Unwatched;
use crate::seat::Seat;
use geometry::{Point, Region, Walls, shapes};

/// The mix of the speed and coverage targets: (diameter mm, share).
const MIX: &[(f64, f64)] = &[(6.4, 0.1), (4.7, 0.2), (3.9, 0.3), (2.8, 0.4)];

fn sizes(mix: &[(f64, f64)]) -> Vec<ScatterSize> {
    mix.iter().map(|&(d, share)| ScatterSize { radius: d / 2.0, share }).collect()
}

fn lay(region: &Region, mix: &[(f64, f64)], keep: f64, seed: u64) -> Vec<Seat> {
    let walls = Walls::new(region, |_| keep);
    scatter(region, &walls, &sizes(mix), true, seed, &Unwatched).unwrap().seats
}

fn coverage(seats: &[Seat], mix: &[(f64, f64)], region: &Region) -> f64 {
    let area = |s: &Seat| std::f64::consts::PI / 4.0 * mix[s.size].0 * mix[s.size].0;
    seats.iter().map(area).sum::<f64>() / region.area()
}

/// The slow twin: every pair, every segment.
fn assert_fits(seats: &[Seat], mix: &[(f64, f64)], region: &Region, keep: f64) {
    let r = |s: &Seat| mix[s.size].0 / 2.0;
    for (i, a) in seats.iter().enumerate() {
        let room = region.clearance(a.centre) - keep;
        assert!(room >= r(a) - 1e-6, "stone {i} leaves the region by {}", r(a) - room);
        for b in &seats[..i] {
            let gap = a.centre.distance(b.centre) - r(a) - r(b);
            assert!(gap >= -1e-6, "overlap of {gap} at {:?}", a.centre);
        }
    }
}

#[test]
fn the_target_mix_covers_and_holds_its_shares() {
    let region = shapes::rectangle(300.0, 200.0);
    for seed in 0..5 {
        let seats = lay(&region, MIX, 0.0, seed);
        assert_fits(&seats, MIX, &region, 0.0);
        let covered = coverage(&seats, MIX, &region);
        assert!(covered >= 0.845, "seed {seed}: {covered}");
        for (size, &(_, share)) in MIX.iter().enumerate() {
            let n = seats.iter().filter(|s| s.size == size).count() as f64;
            assert!((n / seats.len() as f64 - share).abs() <= 0.02);
        }
    }
}

/// Every part of the zone's coverage promise, by sampling: nowhere does `radius` still fit.
fn assert_full(seats: &[Seat], mix: &[(f64, f64)], region: &Region, keep: f64, radius: f64) {
    let walls = Walls::new(region, |_| keep);
    let b = region.bounds();
    for i in 0..120 {
        for j in 0..120 {
            let at = |k: i32, lo: f64, w: f64| lo + w * (f64::from(k) + 0.5) / 120.0;
            let p = Point::new(at(i, b.min.x, b.width()), at(j, b.min.y, b.height()));
            let gap = |s: &Seat| s.centre.distance(p) - mix[s.size].0 / 2.0;
            let free = seats.iter().map(gap).fold(walls.room(p), f64::min);
            assert!(free < radius + 1e-6, "a stone of radius {radius} still fits at {p:?}");
        }
    }
}

fn with_hole(outside: &Region, hole: &Region) -> Region {
    let mut rings = outside.rings().to_vec();
    rings.extend(hole.rings().iter().map(geometry::Ring::reversed));
    Region::new(rings).unwrap()
}

/// Outlines as real ones are: concave, curved, with holes, in parts, with a thousand corners.
fn outlines() -> Vec<(&'static str, Region)> {
    let lantern = shapes::heart(70.0, 60.0);
    let two = [shapes::star(5, 60.0, 0.4), shapes::circle(25.0).moved(Point::new(50.0, 3.0))];
    let rings = two.iter().flat_map(|r| r.rings().to_vec()).collect();
    let dumbbell = shapes::polygon(&[
        Point::new(-30.0, -10.0),
        Point::new(-8.0, -10.0),
        Point::new(-4.0, -1.6),
        Point::new(4.0, -1.6),
        Point::new(8.0, -10.0),
        Point::new(30.0, -10.0),
        Point::new(30.0, 10.0),
        Point::new(8.0, 10.0),
        Point::new(4.0, 1.6),
        Point::new(-4.0, 1.6),
        Point::new(-8.0, 10.0),
        Point::new(-30.0, 10.0),
    ]);
    let wave = |i: u32| {
        let a = std::f64::consts::TAU * f64::from(i) / 2000.0;
        Point::unit(a) * (30.0 + 4.0 * libm::sin(9.0 * a))
    };
    vec![
        ("rounded", shapes::rounded_rectangle(60.0, 40.0, 8.0)),
        ("drum hoop", with_hole(&shapes::circle(80.0), &shapes::circle(46.0))),
        ("heart with a star cut out", with_hole(&lantern, &shapes::star(5, 24.0, 0.5))),
        ("two parts", Region::new(rings).unwrap()),
        ("neck", dumbbell),
        ("2,000 corners", shapes::polygon(&(0..2000).map(wave).collect::<Vec<_>>())),
    ]
}

#[test]
fn every_outline_is_covered_and_holds_its_shares() {
    for (name, region) in outlines() {
        for keep in [0.5, -0.1] {
            let seats = lay(&region, MIX, keep, 7);
            assert_fits(&seats, MIX, &region, keep);
            assert!(coverage(&seats, MIX, &region) > 0.62, "{name}");
            let count = super::shares::count(seats.iter().map(|s| s.size), MIX.len());
            let miss = super::shares::Shares::new(&sizes(MIX)).miss(&count);
            assert!(miss <= 1.0, "{name}: {count:?}");
            assert_full(&seats, MIX, &region, keep, 1.4);
        }
    }
}

#[test]
fn moderate_mixes_of_one_to_eight_sizes_hold_their_shares() {
    let mixes: [&[(f64, f64)]; 7] = [
        &[(3.0, 1.0)],
        &[(4.0, 0.5), (5.0, 0.5)],
        &[(4.0, 0.5), (4.2, 0.5)],
        &[(3.0, 0.7), (6.0, 0.3)],
        &[(2.0, 0.5), (6.0, 0.5)],
        &[(2.0, 0.9), (6.0, 0.1)],
        &[
            (2.0, 0.15),
            (2.5, 0.15),
            (3.0, 0.15),
            (3.5, 0.15),
            (4.0, 0.1),
            (4.5, 0.1),
            (5.0, 0.1),
            (6.0, 0.1),
        ],
    ];
    let region = shapes::rectangle(120.0, 80.0);
    for mix in mixes {
        let seats = lay(&region, mix, 0.0, 3);
        assert_fits(&seats, mix, &region, 0.0);
        let n = seats.len() as f64;
        for (size, &(d, share)) in mix.iter().enumerate() {
            let got = seats.iter().filter(|s| s.size == size).count() as f64;
            assert!((got - share * n).abs() <= (0.02 * n).max(1.0), "{d} mm: {got} of {n}");
        }
    }
}

#[test]
fn one_size_is_denser_than_chance_and_no_denser_than_oler_allows() {
    // Random sequential addition jams at 0.547 (J. Stat. Phys. 166 (2017) 39). No set of equal
    // discs beats π/√12 = 0.9069 (Thue 1910, Fejes Tóth 1943); near an edge, Oler 1961 (from
    // memory): points at least 1 apart in a convex region of area A and perimeter P number at
    // most 2A/√3 + P/2 + 1.
    let one = [(3.0, 1.0)];
    for (w, h) in [(120.0, 80.0), (31.0, 24.0), (200.0, 7.0)] {
        let region = shapes::rectangle(w, h);
        let n = lay(&region, &one, 0.0, 1).len() as f64;
        let (cw, ch) = ((w - 3.0) / 3.0, (h - 3.0) / 3.0);
        assert!(n <= 2.0 * cw * ch / 3.0_f64.sqrt() + cw + ch + 1.0);
    }
    let region = shapes::rectangle(300.0, 200.0);
    let covered = coverage(&lay(&region, &one, 0.0, 1), &one, &region);
    assert!(covered > 0.74 && covered < 0.9069, "{covered}");
}

#[test]
fn one_size_does_not_fall_into_rows() {
    // The bond-orientational order |⟨e^{6iθ}⟩| over all neighbour directions is 1 for a honeycomb
    // and near 0 without a common direction (Nelson, Halperin 1979).
    let seats = lay(&shapes::rectangle(200.0, 150.0), &[(3.0, 1.0)], 0.0, 1);
    let (mut sum, mut n) = (Point::ORIGIN, 0.0);
    for a in &seats {
        for b in seats.iter().filter(|b| b.centre.distance(a.centre) < 4.2 && *b != a) {
            sum = sum + Point::unit(6.0 * (b.centre - a.centre).angle());
            n += 1.0;
        }
    }
    assert!(sum.norm() / n < 0.35, "{}", sum.norm() / n);
}

#[test]
fn sizes_do_not_clump() {
    // Of the contacts of a well-mixed lay, those between two stones of the largest size are not
    // much more than chance would give: the share of that size among all ends of contacts, squared.
    let seats = lay(&shapes::rectangle(300.0, 200.0), MIX, 0.0, 1);
    let (mut ends, mut alike, mut all) = (0.0, 0.0, 0.0);
    for (i, a) in seats.iter().enumerate() {
        for b in &seats[..i] {
            let touch = (MIX[a.size].0 + MIX[b.size].0) / 2.0 + 0.3;
            if (a.centre - b.centre).norm2() < touch * touch {
                let largest = usize::from(a.size == 0) + usize::from(b.size == 0);
                all += 1.0;
                ends += largest as f64;
                alike += f64::from(largest == 2);
            }
        }
    }
    let chance = (ends / (2.0 * all)) * (ends / (2.0 * all));
    assert!(alike / all < 1.5 * chance, "{} against {chance}", alike / all);
}

#[test]
fn a_few_large_stones_among_many_small_ones_are_spread_over_the_region() {
    // Equal stones crystallise and push the others into heaps; a check of our own, in squares.
    let mix = [(4.0, 0.92), (6.0, 0.08)];
    let seats = lay(&shapes::rectangle(240.0, 180.0), &mix, 0.0, 1);
    let mut large = [0usize; 12];
    for s in seats.iter().filter(|s| s.size == 1) {
        let (x, y) = ((s.centre.x + 120.0) / 60.0, (s.centre.y + 90.0) / 60.0);
        large[y as usize * 4 + x as usize] += 1;
    }
    let mean = large.iter().sum::<usize>() / 12;
    assert!(large.iter().all(|&n| 3 * n > mean && n < 3 * mean), "{large:?}");
}

#[test]
fn tiny_regions_take_none_one_or_two() {
    let two = [(3.0, 0.5), (2.0, 0.5)];
    assert_eq!(lay(&shapes::circle(1.9), &two, 0.0, 1).len(), 0);
    assert_eq!(lay(&shapes::circle(2.0), &two, 0.0, 1).len(), 1);
    assert_eq!(lay(&shapes::rectangle(2.0, 2.0), &two, 0.0, 1).len(), 1);
    assert_eq!(lay(&shapes::rectangle(4.0, 2.0), &two, 0.0, 1).len(), 2);
    // Room for one of 3 mm or one of 2 mm, once the margin is kept.
    assert_eq!(lay(&shapes::circle(4.2), &two, 0.5, 1).len(), 1);
    assert_eq!(lay(&shapes::circle(30.0), &[], 0.0, 1).len(), 0);
}

#[test]
fn a_size_that_fits_nowhere_leaves_the_others_their_proportion() {
    let mix = [(30.0, 0.2), (3.0, 0.4), (2.0, 0.4)];
    let region = shapes::rectangle(60.0, 20.0);
    let seats = lay(&region, &mix, 0.0, 1);
    let count = super::shares::count(seats.iter().map(|s| s.size), 3);
    assert_eq!(count[0], 0);
    let n = seats.len() as f64;
    assert!((count[1] as f64 / n - 0.5).abs() <= 0.02, "{count:?}");
    assert_fits(&seats, &mix, &region, 0.0);
}

#[test]
fn a_hole_is_ringed() {
    let region = with_hole(&shapes::circle(80.0), &shapes::circle(30.0));
    let seats = lay(&region, MIX, 0.0, 4);
    let on = |s: &&Seat| (s.centre.norm() - 15.0 - MIX[s.size].0 / 2.0).abs() < 1e-6;
    let mut at: Vec<(f64, f64)> =
        seats.iter().filter(on).map(|s| (s.centre.angle(), MIX[s.size].0 / 2.0)).collect();
    at.sort_by(|a, b| a.0.total_cmp(&b.0));
    let n = at.len();
    assert!(n > 15);
    let open = |i: usize| {
        let (a, b) = (at[i], at[(i + 1) % n]);
        let apart = (Point::unit(a.0) * (15.0 + a.1)).distance(Point::unit(b.0) * (15.0 + b.1));
        apart - a.1 - b.1
    };
    // Touching all the way round but for the one place where the ring closes.
    let gaps: Vec<f64> = (0..n).map(open).filter(|&g| g > 1e-6).collect();
    assert!(gaps.len() <= 1 && gaps.iter().all(|&g| g < 2.0), "{gaps:?}");
}

#[test]
fn the_same_seed_gives_the_same_lay_and_another_one_another() {
    let region = shapes::heart(60.0, 50.0);
    let a = lay(&region, MIX, 0.0, 1);
    assert_eq!(a, lay(&region, MIX, 0.0, 1));
    let b = lay(&region, MIX, 0.0, 2);
    let same = a.iter().filter(|s| b.iter().any(|t| s.centre.distance(t.centre) < 0.1)).count();
    assert!(same * 10 < a.len(), "{same} of {} stones stayed", a.len());
}

#[test]
fn rows_are_numbered_from_one_without_gaps() {
    let seats = lay(&shapes::star(5, 90.0, 0.4), MIX, 0.0, 1);
    assert_eq!(seats[0].row, 1);
    assert!(seats.windows(2).all(|w| w[1].row == w[0].row || w[1].row == w[0].row + 1));
}

#[test]
fn a_watcher_stops_it() {
    struct Impatient;
    impl crate::Watch for Impatient {
        fn step(&self, _: &str, _: usize, _: usize) {}
        fn stopped(&self) -> bool {
            true
        }
    }
    let region = shapes::circle(50.0);
    let walls = Walls::new(&region, |_| 0.0);
    assert!(scatter(&region, &walls, &sizes(MIX), true, 1, &Impatient).is_err());
}

mod laws {
    use super::*;
    use proptest::prelude::*;

    fn any_outline() -> impl Strategy<Value = Region> {
        (3u32..9, 20.0..60.0f64, 0.25..0.9f64, 0.0..6.0f64, any::<bool>()).prop_map(
            |(points, across, inner, turn, holed)| {
                let star = shapes::star(points, across, inner).turned(turn);
                let hole = shapes::circle(across * inner * 0.5);
                if holed { with_hole(&star, &hole) } else { star }
            },
        )
    }

    fn any_mix() -> impl Strategy<Value = Vec<(f64, f64)>> {
        proptest::collection::vec((1.5..8.0f64, 0.1..1.0f64), 1..6).prop_map(|mix| {
            let sum: f64 = mix.iter().map(|m| m.1).sum();
            mix.into_iter().map(|(d, share)| (d, share / sum)).collect()
        })
    }

    proptest! {
        #![proptest_config(ProptestConfig {
            cases: 64,
            failure_persistence: None,
            rng_seed: proptest::test_runner::RngSeed::Fixed(1),
            ..ProptestConfig::default()
        })]

        #[test]
        fn stones_fit_and_are_in_order(
            region in any_outline(), mix in any_mix(), keep in -0.3..1.0f64, seed in any::<u64>(),
        ) {
            let seats = lay(&region, &mix, keep, seed);
            assert_fits(&seats, &mix, &region, keep);
            prop_assert!(seats.windows(2).all(|w| w[0].row <= w[1].row));
            prop_assert_eq!(&seats, &lay(&region, &mix, keep, seed));
        }

        #[test]
        fn a_moved_region_gives_a_moved_lay(
            region in any_outline(), mix in any_mix(), x in -500.0..500.0f64, y in -500.0..500.0f64,
        ) {
            let by = Point::new(x, y);
            let (a, b) = (lay(&region, &mix, 0.2, 1), lay(&region.moved(by), &mix, 0.2, 1));
            prop_assert_eq!(a.len(), b.len());
            for s in &a {
                let near = |t: &&Seat| t.size == s.size && (s.centre + by).distance(t.centre) < 1e-6;
                prop_assert!(b.iter().any(|t| near(&t)), "{:?}", s.centre);
            }
        }

        #[test]
        fn a_region_twice_as_large_takes_stones_twice_as_large(region in any_outline(), mix in any_mix()) {
            let twice: Vec<(f64, f64)> = mix.iter().map(|m| (m.0 * 2.0, m.1)).collect();
            let (a, b) = (lay(&region, &mix, 0.25, 1), lay(&region.scaled(2.0), &twice, 0.5, 1));
            prop_assert_eq!(a.len(), b.len());
            for (s, t) in a.iter().zip(&b) {
                prop_assert!(s.size == t.size && (s.centre * 2.0).distance(t.centre) < 1e-6);
            }
        }
    }
}
