//! Weighing against worked values, and intervals against heaps drawn at random.

use super::*;
use proptest::prelude::*;
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;

fn weighing(samples: &[(u32, f64)], readability_g: f64, spread: f64) -> Weighing {
    Weighing {
        kind: "sea glass".into(),
        tare_g: Given::document(2.0),
        readability_g: Given::document(readability_g),
        spread: Given::usual(spread),
        samples: samples
            .iter()
            .map(|(stones, shown_g)| Sample { stones: *stones, shown_g: *shown_g })
            .collect(),
        confidence: Given::usual(0.95),
    }
}

/// 100 stones, 7 g net, spread 5 %, scale to 0.01 g: variance (0.05 · 0.07)²/100 + 2 · 0.01²/(12 · 100²).
#[test]
fn one_sample_goes_by_spread_and_scale() {
    let unit = unit_weight(&weighing(&[(100, 9.0)], 0.01, 0.05)).unwrap();
    assert!((unit.unit_g - 0.07).abs() < 1e-12);
    let variance: f64 = 1.225e-7 + 1e-4 / 60_000.0;
    assert!((unit.standard_error_g - variance.sqrt()).abs() < 1e-12);
    assert_eq!(unit.factor, 1.959964);
}

/// Three samples of 10 stones, net 0.9, 1.0, 1.1 g: u = 0.1, s² = (0.1² + 0.1²)/10/2 = 0.001, error²
/// = 0.001/30; t(0.975; 2) = 4.302653 (any table). The scale is taken as exact.
#[test]
fn three_samples_go_by_their_own_spread() {
    let unit = unit_weight(&weighing(&[(10, 2.9), (10, 3.0), (10, 3.1)], 0.0, 0.05)).unwrap();
    assert!((unit.standard_error_g - (0.001f64 / 30.0).sqrt()).abs() < 1e-12);
    assert!((unit.spread - 0.001f64.sqrt() / 0.1).abs() < 1e-12);
    assert_eq!(unit.factor, 4.302653);
}

#[test]
fn equal_readings_of_a_coarse_scale_do_not_look_exact() {
    let unit = unit_weight(&weighing(&[(20, 5.0), (20, 5.0), (20, 5.0)], 0.1, 0.05)).unwrap();
    let least = (3.0f64 + 9.0).sqrt() * 0.1 / 12.0f64.sqrt() / 60.0;
    assert!((unit.standard_error_g - least).abs() < 1e-12);
}

/// z²·0.05²/n ≤ 0.01² without the scale's share: n ≥ 96.04.
#[test]
fn a_sample_for_one_percent_is_the_smallest_that_does() {
    assert_eq!(sample_for(0.01, 0.05, 0.0, 0.95), 97);
    assert_eq!(sample_for(0.01, 0.0, 0.0, 0.95), 1);
    for (spread, step) in [(0.05, 0.2), (0.02, 1.0), (0.1, 0.01)] {
        let n = sample_for(0.01, spread, step, 0.95) as f64;
        let half = |n: f64| 1.959964 * (spread * spread / n + step * step / (6.0 * n * n)).sqrt();
        assert!(half(n) <= 0.01 + 1e-12 && half(n - 1.0) > 0.01);
    }
}

/// First order of (1 + e)³: a range of 3.8 to 4.0 mm, s a quarter of it.
#[test]
fn weight_spreads_three_times_as_much_as_diameter() {
    assert!((spread_of_weight(0.05, 3.9) - 0.15 / 3.9).abs() < 1e-15);
}

#[test]
fn nonsense_is_refused_with_its_kind() {
    let message = |w: &Weighing| unit_weight(w).unwrap_err().to_string();
    assert_eq!(message(&weighing(&[], 0.01, 0.05)), "no counted sample of `sea glass`");
    assert_eq!(
        message(&weighing(&[(10, 2.0)], 0.01, 0.05)),
        "the sample of 10 stones of `sea glass` weighs no more than the empty dish: the scale shows 2 \
         g, and the dish is 2 g; weigh the sample in the dish, or say 0 g for the dish if the scale \
         was set to zero with it"
    );
    assert_eq!(
        message(&weighing(&[(10, f64::NAN)], 0.01, 0.05)),
        "weight of a sample of `sea glass` must be at most 1 t: NaN"
    );
    let unit = unit_weight(&weighing(&[(100, 9.0)], 0.01, 0.05)).unwrap();
    assert!(count_heap(&unit, "sea glass", 1.0, 2.0).is_err());
}

#[test]
fn a_sample_of_a_few_steps_of_the_scale_is_refused() {
    assert!(unit_weight(&weighing(&[(20, 3.0)], 0.1, 0.05)).is_ok());
    assert_eq!(
        unit_weight(&weighing(&[(1, 2.05)], 0.01, 0.05)).unwrap_err().to_string(),
        "the step of the scale, 0.01 g, is more than a tenth of what the sample of 1 stone of `sea \
         glass` weighs, 0.05 g: count more stones or take a finer scale"
    );
}

/// Common weights of glass flat-backs, g (from memory): SS6 0.005, SS16 0.033 to 0.05, SS20 0.06,
/// SS30 0.15. The guess is within a seventh.
#[test]
fn a_guessed_weight_is_near_common_ones() {
    for (mm, low, high) in
        [(2.0, 0.005, 0.005), (3.9, 0.033, 0.05), (4.7, 0.06, 0.06), (6.4, 0.15, 0.15)]
    {
        let guess = usual_weight_g(mm);
        assert!(guess > low * 6.0 / 7.0 && guess < high * 8.0 / 7.0, "{mm} mm: {guess} g");
    }
}

/// Sum of `n` single weights of mean `mean` and standard deviation `sd`, by the sum of three uniform
/// numbers each.
fn heap(rng: &mut ChaCha8Rng, n: u32, mean: f64, sd: f64) -> f64 {
    let one = |rng: &mut ChaCha8Rng| {
        let three: f64 = (0..3).map(|_| rng.random_range(-1.0..1.0)).sum();
        mean + sd * three
    };
    (0..n).map(|_| one(rng)).sum()
}

fn read(weight: f64, step: f64) -> f64 {
    (weight / step).round() * step
}

/// The share of 2,000 heaps whose true count lies in the unrounded interval.
fn coverage(samples: &[u32], step: f64, seed: u64) -> f64 {
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    let (mean, sd, runs) = (0.071, 0.0040, 2000);
    let mut covered = 0;
    for _ in 0..runs {
        // A dish whose weight falls anywhere between two steps.
        let dish = 2.0 + rng.random_range(0.0..1.0);
        let tare = read(dish, step);
        let weigh = |rng: &mut ChaCha8Rng, n| read(dish + heap(rng, n, mean, sd), step);
        let drawn: Vec<(u32, f64)> = samples.iter().map(|n| (*n, weigh(&mut rng, *n))).collect();
        let mut w = weighing(&drawn, step, sd / mean);
        w.tare_g = Given::document(tare);
        let unit = unit_weight(&w).unwrap();
        let n = rng.random_range(200..900);
        let count = count_heap(&unit, "sea glass", weigh(&mut rng, n), tare).unwrap();
        let off = (count.estimate - f64::from(n)).abs();
        covered += u32::from(off <= unit.factor * count.standard_error);
    }
    f64::from(covered) / f64::from(runs)
}

/// A share of 2,000 has a standard error of 0.5 points at 95 %: two points are four of them.
#[test]
fn intervals_hold_the_true_count_in_95_of_100_heaps() {
    for (samples, step, seed) in
        [(&[100][..], 0.01, 1), (&[50, 60][..], 0.01, 2), (&[40, 50, 30, 60, 40][..], 0.01, 3)]
    {
        let held = coverage(samples, step, seed);
        assert!((held - 0.95).abs() < 0.02, "{samples:?}: {held}");
    }
    // A coarse scale: readings are no longer small beside the spread, and the sum of a few uniform
    // errors has shorter tails than the normal law, so that more are held.
    let held = coverage(&[100], 0.1, 4);
    assert!((0.93..=1.0).contains(&held), "{held}");
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 256,
        failure_persistence: None,
        rng_seed: proptest::test_runner::RngSeed::Fixed(33),
        ..ProptestConfig::default()
    })]

    /// A larger sample, or a finer scale, never leaves a wider interval.
    #[test]
    fn more_stones_in_the_sample_never_count_worse(n in 40u32..500, step in 0.0..0.2f64) {
        let error = |n: u32, step: f64| {
            let w = weighing(&[(n, 2.0 + 0.07 * f64::from(n))], step, 0.05);
            let unit = unit_weight(&w).unwrap();
            count_heap(&unit, "sea glass", 50.0, 2.0).unwrap().standard_error
        };
        prop_assert!(error(n + 1, step) <= error(n, step) * (1.0 + 1e-12));
        prop_assert!(error(n, step) <= error(n, step + 0.01) * (1.0 + 1e-12));
    }
}
