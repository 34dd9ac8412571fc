//! Buys on 300 random markets and some large ones, for the outside check of the totals.
//!
//! `cargo run -p planning --example markets > markets.json`, then `checks/buying.py markets.json`.

mod random;

use planning::buying::{Market, Proof, buy};
use random::{LARGE, Shape, market};
use serde_json::{Value, json};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut all = vec![];
    for seed in 0..300u64 {
        let shape = Shape {
            kinds: 1 + (seed % 9) as usize,
            suppliers: 1 + (seed / 9 % 5) as usize,
            need: [(0, 400), (100, 3000), (500, 20_000)][(seed % 3) as usize],
            limits: [0.3, 1.0, 3.0][(seed / 3 % 3) as usize],
            sold: [0.3, 0.6, 0.9][(seed / 2 % 3) as usize],
            stand_ins: [0.0, 0.3, 0.6][(seed % 5 % 3) as usize],
        };
        all.push(bought(&format!("small {seed}"), &market(seed, shape))?);
    }
    for (i, limits) in [0.1, 0.5, 1.0, 2.0].into_iter().enumerate() {
        let shape = Shape { limits, ..LARGE };
        all.push(bought(&format!("large {i}"), &market(1000 + i as u64, shape))?);
    }
    println!("{}", serde_json::to_string(&all)?);
    Ok(())
}

/// The market and what is bought, as JSON.
fn bought(name: &str, market: &Market) -> Result<Value, Box<dyn std::error::Error>> {
    let (purchase, findings) = buy(market)?;
    let codes: Vec<&str> = findings.iter().map(|f| f.code).collect();
    let kinds: Vec<Value> = market
        .kinds
        .iter()
        .map(|k| {
            json!({
                "name": k.name, "rgb": [k.colour.0, k.colour.1, k.colour.2],
                "diameter_mm": k.diameter_mm, "need": k.need, "stand_ins": k.stand_ins,
            })
        })
        .collect();
    let stock: Vec<Value> = market
        .stock
        .iter()
        .map(|s| json!({ "kind": s.kind, "stones": s.stones, "reserved": s.reserved }))
        .collect();
    let suppliers: Vec<Value> = market
        .suppliers
        .iter()
        .map(|s| {
            json!({
                "name": s.name, "delivery": s.delivery, "free_from": s.free_from,
                "minimum": s.minimum, "lead_days": s.lead_days,
            })
        })
        .collect();
    let offers: Vec<Value> = market
        .offers
        .iter()
        .map(|o| {
            let breaks: Vec<Value> = o.breaks.iter().map(|b| json!([b.packs, b.price])).collect();
            json!({
                "supplier": o.supplier, "kind": o.kind, "pack": o.pack, "price": o.price,
                "breaks": breaks, "packs": o.packs,
            })
        })
        .collect();
    Ok(json!({
        "name": name,
        "kinds": kinds,
        "stock": stock,
        "suppliers": suppliers,
        "offers": offers,
        "days": market.days,
        "size_mm": market.tolerance.size_mm.value,
        "colour_difference": market.tolerance.colour_difference.value,
        "proven": purchase.proof == Proof::Cheapest,
        "findings": codes,
        "purchase": purchase,
    }))
}
