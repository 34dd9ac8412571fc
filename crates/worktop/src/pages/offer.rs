//! What an order brings that workshop and shelf do not have, and what the workshop has otherwise.

use crate::nonce::nonce;
use crate::pages::{go, order, shelf};
use crate::problem::Problem;
use crate::state::{State, Told};
use crate::view::{self, Here, Shell, Who};
use app::adopt::Entry;
use axum::Form;
use axum::extract::{Path, State as Ask};
use axum::response::Response;
use desk::{CountedRow, DeskError, Opened};
use maud::{Markup, html};
use shop::{DocumentId, RevisionId};

/// `GET /orders/{order}/offer`
pub(super) async fn page(
    Ask(state): Ask<State>,
    shell: Shell,
    who: Who,
    Path(id): Path<i64>,
) -> Result<Markup, Problem> {
    let (opened, offer) = state
        .at_desk(move |desk| {
            let opened = desk.open(DocumentId(id))?;
            let offer = desk.offer(&opened)?;
            Ok::<_, DeskError>((opened, offer))
        })
        .await?;
    let body = html! {
        (order::head(&opened, None))
        h1 { "For your shelf" }
        @if offer.is_empty() {
            p { "The workshop has everything that this order speaks of." }
            div.actions { a.button.main href={ "/orders/" (id) } { "To the order" } }
        } @else {
            p { "This order speaks of things that the workshop does not have yet. Take what you want to use in other orders, too; the order itself works without." }
            form method="post" action={ "/orders/" (id) "/offer" } {
                input type="hidden" name="nonce" value=(nonce()?);
                @if !offer.entries.is_empty() {
                    fieldset.card {
                        legend { "Into the workshop" }
                        @for (i, entry) in offer.entries.iter().enumerate() {
                            div.tick {
                                input type="checkbox" name="entry" id={ "entry-" (i) } value=(word(entry)) checked;
                                label for={ "entry-" (i) } { (named(entry)) }
                            }
                        }
                    }
                }
                @if !offer.stock.is_empty() {
                    fieldset.card {
                        legend { "Counted on the shelf" }
                        p.hint { "What the order's document says lies there. Tick it only if it is your own shelf that it speaks of: each becomes a count." }
                        @for (i, row) in offer.stock.iter().enumerate() {
                            div.tick {
                                input type="checkbox" name="stock" id={ "stock-" (i) } value=(stock_word(row));
                                label for={ "stock-" (i) } {
                                    (row.stone) @if !row.lot.is_empty() { ", lot " (row.lot) }
                                    ": " (shelf::number(row.stones)) span.hint { " (the ledger has " (shelf::number(row.before)) ")" }
                                }
                            }
                        }
                        (who.field())
                    }
                }
                div.actions { button.main { "Take what is ticked" } a.button href={ "/orders/" (id) } { "Take nothing" } }
            }
        }
    };
    Ok(shell.page("For your shelf", Some(Here::Orders), &body))
}

/// `POST /orders/{order}/offer`
pub(super) async fn take(
    Ask(state): Ask<State>,
    before: Who,
    Path(id): Path<i64>,
    Form(pairs): Form<Vec<(String, String)>>,
) -> Result<Response, Problem> {
    let all =
        |key: &str| pairs.iter().filter(|p| p.0 == key).map(|p| p.1.as_str()).collect::<Vec<_>>();
    let one = |key: &str| all(key).first().map_or_else(String::new, |t| (*t).to_owned());
    let (entries, stock): (Vec<String>, Vec<String>) = (
        all("entry").into_iter().map(str::to_owned).collect(),
        all("stock").into_iter().map(str::to_owned).collect(),
    );
    let (nonce, who) = (one("nonce"), one("who"));
    let name = who.clone();
    state
        .at_desk(move |desk| {
            let opened = desk.open(DocumentId(id))?;
            let offer = desk.offer(&opened)?;
            // What was taken meanwhile is not offered any more, and is not taken twice.
            let entries: Vec<Entry> =
                offer.entries.into_iter().filter(|e| entries.contains(&word(e))).collect();
            let stock: Vec<CountedRow> =
                offer.stock.into_iter().filter(|r| stock.contains(&stock_word(r))).collect();
            desk.take_offer(DocumentId(id), &entries, &stock, &nonce, &name)
        })
        .await?;
    state.tell(Told::Shelf);
    Ok(Who::remember(&who, &before, go(&format!("/orders/{id}"), "Taken over.")))
}

/// What the workshop has otherwise today than an order that took it over before.
pub(super) fn differing(opened: &Opened, entries: &[Entry]) -> Markup {
    let id = opened.document.id;
    html! {
        @if !entries.is_empty() {
            details.card.no-print {
                summary { "The workshop has it otherwise today (" (entries.len()) ")" }
                form method="post" action={ "/orders/" (id) "/refresh" } {
                    (view::hidden(opened.revision.id, &format!("/orders/{id}")))
                    p.hint { "The order keeps what it took over when it was begun. Tick what it is to have as the workshop has it now; it can be undone." }
                    @for (i, entry) in entries.iter().enumerate() {
                        div.tick {
                            input type="checkbox" name="entry" id={ "as-today-" (i) } value=(word(entry));
                            label for={ "as-today-" (i) } { (named(entry)) }
                        }
                    }
                    div.actions { button { "As the workshop has it" } }
                }
            }
        }
    }
}

/// `POST /orders/{order}/refresh`
pub(super) async fn refresh(
    Ask(state): Ask<State>,
    Path(id): Path<i64>,
    Form(pairs): Form<Vec<(String, String)>>,
) -> Result<Response, Problem> {
    let from = pairs.iter().find(|p| p.0 == "from").and_then(|p| p.1.parse().ok());
    let from = from.ok_or_else(|| {
        Problem::unfit("the form says not which revision it is about").hint("reload the page")
    })?;
    let chosen: Vec<String> = pairs.into_iter().filter(|p| p.0 == "entry").map(|p| p.1).collect();
    if chosen.is_empty() {
        return Ok(go(&format!("/orders/{id}"), "Nothing was ticked, and nothing changed."));
    }
    state
        .at_desk(move |desk| {
            let opened = desk.open(DocumentId(id))?;
            let entries = desk.differing(&opened)?;
            let wanted: Vec<Entry> =
                entries.into_iter().filter(|e| chosen.contains(&word(e))).collect();
            desk.refresh(DocumentId(id), RevisionId(from), &wanted)
        })
        .await?;
    state.tell(Told::Order(id));
    Ok(go(&format!("/orders/{id}"), "The order has it as the workshop has it today."))
}

/// An entry for people.
fn named(entry: &Entry) -> String {
    match entry {
        Entry::Kind(name) => format!("stone: {name}"),
        Entry::Mix(name) => format!("mix: {name}"),
        Entry::Supplier(name) => format!("supplier: {name}"),
        Entry::Adhesive(name) => format!("adhesive: {name}"),
        Entry::Workshop => "how you work".to_owned(),
        Entry::Price => "what you charge".to_owned(),
    }
}

/// An entry as a form sends it.
fn word(entry: &Entry) -> String {
    serde_json::to_string(entry).unwrap_or_default()
}

/// A row as a form sends it: if the document says otherwise meanwhile, it is another row.
fn stock_word(row: &CountedRow) -> String {
    format!("{}/{}/{}", row.stone, row.lot, row.stones)
}
