//! The orders: what there is, and a new one.

use crate::pages::{go, tour};
use crate::problem::{Problem, sentence};
use crate::state::{State, Told};
use crate::view::{Here, Shell};
use axum::Form;
use axum::extract::{Query, State as Ask};
use axum::http::HeaderMap;
use axum::response::{IntoResponse, Response};
use desk::{DeskError, NewOrder};
use maud::{Markup, html};
use serde::Deserialize;
use shop::{Asked, By, Document, DocumentId};

/// So many orders to a page.
const A_PAGE: u32 = 40;

#[derive(Debug, Default, Deserialize)]
pub(super) struct Wanted {
    #[serde(default)]
    search: String,
    #[serde(default)]
    by: String,
    #[serde(default)]
    away: bool,
    after: Option<i64>,
}

/// `GET /`
pub(super) async fn list(
    Ask(state): Ask<State>,
    shell: Shell,
    headers: HeaderMap,
    Query(wanted): Query<Wanted>,
) -> Result<Markup, Problem> {
    let by = if wanted.by == "due" { By::Due } else { By::Changed };
    let (search, away, after) = (wanted.search.clone(), wanted.away, wanted.after);
    let (orders, demo) = state
        .at_desk(move |desk| {
            let asked = Asked {
                search: &search,
                put_away: away,
                by,
                after: after.map(DocumentId),
                limit: A_PAGE + 1,
                ..Asked::default()
            };
            Ok::<_, DeskError>((desk.shop().documents(&asked)?, desk.demo()?))
        })
        .await?;
    let more = orders.get(A_PAGE as usize - 1).filter(|_| orders.len() > A_PAGE as usize).cloned();
    let shown = &orders[..orders.len().min(A_PAGE as usize)];
    let nothing = shown.is_empty() && wanted.search.is_empty() && !wanted.away && after.is_none();
    let body = html! {
        h1 { @if wanted.away { "Orders put away" } @else { "Orders" } }
        @if !wanted.away && wanted.search.is_empty() && after.is_none() {
            (tour::card(&headers, demo.as_ref().filter(|d| !d.put_away).map(|d| d.id.0)))
        }
        div.actions.no-print {
            a.button.main href="/orders/new" { "New order" }
            form.row method="get" action="/" role="search" {
                label.quiet for="search" { "Search orders" }
                input type="search" name="search" id="search" value=(wanted.search) placeholder="name, piece or day";
                label.quiet for="by" { "Sorted by" }
                select name="by" id="by" {
                    option value="changed" selected[by == By::Changed] { "changed last" }
                    option value="due" selected[by == By::Due] { "due first" }
                }
                @if wanted.away { input type="hidden" name="away" value="true"; }
                button { "Search" }
            }
        }
        @if nothing {
            div.empty {
                h2 { "No order yet" }
                p { "Take your first order: a name is enough to begin. Or look around in the demo order first; it can be removed at any time." }
                div.actions { a.button.main href="/orders/new" { "New order" } }
            }
        } @else if shown.is_empty() {
            div.empty { p { "No order is found by these words." } p { a href="/" { "All orders" } } }
        } @else {
            ul.cards { @for order in shown { (card(&state, order)) } }
        }
        @if let Some(last) = more {
            p { a href={ "/?by=" (wanted.by) "&search=" (wanted.search) "&after=" (last.id) @if wanted.away { "&away=true" } } { "More orders" } }
        }
        div.actions {
            @if wanted.away { a href="/" { "Orders at hand" } } @else { a href="/?away=true" { "Orders put away" } }
            form method="post" action="/demo" {
                @if demo.is_some() { button.plain name="there" value="false" { "Remove the demo order" } }
                @else { button.plain name="there" value="true" { "Put the demo order there" } }
            }
        }
    };
    Ok(shell.page("Orders", Some(Here::Orders), &body))
}

fn card(state: &State, order: &Document) -> Markup {
    let changed = state.desk().local(order.changed_ms);
    html! {
        li.card.order {
            h2 { a href={ "/orders/" (order.id) } { (order.name) } }
            p.hint {
                @if let Some(due) = &order.due_day { "Due " (due) " · " }
                "changed " (changed.strftime("%-d %b %Y, %H:%M"))
                @if order.demo { " · " span.badge { "demo" } }
            }
        }
    }
}

/// `GET /orders/new`
pub(super) async fn new(shell: Shell) -> Markup {
    shell.page("New order", Some(Here::Orders), &form(&NewOrder::default(), None))
}

fn form(new: &NewOrder, wrong: Option<&DeskError>) -> Markup {
    html! {
        div.narrow {
            h1 { "New order" }
            @if let Some(wrong) = wrong {
                div.notice.serious role="alert" {
                    p { (sentence(&wrong.to_string())) "." }
                    @if let Some(hint) = wrong.hint() { p.hint { (sentence(&hint)) "." } }
                }
            }
            form.card method="post" action="/orders" {
                div.field {
                    label for="name" { "Name" }
                    input id="name" name="name" required maxlength="200" value=(new.name) autocomplete="off" autofocus aria-describedby="name-help";
                    p.hint id="name-help" { "Who it is for, or what: it stands on quote and papers." }
                }
                div.field {
                    label for="due" { "Ready by" }
                    input id="due" name="due" type="date" value=(new.due.as_deref().unwrap_or_default()) aria-describedby="due-help";
                    p.hint id="due-help" { "Leave it empty if there is no hurry." }
                }
                div.actions { button.main { "Begin" } a.button href="/" { "Leave it" } }
            }
            form.card method="post" action="/orders/bring" enctype="multipart/form-data" {
                h2 { "Or bring one along" }
                div.field {
                    label for="files" { "An order document (.toml) and its outlines (.svg)" }
                    input id="files" name="files" type="file" multiple required accept=".toml,.svg" aria-describedby="files-help";
                    p.hint id="files-help" { "As the page gave it to you, or as you wrote it. Nothing is kept unless it can be read." }
                }
                div.actions { button { "Bring it in" } }
            }
        }
    }
}

/// `POST /orders`
pub(super) async fn begin(
    Ask(state): Ask<State>,
    shell: Shell,
    Form(new): Form<NewOrder>,
) -> Result<Response, Problem> {
    let asked = new.clone();
    let begun = state.at_desk(move |desk| Ok::<_, Problem>(desk.new_order(&asked))).await?;
    match begun {
        Ok(order) => {
            let id = order.document.id;
            state.tell(Told::Order(id.0));
            Ok(go(&format!("/orders/{id}/pieces/new"), "The order is there. Now its first piece."))
        }
        Err(wrong @ (DeskError::Unfit { .. } | DeskError::Edit(_) | DeskError::Refused(_))) => {
            let page = shell.page("New order", Some(Here::Orders), &form(&new, Some(&wrong)));
            Ok((axum::http::StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
        }
        Err(other) => Err(other.into()),
    }
}

#[derive(Deserialize)]
pub(super) struct Demo {
    there: bool,
}

/// `POST /demo`
pub(super) async fn demo(
    Ask(state): Ask<State>,
    Form(demo): Form<Demo>,
) -> Result<Response, Problem> {
    let there = demo.there;
    state
        .at_desk(move |desk| if there { desk.show_demo().map(|_| ()) } else { desk.remove_demo() })
        .await?;
    state.tell(Told::Shelf);
    Ok(go("/", if there { "The demo order is there." } else { "The demo order is removed." }))
}
