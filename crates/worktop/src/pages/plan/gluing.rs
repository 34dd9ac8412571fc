//! Glue: how much, in which batches and containers, what to take care of, what is glued in one go.

use super::{counted, table};
use crate::view;
use app::plan::{PieceStretches, Plan};
use maud::{Markup, html};
use planning::adhesive::{Amount, Container};
use planning::glue::{AdhesiveNeed, Batch};
use planning::stretches::Limit;
use units::{grouped, trimmed};

pub(super) fn body(plan: &Plan) -> Markup {
    let g = &plan.glue;
    let tints = plan.tints.iter().flat_map(|t| &t.tint.reasons);
    html! {
        @if let Some(cost) = g.cost { p.lead { "Containers to have for this order: " (plan.money(cost)) "." } }
        @for a in &g.adhesives { (adhesive(plan, a)) }
        (table("By piece, with waste",
            &html! { th { "Piece" } th { "Adhesive" } th.n { "Copies" } th.n { "A copy" } th.n { "All" } th.n { "A copy costs" } },
            &html! { @for p in &g.pieces { tr {
                th scope="row" { (p.piece) } td { (p.adhesive) } td.n { (p.copies) } td.n { (amount(&p.copy_need)) } td.n { (amount(&p.need)) }
                td.n { @match p.copy_cost { Some(c) => (plan.money(c)), None => "not known" } }
            } } }))
        (batches(plan))
        @for t in &plan.tints {
            div.notice {
                p {
                    (view::swatch(&t.tint.shown))
                    "Under " strong { (t.piece) } ": tint the adhesive " code { (t.tint.shown) } ", "
                    (trimmed(t.tint.pigment_g, 2)) " g of pigment (" (trimmed(t.tint.pigment * 100.0, 1)) " % by weight), so that bare places vanish."
                }
            }
        }
        h3 #stretches { "Stretches" }
        p.hint { "What is glued and set in one go, before the adhesive skins: for one copy, in the order of the bench." }
        @for s in &plan.stretches { (stretches(s)) }
        (view::reasons("How these figures came about", g.reasons.iter().chain(tints)))
    }
}

fn adhesive(plan: &Plan, a: &AdhesiveNeed) -> Markup {
    html! {
        section.card.adhesive {
            h3 { (a.adhesive) " " span.hint { (a.sort.name()) } }
            dl.facts {
                dt { "To have, with waste" } dd { (amount(&a.need)) }
                dt { "On the pieces" } dd { (amount(&a.on_pieces)) }
                @if let Some(p) = &a.need.parts {
                    dt { "A and B by volume" } dd { (trimmed(p.a_ml, 1)) " ml + " (trimmed(p.b_ml, 1)) " ml" }
                    dt { "A and B by weight" } dd { (trimmed(p.a_g, 1)) " g + " (trimmed(p.b_g, 1)) " g" }
                }
                @if a.batches > 0 { dt { "Mixed" } dd { (counted(a.batches.into(), "batch", "batches")) } }
                @if let Some(n) = a.containers {
                    dt { "Containers" }
                    dd { (grouped(n.into())) @if let Some(l) = &a.leftover { ", " (left(a, l)) " left" } }
                }
                @if let Some(cost) = a.cost { dt { "Cost" } dd { (plan.money(cost)) } }
            }
            @if !a.cautions.is_empty() {
                div.notice.warning {
                    p { strong { "Take care" } }
                    ul { @for c in &a.cautions { li { (c) } } }
                }
            }
        }
    }
}

fn left(a: &AdhesiveNeed, left: &Amount) -> String {
    match a.container {
        Some(Container::G(_)) => format!("{} g", trimmed(left.g, 1)),
        _ => amount(left),
    }
}

fn batches(plan: &Plan) -> Markup {
    let all: Vec<(&str, &Batch)> = plan
        .glue
        .pieces
        .iter()
        .flat_map(|p| p.batches.iter().map(|b| (p.piece.as_str(), b)))
        .collect();
    html! {
        @if !all.is_empty() {
            (table("Batches",
                &html! { th { "Piece" } th.n { "Mix" } th.n { "Each" } th { "For" } th.n { "In use" } th.n { "Usable" } },
                &html! { @for (piece, b) in all { tr {
                    th scope="row" { (piece) } td.n { (b.times) " ×" }
                    td.n {
                        (amount(&b.amount))
                        @if let Some(p) = &b.amount.parts { br; span.hint { "A " (trimmed(p.a_g, 1)) " g, B " (trimmed(p.b_g, 1)) " g" } }
                    }
                    td { (serves(b)) } td.n { (view::minutes(b.slow_min)) } td.n { (view::minutes(b.pot_min)) }
                } } }))
        }
    }
}

fn serves(b: &Batch) -> String {
    if b.copies > 1 {
        counted(b.copies.into(), "copy", "copies")
    } else if b.first_stretch == b.last_stretch {
        format!("stretch {}", b.first_stretch)
    } else {
        format!("stretches {}–{}", b.first_stretch, b.last_stretch)
    }
}

fn stretches(s: &PieceStretches) -> Markup {
    let of = &s.stretches;
    let open = match (of.open_min, of.limited_by) {
        (Some(open), Limit::OpenTime) => format!("the adhesive lies open {}", view::minutes(open)),
        _ => "a break sets the limit, not the adhesive".to_owned(),
    };
    html! {
        details {
            summary {
                (s.piece) ": " (counted(of.stretches.len() as u64, "stretch", "stretches")) ", "
                (view::minutes(of.usual_min)) " for a copy"
            }
            p.hint { "Each at most " (view::minutes(of.limit_min)) " at your slow pace: " (open) " at " (trimmed(of.open_at_c, 1)) " °C." }
            (table(&format!("Stretches of {}", s.piece),
                &html! { th.n { "No." } th { "Zone" } th { "Rows" } th.n { "Stones" } th { "By kind" } th.n { "Glue line" } th.n { "Usual" } th.n { "Slow" } },
                &html! { @for st in &of.stretches { tr {
                    td.n { (st.number) } td { (st.zone) }
                    td { (st.first_row) @if st.last_row != st.first_row { "–" (st.last_row) } }
                    td.n { (grouped(st.stones.into())) }
                    td { @for (i, k) in st.kinds.iter().enumerate() { @if i > 0 { ", " } (k.stones) " " (k.kind) } }
                    td.n { (trimmed(st.glue_line_mm, 0)) " mm" }
                    td.n { (view::minutes(st.usual_min)) } td.n { (view::minutes(st.slow_min)) }
                } } }))
            @for reason in &of.reasons { (view::reason_of(reason)) }
        }
    }
}

/// `12.5 ml`, or an area for sheets.
fn amount(a: &Amount) -> String {
    if a.cm2 > 0.0 {
        return format!("{} cm²", trimmed(a.cm2, 0));
    }
    format!("{} ml", trimmed(a.ml, if a.ml < 1.0 { 2 } else { 1 }))
}
