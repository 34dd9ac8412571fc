//! Laws of the whole plan.

use super::{found, hangs_together, laid, planned};
use app::plan::Plan;
use lay::Severity;
use planning::calendar::Remedy;

const ORDER: &str = r##"stonelay = 1
order = "Harbour lantern festival"

[[kind]]
name = "sea glass"
size = "SS16"
pack = 1440
weight = "0.078 g"

[[kind]]
name = "amber"
size = "SS20"
colour = "#f4a024"
pack = 144

[[piece]]
name = "badge"
quantity = 6
margin = "0.5 mm"
blank = { shape = "rounded rectangle", width = "60 mm", height = "40 mm", corner = "4 mm" }
holes = [{ shape = "circle", diameter = "4 mm", at = ["30 mm", "20 mm"] }]

[[piece.zone]]
name = "frame"
where = { band = "6 mm" }
arrangement = "scatter"
mix = [{ kind = "sea glass", share = "70 %" }, { kind = "amber", share = "30 %" }]

[[piece.zone]]
name = "middle"
where = "rest"
arrangement = "honeycomb"
mix = "sea glass"

[[piece]]
name = "charm"
quantity = 3
blank = { shape = "circle", diameter = "34 mm" }
arrangement = "rings"
mix = "amber"
"##;

const MARKET: &str = r#"
[[supplier]]
name = "quayside stones"
delivery = "4.90"
offers = [
  { kind = "sea glass", pack = 1440, price = "7.40" },
  { kind = "amber", pack = 144, price = "2.10", packs = 1 },
]

[price]
currency = "EUR"
"#;

/// The same order with other keys at its head and tables at its end.
fn order(head: &str, tables: &str) -> Plan {
    planned(&format!(
        "{}{tables}",
        ORDER.replacen("festival\"\n", &format!("festival\"\n{head}\n"), 1)
    ))
}

#[test]
fn stones_of_the_answer_are_those_of_all_copies() {
    let laid = laid(ORDER);
    let plan = order("", MARKET);
    hangs_together(&plan);
    assert_eq!(plan.answer.stones, laid.total() as u64);
    for (kind, stones) in laid.by_kind() {
        let spare = plan.spare.kinds.iter().find(|k| k.kind == kind.name).unwrap();
        assert_eq!(spare.need, stones as u64, "{}", kind.name);
    }
    assert_eq!(plan.pieces[0].stones, laid.pieces[0].lay.stones.len() as u64);
}

#[test]
fn stretches_cover_every_stone_of_a_piece_once() {
    let laid = laid(ORDER);
    let plan = order("", "");
    for (piece, stretches) in laid.pieces.iter().zip(&plan.stretches) {
        let stretches = &stretches.stretches.stretches;
        let mut set: Vec<u32> = stretches.iter().flat_map(|s| s.order.clone()).collect();
        set.sort_unstable();
        // Places are numbered from 1.
        let there: Vec<u32> = (1..=piece.lay.stones.len() as u32).collect();
        assert_eq!(set, there, "{}", piece.asked.piece.name);
        for (i, s) in stretches.iter().enumerate() {
            assert_eq!(s.number as usize, i + 1);
            assert_eq!(s.kinds.iter().map(|k| k.stones).sum::<u32>(), s.stones);
        }
    }
}

#[test]
fn what_is_bought_and_on_the_shelf_covers_what_is_to_be_had() {
    let plan = order(
        "",
        &format!("{MARKET}\n[[stock]]\nkind = \"amber\"\nstones = 2000\nreserved = 300\n"),
    );
    assert!(plan.purchase.shortages.is_empty());
    for need in &plan.spare.kinds {
        let cover = plan.purchase.kinds.iter().find(|c| c.kind == need.kind).unwrap();
        assert!(cover.from_stock + cover.bought + cover.stand_ins >= need.quantity);
    }
    // What is reserved stays where it is.
    let amber = plan.purchase.stock.iter().find(|s| s.kind == "amber").unwrap();
    assert!(amber.used <= 1700 && amber.used + amber.left <= 2000, "{amber:?}");
}

#[test]
fn a_market_that_cannot_cover_is_told_with_stone_and_shortfall() {
    let plan = order("", MARKET);
    let short = &plan.purchase.shortages;
    assert_eq!(short.len(), 1);
    let need = plan.spare.kinds.iter().find(|k| k.kind == "amber").unwrap().quantity;
    // One pack of a gross is all there is.
    assert_eq!((short[0].kind.as_str(), short[0].stones), ("amber", need - 144));
    let said = found(&plan, "plan.stones-short");
    assert_eq!(said.len(), 1);
    assert_eq!(said[0].severity, Severity::Serious);
    let all = format!("{} {:?}", said[0].text, said[0].measured);
    assert!(all.contains("amber") && all.contains(&units::grouped(need - 144)), "{all}");
    // What can be had is bought all the same.
    let bought = plan.purchase.lines.iter().find(|l| l.kind == "amber").unwrap();
    assert_eq!(bought.packs, 1);
}

#[test]
fn a_day_that_cannot_be_met_is_told_with_what_would_help() {
    let plan = order("due = 2026-11-27", "");
    assert_eq!((plan.answer.in_time, plan.calendar.due_met), (Some(false), Some(false)));
    assert!(plan.calendar.late_days > 0);
    let late = found(&plan, "plan.late");
    assert!(!late.is_empty() && late[0].severity == Severity::Serious, "{:#?}", plan.findings);
    assert!(!plan.calendar.remedies.is_empty());
    let earlier = plan.calendar.remedies.iter().any(|r| matches!(r, Remedy::EarlierStart { .. }));
    assert!(earlier, "{:?}", plan.calendar.remedies);
}

#[test]
fn what_would_help_does_help() {
    let due = "due = 2026-12-11";
    let late = order(due, "\n[workshop]\nstart = 2026-12-09\n");
    assert_eq!(late.calendar.due_met, Some(false));
    let mut tried = 0;
    for remedy in &late.calendar.remedies {
        let (tables, ship_on) = match remedy {
            Remedy::EarlierStart { start, ship_on } => {
                (format!("\n[workshop]\nstart = {}\n", start.date()), ship_on)
            }
            Remedy::LargerBench { bench, ship_on } => {
                (format!("\n[workshop]\nstart = 2026-12-09\nbench = {bench}\n"), ship_on)
            }
            _ => continue,
        };
        let better = order(due, &tables);
        assert!(better.calendar.ship_on <= *ship_on, "{remedy:?}: {}", better.calendar.ship_on);
        tried += 1;
    }
    assert!(tried > 0);
}

#[test]
fn more_loss_never_buys_less_and_more_copies_never_cost_less() {
    let mut before = (0, rust_decimal::Decimal::ZERO);
    for loss in ["0 %", "1 %", "3 %", "10 %", "30 %", "80 %"] {
        let plan = order("", &format!("{MARKET}\n[workshop]\nloss = \"{loss}\"\n"));
        let quantity: u64 = plan.spare.kinds.iter().map(|k| k.quantity).sum();
        assert!(quantity >= before.0 && plan.purchase.total >= before.1, "{loss}");
        before = (quantity, plan.purchase.total);
    }
}

#[test]
fn the_log_moves_loss_and_pace() {
    let log = "\n[[log]]\nkind = \"sea glass\"\narrangement = \"honeycomb\"\nstones = 20000\n\
               lost = 4000\ntime = \"200 h\"\n";
    let (without, with) = (order("", ""), order("", log));
    let loss = |p: &Plan, kind: &str| p.spare.kinds.iter().find(|k| k.kind == kind).unwrap().loss;
    // 4,000 of 24,000 handled, and 3 % worth 500: (4000 + 15) / 24500.
    assert!((loss(&with, "sea glass") - 4015.0 / 24500.0).abs() < 1e-12);
    assert_eq!(loss(&with, "amber"), loss(&without, "amber"));
    assert!(with.hours.total_min > without.hours.total_min);
}
