//! The workshop's own document: how it works, what it charges, what it glues with, who sells.

use crate::pages::order;
use crate::problem::Problem;
use crate::state::State;
use crate::view::{self, Form, Here, Shell, Typed};
use app::edit::{Path as Key, Sheet};
use app::fields::Table;
use axum::extract::{Path, State as Ask};
use axum::response::Redirect;
use maud::{Markup, html};

/// A part of the workshop's document that has a page.
struct Part {
    name: &'static str,
    title: &'static str,
    help: &'static str,
    key: &'static str,
    table: Table,
    list: bool,
}

const PARTS: &[Part] = &[
    Part {
        name: "work",
        title: "How we work",
        help: "Pace, loss, hours and the air at the bench. New orders take it over.",
        key: "workshop",
        table: Table::Workshop,
        list: false,
    },
    Part {
        name: "price",
        title: "What we charge",
        help: "Currency, margin, tax and fees. New orders take it over.",
        key: "price",
        table: Table::Price,
        list: false,
    },
    Part {
        name: "glue",
        title: "Adhesives",
        help: "What the label says goes before what is usual for its sort. The maker's safety sheet comes before both.",
        key: "adhesive",
        table: Table::Adhesive,
        list: true,
    },
    Part {
        name: "suppliers",
        title: "Suppliers",
        help: "Who sells which stones, in which packs, for how much.",
        key: "supplier",
        table: Table::Supplier,
        list: true,
    },
    Part {
        name: "mixes",
        title: "Mixes",
        help: "Mixes that more than one piece uses.",
        key: "mix",
        table: Table::Mix,
        list: true,
    },
];

/// `GET /workshop`
pub(super) async fn page() -> Redirect {
    Redirect::to("/workshop/work")
}

/// `GET /workshop/{part}`
pub(super) async fn part(
    Ask(state): Ask<State>,
    shell: Shell,
    Path(part): Path<String>,
) -> Result<Markup, Problem> {
    render(&state, &shell, &part, &Typed::default()).await
}

/// The page, with what was typed and could not be taken.
pub(super) async fn render(
    state: &State,
    shell: &Shell,
    part: &str,
    typed: &Typed,
) -> Result<Markup, Problem> {
    let part = PARTS
        .iter()
        .find(|p| p.name == part)
        .ok_or_else(|| Problem::missing("part of the workshop"))?;
    let opened = state.at_desk(|desk| desk.workshop()).await?;
    let sheet = Sheet::of(&opened.revision.text).ok_or_else(Problem::ours)?;
    let form = Form { sheet: &sheet, typed };
    let at = Key::root().key(part.key);
    let body = html! {
        div.order-head { h1 { "Workshop" } (order::back_and_forth(&opened)) }
        nav.ways aria-label="Workshop" {
            @for p in PARTS { a href={ "/workshop/" (p.name) } aria-current=[(p.name == part.name).then_some("page")] { (p.title) } }
            a href="/share" { "Other devices" }
        }
        (form.summary())
        form.card.narrow method="post" action={ "/orders/" (opened.document.id) "/change" } data-module="change" {
            (view::hidden(opened.revision.id, &format!("/workshop/{}", part.name)))
            h2 { (part.title) }
            p.hint { (part.help) }
            @if part.list {
                (form.named(&Key::root(), Table::Order, part.key))
            } @else {
                (form.table(&at, part.table, &[]))
            }
            div.actions { button.main { "Keep" } }
        }
    };
    Ok(shell.page("Workshop", Some(Here::Workshop), &body))
}
