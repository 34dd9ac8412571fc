//! Beginning to set: which piece, which copies, from which lots.

use super::{list, nonce, stones_words};
use crate::pages::{go, order, paper};
use crate::problem::{Problem, sentence};
use crate::state::{State, Told};
use crate::view::{self, Here, Shell};
use axum::Form;
use axum::extract::{Path, State as Ask};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use desk::bench::{AtBench, BeginAsked, CanSet};
use desk::{Desk, DeskError, Opened};
use maud::{Markup, html};
use shop::{DocumentId, RevisionId};
use std::sync::Arc;
use std::time::Duration;

/// How long the page waits for a lay before it shows without.
const PATIENCE: Duration = Duration::from_millis(300);

/// What a form said that could not be done.
struct Wrong {
    number: usize,
    first: String,
    last: String,
    error: DeskError,
}

/// `GET /orders/{order}/set`
pub(super) async fn page(
    Ask(state): Ask<State>,
    shell: Shell,
    Path(order): Path<i64>,
) -> Result<Markup, Problem> {
    render(&state, &shell, order, None).await
}

async fn render(
    state: &State,
    shell: &Shell,
    order: i64,
    wrong: Option<&Wrong>,
) -> Result<Markup, Problem> {
    let desk = Arc::clone(state.desk());
    let (opened, pieces, settings) = state
        .at_desk(move |_| {
            let opened = desk.open(DocumentId(order))?;
            let numbers = 1..=opened.order.pieces.len();
            let pieces =
                numbers.map(|n| can_set(&desk, &opened, n)).collect::<Result<Vec<_>, _>>()?;
            let settings = desk.shop().settings(opened.document.id)?;
            let settings = settings.iter().map(|s| desk.at_bench(s.id));
            let settings = settings.collect::<Result<Vec<_>, _>>()?;
            Ok::<_, DeskError>((opened, pieces, settings))
        })
        .await?;
    let done: u32 = settings.iter().map(|s| s.course.copies_done()).sum();
    let body = html! {
        (order::head(&opened, Some(order::Part::Set)))
        (paper::of_part(opened.document.id, order::Part::Set))
        @if let Some(wrong) = wrong {
            div.notice.serious role="alert" tabindex="-1" data-module="first" {
                p { (sentence(&wrong.error.to_string())) "." }
                @if let Some(hint) = wrong.error.hint() { p.hint { (sentence(&hint)) "." } }
            }
        }
        p.lead { "When setting begins, lay and stretches are frozen for these copies: no later change moves a stone under a half-set piece." }
        @if done > 0 { p { a.button href={ "/orders/" (opened.document.id) "/repair" } { "Repair a finished copy" } } }
        @if opened.order.pieces.is_empty() {
            div.empty { p { "There is no piece to set yet." } a.button.main href={ "/orders/" (opened.document.id) "/pieces/new" } { "Add a piece" } }
        }
        @for (number, piece) in (1..).zip(&pieces) {
            @let name = &opened.order.pieces[number - 1].piece.name;
            section.card.bench-begin aria-labelledby={ "piece-" (number) } {
                h2 id={ "piece-" (number) } { (name) }
                (already(&settings, name))
                @match piece {
                    None => (view::later("This piece is being laid.")),
                    Some(can) => (form(&opened, can, wrong.filter(|w| w.number == number))),
                }
            }
        }
    };
    Ok(shell.page(&format!("Setting · {}", opened.document.name), Some(Here::Bench), &body))
}

/// What can be begun of a piece; `None` while it is being laid.
fn can_set(desk: &Arc<Desk>, opened: &Opened, number: usize) -> Result<Option<CanSet>, DeskError> {
    let laid = match desk.begin_lay(opened, number)?.wait(PATIENCE) {
        None => return Ok(None),
        Some(Ok(laid)) => laid,
        Some(Err(_)) => desk.lay(opened.piece(number)?, &lay::Unwatched)?,
    };
    desk.can_set(opened, number, &laid).map(Some)
}

/// Settings of a piece: those that go on, and what is done.
fn already(settings: &[AtBench], piece: &str) -> Markup {
    let own: Vec<&AtBench> = settings.iter().filter(|s| s.setting.piece == piece).collect();
    let done: u32 = own.iter().map(|s| s.course.copies_done()).sum();
    html! {
        @if done > 0 { p { strong { (done) } @if done == 1 { " copy is set." } @else { " copies are set." } } }
        ul.bench-open {
            @for at in own.iter().filter(|s| s.setting.closed_ms.is_none()) {
                li { a.button href={ "/bench/" (at.setting.id) } { "Go on: " (list::copy_words(at)) } }
            }
        }
    }
}

fn form(opened: &Opened, can: &CanSet, wrong: Option<&Wrong>) -> Markup {
    let number = can.number;
    let Some(free) = can.free.first() else {
        return html! { p.hint { "Every copy is set, or at the bench." } };
    };
    let stones: u64 = can.kinds.iter().map(|k| k.stones).sum();
    let typed =
        |said: Option<&String>, usual: u32| said.cloned().unwrap_or_else(|| usual.to_string());
    html! {
        form method="post" action={ "/orders/" (opened.document.id) "/set" } {
            input type="hidden" name="nonce" value=(nonce());
            input type="hidden" name="from" value=(opened.revision.id);
            input type="hidden" name="number" value=(number);
            p.hint { (stones_words(stones)) " on a copy · " (can.quantity) " asked for" }
            fieldset.fields {
                legend { "Copies" }
                div.field {
                    label for={ "first-" (number) } { "From" }
                    input id={ "first-" (number) } name="first" inputmode="numeric" required value=(typed(wrong.map(|w| &w.first), free.first));
                }
                div.field {
                    label for={ "last-" (number) } { "To" }
                    input id={ "last-" (number) } name="last" inputmode="numeric" required value=(typed(wrong.map(|w| &w.last), free.last));
                }
            }
            details open[can.kinds.iter().any(|k| k.lots.len() > 1)] {
                summary { "From which lots" }
                div.fields {
                    @for (i, kind) in can.kinds.iter().enumerate() {
                        @let id = format!("lot-{number}-{i}");
                        div.field {
                            label for=(id) { (kind.kind) " (" (kind.stones) " a copy)" }
                            @if kind.lots.is_empty() {
                                p.hint id=(id) { "None lies on the shelf: what is set is counted there all the same, as a shortage." }
                            } @else {
                                select id=(id) name={ "lot " (kind.kind) } {
                                    @for lot in &kind.lots {
                                        option value=(lot.lot) {
                                            @if lot.lot.is_empty() { "without a lot" } @else { (lot.lot) }
                                            ", " (lot.free) " free"
                                        }
                                    }
                                }
                            }
                        }
                    }
                }
            }
            div.actions { button.main.bench-wide { "Begin setting" span.quiet { " " (can.piece) } } }
        }
    }
}

/// `POST /orders/{order}/set`
pub(super) async fn begin(
    Ask(state): Ask<State>,
    shell: Shell,
    Path(order): Path<i64>,
    Form(sent): Form<Vec<(String, String)>>,
) -> Result<Response, Problem> {
    let said = |key: &str| sent.iter().find(|p| p.0 == key).map(|p| p.1.trim().to_owned());
    let number = |key: &str| said(key).and_then(|v| v.parse::<u32>().ok());
    let piece = number("number").unwrap_or_default() as usize;
    let from = said("from").and_then(|v| v.parse().ok()).map(RevisionId);
    let from =
        from.ok_or_else(|| Problem::unfit("this form is not whole").hint("open the page anew"))?;
    let (first, last) = (said("first").unwrap_or_default(), said("last").unwrap_or_default());
    let read = |text: &str| {
        text.parse::<u32>().map(Some).map_err(|_| {
            DeskError::unfit(format!("this is no copy: `{text}`"), "type its number, like 7")
        })
    };
    let copies = read(&first).and_then(|f| Ok((f, read(&last)?)));
    let lots =
        sent.iter().filter_map(|(k, v)| Some((k.strip_prefix("lot ")?.to_owned(), v.clone())));
    let nonce = said("nonce").filter(|n| !n.is_empty()).unwrap_or_else(nonce);
    let lots = lots.collect();
    let begun = state
        .at_desk(move |desk| {
            let asked = |(first, last)| BeginAsked { nonce, number: piece, first, last, lots };
            Ok::<_, Problem>(
                copies
                    .map(asked)
                    .and_then(|asked| desk.begin_setting_now(DocumentId(order), from, &asked)),
            )
        })
        .await?;
    match begun {
        Ok(setting) => {
            state.tell(Told::Order(order));
            Ok(go(&format!("/bench/{}", setting.id), ""))
        }
        Err(
            error @ (DeskError::Unfit { .. } | DeskError::Meanwhile { .. } | DeskError::Plan(_)),
        ) => {
            let wrong = Wrong { number: piece, first, last, error };
            let page = render(&state, &shell, order, Some(&wrong)).await?;
            Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
        }
        Err(other) => Err(other.into()),
    }
}
