//! The ledger, page by page: every stone that came, was kept, went or was counted, and who said so.

use super::{href, number, ways};
use crate::problem::Problem;
use crate::state::State;
use crate::view::{Here, Shell};
use axum::extract::{Query, State as Ask};
use maud::{Markup, html};
use serde::Deserialize;
use shop::{DocumentId, Entry, EntryId, LedgerPage, Moved};

/// So many lines to a page.
pub(super) const A_PAGE: u32 = 50;

#[derive(Debug, Default, Deserialize)]
pub(super) struct Wanted {
    pub(super) before: Option<i64>,
    pub(super) order: Option<i64>,
}

/// `GET /shelf/ledger`
pub(super) async fn page(
    Ask(state): Ask<State>,
    shell: Shell,
    Query(wanted): Query<Wanted>,
) -> Result<Markup, Problem> {
    let (before, order) = (wanted.before.map(EntryId), wanted.order.map(DocumentId));
    let lines = state
        .at_desk(move |desk| {
            desk.shop().ledger(&LedgerPage { stone: None, order, before, limit: A_PAGE + 1 })
        })
        .await?;
    let more = match wanted.order {
        Some(order) => format!("/shelf/ledger?order={order}&before="),
        None => "/shelf/ledger?before=".to_owned(),
    };
    let body = html! {
        h1 { "Ledger" }
        (ways("/shelf/ledger"))
        p { "Every stone that came, was kept for an order, went or was counted. Lines are only added: what was wrong is put right by a count." }
        @if let Some(order) = wanted.order {
            p { "Only what was done for " a href={ "/orders/" (order) } { "order " (order) } ". " a href="/shelf/ledger" { "All lines" } }
        }
        (lines_of(&state, &lines, &more, true))
    };
    Ok(shell.page("Ledger", Some(Here::Shelf), &body))
}

/// Lines as a table, and the way to older ones: `more` takes the number of the last line.
pub(super) fn lines_of(state: &State, lines: &[Entry], more: &str, with_stone: bool) -> Markup {
    let shown = &lines[..lines.len().min(A_PAGE as usize)];
    html! {
        @if shown.is_empty() {
            p { "There is no line yet." }
        } @else {
            div.table tabindex="0" role="group" aria-label="Lines of the ledger, the last first" {
                table.ledger {
                    thead { tr {
                        th { "When" } @if with_stone { th { "Stone" } } th { "What" } th { "Lot" } th.n { "Stones" }
                        th.n { "There after it" } th.n { "Kept after it" } th { "For" } th { "Who" } th { "Why" }
                    } }
                    tbody { @for line in shown { (row(state, line, with_stone)) } }
                }
            }
            @if let Some(last) = shown.last().filter(|_| lines.len() > shown.len()) {
                p { a href={ (more) (last.id) } { "Older lines" } }
            }
        }
    }
}

fn row(state: &State, line: &Entry, with_stone: bool) -> Markup {
    let said = &line.said;
    let at = state.desk().local(line.at_ms);
    html! {
        tr {
            td.when { (at.strftime("%-d %b %Y, %H:%M")) }
            @if with_stone { th scope="row" { a href=(href(&said.stone)) { (said.stone) } } }
            td { (what(said.what)) @if line.short() { " " span.badge.bad { "fewer than that are there: count" } } }
            td { (said.lot) }
            td.n { (number(change(line))) }
            td.n { (number(line.on_hand_after)) }
            td.n { (number(line.reserved_after)) }
            td {
                @if let Some(order) = said.order { a href={ "/orders/" (order) } { "order " (order) } }
                @if let Some(piece) = &said.piece { ", " (piece) }
                @if let Some(supplier) = &said.supplier { "from " (supplier) }
                @if let Some(price) = &said.unit_price { " at " (price) " each" }
            }
            td { (said.who) }
            td { (said.why) }
        }
    }
}

/// By how much a line changed what it is about.
fn change(line: &Entry) -> i64 {
    match line.said.what {
        Moved::Reserved | Moved::Released => line.reserved_change,
        _ => line.on_hand_change,
    }
}

/// What happened, in words.
pub(super) fn what(what: Moved) -> &'static str {
    match what {
        Moved::Received => "received",
        Moved::Reserved => "kept for an order",
        Moved::Released => "not kept any more",
        Moved::Used => "used",
        Moved::Lost => "lost",
        Moved::Counted => "counted",
        Moved::TakenBack => "taken back",
    }
}
