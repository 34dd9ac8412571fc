//! What every trial of the hand model promises.

use super::*;
use crate::{
    Arrangement, Chart, Colour, Colouring, EDGE_OWN, Finish, Gauge, MixPart, Scatter, Shape,
    Unwatched,
};
use geometry::{Region, boolean, shapes};
use proptest::prelude::*;

/// The mix of the outside check: (diameter mm, share).
const MIX: &[(f64, f64)] = &[(6.4, 0.1), (4.7, 0.2), (3.9, 0.3), (2.8, 0.4)];

fn piece(region: Region, mix: &[(f64, f64)]) -> Piece {
    let kind = |&(d, _): &(f64, f64)| Kind {
        name: format!("{d} mm"),
        shape: Shape::Round,
        size: format!("{d} mm"),
        // Larger than the mean by far: a hand must not go by it.
        fit_mm: d + 0.7,
        reach_mm: d,
        spread_mm: 0.0,
        colour: Colour(40, 120, 160),
        finish: Finish::Foiled,
    };
    let part = |(kind, m): (usize, &(f64, f64))| MixPart { kind, share: m.1, rows: 1 };
    let zone = Zone {
        name: "badge".into(),
        region: region.clone(),
        arrangement: Arrangement::Scatter(Scatter { ring_holes: true }),
        colouring: Colouring::Plain,
        mix: mix.iter().enumerate().map(part).collect(),
        fillers: vec![],
        spacing_mm: 0.0,
        margin_mm: 0.0,
        gauge: Gauge::Fit,
        seed: 1,
    };
    Piece {
        name: "badge".into(),
        chart: Chart::Plane,
        blank: region,
        blank_colour: Colour(240, 240, 240),
        kinds: mix.iter().map(kind).collect(),
        zones: vec![zone],
        changes: vec![],
    }
}

/// The stones themselves of one trial.
fn stones(piece: &Piece, sloppy: f64, seed: u64) -> Vec<(Point, usize)> {
    let zone = &piece.zones[0];
    let keep = keep(zone);
    let walls = Walls::new(&zone.region, |tag| keep[usize::from(tag).min(2)]);
    let edges = Edges::new(&zone.region, &walls);
    let table = Table::new(zone, &piece.kinds, vec![], &walls, &edges, seed, &Unwatched).unwrap();
    table.trial(seed, 0, sloppy, &Unwatched).unwrap()
}

/// The slow twin: every pair, every edge, by the definition; and nowhere on a fine grid is there
/// room for one more of the smallest.
fn assert_set_well(piece: &Piece, stones: &[(Point, usize)]) {
    let zone = &piece.zones[0];
    let r = |kind: usize| piece.kinds[kind].reach_mm / 2.0;
    for (i, a) in stones.iter().enumerate() {
        let clear = zone.region.clearance(a.0);
        assert!(clear >= r(a.1) + zone.margin_mm - 1e-6, "stone {i} has {clear}");
        for b in &stones[..i] {
            let gap = a.0.distance(b.0) - r(a.1) - r(b.1);
            assert!(gap >= zone.spacing_mm - 1e-6, "{a:?} and {b:?}: {gap}");
        }
    }
    let used = zone.mix.iter().map(|m| m.kind).chain(zone.fillers.iter().copied());
    let least = used.map(r).fold(f64::INFINITY, f64::min);
    let b = zone.region.bounds();
    for k in 0..60 * 60 {
        let at = Point::new(f64::from(k % 60) + 0.5, f64::from(k / 60) + 0.5) / 60.0;
        let p = b.min + Point::new(at.x * b.width(), at.y * b.height());
        let gap = |s: &(Point, usize)| s.0.distance(p) - r(s.1) - zone.spacing_mm;
        let free = stones.iter().map(gap).fold(zone.region.clearance(p) - zone.margin_mm, f64::min);
        assert!(free < least + 1e-6, "a stone of radius {least} still fits at {p:?}");
    }
}

fn region() -> impl Strategy<Value = Region> {
    (0..6, 14.0..45.0_f64, 0.4..1.0_f64, 0.0..6.0_f64, 0.0..6.3_f64).prop_map(
        |(form, w, part, hole, turn)| {
            let blank = match form {
                0 => shapes::rectangle(w, w * part),
                1 => shapes::rounded_rectangle(w, w * part, 2.5),
                2 => shapes::circle(w),
                3 => shapes::regular_polygon(5, w),
                4 => shapes::star(5, w, part),
                _ => shapes::heart(w, w * 0.9),
            };
            let hole = shapes::circle(hole.max(0.5)).moved(Point::new(hole / 2.0, 1.0));
            boolean::difference(&blank.turned(turn), &hole).unwrap_or(blank)
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 120,
        failure_persistence: None,
        rng_seed: proptest::test_runner::RngSeed::Fixed(41),
        ..ProptestConfig::default()
    })]

    #[test]
    fn no_two_stones_overlap_and_none_more_fits(
        region in region(),
        sizes in prop::collection::vec((1.6..6.0_f64, 0.05..1.0_f64), 1..5),
        spacing in 0.0..0.5_f64,
        margin in 0.0..1.0_f64,
        filled in any::<bool>(),
        sloppy in 0.0..0.3_f64,
        seed in any::<u64>(),
    ) {
        let mut piece = piece(region, &sizes);
        let zone = &mut piece.zones[0];
        zone.spacing_mm = spacing;
        zone.margin_mm = margin.max(spacing / 2.0);
        if filled && zone.mix.len() > 1 {
            zone.fillers = zone.mix.pop().map(|m| m.kind).into_iter().collect();
        }
        prop_assert!(zone.region.segments().all(|s| s.tag == EDGE_OWN));
        let set = stones(&piece, sloppy, seed);
        assert_set_well(&piece, &set);
    }

    #[test]
    fn the_nearest_free_place_is_the_nearest_of_all(
        spots in prop::collection::vec((0.0..30.0_f64, 0.0..20.0_f64), 0..60),
        laid in prop::collection::vec((0.0..30.0_f64, 0.0..20.0_f64), 0..8),
        (x, y) in (0.0..30.0_f64, 0.0..20.0_f64),
    ) {
        let region = shapes::rectangle(30.0, 20.0);
        let walls = Walls::new(&region, |_| 0.0);
        let low = walls.bounds().min;
        let at = |&(x, y): &(f64, f64)| low + Point::new(x, y);
        let mut field = Field::new(&walls, 3.0, 2.0);
        let mut places = Places::new(walls.bounds(), 3.0, 1.5);
        spots.iter().for_each(|s| places.add(at(s), 0, 0));
        laid.iter().for_each(|l| field.add(at(l), 2.0, 0, 0.0));
        let hand = at(&(x, y));
        let free = |p: &Point| laid.iter().all(|l| at(l).distance(*p) >= 3.5);
        let wanted = spots.iter().map(at).filter(free).map(|p| p.distance(hand));
        let wanted = wanted.min_by(f64::total_cmp);
        for _ in 0..2 {
            let got = places.nearest(hand, &field).map(|p| p.distance(hand));
            prop_assert_eq!(got.is_some(), wanted.is_some());
            prop_assert!((got.unwrap_or(0.0) - wanted.unwrap_or(0.0)).abs() < 2e-6);
        }
    }
}

#[test]
fn coverage_lies_between_chance_and_close_packing() {
    // Zones of some fifty stones' width, so that edges cost little. Random sequential addition
    // jams at 0.547 (J. Stat. Phys. 166 (2017) 39), random close packing in the plane is at 0.840
    // for any moderate mix (arXiv 2404.02316).
    for mix in [MIX, &[(4.0, 1.0)], &[(2.5, 1.0)], &[(4.0, 0.5), (5.0, 0.5)]] {
        let piece = piece(shapes::rectangle(260.0, 180.0), mix);
        let got = by_hand(&piece, 0, &[], HANDS, 5, &Unwatched).unwrap();
        let (least, most) = got.coverage().unwrap();
        assert!(least > 0.547 && most < 0.840, "{mix:?}: {least} to {most}");
        // The hands differ, and in the order of their sloppiness.
        let of = |hand| got.trials.iter().find(|t| t.hand == hand).unwrap().coverage;
        assert!(of(0) > of(HANDS - 1) + 0.02, "{} {}", of(0), of(HANDS - 1));
    }
}

#[test]
fn a_heap_is_used_up_by_share_until_large_stones_no_longer_fit() {
    let piece = piece(shapes::rectangle(260.0, 180.0), MIX);
    let set = stones(&piece, 0.08, 3);
    // The first half is drawn by share …
    let half = &set[..set.len() / 2];
    for (kind, &(_, share)) in MIX.iter().enumerate() {
        let n = half.iter().filter(|s| s.1 == kind).count() as f64 / half.len() as f64;
        // … within four standard deviations.
        assert!((n - share).abs() < 4.0 * (share * (1.0 - share) / half.len() as f64).sqrt());
    }
    // … and the last stones are small ones.
    assert!(set[set.len() - 20..].iter().all(|s| s.1 == 3));
}

#[test]
fn the_same_on_any_number_of_threads_and_for_any_number_of_trials() {
    let piece = piece(shapes::heart(60.0, 50.0), MIX);
    let on = |threads: usize, trials: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| by_hand(&piece, 0, &[], trials, 9, &Unwatched).unwrap())
    };
    let all = on(1, 25);
    assert_eq!(all, on(3, 25));
    assert_eq!(all.trials[..7], on(2, 7).trials);
    assert_ne!(all, by_hand(&piece, 0, &[], 25, 10, &Unwatched).unwrap());
}

#[test]
fn one_stone_in_its_only_place() {
    // A 4 mm stone in a 4.2 mm square: there is room for one, wherever the hand is.
    let one = piece(shapes::rectangle(4.2, 4.2), &[(4.0, 1.0)]);
    let got = by_hand(&one, 0, &[], 4, 1, &Unwatched).unwrap();
    assert_eq!(got.of_kind(0), [1, 1, 1, 1]);
    let covered = std::f64::consts::PI * 4.0 / (4.2 * 4.2);
    assert!((got.coverage().unwrap().0 - covered).abs() < 1e-12);
    // None in a 3.9 mm square, and a filler where the mix has no room.
    let mut none = piece(shapes::rectangle(3.9, 3.9), &[(4.0, 1.0), (3.0, 0.0)]);
    assert_eq!(by_hand(&none, 0, &[], 1, 1, &Unwatched).unwrap().trials[0].counts, [0, 0]);
    none.zones[0].fillers = vec![1];
    assert_eq!(by_hand(&none, 0, &[], 1, 1, &Unwatched).unwrap().trials[0].counts, [0, 1]);
}

#[test]
fn quantiles_are_by_nearest_rank() {
    let trial = |n| HandTrial { hand: n as usize % HANDS, counts: vec![n], coverage: 0.7 };
    let got = HandCounts { trials: (1..=20).rev().map(trial).collect() };
    assert_eq!((got.within(0, 0.5), got.within(0, 0.95), got.within(0, 1.0)), (10, 19, 20));
    assert_eq!((got.within(0, 0.0), got.within(7, 0.5)), (1, 0));
    assert_eq!(got.of_hand(3, 0), [13, 3]);
    let none = HandCounts { trials: vec![] };
    assert_eq!((none.within(0, 0.5), none.coverage()), (0, None));
}

#[test]
fn a_watcher_can_stop_it() {
    struct Stop;
    impl Watch for Stop {
        fn step(&self, _: &str, _: usize, _: usize) {}
        fn stopped(&self) -> bool {
            true
        }
    }
    let piece = piece(shapes::rectangle(260.0, 180.0), MIX);
    assert_eq!(by_hand(&piece, 0, &[], 2, 1, &Stop), Err(Stopped));
}

#[test]
fn stones_that_have_their_place_are_set_round_and_counted() {
    let mut piece = piece(shapes::circle(44.0), &[(9.0, 0.5), (3.9, 0.7), (2.0, 0.3)]);
    // The large ones are not in the heap.
    piece.zones[0].mix.remove(0);
    let given = |x: f64, y: f64| {
        let place = crate::Place::on_plane(Point::new(x, y));
        Stone { place, kind: 0, zone: 0, row: 1, by_hand: true }
    };
    let given = [given(0.0, 3.0), given(-13.5, -10.0), given(9.5, 3.0)];
    let zone = &piece.zones[0];
    let keep = keep(zone);
    let walls = Walls::new(&zone.region, |tag| keep[usize::from(tag).min(2)]);
    let edges = Edges::new(&zone.region, &walls);
    let discs = given.map(|s| Disc { centre: s.place.point(), radius: 4.5 });
    let table = Table::new(zone, &piece.kinds, discs.to_vec(), &walls, &edges, 3, &Unwatched);
    let table = table.unwrap();
    for number in 0..20 {
        let mut set = table.trial(3, number, 0.1, &Unwatched).unwrap();
        set.extend(given.iter().map(|s| (s.place.point(), 0)));
        assert_set_well(&piece, &set);
    }
    let with = by_hand(&piece, 0, &given, HANDS, 3, &Unwatched).unwrap();
    assert!(with.of_kind(0).iter().all(|n| *n == 3));
    let without = by_hand(&piece, 0, &[], HANDS, 3, &Unwatched).unwrap();
    assert!(with.within(1, 0.5) < without.within(1, 0.5));
}
