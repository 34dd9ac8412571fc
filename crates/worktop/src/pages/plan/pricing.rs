//! Price: what it costs, what to charge, and what other quantities would be.

use super::table;
use crate::view;
use app::plan::Plan;
use maud::{Markup, html};
use planning::price::{PiecePrice, Price};
use rust_decimal::Decimal;

pub(super) fn body(plan: &Plan) -> Markup {
    let Some(p) = &plan.price else {
        return html! {
            div.notice.warning {
                p { strong { "There is no price: " } "the order names no currency." }
                p.hint { "Type it below, three letters like EUR, with what you charge. New orders take over what the workshop has." }
            }
        };
    };
    let t = &p.charged;
    html! {
        p.lead {
            "Charge " strong { (plan.money(t.gross)) " " (p.currency) } ": " (plan.money(t.net)) " before tax, " (plan.money(t.tax)) " tax. "
            "No less than " (plan.money(p.floor)) " before tax covers cost and fees."
        }
        p { a.button href="quote" { "To the quote" } }
        (cost_sheet(plan, p))
        @if let (Some(margin), Some(markup)) = (p.margin, p.markup) {
            p.hint {
                "The margin is " (percent(margin)) " of the price; the same money is a mark-up of " (percent(markup))
                " on cost and fees. They are never the same number."
            }
        }
        (table(&format!("By piece, {} before tax", p.currency),
            &html! { th { "Piece" } th.n { "Copies" } th.n { "A copy costs" } th.n { "Floor" } th.n { "Suggested" } th.n { "Charged" } th.n { "All" } },
            &html! { @for each in &p.pieces { tr {
                th scope="row" { (each.piece) } td.n { (each.copies) } td.n { (plan.money(each.cost_each)) } td.n { (plan.money(each.floor_each)) }
                td.n { (plan.money(each.suggested_each)) }
                td.n { (plan.money(each.each)) @if each.each < each.floor_each { " " strong.wrong { "below the floor" } } }
                td.n { (plan.money(each.net)) }
            } } }))
        @for each in &p.pieces { (piece(plan, each)) }
        (table("The order",
            &html! { th { "What" } th.n { (p.currency) } },
            &html! {
                tr { th scope="row" { "deposit, " (percent(p.deposit_share)) } td.n { (plan.money(t.deposit)) } }
                tr { th scope="row" { "balance" } td.n { (plan.money(t.balance)) } }
                @if let Some(buy) = p.to_buy { tr { th scope="row" { "to be bought now, leftovers included" } td.n { (plan.money(buy)) } } }
                @if let Some(r) = &p.rush {
                    tr { th scope="row" { "haste, on top before tax" @if !r.applies { " (if it is wanted)" } } td.n { (plan.money(r.charge)) } }
                    tr { th scope="row" { "in haste, with tax" } td.n { (plan.money(r.rushed.gross)) } }
                }
                @if let Some(g) = &p.per_gross {
                    tr { th scope="row" { "144 stones applied: stones" } td.n { (plan.money(g.stones)) } }
                    tr { th scope="row" { "144 stones applied: labour" } td.n { (plan.money(g.labour)) } }
                    tr { th scope="row" { "144 stones applied: fetch" } td.n { (plan.money(g.price)) } }
                }
            }))
        (view::reasons("How these figures came about", &p.reasons))
    }
}

fn cost_sheet(plan: &Plan, p: &Price) -> Markup {
    table(
        "What it costs you",
        &html! { th { "What" } th.n { (p.currency) } },
        &html! {
            @for line in &p.sheet { tr { th scope="row" { (line.item) } td.n { (plan.money(line.amount)) } } }
            tr.sum { th scope="row" { "cost" } td.n { (plan.money(p.cost)) } }
            @for fee in &p.fees { tr { th scope="row" { "fee: " (fee.name) } td.n { (plan.money(fee.amount)) } } }
            tr.sum { th scope="row" { "profit" @if let Some(m) = p.margin { ", margin " (percent(m)) } } td.n { (plan.money(p.profit)) } }
        },
    )
}

fn piece(plan: &Plan, p: &PiecePrice) -> Markup {
    html! {
        details {
            summary { (p.piece) ": line by line, and in other quantities" }
            (table(&format!("What {} costs", p.piece),
                &html! { th { "What" } th.n { "A copy" } th.n { "All" } },
                &html! { @for l in &p.sheet { tr {
                    th scope="row" { (l.item) @if let Some(name) = &l.name { ": " (name) } } td.n { (plan.money(l.each)) } td.n { (plan.money(l.amount)) }
                } } }))
            (table(&format!("{} alone, in other quantities", p.piece),
                &html! { th.n { "Copies" } th.n { "Work on a copy" } th.n { "Floor" } th.n { "A copy" } th.n { "All, before tax" } th.n { "With tax" } },
                &html! { @for q in &p.by_quantity { tr {
                    td.n { (q.copies) } td.n { (view::minutes(q.each_min)) } td.n { (plan.money(q.floor_each)) } td.n { (plan.money(q.each)) }
                    td.n { (plan.money(q.net)) } td.n { (plan.money(q.gross)) }
                } } }))
        }
    }
}

fn percent(part: Decimal) -> String {
    format!("{} %", (part * Decimal::ONE_HUNDRED).round_dp(2).normalize())
}
