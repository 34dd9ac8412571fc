//! One order: the answer first, then its pieces.

use crate::pages::{go, offer};
use crate::problem::{Problem, sentence};
use crate::state::State;
use crate::view::{self, Form, Here, Shell, Typed};
use app::edit::{Path as Key, Sheet};
use app::fields::Table;
use axum::extract::{Path, State as Ask};
use axum::response::Response;
use desk::{DeskError, Opened};
use lay::Severity;
use maud::{Markup, html};
use shop::DocumentId;
use std::time::Duration;

/// How long a page waits for a plan before it shows without.
const PATIENCE: Duration = Duration::from_millis(300);

/// The parts of an order, in the bar below its name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Part {
    /// Its pieces.
    Pieces,
    /// Stones to buy.
    Buy,
    /// Adhesive and stretches.
    Glue,
    /// Hours and days.
    Days,
    /// Its price.
    Price,
    /// The quote and the customer's yes.
    Quote,
    /// Kits.
    Kits,
    /// Paper.
    Paper,
    /// Setting.
    Set,
}

const PARTS: &[(Part, &str, &str)] = &[
    (Part::Pieces, "", "Pieces"),
    (Part::Buy, "/buy", "Stones to buy"),
    (Part::Glue, "/glue", "Glue"),
    (Part::Days, "/days", "Hours and days"),
    (Part::Price, "/price", "Price"),
    (Part::Quote, "/quote", "Quote"),
    (Part::Kits, "/kits", "Kits"),
    (Part::Paper, "/paper", "Paper"),
    (Part::Set, "/set", "Setting"),
];

/// The head of every page of an order: its name, what can be taken back, its parts.
pub(crate) fn head(opened: &Opened, here: Option<Part>) -> Markup {
    let id = opened.document.id;
    let at = opened.revision.id;
    html! {
        div.order-head {
            p.above { a href="/" { "Orders" } @if here.is_none() { " › " a href={ "/orders/" (id) } { (opened.document.name) } } }
            (back_and_forth(opened))
            @if here.is_some() { h1 { (opened.document.name) @if opened.document.demo { " " span.badge { "demo" } } } }
        }
        nav.ways.no-print aria-label="Parts of the order" {
            @for (part, end, name) in PARTS {
                a href={ "/orders/" (id) (end) } aria-current=[(here == Some(*part)).then_some("page")] { (name) }
            }
        }
        span hidden data-module="instep" data-order=(id) data-revision=(at) {}
    }
}

/// Undo and redo, which say what they would do.
pub(crate) fn back_and_forth(opened: &Opened) -> Markup {
    let base = match opened.document.sort {
        shop::Sort::Workshop => "/workshop".to_owned(),
        shop::Sort::Order => format!("/orders/{}", opened.document.id),
    };
    let id = opened.document.id;
    html! {
        form.row.history.no-print method="post" action={ "/orders/" (id) "/undo" } data-module="history" {
            input type="hidden" name="from" value=(opened.revision.id);
            input type="hidden" name="back" value=(base) data-here="";
            button.small data-history="undo" disabled[opened.ways.undo.is_none()] title=(opened.ways.undo.as_deref().unwrap_or("nothing to take back")) { "↶ Undo" }
            button.small data-history="redo" formaction={ "/orders/" (id) "/redo" } disabled[opened.ways.redo.is_none()] title=(opened.ways.redo.as_deref().unwrap_or("nothing to bring back")) { "↷ Redo" }
            @if opened.document.sort == shop::Sort::Order { a.small href={ "/orders/" (id) "/steps" } { "Steps" } }
        }
    }
}

/// `GET /orders/{order}`
pub(super) async fn page(
    Ask(state): Ask<State>,
    shell: Shell,
    Path(id): Path<i64>,
) -> Result<Markup, Problem> {
    render(&state, &shell, DocumentId(id), &Typed::default()).await
}

/// The page, with what was typed and could not be taken.
pub(super) async fn render(
    state: &State,
    shell: &Shell,
    id: DocumentId,
    typed: &Typed,
) -> Result<Markup, Problem> {
    let desk = std::sync::Arc::clone(state.desk());
    let (opened, plan, approval, otherwise) = state
        .at_desk(move |_| {
            let opened = desk.open(id)?;
            let plan = if opened.order.pieces.is_empty() {
                None
            } else {
                desk.begin_plan(&opened)?.wait(PATIENCE)
            };
            let approval = desk.approval_state(&opened)?;
            let otherwise = desk.differing(&opened)?;
            Ok::<_, DeskError>((opened, plan, approval, otherwise))
        })
        .await?;
    let sheet = Sheet::of(&opened.revision.text).ok_or_else(Problem::ours)?;
    let form = Form { sheet: &sheet, typed };
    let body = html! {
        (head(&opened, Some(Part::Pieces)))
        (form.summary())
        @match &plan {
            Some(Ok(plan)) => {
                (view::answer(&plan.answer))
                (view::plan_findings(plan.findings.iter().filter(|f| f.severity != Severity::Note)))
            }
            Some(Err(wrong)) => (no_plan(wrong)),
            None if opened.order.pieces.is_empty() => {}
            None => (view::later("The order is being planned.")),
        }
        (super::quote::state_notice(state, id, &approval, true))
        section aria-labelledby="pieces" {
            h2 #pieces { "Pieces" }
            @if opened.order.pieces.is_empty() {
                div.empty {
                    h3 { "No piece yet" }
                    p { "Pick a shape or drop an outline, type its size, pick stones: the lay is there at once." }
                    div.actions { a.button.main href={ "/orders/" (id) "/pieces/new" } { "Add a piece" } }
                }
            } @else {
                ul.cards.pieces { @for i in 1..=opened.order.pieces.len() { (piece_card(&opened, i)) } }
                div.actions { a.button.main href={ "/orders/" (id) "/pieces/new" } { "Add a piece" } }
            }
        }
        (offer::differing(&opened, &otherwise))
        section aria-labelledby="about" {
            h2 #about { "About the order" }
            form method="post" action={ "/orders/" (id) "/change" } data-module="change" {
                (view::hidden(opened.revision.id, &format!("/orders/{id}")))
                (form.table(&Key::root(), Table::Order, view::OWN_PAGES))
                div.actions { button { "Keep" } }
            }
            details {
                summary { "Keep stones for it, take it along, put it away" }
                div.actions {
                    a.button href={ "/orders/" (id) "/buy#shelf" } { "Stones kept for it" }
                    a.button href={ "/orders/" (id) "/offer" } { "What it has for the shelf" }
                    a.button href={ "/orders/" (id) "/document" } { "Take it along" }
                    a.button href={ "/orders/" (id) "/text" } { "As text" }
                    form method="post" action={ "/orders/" (id) "/away" } {
                        @if opened.document.put_away { button name="away" value="false" { "Bring it back" } }
                        @else { button name="away" value="true" { "Put it away" } }
                    }
                }
            }
        }
    };
    Ok(shell.page(&opened.document.name, Some(Here::Orders), &body))
}

/// Why there is no plan.
pub(crate) fn no_plan(wrong: &DeskError) -> Markup {
    html! {
        div.notice.serious {
            p { strong { "There is no plan: " } (wrong.to_string()) }
            @if let Some(hint) = wrong.hint() { p.hint { (sentence(&hint)) "." } }
        }
    }
}

fn piece_card(opened: &Opened, number: usize) -> Markup {
    let id = opened.document.id;
    let piece = &opened.order.pieces[number - 1];
    let size = piece.piece.blank.bounds();
    html! {
        li.card.piece {
            a.picture href={ "/orders/" (id) "/pieces/" (number) } {
                img src={ "/orders/" (id) "/pieces/" (number) "/picture.svg?at=" (opened.revision.id) } alt="" loading="lazy";
                h3 { (piece.piece.name) }
            }
            p.hint {
                (piece.quantity) @if piece.quantity == 1 { " copy" } @else { " copies" }
                @if !piece.names.is_empty() { ", " (piece.names.len()) " with names" }
                " · " (units::trimmed(size.width(), 1)) " × " (units::trimmed(size.height(), 1)) " mm"
            }
            form.row method="post" action={ "/orders/" (id) "/change" } {
                (view::hidden(opened.revision.id, &format!("/orders/{id}")))
                button.plain name="do" value={ "copy piece." (number) } { "Copy" span.quiet { " " (piece.piece.name) } }
                button.plain.grave name="do" value={ "remove piece." (number) } { "Take out" span.quiet { " " (piece.piece.name) } }
            }
        }
    }
}

/// `GET /orders/{order}/steps`
pub(super) async fn steps(
    Ask(state): Ask<State>,
    shell: Shell,
    Path(id): Path<i64>,
) -> Result<Markup, Problem> {
    let id = DocumentId(id);
    let (opened, steps) = state
        .at_desk(move |desk| {
            Ok::<_, DeskError>((desk.open(id)?, desk.shop().history(id, None, 200)?))
        })
        .await?;
    let body = html! {
        (head(&opened, None))
        h1 { "Steps" }
        p { "Every change of this order, the last first. What was taken back stays here, too." }
        ol.steps reversed {
            @for step in steps {
                li.gone[!step.stands] {
                    (sentence(&step.what))
                    span.hint { " · " (state.desk().local(step.at_ms).strftime("%-d %b %Y, %H:%M")) }
                    @if !step.stands { " " span.badge { "taken back" } }
                }
            }
        }
    };
    Ok(shell.page("Steps", Some(Here::Orders), &body))
}

#[derive(serde::Deserialize)]
pub(super) struct Away {
    away: bool,
}

/// `POST /orders/{order}/away`
pub(super) async fn away(
    Ask(state): Ask<State>,
    Path(id): Path<i64>,
    axum::Form(away): axum::Form<Away>,
) -> Result<Response, Problem> {
    let away = away.away;
    state
        .at_desk(move |desk| {
            let shop = desk.shop();
            if away { shop.put_away(DocumentId(id)) } else { shop.bring_back(DocumentId(id)) }
        })
        .await?;
    Ok(go("/", if away { "The order is put away." } else { "The order is back." }))
}
