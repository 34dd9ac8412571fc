//! Paper: every sheet of an order as PDF, and how the workshop prints.

use crate::pages::order::{self, Part};
use crate::pages::{files, go};
use crate::problem::{Problem, sentence};
use crate::state::State;
use crate::view::{Here, Shell};
use axum::Form;
use axum::extract::{Path, Query, State as Ask};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use desk::OrderPaper::{Bench, Calendar, Care, Gathering, Labels, Quote, Shopping};
use desk::{DeskError, Opened, Printable, Printing};
use lay::Unwatched;
use maud::{Markup, html};
use serde::Deserialize;
use shop::DocumentId;

/// `GET /orders/{order}/paper`
pub(super) async fn page(
    Ask(state): Ask<State>,
    shell: Shell,
    Path(id): Path<i64>,
) -> Result<Markup, Problem> {
    let (opened, printing) = state
        .at_desk(move |desk| Ok::<_, DeskError>((desk.open(DocumentId(id))?, desk.printing()?)))
        .await?;
    Ok(body(&shell, &opened, &printing, None))
}

fn body(shell: &Shell, opened: &Opened, printing: &Printing, wrong: Option<&Problem>) -> Markup {
    let here = format!("/orders/{}/paper", opened.document.id);
    let (placing, rest): (Vec<_>, Vec<_>) =
        Printable::all().partition(|p| matches!(p, Printable::Placing(_)));
    let papers = rest.into_iter().filter(|p| *p != Printable::TestPage);
    let body = html! {
        (order::head(opened, Some(Part::Paper)))
        @if opened.order.pieces.is_empty() {
            p { "There is nothing to print yet: add a piece to the order first." }
        } @else {
            h2 { "To place stones by" }
            p.hint { "True to size. Print at 100 %, nothing fitted to the page, and lay a steel rule on the bars of the first page before anything is glued." }
            (links(&here, placing.into_iter(), None))
            h2 { "For the bench, the shop and the customer" }
            (links(&here, papers, None))
        }
        h2 { "How this workshop prints" }
        (habits(&here, printing, wrong))
    };
    shell.page("Paper", Some(Here::Orders), &body)
}

/// Links to papers, of one piece alone if its number is given.
fn links(here: &str, papers: impl Iterator<Item = Printable>, piece: Option<usize>) -> Markup {
    let end = piece.map(|n| format!("?piece={n}")).unwrap_or_default();
    html! {
        ul.papers {
            @for paper in papers {
                li { a href={ (here) "/" (paper.name()) (end) } download { (sentence(paper.purpose())) } }
            }
        }
    }
}

/// What a part of the order is on paper.
pub(super) fn of_part(order: DocumentId, part: Part) -> Markup {
    let papers: &[Printable] = match part {
        Part::Buy => &[Printable::Order(Shopping), Printable::Order(Gathering)],
        Part::Days => &[Printable::Order(Calendar)],
        Part::Quote => &[Printable::Order(Quote), Printable::Order(Care)],
        Part::Kits => &[Printable::Order(Gathering), Printable::Order(Labels)],
        Part::Set => &[Printable::Order(Bench), Printable::Order(Labels)],
        Part::Pieces | Part::Glue | Part::Price | Part::Paper => &[],
    };
    html! {
        @if !papers.is_empty() {
            p.hint.no-print {
                "On paper: "
                @for (i, paper) in papers.iter().enumerate() {
                    @if i > 0 { " · " }
                    a href={ "/orders/" (order) "/paper/" (paper.name()) } download { (paper.purpose()) }
                }
            }
        }
    }
}

/// The placing sheets of one piece, to be kept with one press.
pub(super) fn of_piece(order: DocumentId, number: usize) -> Markup {
    let placing = Printable::all().filter(|p| matches!(p, Printable::Placing(_)));
    html! {
        details.files.no-print {
            summary { "Sheets to place stones by" }
            (links(&format!("/orders/{order}/paper"), placing, Some(number)))
            p.hint { "True to size: print at 100 %, and check the bars. " a href={ "/orders/" (order) "/paper" } { "All papers, and how you print" } }
        }
    }
}

fn habits(here: &str, printing: &Printing, wrong: Option<&Problem>) -> Markup {
    let sizes = [("a4", "A4, 210 × 297 mm"), ("letter", "Letter, 8 1/2 × 11 in")];
    let notations = paper_notations();
    let chosen = |is: &str, value: &str, first: bool| value == is || (value.is_empty() && first);
    html! {
        @if let Some(wrong) = wrong {
            div.notice.serious role="alert" {
                p { strong { (sentence(&wrong.title)) "." } }
                @if let Some(hint) = &wrong.detail { p.hint { (sentence(hint)) "." } }
            }
        }
        form.card.narrow method="post" action=(here) {
            div.fields {
                div.field {
                    label for="sheet" { "Paper" }
                    select id="sheet" name="sheet" {
                        @for (i, (name, label)) in sizes.iter().enumerate() {
                            option value=(name) selected[chosen(name, &printing.sheet, i == 0)] { (label) }
                        }
                    }
                }
                div.field {
                    label for="notation" { "Numbers and days" }
                    select id="notation" name="notation" {
                        @for (i, (tag, label)) in notations.iter().enumerate() {
                            option value=(tag) selected[chosen(tag, &printing.notation, i == 0)] { (label) }
                        }
                    }
                }
            }
            div.field {
                label for="measured" { "What the bars of the test page measure, mm" }
                input id="measured" name="measured" value=(printing.measured) placeholder="100" autocomplete="off" aria-describedby="measured-help";
                p.hint id="measured-help" {
                    "Print the " a href={ (here) "/test-page" } download { "test page" } ", measure its bars to a tenth of a millimetre: 98.6 if both are the same, 98.6x99.1 for across and down. Placing sheets make up for it."
                }
            }
            div.field {
                label for="labels" { "Sheet of labels" }
                input id="labels" name="labels" value=(printing.labels) placeholder="a4-3x8 or letter-3x10" autocomplete="off" aria-describedby="labels-help";
                p.hint id="labels-help" {
                    "a4-3x8, a4-3x7, letter-3x10, letter-2x5, or its measures in mm: page, columns x rows, label, first label from the edges, step; such as 210x297 3x8 70x37 0x0.5 70x37."
                }
            }
            div.actions { button.main { "Print so from now on" } }
        }
    }
}

/// The ways to write numbers and days: tag, and an example.
fn paper_notations() -> Vec<(&'static str, String)> {
    desk::notations().map(|(tag, example)| (tag, format!("{tag}: {example}"))).collect()
}

/// `POST /orders/{order}/paper`
pub(super) async fn keep(
    Ask(state): Ask<State>,
    shell: Shell,
    Path(id): Path<i64>,
    Form(printing): Form<Printing>,
) -> Result<Response, Problem> {
    let typed = printing.clone();
    let (opened, kept) = state
        .at_desk(move |desk| {
            let kept = desk.set_printing(&printing);
            Ok::<_, DeskError>((desk.open(DocumentId(id))?, kept))
        })
        .await?;
    match kept {
        Ok(()) => Ok(go(&format!("/orders/{id}/paper"), "Papers are made so from now on.")),
        Err(e) => {
            let problem = Problem::from(e);
            let page = body(&shell, &opened, &typed, Some(&problem));
            Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
        }
    }
}

/// Of which piece.
#[derive(Deserialize)]
pub(super) struct OfPiece {
    piece: Option<usize>,
}

/// `GET /orders/{order}/paper/{paper}`
pub(super) async fn file(
    Ask(state): Ask<State>,
    Path((id, name)): Path<(i64, String)>,
    Query(of): Query<OfPiece>,
) -> Result<Response, Problem> {
    order_paper(&state, DocumentId(id), &name, of.piece).await
}

/// A paper, to be kept under its name.
///
/// # Errors
/// There is no such paper, or the desk's.
pub(crate) async fn order_paper(
    state: &State,
    id: DocumentId,
    name: &str,
    piece: Option<usize>,
) -> Result<Response, Problem> {
    let wanted = Printable::named(name).ok_or_else(|| {
        let known: Vec<String> = Printable::all().map(Printable::name).collect();
        Problem::missing("paper").hint(format!("there are {}", known.join(", ")))
    })?;
    let printed =
        state.at_desk(move |desk| desk.paper(&desk.open(id)?, wanted, piece, &Unwatched)).await?;
    let headers = [
        (header::CONTENT_TYPE, "application/pdf".to_owned()),
        (header::CONTENT_DISPOSITION, files::kept_as(&printed.name)),
    ];
    Ok((headers, printed.pdf).into_response())
}
