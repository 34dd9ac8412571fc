//! Prices against a worked example, published arithmetic and their laws.

mod laws;
mod worked;

use super::*;
use crate::Given;
use crate::hours::{self, Hours, Maker, OrderWork, PieceWork, Work, ZoneWork};
use jiff::civil::date;
use rust_decimal::Decimal;

fn dec(text: &str) -> Decimal {
    text.parse().unwrap()
}

fn currency(code: &str) -> Currency {
    Currency::new(code).unwrap()
}

/// An order's hours: pieces by copies and stones on one copy, at 300 stones/h.
fn bench(pieces: &[(u32, u64)], learning: f64) -> Hours {
    let piece = |&(copies, stones): &(u32, u64)| PieceWork {
        piece: format!("badge of {stones}"),
        copies,
        zones: vec![ZoneWork { stones, work: Work::Rows, diameter_mm: 3.9 }],
        set_up_min: Given::document(10.0),
        prepare_min: Given::document(4.0),
        mixing_min: Given::document(3.0),
        packing_min: Given::document(3.0),
    };
    let order = OrderWork {
        pieces: pieces.iter().map(piece).collect(),
        set_up_min: Given::document(20.0),
        learning: Given::document(learning),
    };
    let maker = Maker { base_per_h: Given::document(300.0), sessions: vec![] };
    hours::hours(&maker, &order).unwrap().0
}

fn terms() -> Terms {
    Terms {
        currency: currency("EUR"),
        wage_per_h: Given::document(dec("12.00")),
        overhead: Given::document(Overhead::PerHour(dec("3.00"))),
        waste: Given::document(dec("0.04")),
        profit: Given::document(Profit::Margin(Margin::new(dec("0.25")).unwrap())),
        tax: Given::document(dec("0.20")),
        fees: vec![Fee { name: "card".into(), share: dec("0.03"), fixed: dec("0.30") }],
        round_up_to: None,
        rush: None,
        deposit: Given::document(dec("0.3")),
        quoted_on: date(2026, 12, 1),
        valid_days: Given::document(30),
        quantities: vec![1, 6, 10, 24],
    }
}

fn material(sort: MaterialSort, name: &str, each: &str) -> Material {
    Material { sort, name: name.into(), each: dec(each) }
}

fn piece() -> PieceOutlay {
    let materials = vec![
        material(MaterialSort::Stones, "sea glass", "2.00"),
        material(MaterialSort::Adhesive, "bench gel", "0.50"),
        material(MaterialSort::Blank, "acrylic badge", "1.00"),
    ];
    PieceOutlay { materials, asked: None }
}

fn outlay() -> Outlay {
    let delivery = OrderCost { name: "delivery".into(), amount: dec("4.90") };
    Outlay { pieces: vec![piece()], whole_order: vec![delivery], to_buy: Some(dec("41.10")) }
}
