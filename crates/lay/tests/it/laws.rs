//! Laws that every lay keeps: apart, inside, repeatable, shares held.

use crate::support::{kind, lay, piece, zone};
use geometry::{Point, Region, boolean, shapes};
use lay::{Along, Arrangement, Colouring, Gauge, Piece, PieceLay, Rings, Rows, Scatter, pitch_mm};
use proptest::prelude::*;

/// Blanks of every sort, 10 to 60 mm.
fn region() -> impl Strategy<Value = Region> {
    let blank = (0..8, 14.0..60.0_f64, 0.35..1.0_f64).prop_map(|(form, w, part)| match form {
        0 => shapes::rectangle(w, w * part),
        1 => shapes::rounded_rectangle(w, w * part, 3.0),
        2 => shapes::circle(w),
        3 => shapes::ellipse(w, w * part, shapes::Side::Inside),
        4 => shapes::regular_polygon(6, w),
        5 => shapes::star(5, w, part),
        6 => shapes::heart(w, w * 0.9),
        _ => shapes::rectangle(w, 4.0),
    });
    (blank, 0.0..6.0_f64, -8.0..8.0_f64, 0.0..6.3_f64).prop_map(|(blank, hole, x, turn)| {
        let blank = blank.turned(turn);
        let hole = shapes::circle(hole.max(0.5)).moved(Point::new(x, x / 2.0));
        boolean::difference(&blank, &hole).unwrap_or(blank)
    })
}

fn rows() -> impl Strategy<Value = Rows> {
    let along = prop_oneof![
        Just(Along::Bottom),
        Just(Along::Top),
        Just(Along::Left),
        Just(Along::Right),
        Just(Along::Longest),
        (-90.0..90.0_f64).prop_map(Along::Angle),
    ];
    (along, 0..3, 0.0..0.6_f64).prop_map(|(along, which, open_mm)| match which {
        0 => Rows::Locked(along),
        1 => Rows::Even { along, open_mm },
        _ => Rows::Most { steps: 100 },
    })
}

fn arrangement() -> impl Strategy<Value = Arrangement> {
    let flags = any::<(bool, bool, bool)>();
    prop_oneof![
        rows().prop_map(Arrangement::Honeycomb),
        rows().prop_map(Arrangement::Square),
        flags.prop_map(|(staggered, nested, around_holes)| {
            Arrangement::Rings(Rings { centre: None, staggered, nested, around_holes })
        }),
        any::<bool>().prop_map(|ring_holes| Arrangement::Scatter(Scatter { ring_holes })),
    ]
}

pub(crate) fn a_piece() -> impl Strategy<Value = Piece> {
    let look = (arrangement(), 0..4_usize, 0.0..0.5_f64, 0.0..1.0_f64, any::<bool>(), any::<u64>());
    (region(), look).prop_map(
        |(region, (arrangement, colouring, spacing, margin, by_fit, seed))| {
            let kinds = vec![kind(3.0, 3.2), kind(2.6, 2.7), kind(1.9, 2.1), kind(1.5, 1.6)];
            let mut zone = zone(region, arrangement, &[0.2, 0.3, 0.5]);
            zone.colouring =
                [Colouring::Plain, Colouring::Striped, Colouring::Alternating, Colouring::Random]
                    [colouring];
            zone.spacing_mm = spacing;
            zone.margin_mm = margin;
            zone.gauge = if by_fit { Gauge::Fit } else { Gauge::Reach };
            zone.fillers = vec![3];
            zone.seed = seed;
            piece(kinds, vec![zone])
        },
    )
}

/// The slow twin of the check in the crate: every pair, every edge, by the definition.
pub(crate) fn assert_sound(piece: &Piece, lay: &PieceLay) {
    let zone = &piece.zones[0];
    let pitch = |k: u32| pitch_mm(&piece.kinds[k as usize], zone.gauge);
    for (i, a) in lay.stones.iter().enumerate() {
        let clear = zone.region.clearance(a.place.point());
        let wanted = pitch(a.kind) / 2.0 + zone.margin_mm;
        assert!(clear >= wanted - 1e-6, "stone {i} {a:?} has {clear}, wants {wanted}");
        for b in &lay.stones[..i] {
            let apart = a.place.point().distance(b.place.point());
            let wanted = (pitch(a.kind) + pitch(b.kind)) / 2.0 + zone.spacing_mm;
            assert!(apart >= wanted - 1e-6, "{a:?} and {b:?}: {apart}, want {wanted}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 160, failure_persistence: None, rng_seed: proptest::test_runner::RngSeed::Fixed(11), ..ProptestConfig::default() })]

    #[test]
    fn stones_keep_apart_and_inside(piece in a_piece()) {
        let lay = lay(&piece);
        assert_sound(&piece, &lay);
        prop_assert!(lay.findings.iter().all(|f| f.code != "lay.unsound"));
        // Rows are numbered from 1 without gaps, in the order of setting.
        let rows: Vec<u32> = lay.stones.iter().map(|s| s.row).collect();
        prop_assert!(rows.is_sorted());
        prop_assert!(rows.first().is_none_or(|r| *r == 1));
        prop_assert!(rows.windows(2).all(|w| w[1] - w[0] <= 1));
    }

    #[test]
    fn the_same_piece_lays_the_same(piece in a_piece()) {
        prop_assert_eq!(lay(&piece).stones, lay(&piece).stones);
    }

    #[test]
    fn bare_spots_are_bare_and_listed_from_the_largest(piece in a_piece()) {
        let lay = lay(&piece);
        let spots = &lay.zones[0].bare_spots;
        prop_assert!(spots.windows(2).all(|w| w[0].diameter_mm >= w[1].diameter_mm));
        for spot in spots {
            let p = spot.place.point();
            let edge = piece.zones[0].region.clearance(p);
            let gap = lay.stones.iter().map(|s| {
                s.place.point().distance(p) - piece.kinds[s.kind as usize].reach_mm / 2.0
            });
            let room = gap.fold(edge, f64::min);
            prop_assert!((2.0 * room - spot.diameter_mm).abs() < 1e-6, "{room} {spot:?}");
        }
    }
}
