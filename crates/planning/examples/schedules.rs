//! Prints tasks with their critical paths, and orders with their calendar files, as JSON: what
//! `checks/calendars.py` holds against another party's graph library and calendar reader.

use jiff::ToSpan;
use jiff::civil::{Weekday, date};
use planning::Given;
use planning::calendar::{
    Hours, IcalNames, PieceWork, Task, Waits, Week, Work, critical_path, ical, schedule,
};
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use serde_json::{Value, json};

const NETWORKS: usize = 400;
const ORDERS: usize = 60;

/// Names that a calendar file has to carry unharmed.
const NAMES: [&str; 8] = [
    "badge",
    "φανάρι του λιμανιού, μεγάλο",
    "drum hoop; left, right",
    "parade sign\nsecond line\r\nEND:VEVENT",
    "back\\slash \\n and \\, as typed",
    "tab\there \"quoted\": yes",
    "лихтарик 灯籠 🏮 a name that is so long that it has to be folded, more than once; with 🏮 at the fold",
    "  spaces at both ends  ",
];

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut rng = ChaCha8Rng::seed_from_u64(3);
    let networks: Vec<Value> =
        (0..NETWORKS).map(|_| network(&mut rng)).collect::<Result<_, _>>()?;
    let orders: Vec<Value> = (0..ORDERS).map(|i| order(&mut rng, i)).collect::<Result<_, _>>()?;
    println!("{}", serde_json::to_string(&json!({ "networks": networks, "orders": orders }))?);
    Ok(())
}

/// Tasks that wait for earlier ones, then shuffled.
fn network(rng: &mut ChaCha8Rng) -> Result<Value, Box<dyn std::error::Error>> {
    let n = rng.random_range(1..40usize);
    let mut place: Vec<usize> = (0..n).collect();
    for i in (1..n).rev() {
        place.swap(i, rng.random_range(0..=i));
    }
    let mut tasks = vec![Task { duration_min: 0, predecessors: vec![] }; n];
    for i in 0..n {
        let before = (0..i).filter(|_| rng.random_bool(0.15)).map(|p| place[p]).collect();
        tasks[place[i]] = Task { duration_min: rng.random_range(0..100), predecessors: before };
    }
    let found = critical_path(&tasks)?;
    let times = |t: &planning::calendar::TaskTimes| {
        [t.earliest_start_min, t.earliest_end_min, t.latest_start_min, t.latest_end_min]
    };
    Ok(json!({
        "durations": tasks.iter().map(|t| t.duration_min).collect::<Vec<_>>(),
        "predecessors": tasks.iter().map(|t| t.predecessors.clone()).collect::<Vec<_>>(),
        "times": found.times.iter().map(times).collect::<Vec<_>>(),
        "floats": found.times.iter().map(|t| t.float_min()).collect::<Vec<_>>(),
        "length": found.length_min,
        "critical_path": found.critical_path,
    }))
}

/// A random order, its work, its schedule and its calendar file.
fn order(rng: &mut ChaCha8Rng, i: usize) -> Result<Value, Box<dyn std::error::Error>> {
    let hours = [Hours { from_min: 540, to_min: 750 }, Hours { from_min: 810, to_min: 1020 }];
    let n_days = rng.random_range(1..=7);
    let days: Vec<Weekday> = Weekday::Monday.cycle_forward().take(n_days).collect();
    let closed = date(2026, 12, 24);
    let week = Week::same(&days, &hours, &[closed])?;
    let begins = date(2026, 12, 1).checked_add(i64::from(rng.random_range(0..40)).days())?;
    let n_pieces = rng.random_range(1..4);
    let pieces: Vec<PieceWork> = (0..n_pieces).map(|k| piece(rng, NAMES[(i + k) % 8])).collect();
    let work = Work {
        week,
        start: Given::document(begins.at(rng.random_range(0..24), rng.random_range(0..60), 0, 0)),
        due: None,
        bench: Given::document(rng.random_range(1..8)),
        hands: Given::document(rng.random_range(1..=2)),
        set_up_min: Given::document(rng.random_range(0.0..40.0)),
        pieces,
        other_adhesives: vec![],
    };
    let (plan, _) = schedule(&work)?;
    let names = IcalNames {
        order: format!("harbour lantern festival, {i}; {}", NAMES[i % 8]),
        stamp_utc: date(2026, 11, 25).at(12, 30, 15, 0),
    };
    let shape = |p: &PieceWork| {
        json!({
            "name": p.name, "copies": p.copies, "sides": p.sides,
            "set_up_min": p.set_up_min.value,
            "prepare_min": p.prepare_min.value, "dry_min": p.dry_min.value,
            "setting_min": p.setting_min, "stretch_min": p.stretch_min.map(|s| s.value),
            "handle_min": p.waits.handle_min.value, "cure_min": p.waits.cure_min.value,
            "turn_min": p.turn_min.value, "pack_min": p.pack_min.value,
            "cure_before_turn": p.cure_before_turn,
        })
    };
    Ok(json!({
        "order": names.order,
        "stamp": names.stamp_utc,
        "start": work.start.value,
        "bench": work.bench.value,
        "set_up_min": work.set_up_min.value,
        "hands": work.hands.value,
        "working_days": n_days,
        "hours": hours.map(|h| [h.from_min, h.to_min]),
        "closed": [closed],
        "pieces": work.pieces.iter().map(shape).collect::<Vec<_>>(),
        "ical": ical(&plan, &names),
        "plan": plan,
    }))
}

fn piece(rng: &mut ChaCha8Rng, name: &str) -> PieceWork {
    let copies = rng.random_range(1..7);
    let mut minutes = |most: f64| Given::document(rng.random_range(0.0..most));
    PieceWork {
        name: name.to_owned(),
        copies,
        set_up_min: minutes(20.0),
        prepare_min: minutes(30.0),
        dry_min: minutes(200.0),
        setting_min: (0..copies).map(|_| minutes(120.0).value).collect(),
        stretch_min: Some(Given::document(0.5 + minutes(90.0).value)),
        waits: Waits {
            adhesive: "slow resin".into(),
            handle_min: minutes(1500.0),
            cure_min: minutes(5000.0),
        },
        sides: 1 + minutes(3.0).value as u32,
        turn_min: minutes(6.0),
        cure_before_turn: minutes(1.0).value < 0.3,
        pack_min: minutes(10.0),
        stones_on: None,
    }
}
