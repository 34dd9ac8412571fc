//! Prints seeded logs with the paces made from them, and learning curves, as JSON: what
//! `checks/hours.py` reckons again with NumPy.

use planning::Given;
use planning::hours::{Learning, Maker, Session, Work};
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use serde_json::{Value, json};

const LOGS: u32 = 2000;
const CURVES: u32 = 500;
const WORKS: [Work; 2] = [Work::Rows, Work::Scatter];
/// A diameter of each band, mm, and the limits between them.
const DIAMETERS_MM: [f64; 5] = [1.8, 2.5, 3.9, 7.0, 9.1];

fn main() {
    let mut rng = ChaCha8Rng::seed_from_u64(11);
    let logs: Vec<Value> = (0..LOGS).map(|_| log(&mut rng)).collect();
    let curves: Vec<Value> = (0..CURVES).map(|_| curve(&mut rng)).collect();
    println!("{}", json!({ "logs": logs, "curves": curves }));
}

fn log(rng: &mut ChaCha8Rng) -> Value {
    let base_per_h = f64::from(rng.random_range(80..=450));
    let sessions: Vec<Session> = (0..rng.random_range(0..9)).map(|_| session(rng)).collect();
    let maker = Maker { base_per_h: Given::document(base_per_h), sessions };
    let said = maker.sessions.iter().map(|s| {
        json!({ "stones": s.stones, "minutes": s.minutes, "work": s.work, "diameter_mm": s.diameter_mm })
    });
    let rates =
        WORKS.iter().flat_map(|&work| DIAMETERS_MM.map(|mm| (work, mm))).map(|(work, mm)| {
            let rate = maker.rate(work, mm);
            json!({
                "work": work, "diameter_mm": mm, "usual_per_h": rate.pace.usual_per_h,
                "slow_per_h": rate.pace.slow_per_h, "fast_per_h": rate.fast_per_h,
            })
        });
    json!({
        "base_per_h": base_per_h,
        "sessions": said.collect::<Vec<_>>(),
        "rates": rates.collect::<Vec<_>>(),
    })
}

fn session(rng: &mut ChaCha8Rng) -> Session {
    let stones = rng.random_range(50..6000);
    let per_h = f64::from(rng.random_range(60..600));
    let work = [None, Some(Work::Rows), Some(Work::Scatter)][rng.random_range(0..3)];
    let diameter_mm = match rng.random_range(0..=5) {
        5 => None,
        i => Some(DIAMETERS_MM[i]),
    };
    let minutes = (stones as f64 / per_h * 60.0).ceil();
    Session { stones, minutes, work, diameter_mm }
}

fn curve(rng: &mut ChaCha8Rng) -> Value {
    let first_min = f64::from(rng.random_range(1..60_000)) / 100.0;
    let floor_min = first_min * f64::from(rng.random_range(0..120)) / 100.0;
    let rate = f64::from(rng.random_range(70..=100)) / 100.0;
    let curve = Learning::new(first_min, floor_min, rate);
    let copies = [1, 2, 4, 8, rng.random_range(1..400), rng.random_range(400..5000)];
    json!({
        "first_min": first_min,
        "floor_min": floor_min,
        "rate": rate,
        "copies": copies,
        "copy_min": copies.map(|n| curve.copy_min(n)),
        "total_min": copies.map(|n| curve.total_min(n)),
    })
}
