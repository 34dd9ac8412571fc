//! Prints 4,000 seeded orders with their prices, and every currency, as JSON: what
//! `checks/prices.py` reckons again with Python's `decimal`.

use jiff::civil::date;
use planning::Given;
use planning::hours::{
    ACTIVITIES, Activity, Hours, Maker, OrderWork, PieceHours, PieceWork, Work, ZoneWork, hours,
};
use planning::price::{
    Currency, Fee, Margin, Markup, Material, MaterialSort, OrderCost, Outlay, Overhead,
    PieceOutlay, Profit, Rush, RushCharge, Terms, price,
};
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use rust_decimal::Decimal;
use serde_json::{Value, json};

const CASES: u64 = 4000;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut rng = ChaCha8Rng::seed_from_u64(7);
    let cases: Result<Vec<Value>, Box<dyn std::error::Error>> =
        (0..CASES).map(|_| case(&mut rng)).collect();
    println!("{}", json!({ "currencies": currencies(), "cases": cases? }));
    Ok(())
}

/// Every three letters that are a currency, with the digits of its smallest unit.
fn currencies() -> Value {
    let letters = || b'A'..=b'Z';
    let codes = letters().flat_map(|a| {
        letters().flat_map(move |b| letters().map(move |c| [a, b, c].map(char::from)))
    });
    let known = codes.filter_map(|c| Currency::new(&c.iter().collect::<String>()).ok());
    known
        .map(|c| (c.code().to_owned(), json!(c.digits())))
        .collect::<serde_json::Map<_, _>>()
        .into()
}

fn case(rng: &mut ChaCha8Rng) -> Result<Value, Box<dyn std::error::Error>> {
    let terms = terms(rng)?;
    let hours = bench(rng)?;
    let outlay = outlay(rng, hours.pieces.len(), terms.currency.digits());
    let (mut priced, _) = price(&terms, &hours, &outlay)?;
    priced.reasons.clear(); // words, which nobody reckons again
    let (profit_kind, profit) = match terms.profit.value {
        Profit::Margin(margin) => ("margin", margin.part()),
        Profit::Markup(markup) => ("markup", markup.part()),
    };
    let (overhead_kind, overhead) = match terms.overhead.value {
        Overhead::PerHour(amount) => ("per_hour", amount),
        Overhead::Share(share) => ("share", share),
    };
    let rush = terms.rush.map(|r| {
        let (kind, value) = match r.charge {
            RushCharge::Share(share) => ("share", share),
            RushCharge::Fixed(amount) => ("fixed", amount),
        };
        json!({ "kind": kind, "value": value, "applies": r.applies })
    });
    let fees: Vec<Value> =
        terms.fees.iter().map(|f| json!({ "share": f.share, "fixed": f.fixed })).collect();
    let pieces: Vec<Value> =
        hours.pieces.iter().zip(&outlay.pieces).map(piece_value(&terms)).collect();
    Ok(json!({
        "terms": {
            "digits": terms.currency.digits(), "wage_per_h": terms.wage_per_h.value,
            "overhead": [overhead_kind, overhead], "waste": terms.waste.value,
            "profit": [profit_kind, profit], "tax": terms.tax.value, "fees": fees,
            "round_up_to": terms.round_up_to, "rush": rush, "deposit": terms.deposit.value,
            "days": terms.valid_days.value,
        },
        "set_up_min": hours.set_up_min,
        "pieces": pieces,
        "whole_order": outlay.whole_order.iter().map(|c| c.amount).collect::<Vec<_>>(),
        "price": priced,
    }))
}

/// What goes into the price of a piece: its materials and its minutes by activity, for all copies
/// and for each quantity.
fn piece_value(terms: &Terms) -> impl Fn((&PieceHours, &PieceOutlay)) -> Value {
    move |(hours, outlay)| {
        let minutes = |copies: u32| -> Vec<f64> {
            ACTIVITIES.iter().map(|&a: &Activity| hours.activity_min(a, copies)).collect()
        };
        json!({
            "copies": hours.copies,
            "stones": hours.stones,
            "materials": outlay.materials.iter()
                .map(|m| json!([m.sort == MaterialSort::Stones, m.each])).collect::<Vec<_>>(),
            "asked": outlay.asked,
            "minutes": minutes(hours.copies),
            "minutes_at": terms.quantities.iter().map(|&q| minutes(q)).collect::<Vec<_>>(),
        })
    }
}

/// Up to `most`, to `scale` decimals.
fn decimal(rng: &mut ChaCha8Rng, most: i64, scale: u32) -> Decimal {
    Decimal::new(rng.random_range(0..=most * 10_i64.pow(scale)), scale)
}

/// Up to this many thousandths.
fn share(rng: &mut ChaCha8Rng, thousandths: i64) -> Decimal {
    Decimal::new(rng.random_range(0..=thousandths), 3)
}

fn terms(rng: &mut ChaCha8Rng) -> Result<Terms, Box<dyn std::error::Error>> {
    let currency = Currency::new(["EUR", "USD", "JPY", "KWD", "CHF"][rng.random_range(0..5)])?;
    let profit = match rng.random_range(0..3) {
        0 => Profit::Margin(Margin::new(share(rng, 600))?),
        1 => Profit::Markup(Markup::new(share(rng, 1500))?),
        _ => Profit::Markup(Markup::new(Decimal::new(5, 1))?),
    };
    let overhead = match rng.random_range(0..2) {
        0 => Overhead::PerHour(decimal(rng, 15, 2)),
        _ => Overhead::Share(share(rng, 300)),
    };
    let fees = (0..rng.random_range(0..3)).map(|_| Fee {
        name: "card".into(),
        share: share(rng, 100),
        fixed: decimal(rng, 1, 2),
    });
    let fees = fees.collect();
    let steps = [Decimal::ONE, Decimal::from(5), Decimal::from(100)];
    let unit = Decimal::new(1, currency.digits());
    let round_up_to = match rng.random_range(0..3) {
        0 => Some(steps[rng.random_range(0..3)]),
        1 => Some(unit * Decimal::from(rng.random_range(1..60))),
        _ => None,
    };
    let rush = match rng.random_range(0..3) {
        0 => Some(RushCharge::Share(share(rng, 500))),
        1 => Some(RushCharge::Fixed(decimal(rng, 30, 3))),
        _ => None,
    };
    let tax = [0, 5, 19, 20][rng.random_range(0..4)];
    Ok(Terms {
        currency,
        wage_per_h: Given::document(decimal(rng, 40, 2)),
        overhead: Given::document(overhead),
        waste: Given::document(share(rng, 150)),
        profit: Given::document(profit),
        tax: Given::document(Decimal::new(tax, 2)),
        fees,
        round_up_to,
        rush: rush.map(|charge| Rush { charge, applies: rng.random() }),
        deposit: Given::document(share(rng, 1000)),
        quoted_on: date(2026, 12, 1),
        valid_days: Given::document(rng.random_range(0..400)),
        quantities: vec![1, 6, 12, 24],
    })
}

fn bench(rng: &mut ChaCha8Rng) -> Result<Hours, Box<dyn std::error::Error>> {
    let quarter = |rng: &mut ChaCha8Rng, most: i32| f64::from(rng.random_range(0..=most)) / 4.0;
    let pieces = (1..=rng.random_range(1..=3)).map(|i| PieceWork {
        piece: format!("badge {i}"),
        copies: rng.random_range(1..40),
        zones: vec![ZoneWork {
            stones: rng.random_range(0..1500),
            work: if rng.random() { Work::Rows } else { Work::Scatter },
            diameter_mm: 3.9,
        }],
        set_up_min: Given::document(quarter(rng, 100)),
        prepare_min: Given::document(quarter(rng, 40)),
        mixing_min: Given::document(quarter(rng, 20)),
        packing_min: Given::document(quarter(rng, 20)),
    });
    let pieces = pieces.collect();
    let order = OrderWork {
        pieces,
        set_up_min: Given::document(quarter(rng, 200)),
        learning: Given::document(f64::from(rng.random_range(80..=100)) / 100.0),
    };
    let maker = Maker { base_per_h: Given::document(300.0), sessions: vec![] };
    Ok(hours(&maker, &order)?.0)
}

fn outlay(rng: &mut ChaCha8Rng, pieces: usize, digits: u32) -> Outlay {
    let unit = Decimal::new(1, digits);
    let piece = |rng: &mut ChaCha8Rng| {
        let material = |rng: &mut ChaCha8Rng| Material {
            sort: if rng.random() { MaterialSort::Stones } else { MaterialSort::Blank },
            name: "sea glass".into(),
            each: decimal(rng, 20, 4),
        };
        let asked = rng.random_range(0..4) == 0;
        PieceOutlay {
            materials: (0..rng.random_range(0..4)).map(|_| material(rng)).collect(),
            asked: asked.then(|| unit * Decimal::from(rng.random_range(1..20_000))),
        }
    };
    let cost =
        |rng: &mut ChaCha8Rng| OrderCost { name: "delivery".into(), amount: decimal(rng, 12, 3) };
    Outlay {
        pieces: (0..pieces).map(|_| piece(rng)).collect(),
        whole_order: (0..rng.random_range(0..3)).map(|_| cost(rng)).collect(),
        to_buy: None,
    }
}
