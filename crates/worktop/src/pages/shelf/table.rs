//! The shelf as a spreadsheet's table: taken along, and brought back as a count.

use super::{number, ways};
use crate::nonce::nonce;
use crate::pages::{files, go};
use crate::problem::Problem;
use crate::state::{State, Told};
use crate::view::{Here, Shell, Who};
use axum::Form;
use axum::extract::{Multipart, State as Ask};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use desk::CountedRow;
use maud::{Markup, html};
use serde::Deserialize;

/// Largest table that is taken, bytes: some ten thousand rows.
const MOST_BYTES: usize = 1024 * 1024;

/// `GET /shelf/shelf.csv`
pub(super) async fn csv(Ask(state): Ask<State>) -> Result<Response, Problem> {
    let text = state.at_desk(|desk| desk.shelf_table()).await?;
    let headers = [
        (header::CONTENT_TYPE, "text/csv; charset=utf-8"),
        (header::CONTENT_DISPOSITION, "attachment; filename=\"shelf.csv\""),
    ];
    Ok((headers, text).into_response())
}

/// `GET /shelf/table`
pub(super) async fn ask(shell: Shell) -> Markup {
    shell.page("Count by table", Some(Here::Shelf), &question(None))
}

fn question(wrong: Option<&Problem>) -> Markup {
    html! {
        h1 { "Count by table" }
        (ways("/shelf/table"))
        @if let Some(wrong) = wrong {
            div.notice.serious role="alert" {
                p { strong { "This table could not be taken; nothing was changed." } }
                @if wrong.faults.is_empty() {
                    p { (crate::problem::sentence(&wrong.title)) "." @if let Some(hint) = &wrong.detail { " " (crate::problem::sentence(hint)) "." } }
                }
                ul { @for f in &wrong.faults {
                    li { strong { (f.place) ": " } (f.text) @if let Some(h) = &f.hint { " – " (h) } }
                } }
            }
        }
        p { "Take the shelf along, count, write the numbers into the table, and bring it back: each row becomes a count. You see what would change before anything is written." }
        div.actions { a.button href="/shelf/shelf.csv" { "Take the shelf along (CSV)" } }
        form.card.narrow method="post" action="/shelf/table" enctype="multipart/form-data" {
            div.field {
                label for="table" { "A table (.csv)" }
                input id="table" name="table" type="file" required accept=".csv,text/csv" aria-describedby="table-help";
                p.hint id="table-help" { "Columns kind and stones must be there; lot may be. What is kept for orders stays as the ledger has it, and so do prices. Stones must be known: add new ones first." }
            }
            div.actions { button.main { "Look at it" } }
        }
    }
}

/// `POST /shelf/table`: what would be counted. Nothing is written.
pub(super) async fn preview(
    Ask(state): Ask<State>,
    shell: Shell,
    who: Who,
    form: Multipart,
) -> Result<Response, Problem> {
    let (mut sent, _) = files::received(form).await?;
    let missing = || Problem::unfit("no table was sent").hint("choose a .csv file");
    let (name, bytes) = sent.pop().ok_or_else(missing)?;
    show(&state, &shell, &who, name, bytes).await
}

async fn show(
    state: &State,
    shell: &Shell,
    who: &Who,
    name: String,
    bytes: Vec<u8>,
) -> Result<Response, Problem> {
    let refused = |wrong: &Problem| {
        let page = shell.page("Count by table", Some(Here::Shelf), &question(Some(wrong)));
        (StatusCode::UNPROCESSABLE_ENTITY, page).into_response()
    };
    if bytes.len() > MOST_BYTES {
        let wrong = Problem::unfit(format!("`{name}` is larger than 1 MB"))
            .hint("a shelf has a few thousand rows: is it the right file?");
        return Ok(refused(&wrong));
    }
    let (file, table) = (name.clone(), bytes.clone());
    let read =
        state.at_desk(move |desk| Ok::<_, Problem>(desk.read_shelf_table(&file, &table))).await?;
    let rows = match read {
        Ok(rows) => rows,
        Err(wrong) => return Ok(refused(&Problem::from(wrong))),
    };
    // What reads as a table is UTF-8.
    let text = String::from_utf8_lossy(&bytes);
    let body = html! {
        h1 { "Count by table" }
        (ways("/shelf/table"))
        p { "So it would be counted by " code { (name) } ". Nothing is written yet." }
        (rows_of(&rows))
        form.card.narrow method="post" action="/shelf/table/take" {
            input type="hidden" name="nonce" value=(nonce()?);
            input type="hidden" name="name" value=(name);
            textarea hidden name="table" { "\n" (text) }
            (who.field())
            div.actions { button.main { "Take it" } a.button href="/shelf/table" { "Leave it" } }
        }
    };
    Ok(shell.page("Count by table", Some(Here::Shelf), &body).into_response())
}

/// Rows of a count beside what is there now.
fn rows_of(rows: &[CountedRow]) -> Markup {
    html! {
        div.table tabindex="0" role="group" aria-label="What would be counted" {
            table {
                thead { tr { th { "Stone" } th { "Lot" } th.n { "Now" } th.n { "Counted" } th.n { "Change" } } }
                tbody { @for row in rows {
                    tr {
                        th scope="row" { (row.stone) } td { (row.lot) }
                        td.n { (number(row.before)) } td.n { (number(row.stones)) }
                        td.n { @if row.stones == row.before { "as it is" } @else { (number(row.stones - row.before)) } }
                    }
                } }
            }
        }
    }
}

#[derive(Deserialize)]
pub(super) struct Taken {
    nonce: String,
    name: String,
    table: String,
    #[serde(default)]
    who: String,
}

/// `POST /shelf/table/take`
pub(super) async fn take(
    Ask(state): Ask<State>,
    before: Who,
    Form(taken): Form<Taken>,
) -> Result<Response, Problem> {
    let who = taken.who.clone();
    let lines = state
        .at_desk(move |desk| {
            desk.take_shelf_table(&taken.name, taken.table.as_bytes(), &taken.nonce, &taken.who)
        })
        .await?;
    state.tell(Told::Shelf);
    let done = format!("{} rows are counted.", lines.len());
    Ok(Who::remember(&who, &before, go("/shelf", &done)))
}
