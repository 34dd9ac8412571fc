//! Try other figures: what loss, pace, margin and temperature would do, beside what stands.

use crate::pages::{encoded, go};
use crate::problem::{Problem, sentence};
use crate::state::{State, Told};
use axum::extract::{Path, Query, State as Ask};
use axum::response::Response;
use axum::{Form, Json};
use desk::{Beside, DeskError, Opened, Progress, Tries};
use maud::{Markup, html};
use rust_decimal::Decimal;
use serde::Deserialize;
use shop::{DocumentId, RevisionId};
use std::sync::Arc;

/// Figures to try, as they were typed.
#[derive(Clone, Debug, Default, Deserialize)]
pub(in crate::pages) struct Typing {
    #[serde(default)]
    loss: String,
    #[serde(default)]
    rate: String,
    #[serde(default)]
    margin: String,
    #[serde(default)]
    temperature: String,
}

/// A field that cannot be read.
pub(super) struct Unread {
    field: &'static str,
    text: String,
    hint: &'static str,
}

/// What came of what was typed.
pub(super) enum Tried {
    /// Nothing was typed that can be tried.
    Nothing,
    /// It is being planned.
    InTheMaking,
    /// The figures, or why there are none.
    Done(Result<Vec<Beside>, Arc<DeskError>>),
}

impl From<Unread> for Problem {
    fn from(unread: Unread) -> Problem {
        let title = format!("not a figure that can be tried or kept: `{}`", unread.text);
        Problem::unfit(title).hint(unread.hint)
    }
}

struct TryField {
    name: &'static str,
    label: &'static str,
    example: &'static str,
}

const FIELDS: [TryField; 4] = [
    TryField { name: "loss", label: "Loss of stones, %", example: "4" },
    TryField { name: "rate", label: "Stones an hour", example: "320" },
    TryField { name: "margin", label: "Margin, % of the price", example: "35" },
    TryField { name: "temperature", label: "Air at the bench, °C", example: "18" },
];

impl Typing {
    fn text(&self, name: &str) -> &str {
        match name {
            "loss" => &self.loss,
            "rate" => &self.rate,
            "margin" => &self.margin,
            _ => &self.temperature,
        }
    }

    /// What is to be tried.
    pub(super) fn read(&self) -> Result<Tries, Unread> {
        let within = |name: &'static str, from: f64, to: f64, hint: &'static str| {
            let text = bare(self.text(name));
            if text.is_empty() {
                return Ok(None);
            }
            let value = text.parse::<f64>().ok().filter(|v| (from..=to).contains(v));
            value.map(Some).ok_or_else(|| Unread {
                field: name,
                text: self.text(name).to_owned(),
                hint,
            })
        };
        let loss = within("loss", 0.0, 80.0, "type it in per cent, 0 to 80, like 4")?;
        let rate = within("rate", 10.0, 5000.0, "type stones an hour, 10 to 5000, like 320")?;
        let margin =
            within("margin", 0.0, 95.0, "type it in per cent of the price, 0 to 95, like 35")?;
        let temperature = within("temperature", -20.0, 60.0, "type it in °C, like 18")?;
        let exact = margin.and_then(|_| bare(&self.margin).parse::<Decimal>().ok());
        Ok(Tries {
            loss: loss.map(|l| l / 100.0),
            rate_per_h: rate.map(f64::round),
            margin: exact.map(|m| m / Decimal::ONE_HUNDRED),
            temperature_c: temperature,
        })
    }

    /// As part of an address.
    fn query(&self) -> String {
        let pair = |f: &TryField| format!("{}={}", f.name, encoded(self.text(f.name)));
        FIELDS.iter().map(pair).collect::<Vec<_>>().join("&")
    }

    fn any(&self) -> bool {
        FIELDS.iter().any(|f| !self.text(f.name).trim().is_empty())
    }
}

/// A number without the unit that may stand behind it, with a point for the fraction.
fn bare(text: &str) -> String {
    let text = text.trim().trim_end_matches(['%', 'C', '°', ' ']).trim();
    text.replace(',', ".")
}

/// The form, folded away until something is tried, and what was tried beside what stands.
pub(super) fn beside(
    page: &str,
    opened: &Opened,
    typing: &Typing,
    read: &Result<Tries, Unread>,
    tried: &Tried,
) -> Markup {
    let id = opened.document.id;
    html! {
        details.tries.no-print #tries open[typing.any()] {
            summary { "Try other figures" }
            form method="get" action={ "/orders/" (id) "/" (page) "#tries" } {
                div.fields { @for f in &FIELDS { (field(f, typing, read)) } }
                div.actions {
                    button { "Try" }
                    @if typing.any() { a.button href={ "/orders/" (id) "/" (page) "#tries" } { "Leave it" } }
                }
            }
            @match tried {
                Tried::Done(Ok(rows)) => { (rows_of(rows)) (keep_form(page, opened, typing)) }
                Tried::InTheMaking => (in_the_making(page, opened, typing)),
                Tried::Done(Err(wrong)) => div.notice.serious role="alert" {
                    p { strong { "With these figures there is no plan: " } (wrong.to_string()) }
                    @if let Some(hint) = wrong.hint() { p.hint { (sentence(&hint)) "." } }
                },
                Tried::Nothing => {}
            }
        }
    }
}

fn field(f: &TryField, typing: &Typing, read: &Result<Tries, Unread>) -> Markup {
    let wrong = read.as_ref().err().filter(|u| u.field == f.name);
    let id = format!("try-{}", f.name);
    html! {
        div.field {
            label for=(id) { (f.label) }
            input id=(id) name=(f.name) value=(typing.text(f.name)) placeholder=(f.example) inputmode="decimal" autocomplete="off"
                aria-invalid=[wrong.map(|_| "true")] aria-describedby=[wrong.map(|_| format!("{id}-help"))];
            @if let Some(u) = wrong {
                p.hint id={ (id) "-help" } { span.wrong { "Not a figure that can be tried: " (u.text) "." } " " (sentence(u.hint)) "." }
            }
        }
    }
}

fn in_the_making(page: &str, opened: &Opened, typing: &Typing) -> Markup {
    let id = opened.document.id;
    html! {
        div.making data-module="making" data-progress={ "/orders/" (id) "/tries/progress?" (typing.query()) } {
            p role="status" data-progress-text="" { "The order is being planned with these figures." }
            progress max="100" aria-label="Planning" {}
            form.row method="post" action={ "/orders/" (id) "/tries/stop" } {
                input type="hidden" name="page" value=(page);
                a.button href={ "/orders/" (id) "/" (page) "?" (typing.query()) "#tries" } { "Look again" }
                button { "Stop" }
            }
        }
    }
}

fn rows_of(rows: &[Beside]) -> Markup {
    html! {
        (super::table("As it stands, and as it would be",
            &html! { th { "Figure" } th.n { "Stands" } th.n { "Tried" } th { "Changed" } },
            &html! { @for r in rows {
                tr.differs[r.differs] {
                    th scope="row" { (sentence(&r.figure)) } td.n { (r.stands) }
                    td.n { @if r.differs { strong { (r.tried) } } @else { (r.tried) } }
                    td { @if r.differs { span.badge { "yes" } } @else { span.hint { "no" } } }
                }
            } }))
    }
}

fn keep_form(page: &str, opened: &Opened, typing: &Typing) -> Markup {
    let records =
        !(opened.order.terms.log.is_empty() || typing.loss.is_empty() && typing.rate.is_empty());
    html! {
        form method="post" action={ "/orders/" (opened.document.id) "/tries" } {
            input type="hidden" name="from" value=(opened.revision.id);
            input type="hidden" name="page" value=(page);
            @for f in &FIELDS { input type="hidden" name=(f.name) value=(typing.text(f.name)); }
            @if records {
                p.hint { "While they are tried, loss and pace count alone. Kept, your own records count beside them, so that the plan will lie between." }
            }
            div.actions { button.main { "Keep these figures" } }
        }
    }
}

/// `GET /orders/{order}/tries/progress`
pub(in crate::pages) async fn progress(
    Ask(state): Ask<State>,
    Path(id): Path<i64>,
    Query(typing): Query<Typing>,
) -> Result<Json<Progress>, Problem> {
    let tries = typing.read().map_err(Problem::from)?;
    let desk = Arc::clone(state.desk());
    let progress = state.at_desk(move |_| desk.progress_of_tries(DocumentId(id), &tries)).await?;
    Ok(Json(progress))
}

/// Where a page goes back to.
#[derive(Deserialize)]
pub(in crate::pages) struct Stopped {
    #[serde(default)]
    page: String,
}

/// `POST /orders/{order}/tries/stop`
pub(in crate::pages) async fn stop(
    Ask(state): Ask<State>,
    Path(id): Path<i64>,
    Form(stopped): Form<Stopped>,
) -> Response {
    state.desk().stop_tries(DocumentId(id));
    go(&page_of(id, &stopped.page), "Stopped. Nothing was changed.")
}

/// The page of the plan of this name; the price if there is none.
fn page_of(order: i64, page: &str) -> String {
    let page = if super::is_part(page) { page } else { "price" };
    format!("/orders/{order}/{page}")
}

/// What is sent to keep what was tried.
#[derive(Deserialize)]
pub(in crate::pages) struct Keep {
    from: i64,
    #[serde(default)]
    page: String,
    #[serde(flatten)]
    typing: Typing,
}

/// `POST /orders/{order}/tries`
pub(in crate::pages) async fn keep(
    Ask(state): Ask<State>,
    Path(id): Path<i64>,
    Form(keep): Form<Keep>,
) -> Result<Response, Problem> {
    let tries = keep.typing.read().map_err(Problem::from)?;
    state
        .at_desk(move |desk| desk.keep_tries(DocumentId(id), RevisionId(keep.from), &tries))
        .await?;
    state.tell(Told::Order(id));
    Ok(go(&page_of(id, &keep.page), "Kept."))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typed(loss: &str, margin: &str) -> Typing {
        Typing { loss: loss.to_owned(), margin: margin.to_owned(), ..Typing::default() }
    }

    #[test]
    fn figures_are_read_with_or_without_their_unit() {
        for loss in ["4", "4 %", " 4% ", "4,0"] {
            let tries = typed(loss, "").read().ok().unwrap();
            assert!((tries.loss.unwrap() - 0.04).abs() < 1e-12, "{loss}");
        }
        let tries = typed("", "33.3 %").read().ok().unwrap();
        assert_eq!(tries.margin, Some("0.333".parse().unwrap()));
        assert!(!typed("", " ").read().ok().unwrap().any());
    }

    #[test]
    fn what_is_no_figure_is_named() {
        for loss in ["four", "90", "-1", "NaN"] {
            let wrong = typed(loss, "").read().err().unwrap();
            assert_eq!((wrong.field, wrong.text.as_str()), ("loss", loss));
        }
    }
}
