//! Stones to buy: what is needed, what the shelf gives, what each supplier is asked for.

use super::{Answered, counted, table};
use crate::pages::go;
use crate::problem::Problem;
use crate::state::{State, Told};
use crate::view;
use app::plan::Plan;
use axum::Form;
use axum::extract::{Path, State as Ask};
use axum::response::Response;
use desk::Arrived;
use maud::{Markup, html};
use planning::buying::{Line, Proof, Shortage};
use rust_decimal::Decimal;
use serde::Deserialize;
use shop::DocumentId;
use units::{grouped, trimmed};

pub(super) fn body(plan: &Plan, answered: &Answered) -> Markup {
    let p = &plan.purchase;
    html! {
        p.lead { (lead(plan)) }
        (needs(plan))
        @for d in &p.deliveries {
            section.card.supplier {
                h3 { (d.supplier) }
                p {
                    "Goods " strong { (plan.money(d.goods)) } ", "
                    @if d.charge.is_zero() { "delivered free" } @else { "delivery " (plan.money(d.charge)) }
                    ", here after " (counted(d.lead_days.into(), "working day", "working days")) "."
                }
                @let lines = p.lines.iter().enumerate().filter(|(_, l)| l.supplier == d.supplier);
                (table(&format!("To order from {}", d.supplier), &html! {
                    th { "Kind" } th.n { "Packs" } th.n { "Stones" } th.n { "A pack" } th.n { "Sum" } th { "When it is here" }
                }, &html! { @for (i, line) in lines { (line_row(plan, answered, i, line)) } }))
            }
        }
        (shortages(plan))
        (shelf(plan, answered))
        (lots(plan))
        (rest(plan))
        (view::reasons("How these figures came about", plan.spare.reasons.iter().chain(&p.reasons)))
    }
}

fn lead(plan: &Plan) -> String {
    let p = &plan.purchase;
    let packs: u64 = p.lines.iter().map(|l| l.packs).sum();
    let currency = plan.price.as_ref().map_or(String::new(), |p| format!(" {}", p.currency));
    let packs = counted(packs, "pack", "packs");
    let bought = format!("{packs} for {}{currency}", plan.money(p.total));
    if plan.answer.short == 0 && !p.shortages.is_empty() {
        let packs = counted(plan.answer.packs, "pack", "packs");
        return format!(
            "{packs} to buy, of the usual size. No supplier is named, so no price is known."
        );
    }
    if plan.answer.short > 0 {
        let short = counted(plan.answer.short, "stone is", "stones are");
        return format!("{short} not to be had; {bought}.");
    }
    match &p.proof {
        _ if p.lines.is_empty() => "Nothing has to be bought: the shelf has it all.".to_owned(),
        Proof::Cheapest => format!("{bought}. Nothing covers it for less."),
        Proof::Within { over } => format!(
            "{bought}. The search ended before that was proven the cheapest: it may be {} less at most.",
            plan.money(*over)
        ),
    }
}

fn needs(plan: &Plan) -> Markup {
    let s = &plan.spare;
    let rows = html! {
        @for k in &s.kinds {
            @let cover = plan.purchase.kinds.iter().find(|c| c.kind == k.kind);
            tr {
                th scope="row" { (k.kind) }
                td.n { (grouped(k.need)) @if let Some(most) = k.need_95 { "–" (grouped(most)) } }
                td.n { (grouped(k.spare)) }
                td.n { (grouped(k.quantity)) }
                td.n { (cover.map_or(String::new(), |c| grouped(c.from_stock))) }
                td.n { (cover.map_or(String::new(), |c| grouped(c.bought + c.stand_ins))) }
                td.n { @if let Some(c) = cover { @if c.short > 0 { strong.wrong { (grouped(c.short)) } } @else { "0" } } }
                td.n { (trimmed(k.loss * 100.0, 1)) " %" }
            }
        }
    };
    html! {
        (table("Stones by kind", &html! {
            th { "Kind" } th.n { "To set" } th.n { "Spare" } th.n { "To have" } th.n { "From the shelf" }
            th.n { "To buy" } th.n { "Missing" } th.n { "Loss" }
        }, &rows))
        p.hint {
            (trimmed(s.sure * 100.0, 2)) " % sure that the whole order can be finished: "
            (trimmed(s.sure_each * 100.0, 2)) " % for each of " (counted(s.n_kinds as u64, "kind", "kinds"))
            ". The chance comes to " (trimmed(s.chance * 100.0, 2)) " %."
        }
    }
}

fn line_row(plan: &Plan, answered: &Answered, index: usize, line: &Line) -> Markup {
    let id = answered.opened.document.id;
    let each = line.pack_price / Decimal::from(line.pack.max(1));
    let field = |name: &str| format!("{name}-{index}");
    html! {
        tr {
            th scope="row" { (line.kind) @if let Some(lot) = &line.lot { " " span.hint { "lot " (lot) } } }
            td.n { (grouped(line.packs)) " × " (grouped(line.pack.into())) }
            td.n { (grouped(line.stones)) }
            td.n { (plan.money(line.pack_price)) }
            td.n { (plan.money(line.sum)) }
            td {
                form.row.arrived method="post" action={ "/orders/" (id) "/buy/arrived" } {
                    input type="hidden" name="nonce" value={ (answered.nonce) " line " (index) };
                    input type="hidden" name="stone" value=(line.kind);
                    input type="hidden" name="supplier" value=(line.supplier);
                    input type="hidden" name="unit_price" value=(each.round_dp(8).normalize());
                    label for=(field("stones")) { span.quiet { (line.kind) ", " } "Stones" }
                    input.short id=(field("stones")) name="stones" inputmode="numeric" value=(line.stones) required;
                    label for=(field("lot")) { span.quiet { (line.kind) ", " } "Lot" }
                    input.short id=(field("lot")) name="lot" value=(line.lot.as_deref().unwrap_or_default()) maxlength="80" autocomplete="off";
                    button { "Arrived" span.quiet { ": " (line.kind) } }
                }
            }
        }
    }
}

fn shortages(plan: &Plan) -> Markup {
    let row = |s: &Shortage| {
        html! {
            tr {
                th scope="row" { (s.kind) }
                td.n { (grouped(s.stones)) }
                td.n { @match (s.packs, s.usual_pack) { (Some(n), Some(pack)) => { (grouped(n)) " × " (grouped(pack.into())) } _ => "not known" } }
                td.n { @match s.estimate { Some(e) => (plan.money(e)), None => "not known" } }
            }
        }
    };
    html! {
        @if !plan.purchase.shortages.is_empty() {
            (table("Nobody is named who sells these in time",
                &html! { th { "Kind" } th.n { "Stones" } th.n { "Packs of the usual size" } th.n { "About" } },
                &html! { @for s in &plan.purchase.shortages { (row(s)) } }))
        }
    }
}

fn shelf(plan: &Plan, answered: &Answered) -> Markup {
    let id = answered.opened.document.id;
    let holdings = &answered.holdings;
    let more: u64 = holdings.iter().map(|h| h.wanted.saturating_sub(h.held)).sum();
    let held: u64 = holdings.iter().map(|h| h.held).sum();
    let left = |stone: &str, lot: &str| {
        let of_lot = |s: &&planning::buying::StockUse| {
            s.kind == stone && s.lot.as_deref().unwrap_or_default() == lot
        };
        plan.purchase.stock.iter().find(of_lot).map_or(String::new(), |s| grouped(s.left))
    };
    html! {
        h3 #shelf { "From the shelf" }
        @if holdings.is_empty() {
            p { "The shelf has none of these stones. What arrives is brought there by the buttons above, or on " a href="/shelf" { "the shelf" } "." }
        } @else {
            (table("Stones of the shelf for this order",
                &html! { th { "Kind" } th { "Lot" } th.n { "Wanted" } th.n { "Kept for this order" } th.n { "Left then" } },
                &html! { @for h in holdings { tr {
                    th scope="row" { (h.stone) } td { @if h.lot.is_empty() { "no lot" } @else { (h.lot) } }
                    td.n { (grouped(h.wanted)) } td.n { (grouped(h.held)) } td.n { (left(&h.stone, &h.lot)) }
                } } }))
            form.actions.no-print method="post" action={ "/orders/" (id) "/buy/hold" } {
                input type="hidden" name="nonce" value=(answered.nonce);
                @if more > 0 { button.main { "Keep " (counted(more, "stone", "stones")) " for this order" } }
                @if held > 0 { button formaction={ "/orders/" (id) "/buy/release" } { "Release " (counted(held, "stone", "stones")) } }
            }
            p.hint { "Stones of one lot have one shade: each copy is set from one lot where a lot reaches. What is kept for this order stays on the shelf and is not given to another." }
        }
        p { a href={ "/shelf/ledger?order=" (id) } { "Every line of the ledger for this order" } }
    }
}

/// Which copies are set from which lot, for kinds that come from more than one.
fn lots(plan: &Plan) -> Markup {
    let all = &plan.purchase.lots;
    let several = |kind: &str| {
        let parts = all.iter().filter(|l| l.kind == kind).flat_map(|l| &l.copies);
        let mut found: Vec<&str> =
            parts.flat_map(|c| &c.parts).map(|p| p.source.as_str()).collect();
        found.sort_unstable();
        found.dedup();
        found.len() > 1
    };
    let shown: Vec<_> = all.iter().filter(|l| several(&l.kind)).collect();
    html! {
        @if !shown.is_empty() {
            (table("One lot to a copy",
                &html! { th { "Piece" } th { "Kind" } th.n { "Copies" } th { "From" } },
                &html! { @for l in shown { @for c in &l.copies { tr {
                    td { (l.piece) } td { (l.kind) } td.n { (c.copies) }
                    td { @for (i, part) in c.parts.iter().enumerate() { @if i > 0 { " and " } (part.source) } }
                } } } }))
        }
    }
}

fn rest(plan: &Plan) -> Markup {
    let p = &plan.purchase;
    html! {
        @if !p.stand_ins.is_empty() {
            (table("Stand-ins",
                &html! { th { "Instead of" } th { "Stones" } th.n { "How many" } th.n { "Larger by" } th.n { "Difference of colour" } },
                &html! { @for s in &p.stand_ins { tr {
                    td { (s.kind) } td { (s.stand_in) } td.n { (grouped(s.stones)) }
                    td.n { (trimmed(s.size_difference_mm, 2)) " mm" } td.n { (trimmed(s.colour_difference, 1)) }
                } } }))
        }
        @if !p.leftovers.is_empty() {
            (table(&format!("Left over, worth {}", plan.money(p.leftover_value)),
                &html! { th { "Kind" } th { "From" } th.n { "Stones" } th.n { "Worth" } },
                &html! { @for l in &p.leftovers { tr {
                    td { (l.kind) } td { (l.supplier) } td.n { (grouped(l.stones)) } td.n { (plan.money(l.value)) }
                } } }))
        }
    }
}

/// What a form says of stones that arrived.
#[derive(Deserialize)]
pub(in crate::pages) struct Taken {
    nonce: String,
    stone: String,
    #[serde(default)]
    supplier: String,
    #[serde(default)]
    unit_price: String,
    stones: String,
    #[serde(default)]
    lot: String,
}

/// `POST /orders/{order}/buy/arrived`
pub(in crate::pages) async fn arrived(
    Ask(state): Ask<State>,
    Path(id): Path<i64>,
    Form(taken): Form<Taken>,
) -> Result<Response, Problem> {
    let typed = taken.stones.replace([',', ' ', '\u{a0}'], "");
    let stones = typed.parse().map_err(|_| {
        Problem::unfit(format!("the stones are no whole number: `{}`", taken.stones))
            .hint("go back and type how many arrived, like 1440")
    })?;
    let arrived = Arrived {
        nonce: taken.nonce,
        stone: taken.stone,
        lot: taken.lot,
        stones,
        unit_price: taken.unit_price.parse().ok(),
        supplier: Some(taken.supplier),
        who: String::new(),
    };
    let said =
        format!("{} of {} are on the shelf.", counted(stones, "stone", "stones"), arrived.stone);
    state.at_desk(move |desk| desk.arrived(&desk.open(DocumentId(id))?, &arrived)).await?;
    state.tell(Told::Shelf);
    Ok(go(&format!("/orders/{id}/buy"), &said))
}

/// What a form says that keeps or releases stones.
#[derive(Deserialize)]
pub(in crate::pages) struct Once {
    nonce: String,
}

/// `POST /orders/{order}/buy/hold`
pub(in crate::pages) async fn hold(
    Ask(state): Ask<State>,
    Path(id): Path<i64>,
    Form(once): Form<Once>,
) -> Result<Response, Problem> {
    let kept = state
        .at_desk(move |desk| {
            let opened = desk.open(DocumentId(id))?;
            let plan = desk.plan(&opened, &lay::Unwatched)?;
            desk.hold(&opened, &plan, &once.nonce)
        })
        .await?;
    state.tell(Told::Shelf);
    let said = format!("{} are kept for this order.", counted(kept, "stone", "stones"));
    Ok(go(&format!("/orders/{id}/buy#shelf"), &said))
}

/// `POST /orders/{order}/buy/release`
pub(in crate::pages) async fn release(
    Ask(state): Ask<State>,
    Path(id): Path<i64>,
    Form(once): Form<Once>,
) -> Result<Response, Problem> {
    let gone =
        state.at_desk(move |desk| desk.release(&desk.open(DocumentId(id))?, &once.nonce)).await?;
    state.tell(Told::Shelf);
    let said = format!("{} are released.", counted(gone, "stone", "stones"));
    Ok(go(&format!("/orders/{id}/buy#shelf"), &said))
}
