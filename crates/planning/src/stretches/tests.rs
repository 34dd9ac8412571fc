//! Laws of stretches, on random pieces.

use super::*;
use crate::Given;
use crate::adhesive::{AdhesiveSort, Label};
use geometry::{Bounds, Point, Region, boolean, shapes};
use lay::{
    Along, Arrangement, Chart, Colour, Colouring, Finish, Gauge, Kind, MixPart, Rings, Rows,
    Scatter, Shape, Unwatched, Zone,
};
use proptest::prelude::*;

pub(crate) fn kind(reach_mm: f64) -> Kind {
    Kind {
        name: format!("stone of {reach_mm} mm"),
        shape: Shape::Round,
        size: format!("{reach_mm} mm"),
        fit_mm: reach_mm + 0.1,
        reach_mm,
        spread_mm: 0.05,
        colour: Colour(40, 120, 160),
        finish: Finish::Foiled,
    }
}

pub(crate) fn zone(region: Region, arrangement: Arrangement, shares: &[f64]) -> Zone {
    let part = |(kind, &share): (usize, &f64)| MixPart { kind, share, rows: 1 + kind as u32 };
    Zone {
        name: "all".into(),
        region,
        arrangement,
        colouring: Colouring::Plain,
        mix: shares.iter().enumerate().map(part).collect(),
        fillers: vec![],
        spacing_mm: 0.1,
        margin_mm: 0.4,
        gauge: Gauge::Fit,
        seed: 3,
    }
}

/// A badge: stones scattered in a band, and rows of a honeycomb round its pin hole within.
pub(crate) fn badge() -> Piece {
    let blank = shapes::rounded_rectangle(60.0, 40.0, 4.0);
    let hole = shapes::circle(4.0).moved(Point::new(0.0, 14.0));
    let blank = boolean::difference(&blank, &hole).unwrap();
    let inner = shapes::rectangle(46.0, 26.0).tagged(lay::EDGE_SHARED);
    let rest = boolean::intersection(&blank, &inner).unwrap();
    let band = boolean::difference(&blank, &inner).unwrap();
    let scatter = Arrangement::Scatter(Scatter { ring_holes: true });
    let rows = Arrangement::Honeycomb(Rows::Locked(Along::Bottom));
    let mut middle = zone(rest, rows, &[1.0]);
    middle.name = "middle".into();
    let mut frame = zone(band, scatter, &[0.0, 0.5, 0.5]);
    frame.name = "frame".into();
    Piece {
        name: "badge".into(),
        chart: Chart::Plane,
        blank,
        blank_colour: Colour(240, 240, 240),
        kinds: vec![kind(3.9), kind(2.8), kind(2.0)],
        zones: vec![middle, frame],
        changes: vec![],
    }
}

pub(crate) fn room(temperature_c: f64) -> Room {
    Room { temperature_c: Given::document(temperature_c), humidity: Given::usual(0.5) }
}

pub(crate) fn adhesive(sort: AdhesiveSort, open_min: Option<f64>) -> Adhesive {
    let label = Label { open_min, ..Label::default() };
    Adhesive { name: "bench".into(), sort, label }
}

/// Stretches of a piece at one pace for all its kinds, the slow one 0.9 of the usual.
pub(crate) fn at_pace(
    piece: &Piece,
    lay: &PieceLay,
    usual_per_h: f64,
    adhesive: &Adhesive,
    temperature_c: f64,
) -> (Stretches, Vec<lay::Finding>) {
    let pace = Pace { usual_per_h, slow_per_h: 0.9 * usual_per_h };
    let roles: Vec<ZoneRole> = piece
        .zones
        .iter()
        .map(|z| if z.name == "frame" { ZoneRole::Border } else { ZoneRole::Inner })
        .collect();
    stretches(&StretchInput {
        piece,
        lay,
        roles: &roles,
        paces: &vec![vec![pace; piece.kinds.len()]; piece.zones.len()],
        adhesive,
        apply: Apply::Dot,
        room: room(temperature_c),
    })
    .unwrap()
}

pub(crate) fn laid(piece: &Piece) -> PieceLay {
    lay::lay_piece(piece, &Unwatched).unwrap()
}

fn one_zone(region: Region, arrangement: Arrangement, shares: &[f64]) -> Piece {
    let kinds = vec![kind(4.0), kind(3.0), kind(2.0), kind(1.5)];
    Piece {
        name: "test".into(),
        chart: Chart::Plane,
        blank: region.clone(),
        blank_colour: Colour(240, 240, 240),
        kinds,
        zones: vec![zone(region, arrangement, shares)],
        changes: vec![],
    }
}

fn assert_each_once(lay: &PieceLay, plan: &Stretches) {
    let mut seen: Vec<u32> = plan.stretches.iter().flat_map(|s| s.order.clone()).collect();
    seen.sort_unstable();
    assert_eq!(seen, (1..=lay.stones.len() as u32).collect::<Vec<_>>());
    for (i, s) in plan.stretches.iter().enumerate() {
        assert_eq!(s.number as usize, i + 1);
        assert_eq!(s.stones as usize, s.order.len());
        assert_eq!(s.kinds.iter().map(|k| k.stones).sum::<u32>(), s.stones);
        assert!(s.order.contains(&s.first_place_no) && s.order.contains(&s.last_place_no));
        let of_zone = |n: &u32| lay.stones[*n as usize - 1].zone == s.zone_index;
        assert!(s.order.iter().all(of_zone), "stretch {} leaves its zone", s.number);
    }
}

#[test]
fn the_border_of_a_badge_comes_first_and_rows_stay_whole() {
    let piece = badge();
    let lay = laid(&piece);
    let (plan, found) =
        at_pace(&piece, &lay, 200.0, &adhesive(AdhesiveSort::SolventGel, Some(8.0)), 25.0);
    assert_each_once(&lay, &plan);
    assert!(found.is_empty(), "{found:?}");
    assert!((plan.limit_min - 6.4).abs() < 1e-12);
    let zones: Vec<u32> = plan.stretches.iter().map(|s| s.zone_index).collect();
    assert!(zones.is_sorted_by(|a, b| a >= b), "{zones:?}");
    let rows: Vec<(u32, u32)> = plan
        .stretches
        .iter()
        .filter(|s| s.zone == "middle")
        .map(|s| (s.first_row, s.last_row))
        .collect();
    assert!(rows.len() > 2 && rows.windows(2).all(|w| w[1].0 == w[0].1 + 1), "{rows:?}");
    // From the corner of the blank's box: the last row of the middle ends near its top.
    let last = plan.stretches.last().unwrap();
    assert!(last.stop.right_mm > 30.0 && last.stop.down_mm < 20.0, "{:?}", last.stop);
}

#[test]
fn stripes_of_a_row_bound_the_changes_of_kinds() {
    let region = shapes::rectangle(60.0, 60.0);
    let mut piece = one_zone(region, Arrangement::Square(Rows::Locked(Along::Bottom)), &[0.5, 0.5]);
    piece.kinds[1] = Kind { name: "other".into(), ..kind(4.0) };
    piece.zones[0].colouring = Colouring::Striped;
    let lay = laid(&piece);
    // Rows of 14 in stripes of one and two; at 180 an hour three rows fit into 17.6 min.
    let (plan, _) =
        at_pace(&piece, &lay, 200.0, &adhesive(AdhesiveSort::SolventGel, Some(22.0)), 25.0);
    assert!(plan.stretches.iter().all(|s| s.kind_changes <= 1), "{:?}", plan.stretches);
}

#[test]
fn a_scatter_is_cut_into_compact_patches_set_kind_by_kind() {
    let scatter = Arrangement::Scatter(Scatter { ring_holes: false });
    let piece = one_zone(shapes::rectangle(100.0, 100.0), scatter, &[0.3, 0.3, 0.4]);
    let lay = laid(&piece);
    let (plan, _) =
        at_pace(&piece, &lay, 300.0, &adhesive(AdhesiveSort::SolventGel, Some(10.0)), 25.0);
    assert_each_once(&lay, &plan);
    let side = (10_000.0 / plan.stretches.len() as f64).sqrt();
    let longest = plan.stretches.iter().map(|s| s.slow_min).fold(0.0, f64::max);
    for s in &plan.stretches {
        let at = s.order.iter().map(|n| lay.stones[*n as usize - 1].place.point());
        let b = Bounds::of(at);
        assert!(b.width().max(b.height()) < 3.0 * side, "stretch {}: {b:?}, side {side}", s.number);
        assert!(s.slow_min > 0.8 * longest, "stretch {} is a sliver: {}", s.number, s.slow_min);
        assert!(s.kind_changes < s.kinds.len() as u32);
    }
}

#[test]
fn a_hole_in_a_scatter_is_ringed_first() {
    let hole = shapes::circle(6.0);
    let region = boolean::difference(&shapes::rectangle(60.0, 60.0), &hole).unwrap();
    let scatter = Arrangement::Scatter(Scatter { ring_holes: true });
    let piece = one_zone(region, scatter, &[0.3, 0.3, 0.4]);
    let lay = laid(&piece);
    let (plan, _) =
        at_pace(&piece, &lay, 200.0, &adhesive(AdhesiveSort::SolventGel, Some(8.0)), 25.0);
    assert_each_once(&lay, &plan);
    let first = &plan.stretches[0];
    assert!((5..=12).contains(&first.stones), "{} stones", first.stones);
    for n in &first.order {
        assert!(lay.stones[*n as usize - 1].place.point().norm() < 3.0 + 4.5);
    }
}

#[test]
fn fillers_come_last_and_by_themselves() {
    let scatter = Arrangement::Scatter(Scatter { ring_holes: false });
    let mut piece = one_zone(shapes::rectangle(70.0, 70.0), scatter, &[1.0]);
    piece.zones[0].fillers = vec![3];
    let lay = laid(&piece);
    let n_fillers = lay.stones.iter().filter(|s| s.kind == 3).count();
    assert!(n_fillers > 3);
    let (plan, _) =
        at_pace(&piece, &lay, 200.0, &adhesive(AdhesiveSort::SolventGel, Some(8.0)), 25.0);
    assert_each_once(&lay, &plan);
    let with: Vec<bool> = plan.stretches.iter().map(|s| s.kinds[0].kind_index == 3).collect();
    assert!(with.is_sorted(), "{with:?}");
    let fillers = plan.stretches.iter().filter(|s| s.kinds[0].kind_index == 3);
    assert_eq!(fillers.map(|s| s.stones as usize).sum::<usize>(), n_fillers);
}

#[test]
fn a_row_that_is_too_long_is_cut_evenly_and_said() {
    let ring = boolean::difference(&shapes::circle(330.0), &shapes::circle(298.0)).unwrap();
    let rings =
        Rings { centre: Some(Point::ORIGIN), staggered: true, nested: false, around_holes: false };
    let piece = one_zone(ring, Arrangement::Rings(rings), &[1.0]);
    let lay = laid(&piece);
    let (plan, found) =
        at_pace(&piece, &lay, 300.0, &adhesive(AdhesiveSort::CoatingEpoxy, None), 21.0);
    assert_each_once(&lay, &plan);
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].code, "plan.stretch-short");
    let said = " rows take longer to set than `bench` stays open, and are cut";
    assert!(found[0].text.starts_with("`test`: ") && found[0].text.ends_with(said), "{found:?}");
    assert!(found[0].hint.contains("adhesive sheet") && !found[0].hint.contains("light-cured"));
    assert!(
        plan.stretches.iter().all(|s| s.first_row == s.last_row && s.slow_min <= plan.limit_min)
    );
    // A sheet has no such limit.
    let (plan, found) =
        at_pace(&piece, &lay, 400.0, &adhesive(AdhesiveSort::AdhesiveSheet, None), 21.0);
    assert_eq!((plan.limited_by, plan.limit_min), (Limit::Break, BREAK_MIN));
    assert!(found.is_empty() && plan.open_min.is_none(), "{found:?}");
}

#[test]
fn what_cannot_be_is_refused() {
    let piece = badge();
    let lay = laid(&piece);
    let gel = adhesive(AdhesiveSort::SolventGel, None);
    let refused = |paces: &[Vec<Pace>]| {
        let roles = [ZoneRole::Inner, ZoneRole::Border];
        let (apply, room) = (Apply::Dot, room(21.0));
        let (piece, lay, adhesive, roles) = (&piece, &lay, &gel, &roles);
        stretches(&StretchInput { piece, lay, roles, paces, adhesive, apply, room }).unwrap_err()
    };
    let pace = |slow_per_h, usual_per_h| vec![vec![Pace { usual_per_h, slow_per_h }; 3]; 2];
    assert!(matches!(refused(&pace(0.0, 300.0)), StretchError::Pace { .. }));
    assert!(matches!(refused(&pace(310.0, 300.0)), StretchError::Pace { .. }));
    assert!(matches!(refused(&pace(f64::NAN, 300.0)), StretchError::Pace { .. }));
    let missing = refused(&pace(200.0, 300.0)[..1]).to_string();
    assert_eq!(missing, "paces of zones must be 2: 1");
    // An open time shorter than one stone is no refusal, but said.
    let (_, found) =
        at_pace(&piece, &lay, 60.0, &adhesive(AdhesiveSort::SolventGel, Some(1.0)), 25.0);
    let slow = found.iter().find(|f| f.code == "plan.stone-slow").unwrap();
    assert_eq!(slow.text, "`badge`: `bench` skins before a single stone is set");
}

/// A film changes by 1.3 for each 10 °C (one source): 7 min at 25 °C are 9.1 min at 15 °C.
#[test]
fn an_open_time_says_at_which_temperature() {
    let piece = badge();
    let lay = laid(&piece);
    let at_15_c = |open_min| {
        at_pace(&piece, &lay, 300.0, &adhesive(AdhesiveSort::SolventGel, open_min), 15.0).0
    };
    let plan = at_15_c(Some(7.0));
    assert_eq!((plan.label_open_min, plan.open_at_c), (Some(7.0), 15.0));
    assert!((plan.open_min.unwrap() - 9.1).abs() < 1e-9);
    assert_eq!(plan.reasons[0].value, "9.1 min at 15 °C");
    assert_eq!(at_15_c(None).label_open_min, None);
}

fn arrangement() -> impl Strategy<Value = Arrangement> {
    let rings = any::<(bool, bool, bool)>().prop_map(|(staggered, nested, around_holes)| {
        Arrangement::Rings(Rings { centre: None, staggered, nested, around_holes })
    });
    prop_oneof![
        (-90.0..90.0_f64).prop_map(|a| Arrangement::Honeycomb(Rows::Locked(Along::Angle(a)))),
        Just(Arrangement::Square(Rows::Locked(Along::Left))),
        rings,
        any::<bool>().prop_map(|ring_holes| Arrangement::Scatter(Scatter { ring_holes })),
    ]
}

fn a_piece() -> impl Strategy<Value = Piece> {
    let look = (arrangement(), 0..4_usize, any::<u64>(), any::<bool>());
    let hole = (0.5..8.0_f64, -10.0..10.0_f64);
    (0..4, 14.0..60.0_f64, hole, look).prop_map(
        |(form, w, (hole, x), (arrangement, colouring, seed, fillers))| {
            let blank = match form {
                0 => shapes::rectangle(w, w * 0.6),
                1 => shapes::circle(w),
                2 => shapes::star(5, w, 0.5),
                _ => shapes::rectangle(w, 5.0),
            };
            let hole = shapes::circle(hole).moved(Point::new(x, x / 2.0));
            let region = boolean::difference(&blank, &hole).unwrap_or(blank);
            let mut piece = one_zone(region, arrangement, &[0.2, 0.3, 0.5]);
            let zone = &mut piece.zones[0];
            zone.colouring =
                [Colouring::Plain, Colouring::Striped, Colouring::Alternating, Colouring::Random]
                    [colouring];
            zone.fillers = if fillers { vec![3] } else { vec![] };
            zone.seed = seed;
            piece
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, rng_seed: proptest::test_runner::RngSeed::Fixed(13), ..ProptestConfig::default() })]

    #[test]
    fn stretches_cover_every_stone_once_and_fit(
        piece in a_piece(),
        pace in 60.0..500.0_f64,
        open in 0.5..40.0_f64,
        temperature in 10.0..35.0_f64,
    ) {
        let lay = laid(&piece);
        let gel = adhesive(AdhesiveSort::SolventGel, Some(open));
        let (plan, found) = at_pace(&piece, &lay, pace, &gel, temperature);
        assert_each_once(&lay, &plan);
        let scatter = matches!(piece.zones[0].arrangement, Arrangement::Scatter(_));
        for s in &plan.stretches {
            prop_assert!(s.stones == 1 || s.slow_min <= plan.limit_min + 1e-6, "{s:?}");
            // Rows are cut only where they are too long: then a stretch lies in one row.
            let row = |n: &&u32| lay.stones[**n as usize - 1].row;
            if !scatter && !found.iter().any(|f| f.code == "plan.stretch-short") {
                for r in s.first_row..=s.last_row {
                    let here = s.order.iter().filter(|n| row(n) == r).count();
                    let all = lay.stones.iter().filter(|t| t.row == r).count();
                    let last = r == lay.zones[0].n_rows && lay.zones[0].n_fillers > 0;
                    prop_assert!(here == all || here == 0 || last, "row {r}: {here} of {all}");
                }
            }
        }
        let area: f64 = plan.stretches.iter().map(|s| s.area_cm2).sum();
        let whole = piece.zones[0].region.area() / 100.0;
        prop_assert!(lay.stones.is_empty() || (area - whole).abs() < 1e-6 * whole);
    }

    #[test]
    fn slower_or_warmer_never_gives_fewer_stretches(
        piece in a_piece(),
        pace in 60.0..500.0_f64,
        slower in 0.5..1.0_f64,
        open in 0.5..40.0_f64,
        warmer in 0.0..10.0_f64,
    ) {
        let lay = laid(&piece);
        let gel = adhesive(AdhesiveSort::SolventGel, Some(open));
        let n = |pace: f64, t: f64| at_pace(&piece, &lay, pace, &gel, t).0.stretches.len();
        let before = n(pace, 21.0);
        prop_assert!(n(pace * slower, 21.0) >= before);
        prop_assert!(n(pace, 21.0 + warmer) >= before);
    }
}
