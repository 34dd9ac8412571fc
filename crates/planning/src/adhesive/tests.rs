//! Amounts, times and ratios against published values and closed forms.

use super::*;
use crate::{Given, Origin};
use proptest::prelude::*;
use rust_decimal::Decimal;

fn adhesive(sort: AdhesiveSort, label: Label) -> Adhesive {
    Adhesive { name: "bench".into(), sort, label }
}

fn facts(sort: AdhesiveSort, label: Label) -> Facts {
    adhesive(sort, label).facts().unwrap()
}

fn room(temperature_c: f64) -> Room {
    Room { temperature_c: Given::document(temperature_c), humidity: Given::usual(0.5) }
}

/// Half a sphere of half the stone's diameter, 0.0327 d³ µl (closed form), at the middle of each
/// size's range after the trade's size chart.
#[test]
fn dots_are_as_large_as_the_closed_form_says() {
    for (ss, ul) in [(12, 1.0), (16, 1.9), (20, 3.4), (30, 8.6)] {
        let (low, high) = lay::sizes::round(ss).unwrap();
        let dot = dot_ul((low + high) / 2.0);
        assert!((dot - ul).abs() < 0.05, "SS{ss}: {dot}");
    }
    assert!((dot_ul(1.0) - 0.0327).abs() < 0.00005);
}

/// 0.1 ml for each cm² and mm; one US gallon covers 1,604 ft² at 0.001 in (closed form; a resin
/// dealer's page prints 1,608).
#[test]
fn a_film_takes_a_tenth_of_a_millilitre() {
    assert!((film_ml(100.0, 1.0) - 0.1).abs() < 1e-12);
    let foot_mm = 12.0 * units::MM_PER_INCH;
    let covered_ft2 = units::ML_PER_GALLON / film_ml(foot_mm * foot_mm, 0.001 * units::MM_PER_INCH);
    assert_eq!(covered_ft2.round(), 1604.0);
}

/// NIST Handbook 44, Appendix C (from memory): 29.5735 ml; 128 of them are a gallon of 231 in³.
#[test]
fn a_fluid_ounce_is_a_128th_of_a_gallon() {
    assert!((units::ML_PER_FLUID_OUNCE - 29.5735).abs() < 0.00005);
    assert!((128.0 * units::ML_PER_FLUID_OUNCE - units::ML_PER_GALLON).abs() < 1e-9);
    let inch = units::MM_PER_INCH;
    assert!((231.0 * inch * inch * inch / 1000.0 - units::ML_PER_GALLON).abs() < 1e-9);
}

/// A cylinder, and half of one (closed form).
#[test]
fn a_round_bead_is_twice_a_half_round_one() {
    let round = bead_ml(1.0, Section::Round, 1000.0);
    assert!((round - std::f64::consts::FRAC_PI_4).abs() < 1e-12);
    assert!((bead_ml(1.0, Section::Half, 1000.0) - round / 2.0).abs() < 1e-12);
}

/// A mass doubles its time for each 10 °C below 25 °C and halves it above; a film changes by 1.3
/// (one source).
#[test]
fn times_follow_the_temperature() {
    for (t, mass, film) in
        [(25.0, 1.0, 1.0), (15.0, 2.0, 1.3), (35.0, 0.5, 1.0 / 1.3), (5.0, 4.0, 1.69)]
    {
        assert!((mass_factor(t) - mass).abs() < 1e-12, "{t}");
        assert!((film_factor(t) - film).abs() < 1e-12, "{t}");
    }
    let coat = facts(AdhesiveSort::CoatingEpoxy, Label { pot_min: Some(40.0), ..Label::default() });
    // Cold: the film on the piece sets the limit. Warm: the cup does.
    assert!((open_min(&coat, &room(15.0)).unwrap() - 52.0).abs() < 1e-9);
    assert!((open_min(&coat, &room(35.0)).unwrap() - 20.0).abs() < 1e-9);
    assert!((pot_min(&coat, &room(15.0), 100.0).unwrap() - 80.0).abs() < 1e-9);
}

#[test]
fn a_bigger_cup_is_shorter_and_a_small_one_not_longer() {
    assert_eq!(batch_factor(5.0), 1.0);
    assert_eq!(batch_factor(100.0), 1.0);
    assert!((batch_factor(800.0) - 0.5).abs() < 1e-12);
}

/// Resin 1.15–1.17 and hardener 0.95–1.02 g/ml (from memory): 1:1 by volume is 100:81 to 100:89 by
/// weight.
#[test]
fn one_to_one_by_volume_is_less_hardener_by_weight() {
    let by_weight = |a: f64, b: f64| {
        let label =
            Label { density_a_g_per_ml: Some(a), density_b_g_per_ml: Some(b), ..Label::default() };
        let r = facts(AdhesiveSort::CoatingEpoxy, label).two_part.unwrap().by_weight();
        100.0 * r.b / r.a
    };
    assert_eq!(by_weight(1.17, 0.95).round(), 81.0);
    assert_eq!(by_weight(1.15, 1.02).round(), 89.0);
}

#[test]
fn the_label_wins_over_what_is_usual() {
    let label = Label { open_min: Some(7.5), cure_min: Some(600.0), ..Label::default() };
    let f = facts(AdhesiveSort::SolventGel, label);
    assert_eq!(f.open_min, Some(Given::document(7.5)));
    assert_eq!(f.cure_min, Given::document(600.0));
    // What is cured may be handled.
    assert_eq!(f.handle_min, Given::usual(600.0));
    let late = Label { handle_min: Some(9000.0), ..Label::default() };
    assert_eq!(facts(AdhesiveSort::SolventGel, late).cure_min, Given::usual(9000.0));
    // The density of a mix follows from its parts.
    let label =
        Label { density_a_g_per_ml: Some(1.2), density_b_g_per_ml: Some(1.0), ..Label::default() };
    let f = facts(AdhesiveSort::SlowResin, label);
    assert_eq!(f.density_g_per_ml, Some(Given { value: 1.1, origin: Origin::Plan }));
}

#[test]
fn a_label_that_cannot_be_is_refused_with_its_culprit() {
    let refused = |label| adhesive(AdhesiveSort::SlowResin, label).facts().unwrap_err().to_string();
    let zero = refused(Label { density_a_g_per_ml: Some(0.0), ..Label::default() });
    assert_eq!(zero, "adhesive `bench`: the density of A must be a number over 0: 0");
    let ratio = Some(Ratio { a: 1.0, b: f64::NAN });
    assert!(refused(Label { ratio, ..Label::default() }).contains("part B of the ratio"));
    assert!(refused(Label { waste: Some(1.2), ..Label::default() }).contains("the waste"));
    let price = Some(Decimal::NEGATIVE_ONE);
    assert!(refused(Label { price, ..Label::default() }).contains("the price"));
}

/// 1:1 by volume of 1.16 and 0.985 g/ml, whatever density the label gives the mix: 4 ml of each are
/// 4.64 g and 3.94 g (definition of density).
#[test]
fn by_volume_and_by_weight_are_one_mix() {
    for density_g_per_ml in [None, Some(1.2), Some(1.0)] {
        let f = facts(AdhesiveSort::SlowResin, Label { density_g_per_ml, ..Label::default() });
        let whole = Amount::of_ml(&f, 8.0);
        let p = whole.parts.unwrap();
        let near = |x: f64, y: f64| (x - y).abs() < 1e-9;
        assert!(near(p.a_ml, 4.0) && near(p.a_g, 4.64), "{p:?}");
        assert!(near(p.b_ml, 4.0) && near(p.b_g, 3.94), "{p:?}");
        assert!(near(whole.g, 8.58), "{whole:?}");
        assert!(near(f.density_g_per_ml.unwrap().value * whole.ml, whole.g));
    }
}

#[test]
fn a_label_that_contradicts_itself_is_refused_with_the_mend() {
    use AdhesiveSort::{AdhesiveSheet, CoatingEpoxy, SolventGel};
    let refused = |sort, label| adhesive(sort, label).facts().unwrap_err().to_string();
    let holds = |c| Label { container: Some(c), ..Label::default() };
    assert_eq!(
        refused(SolventGel, holds(Container::Cm2(600.0))),
        "adhesive `bench`: the container must be in ml or g, since this sort is no sheet: 600 cm²"
    );
    for (container, said) in [(Container::Ml(27.0), ": 27 ml"), (Container::G(30.0), ": 30 g")] {
        let text = refused(AdhesiveSheet, holds(container));
        assert!(text.contains("like 20 x 30 cm") && text.ends_with(said), "{text}");
    }
    let by = Label { ratio_by: Some(RatioBy::Weight), ..Label::default() };
    assert_eq!(
        refused(SolventGel, by.clone()),
        "adhesive `bench`: `by` must be left out, or stand beside a `ratio`, since this sort is \
        not mixed: weight"
    );
    let part = Label { density_b_g_per_ml: Some(1.1), ..Label::default() };
    assert!(refused(SolventGel, part.clone()).contains("`density_b`"));
    let part_a = Label { density_a_g_per_ml: Some(1.1), ..Label::default() };
    assert!(refused(SolventGel, part_a).contains("`density_a`"));
    // A ratio makes two parts of any liquid, and then the rest goes with it.
    let ratio = Some(Ratio { a: 2.0, b: 1.0 });
    assert!(facts(SolventGel, Label { ratio, ..by }).two_part.is_some());
    assert!(facts(CoatingEpoxy, part).two_part.is_some());
    assert!(refused(AdhesiveSheet, Label { ratio, ..Label::default() }).contains("not mixed"));
    let times =
        |handle, cure| Label { handle_min: Some(handle), cure_min: Some(cure), ..Label::default() };
    assert_eq!(
        refused(SolventGel, times(720.0, 600.0)),
        "adhesive `bench`: the handling time must be at most the cure: 720 min, and cured after \
        600 min"
    );
    assert_eq!(facts(SolventGel, times(600.0, 600.0)).handle_min.value, 600.0);
}

/// What is taken lies in what is stated, for every sort; and every time can be read.
#[test]
fn usual_values_lie_in_their_ranges() {
    for sort in AdhesiveSort::ALL {
        let v = sort.values();
        let all = [v.open_min, v.recoat_min, v.density_g_per_ml];
        let all = all.into_iter().flatten().chain([v.handle_min, v.cure_min, v.waste]);
        for u in all.chain([DENSITY_A, DENSITY_B, PIGMENT]) {
            assert!(u.low <= u.taken && u.taken <= u.high, "{}: {u:?}", sort.name());
        }
        assert!(v.handle_min.taken <= v.cure_min.taken, "{}", sort.name());
        assert_eq!(facts(sort, Label::default()).two_part.is_some(), sort.two_part());
    }
}

fn any_sort() -> impl Strategy<Value = AdhesiveSort> {
    prop::sample::select(AdhesiveSort::ALL.to_vec())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, rng_seed: proptest::test_runner::RngSeed::Fixed(7), ..ProptestConfig::default() })]

    #[test]
    fn warmer_never_stays_open_longer(
        sort in any_sort(),
        pot in prop::option::of(1.0..200.0_f64),
        open in prop::option::of(1.0..200.0_f64),
        cold in 0.0..40.0_f64,
        more in 0.0..20.0_f64,
        mass in 1.0..1000.0_f64,
    ) {
        let f = facts(sort, Label { pot_min: pot, open_min: open, ..Label::default() });
        if let (Some(a), Some(b)) = (open_min(&f, &room(cold)), open_min(&f, &room(cold + more))) {
            prop_assert!(b <= a, "{a} then {b}");
        }
        let pot = |t: f64, g: f64| pot_min(&f, &room(t), g).unwrap_or(0.0);
        prop_assert!(pot(cold + more, mass) <= pot(cold, mass));
        prop_assert!(pot(cold, mass + 10.0) <= pot(cold, mass));
    }

    #[test]
    fn both_parts_make_the_whole_in_their_ratio(
        a in 0.5..4.0_f64,
        b in 0.5..4.0_f64,
        weighed in any::<bool>(),
        (density_a, density_b) in (0.8..1.4_f64, 0.8..1.4_f64),
        ml in 0.1..500.0_f64,
    ) {
        let f = facts(AdhesiveSort::CoatingEpoxy, Label {
            ratio: Some(Ratio { a, b }),
            ratio_by: Some(if weighed { RatioBy::Weight } else { RatioBy::Volume }),
            density_a_g_per_ml: Some(density_a),
            density_b_g_per_ml: Some(density_b),
            ..Label::default()
        });
        let whole = Amount::of_ml(&f, ml);
        let p = whole.parts.unwrap();
        let near = |x: f64, y: f64| (x - y).abs() <= 1e-9 * y.abs().max(1.0);
        prop_assert!(near(p.a_ml + p.b_ml, whole.ml) && near(p.a_g + p.b_g, whole.g));
        prop_assert!(near(p.a_ml * density_a, p.a_g) && near(p.b_ml * density_b, p.b_g));
        let (x, y) = if weighed { (p.a_g, p.b_g) } else { (p.a_ml, p.b_ml) };
        prop_assert!(near(x * b, y * a));
        // Twice as much is as much and as much again.
        let (twice, sum) = (whole.times(2.0), whole.plus(whole));
        prop_assert!(near(twice.ml, sum.ml) && near(twice.g, sum.g));
    }
}
