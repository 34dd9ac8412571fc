//! The plan of an order from outside: what it comes to, and that no document makes it fail.

mod by_hand;
mod demo;
mod laws;
mod odd;
mod random;
mod without_sheet;

use crate::demo_files;
use app::laying::{LaidOrder, lay_order};
use app::order::open;
use app::plan::{Plan, PlanFinding, plan};
use jiff::civil::{Date, date};
use lay::Unwatched;
use std::sync::LazyLock;

/// The day of every plan here, a Wednesday.
const TODAY: Date = date(2026, 11, 25);

static VALIDATOR: LazyLock<jsonschema::Validator> = LazyLock::new(|| {
    jsonschema::validator_for(&serde_json::from_str(&app::plan::schema()).unwrap()).unwrap()
});

/// Opens and lays a document.
fn laid(text: &str) -> LaidOrder {
    let opened = open("order.toml", text.as_bytes(), &demo_files());
    let order = opened.map_err(|refused| refused.plain()).unwrap();
    lay_order(order, &Unwatched).unwrap()
}

/// Opens, lays and plans a document.
fn planned(text: &str) -> Plan {
    plan(&laid(text), TODAY, &Unwatched).unwrap()
}

/// The findings of a plan with this code.
fn found<'p>(plan: &'p Plan, code: &str) -> Vec<&'p PlanFinding> {
    plan.findings.iter().filter(|f| f.code == code).collect()
}

/// Every finding and every figure of a plan hangs together.
fn hangs_together(plan: &Plan) {
    let stones: u64 = plan.pieces.iter().map(|p| p.stones * u64::from(p.copies)).sum();
    assert_eq!(plan.answer.stones, stones);
    for p in &plan.pieces {
        assert_eq!(p.kinds.iter().map(|k| k.stones).sum::<u64>(), p.stones, "{}", p.piece);
    }
    for f in &plan.findings {
        assert!(!f.text.is_empty() && !f.hint.is_empty(), "{}", f.code);
        assert!(app::pages::page(&f.code).is_some(), "no page explains {}", f.code);
    }
    for k in &plan.spare.kinds {
        assert!(k.quantity >= k.spare && (0.0..=1.0).contains(&k.chance), "{}", k.kind);
    }
    let parts = [plan.answer.adhesive_ml, plan.answer.hands_on_min, plan.hours.total_min];
    assert!(parts.iter().all(|x| x.is_finite() && *x >= 0.0), "{parts:?}");
    let begins = plan.calendar.events.iter().map(|e| e.starts_at.date()).min();
    assert!(begins.is_none_or(|day| day <= plan.calendar.ship_on));
    // Numbers that are none are written as null, which the schema refuses.
    let errors: Vec<String> = VALIDATOR
        .iter_errors(&serde_json::to_value(plan).unwrap())
        .map(|e| format!("{e} at {}", e.instance_path()))
        .collect();
    assert!(errors.is_empty(), "{errors:#?}");
    assert!(!plan.answer.to_string().is_empty() && !plan.reasons().is_empty());
}
