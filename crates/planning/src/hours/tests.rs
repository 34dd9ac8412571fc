//! Paces, learning and hours against worked examples and their laws.

use super::*;
use crate::Origin;
use proptest::prelude::*;

fn maker(base_per_h: f64, sessions: Vec<Session>) -> Maker {
    Maker { base_per_h: Given::document(base_per_h), sessions }
}

fn session(stones: u64, minutes: f64, work: Work, diameter_mm: f64) -> Session {
    Session { stones, minutes, work: Some(work), diameter_mm: Some(diameter_mm) }
}

fn badge(copies: u32, stones: u64) -> PieceWork {
    PieceWork {
        piece: "badge".into(),
        copies,
        zones: vec![ZoneWork { stones, work: Work::Rows, diameter_mm: 3.9 }],
        set_up_min: Given::usual(PIECE_SET_UP_MIN),
        prepare_min: Given::document(4.0),
        mixing_min: Given::document(1.5),
        packing_min: Given::document(3.0),
    }
}

fn order(pieces: Vec<PieceWork>, learning: f64) -> OrderWork {
    OrderWork {
        pieces,
        set_up_min: Given::usual(ORDER_SET_UP_MIN),
        learning: Given::document(learning),
    }
}

/// The textbook's table for a learning rate of 80 % in unit form (Crawford's; from memory). In
/// Wright's form of 1936, where the law is that of the cumulative average, two copies would take
/// 160 together.
#[test]
fn the_textbook_curve_of_80_per_cent_comes_out() {
    let curve = Learning::new(100.0, 0.0, 0.8);
    let of = [1, 2, 4, 8].map(|n| curve.copy_min(n));
    assert_eq!(of, [100.0, 80.0, 64.0, 51.2]);
    assert_eq!(curve.copy_min(3), 70.21);
    assert_eq!(curve.total_min(2), 180.0);
}

#[test]
fn nobody_gets_faster_than_the_fast_pace() {
    let curve = Learning::new(100.0, 75.0, 0.8);
    assert_eq!([1, 2, 3, 1000].map(|n| curve.copy_min(n)), [100.0, 80.0, 75.0, 75.0]);
    assert_eq!(curve.total_min(100_000), 180.0 + 99_998.0 * 75.0);
    assert_eq!(Learning::new(10.0, 20.0, 0.8).total_min(3), 30.0);
}

/// 1,000 stones at 300 an hour are 3 1/3 h; with 3,000 in 8 h that is 4,000 in 11 1/3 h.
#[test]
fn a_log_draws_the_pace_by_stones() {
    let rows = session(3000, 480.0, Work::Rows, 3.9);
    let usual = |maker: &Maker, work, mm| maker.rate(work, mm).pace.usual_per_h;
    let with_log = maker(300.0, vec![rows]);
    let expected = 4000.0 / (1000.0 / 300.0 + 8.0);
    assert!((usual(&with_log, Work::Rows, 3.9) - expected).abs() < 1e-9);
    // Other work takes that, times its factors.
    assert!((usual(&with_log, Work::Scatter, 3.9) - expected * 0.8).abs() < 1e-9);
    assert!((usual(&with_log, Work::Scatter, 2.4) - expected * 0.8 * 0.85).abs() < 1e-9);
    // A log of the work itself counts beside 1,000 stones of that: here 500 in 2 h.
    let both = maker(300.0, vec![rows, session(500, 120.0, Work::Scatter, 3.9)]);
    let scatter = 1500.0 / (1000.0 / (expected * 0.8) + 2.0);
    assert!((usual(&both, Work::Scatter, 3.9) - scatter).abs() < 1e-9);
}

#[test]
fn what_a_log_does_not_say_is_rows_of_middle_stones() {
    let bare = Session { stones: 900, minutes: 150.0, work: None, diameter_mm: None };
    let said = session(900, 150.0, Work::Rows, 4.0);
    let pace = |s| maker(300.0, vec![s]).rate(Work::Rows, 3.0).pace;
    assert_eq!(pace(bare), pace(said));
}

/// Paces of 200 and 400 an hour: logarithms lie ln(2)/2 about their mean, squares sum to
/// ln(2)²/2 = 0.240227; with 4 × 0.04 that is 0.400227, over 4 + 2 − 1 a variance of 0.0800453.
#[test]
fn the_slow_pace_goes_by_the_spread_of_the_log() {
    let sessions = vec![session(400, 120.0, Work::Rows, 4.0), session(400, 60.0, Work::Rows, 4.0)];
    let pace = maker(300.0, sessions).rate(Work::Rows, 4.0).pace;
    let spread = 0.080_045_3_f64.sqrt();
    let slow = pace.usual_per_h * libm::exp(-1.281_551_6 * spread);
    assert!((pace.slow_per_h - slow).abs() < 1e-4, "{pace:?}");
    // Without a log the usual spread holds: exp(−1.28155 × 0.2) = 0.77390.
    let pace = maker(300.0, vec![]).rate(Work::Rows, 4.0).pace;
    assert_eq!(pace.usual_per_h, 300.0);
    assert!((pace.slow_per_h / 300.0 - 0.773_90).abs() < 1e-5, "{pace:?}");
}

#[test]
fn sizes_at_the_limits_are_middle() {
    let bands = [2.4, 2.5, 7.0, 7.1].map(SizeBand::of);
    assert_eq!(bands, [SizeBand::Small, SizeBand::Middle, SizeBand::Middle, SizeBand::Large]);
}

#[test]
fn the_hours_of_an_order_add_up() {
    let work = order(vec![badge(10, 150), badge(1, 600)], 1.0);
    let (hours, findings) = hours(&maker(300.0, vec![]), &work).unwrap();
    assert!(findings.is_empty());
    // 10 × (30 + 8.5) + 10, and 120 + 8.5 + 10.
    assert_eq!(hours.pieces.iter().map(|p| p.total_min).collect::<Vec<_>>(), [395.0, 138.5]);
    assert_eq!(hours.total_min, 20.0 + 395.0 + 138.5);
    let setting = hours.activities.iter().find(|a| a.activity == Activity::Setting).unwrap();
    assert_eq!(setting.total_min, 420.0);
    assert_eq!(hours.pieces[0].each_min, 39.5);
    assert_eq!(hours.paces.len(), 1);
    let base = &hours.reasons[0].inputs[0];
    assert_eq!((base.value.as_str(), base.origin), ("300 stones/h", Origin::Document));
    assert_eq!(hours.reasons.last().unwrap().value, "9 h 14 min");
}

#[test]
fn what_nobody_could_mean_is_refused() {
    let slow = maker(0.0, vec![]);
    let right = maker(300.0, vec![]);
    let fine = || order(vec![badge(1, 10)], 0.95);
    assert_eq!(hours(&slow, &fine()), Err(HoursError::Pace(0.0)));
    let logged = maker(300.0, vec![session(0, 10.0, Work::Rows, 4.0)]);
    assert_eq!(hours(&logged, &fine()), Err(HoursError::Session(1)));
    assert_eq!(hours(&right, &order(vec![], 1.2)), Err(HoursError::Learning(1.2)));
    let none = order(vec![badge(0, 10)], 0.95);
    let refused = hours(&right, &none).unwrap_err();
    assert_eq!(refused.to_string(), "a piece has 1 to 100000 copies: `0` of `badge`");
    let mut backwards = fine();
    backwards.pieces[0].prepare_min.value = -1.0;
    assert!(matches!(hours(&right, &backwards), Err(HoursError::Time { min, .. }) if min < 0.0));
    let endless = order(vec![badge(100_000, u64::MAX)], 0.95);
    assert!(matches!(hours(&right, &endless), Err(HoursError::TooLong(_))));
}

#[test]
fn a_slip_of_the_pen_in_the_log_is_found() {
    let slip = maker(300.0, vec![session(3000, 9.0 + 40.0 / 60.0, Work::Rows, 4.0)]);
    let (_, findings) = hours(&slip, &order(vec![badge(1, 10)], 0.95)).unwrap();
    assert_eq!(findings[0].code, "plan.log-pace");
    assert_eq!(findings[0].measured.as_deref(), Some("18,621 stones/h"));
}

fn a_session() -> impl Strategy<Value = Session> {
    let work = proptest::option::of(prop_oneof![Just(Work::Rows), Just(Work::Scatter)]);
    (1..5000_u64, 30.0..600.0_f64, work, proptest::option::of(1.5..11.0_f64)).prop_map(
        |(stones, per_h, work, diameter_mm)| Session {
            stones,
            minutes: stones as f64 / per_h * 60.0,
            work,
            diameter_mm,
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    /// The plain way: every copy, one after the other, in whole thousandths.
    #[test]
    fn the_sum_is_that_of_the_copies(
        first in 0.0..600.0_f64, part in 0.0..1.2_f64, rate in 0.7..=1.0_f64, copies in 1..2000_u32,
    ) {
        let curve = Learning::new(first, first * part, rate);
        let thousandths: u64 =
            (1..=copies).map(|n| (curve.copy_min(n) * 1000.0).round() as u64).sum();
        prop_assert_eq!(curve.total_min(copies), thousandths as f64 / 1000.0);
    }

    #[test]
    fn no_copy_takes_longer_than_the_one_before(
        first in 0.0..600.0_f64, part in 0.0..1.2_f64, rate in 0.7..=1.0_f64, copies in 2..500_u32,
    ) {
        let curve = Learning::new(first, first * part, rate);
        for n in 2..=copies {
            prop_assert!(curve.copy_min(n) <= curve.copy_min(n - 1));
        }
        prop_assert!(curve.total_min(copies) <= f64::from(copies) * curve.first_min + 1e-6);
    }

    /// The pace lies between the base pace and those of the log, each as it would be at this work.
    #[test]
    fn a_pace_lies_between_what_it_is_made_of(
        base in 100.0..500.0_f64,
        sessions in proptest::collection::vec(a_session(), 0..8),
        scatter in any::<bool>(),
        diameter_mm in 1.5..11.0_f64,
    ) {
        let work = if scatter { Work::Scatter } else { Work::Rows };
        let rate = maker(base, sessions.clone()).rate(work, diameter_mm);
        let factor = |s: &Session| {
            let scatter = if s.work == Some(Work::Scatter) { SCATTER } else { 1.0 };
            let size = s.diameter_mm.is_some_and(|d| !(SMALL_MM..=LARGE_MM).contains(&d));
            scatter * if size { AWKWARD_SIZE } else { 1.0 }
        };
        let here = Session { stones: 1, minutes: 1.0, work: Some(work), diameter_mm: Some(diameter_mm) };
        let mut paces: Vec<f64> =
            sessions.iter().map(|s| s.per_h() / factor(s) * factor(&here)).collect();
        paces.push(base * factor(&here));
        let least = paces.iter().copied().fold(f64::INFINITY, f64::min);
        let most = paces.iter().copied().fold(0.0, f64::max);
        prop_assert!(rate.pace.usual_per_h >= least * (1.0 - 1e-9));
        prop_assert!(rate.pace.usual_per_h <= most * (1.0 + 1e-9));
        prop_assert!(rate.pace.slow_per_h < rate.pace.usual_per_h);
        prop_assert!(rate.pace.usual_per_h <= rate.fast_per_h);
    }

    #[test]
    fn a_faster_log_never_makes_a_slower_pace(
        base in 100.0..500.0_f64,
        sessions in proptest::collection::vec(a_session(), 1..6),
        diameter_mm in 1.5..11.0_f64,
    ) {
        let before = maker(base, sessions.clone()).rate(Work::Rows, diameter_mm);
        let mut faster = sessions;
        faster[0].minutes /= 2.0;
        let after = maker(base, faster).rate(Work::Rows, diameter_mm);
        prop_assert!(after.pace.usual_per_h >= before.pace.usual_per_h);
    }
}
