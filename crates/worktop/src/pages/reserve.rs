//! Stones kept for an order: what it still wants of each, and the one lot to take it from.

use crate::nonce::nonce;
use crate::pages::{order, shelf};
use crate::problem::Problem;
use crate::state::State;
use crate::view::{self, Here, Shell, Who};
use axum::extract::{Path, State as Ask};
use desk::{DeskError, OneLot, Opened, Wanted};
use maud::{Markup, html};
use shop::DocumentId;
use std::sync::Arc;

/// `GET /orders/{order}/reserve`
pub(super) async fn page(
    Ask(state): Ask<State>,
    shell: Shell,
    who: Who,
    Path(id): Path<i64>,
) -> Result<Markup, Problem> {
    let desk = Arc::clone(state.desk());
    let (opened, wanted) = state
        .at_desk(move |_| {
            let opened = desk.open(DocumentId(id))?;
            let wanted = desk.wanted(&opened)?;
            if wanted.is_none() {
                desk.begin_counting()?;
            }
            Ok::<_, DeskError>((opened, wanted))
        })
        .await?;
    let body = html! {
        (order::head(&opened, None))
        h1 { "Stones kept for it" }
        p { "Stones of one lot have one shade. What is kept for this order stays on the shelf, and no other order counts on it." }
        @match &wanted {
            None => (view::later("The order is being laid.")),
            Some(all) if all.is_empty() => p { "The order needs no stones yet." },
            Some(all) => {
                @for one in all { (row(&opened, one, &who)?) }
            }
        }
        p { a href={ "/shelf/ledger?order=" (id) } { "Every line of the ledger for this order" } }
    };
    Ok(shell.page("Stones kept for it", Some(Here::Orders), &body))
}

fn row(opened: &Opened, wanted: &Wanted, who: &Who) -> Result<Markup, Problem> {
    let id = opened.document.id;
    let back = format!("/orders/{id}/reserve");
    let hidden = |what: &str| -> Result<Markup, Problem> {
        let nonce = nonce()?;
        Ok(html! {
            input type="hidden" name="nonce" value=(nonce);
            input type="hidden" name="what" value=(what);
            input type="hidden" name="stone" value=(wanted.stone);
            input type="hidden" name="order" value=(id);
            input type="hidden" name="who" value=(who.0);
            input type="hidden" name="back" value=(back);
        })
    };
    let field = |key: &str| view::id(&format!("{key}-{}", wanted.stone));
    Ok(html! {
        section.card aria-label=(wanted.stone) {
            h2 { a href=(shelf::href(&wanted.stone)) { (wanted.stone) } }
            p {
                (shelf::number(wanted.laid)) " laid" @if wanted.used > 0 { ", " (shelf::number(wanted.used)) " set" }
                @if wanted.open() > 0 { ", " strong { (shelf::number(wanted.open())) " not kept yet" } } @else { ", all kept" }
            }
            @if !wanted.held.is_empty() {
                ul.held { @for (lot, stones) in &wanted.held {
                    li {
                        form.row method="post" action="/shelf/moves" {
                            (hidden("released")?)
                            input type="hidden" name="lot" value=(lot);
                            input type="hidden" name="amount" value=(stones);
                            span { (shelf::number(*stones)) " kept, " @if lot.is_empty() { "without a lot" } @else { "lot " (lot) } }
                            button.plain { "Keep no longer" span.quiet { " " (wanted.stone) " " (lot) } }
                        }
                    }
                } }
            }
            @match &wanted.one_lot {
                Some(OneLot::Lot { lot, free }) => p.hint { "One lot has enough: " @if lot.is_empty() { "stones without a lot" } @else { (lot) } ", " (shelf::number(*free)) " free." },
                Some(OneLot::None { largest, free }) => div.notice.warning { p {
                    strong { "No one lot has enough. " }
                    @match largest { Some(lot) => { "Most has " @if lot.is_empty() { "what is without a lot" } @else { "lot " (lot) } ": " (shelf::number(*free)) " free. " }, None => "Nothing is free. " }
                    "Buy a lot that is large enough, or keep from several, whose shade may differ."
                } },
                None => {}
            }
            form.fields.keep method="post" action="/shelf/moves" {
                (hidden("reserved")?)
                div.field { label for=(field("amount")) { "Keep" } input id=(field("amount")) name="amount" inputmode="numeric" required value=(wanted.open().max(1)); }
                div.field { label for=(field("piece")) { "For its piece" } select id=(field("piece")) name="piece" { option value="" { "all of it" } @for p in &opened.order.pieces { option value=(p.piece.name) { (p.piece.name) } } } }
                div.field { label for=(field("lot")) { "Of the lot" } input id=(field("lot")) name="lot" autocomplete="off"; }
                div.actions { button.main name="do" value="one lot" { "From one lot" span.quiet { ": " (wanted.stone) } } button name="do" value="this lot" { "From this lot" span.quiet { ": " (wanted.stone) } } }
            }
        }
    })
}
