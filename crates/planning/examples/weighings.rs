//! Prints weighings with their unit weights and counts as JSON: what `checks/weighing.py` works out
//! anew with another party's statistics.

use planning::Given;
use planning::weighing::{Sample, Weighing, count_heap, sample_for, unit_weight, within_stones};
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use serde_json::{Value, json};

const WEIGHINGS: usize = 500;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut rng = ChaCha8Rng::seed_from_u64(4);
    let all: Vec<Value> = (0..WEIGHINGS).map(|_| weighed(&mut rng)).collect::<Result<_, _>>()?;
    println!("{}", serde_json::to_string(&json!({ "weighings": all }))?);
    Ok(())
}

fn weighed(rng: &mut ChaCha8Rng) -> Result<Value, Box<dyn std::error::Error>> {
    let unit_g: f64 = rng.random_range(0.004..0.5);
    // Steps coarser than a tenth of the smallest sample are refused.
    let finest = unit_g * 20.0 * 0.98 / 10.0;
    let step = f64::min([0.0, 0.001, 0.01, 0.1][rng.random_range(0..4)], finest);
    let tare = rng.random_range(0.0..20.0);
    let spread = rng.random_range(0.0..0.12);
    let confidence = [0.5, 0.8, 0.9, 0.95, 0.99, 0.999][rng.random_range(0..6)];
    let samples: Vec<Sample> = (0..rng.random_range(1..9))
        .map(|_| {
            let stones = rng.random_range(20..400);
            let off = 1.0 + rng.random_range(-0.02..0.02);
            Sample { stones, shown_g: tare + unit_g * f64::from(stones) * off }
        })
        .collect();
    let heap = tare + unit_g * rng.random_range(0.0..5000.0);
    let unit = unit_weight(&Weighing {
        kind: "sea glass".into(),
        tare_g: Given::document(tare),
        readability_g: Given::document(step),
        spread: Given::document(spread),
        samples: samples.clone(),
        confidence: Given::document(confidence),
    })?;
    let count = count_heap(&unit, "sea glass", heap, tare)?;
    let bag = rng.random_range(1..2000u64);
    Ok(json!({
        "samples": samples.iter().map(|s| json!([s.stones, s.shown_g])).collect::<Vec<_>>(),
        "step": step, "tare": tare, "spread": spread, "confidence": confidence, "heap": heap,
        "unit": unit, "count": count, "bag": bag,
        "bag_within": within_stones(&unit, bag),
        "for_half_percent": sample_for(0.005, spread, step / unit.unit_g, confidence),
    }))
}
