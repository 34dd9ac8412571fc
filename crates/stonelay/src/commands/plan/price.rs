//! What the order costs and what to charge.

use super::table::{table, time, watch, work};
use crate::output::wrapped;
use app::plan::{Part, Plan};
use planning::price::{PiecePrice, Price};
use rust_decimal::Decimal;

/// Costs, price, quantities.
pub(super) fn text(plan: &Plan, p: &Price) -> String {
    let t = &p.charged;
    let mut text = format!(
        "charge {} {}: {} before tax, {} tax\n",
        plan.money(t.gross),
        p.currency,
        plan.money(t.net),
        plan.money(t.tax)
    );
    text += &format!(
        "deposit {}, balance {}; valid to {}\n",
        plan.money(t.deposit),
        plan.money(t.balance),
        p.valid_until
    );
    text += "\nWhat it costs you\n";
    let mut rows: Vec<[String; 2]> =
        p.sheet.iter().map(|l| [l.item.clone(), plan.money(l.amount)]).collect();
    rows.push(["cost".to_owned(), plan.money(p.cost)]);
    rows.extend(p.fees.iter().map(|f| [format!("fee: {}", f.name), plan.money(f.amount)]));
    rows.push(["profit".to_owned(), plan.money(p.profit)]);
    text += &table(["", p.currency.as_str()], rows, 1..=1);
    if let (Some(margin), Some(markup)) = (p.margin, p.markup) {
        let per_cent = |d: Decimal| (d * Decimal::ONE_HUNDRED).round_dp(2).normalize();
        let said = format!(
            "margin {} % of the price, which is a mark-up of {} % on cost and fees; no less than \
             {} before tax covers them",
            per_cent(margin),
            per_cent(markup),
            plan.money(p.floor)
        );
        text += &(wrapped(&said, "  ", "  ") + "\n");
    }
    if let Some(r) = &p.rush {
        let said = format!(
            "in haste {} more before tax: {} in all",
            plan.money(r.charge),
            plan.money(r.rushed.gross)
        );
        text += &(wrapped(&said, "  ", "  ") + "\n");
    }
    if let Some(g) = &p.per_gross {
        let said = format!(
            "a gross applied: stones {} + work {} + the rest {} = {}",
            plan.money(g.stones),
            plan.money(g.labour),
            plan.money(g.on_top),
            plan.money(g.price)
        );
        text += &(wrapped(&said, "  ", "  ") + "\n");
    }
    text += "\nHours\n";
    let rows = plan.hours.pieces.iter().map(|h| {
        [
            h.piece.clone(),
            h.copies.to_string(),
            time(h.setting.copy_min(1)),
            time(h.last_setting_min),
            time(h.each_min),
            work(h.total_min),
        ]
    });
    let head = ["piece", "copies", "first set in", "last", "each in all", "all"];
    text += &table(head, rows.collect(), 1..=5);
    text += "\nEach, before tax\n";
    let rows = p.pieces.iter().map(|x| {
        [
            x.piece.clone(),
            x.copies.to_string(),
            plan.money(x.cost_each + share(x, p.digits)),
            plan.money(x.floor_each),
            plan.money(x.suggested_each),
            plan.money(x.each),
            plan.money(x.net),
        ]
    });
    let head = ["piece", "copies", "cost", "no less than", "suggested", "price", "all"];
    text += &table(head, rows.collect(), 1..=6);
    text += &quantities(plan, p);
    text + &watch(plan.findings_of(Part::Hours).chain(plan.findings_of(Part::Price)))
}

/// A copy's part of the costs of the whole order.
fn share(x: &PiecePrice, digits: u32) -> Decimal {
    x.order_part.checked_div(Decimal::from(x.copies.max(1))).unwrap_or_default().round_dp(digits)
}

fn quantities(plan: &Plan, p: &Price) -> String {
    let Some(first) = p.pieces.iter().find(|x| !x.by_quantity.is_empty()) else {
        return String::new();
    };
    let mut rows = vec![];
    for x in &p.pieces {
        for q in &x.by_quantity {
            rows.push([
                if q.copies == first.by_quantity[0].copies {
                    x.piece.clone()
                } else {
                    String::new()
                },
                q.copies.to_string(),
                time(q.each_min),
                plan.money(q.floor_each),
                plan.money(q.each),
                plan.money(q.gross),
            ]);
        }
    }
    let head = ["piece", "copies", "each takes", "no less than", "each", "all, with tax"];
    "\nIf ordered alone\n".to_owned() + &table(head, rows, 1..=5)
}
