//! Parts that several pages use.

use crate::problem::sentence;
use app::plan::{Answer, PlanFinding};
use lay::{Finding, Severity};
use maud::{Markup, html};
use planning::{Origin, Reason};
use units::{Span, grouped, trimmed};

/// One figure of an answer: the figure large, what it is below.
pub(crate) struct Figure {
    /// What it is.
    pub(crate) what: &'static str,
    /// The figure with its unit.
    pub(crate) figure: String,
}

impl Figure {
    /// A figure and what it is.
    pub(crate) fn new(what: &'static str, figure: impl Into<String>) -> Figure {
        Figure { what, figure: figure.into() }
    }
}

/// The answer, which stands first: large figures in a row.
pub(crate) fn figures(figures: &[Figure]) -> Markup {
    html! {
        dl.answer {
            @for f in figures { div { dt { (f.what) } dd { (f.figure) } } }
        }
    }
}

/// The answer of a plan, as it stands first on every page of it.
pub(crate) fn answer(answer: &Answer) -> Markup {
    let packs = if answer.packs == 1 { "pack to buy" } else { "packs to buy" };
    let mut shown = vec![Figure::new("stones", grouped(answer.stones))];
    if answer.short > 0 {
        shown.push(Figure::new("short", grouped(answer.short)));
    }
    shown.push(Figure::new(packs, grouped(answer.packs)));
    let digits = if answer.adhesive_ml < 10.0 { 1 } else { 0 };
    shown.push(Figure::new("adhesive", format!("{} ml", trimmed(answer.adhesive_ml, digits))));
    shown.push(Figure::new("at the bench", minutes(answer.hands_on_min)));
    let ready = match answer.in_time {
        Some(false) => "ready, too late",
        Some(true) => "ready, in time",
        None => "ready",
    };
    shown.push(Figure::new(ready, day(answer.ready)));
    if let Some(charge) = answer.charge {
        let currency = answer.currency.as_deref().unwrap_or_default();
        let amount = app::money(charge, answer.digits);
        shown.push(Figure::new("to charge", format!("{amount} {currency}")));
    }
    figures(&shown)
}

/// A day for people: `Fri 18 Dec 2026`.
pub(crate) fn day(day: jiff::civil::Date) -> String {
    day.strftime("%a %-d %b %Y").to_string()
}

/// A time for people: `5 h 20 min`.
pub(crate) fn minutes(minutes: f64) -> String {
    let span = Span::from_minutes(minutes).unwrap_or_default();
    if span.hours() >= 48.0 { format!("{} h", trimmed(span.hours(), 0)) } else { span.to_string() }
}

/// A share for people: `82.4 %`.
pub(crate) fn percent(share: f64) -> String {
    format!("{} %", trimmed(share * 100.0, 1))
}

/// What is worth knowing about a lay, the most serious first.
pub(crate) fn findings(all: &[Finding]) -> Markup {
    let mut all: Vec<&Finding> = all.iter().collect();
    all.sort_by_key(|f| std::cmp::Reverse(f.severity));
    let one = |f: &&Finding| {
        notice(
            f.severity,
            f.code,
            &Said {
                about: f.zone.as_deref(),
                text: &f.text,
                measured: f.measured.as_deref(),
                wanted: f.wanted.as_deref(),
                hint: &f.hint,
            },
        )
    };
    first_few(&all.iter().map(one).collect::<Vec<_>>())
}

/// So many notices stand open; the others are folded away behind them.
const OPEN_NOTICES: usize = 2;

fn first_few(notices: &[Markup]) -> Markup {
    let more = notices.len().saturating_sub(OPEN_NOTICES);
    html! {
        @for notice in &notices[..notices.len() - more] { (notice) }
        @if more > 0 {
            details {
                summary { (more) " more to look at" }
                @for notice in &notices[OPEN_NOTICES..] { (notice) }
            }
        }
    }
}

/// A message for people: what was typed, in backticks, stands in quotation marks.
pub(crate) fn said(text: &str) -> Markup {
    html! {
        @for (i, part) in text.split('`').enumerate() {
            @if i % 2 == 1 { "“" (part) "”" } @else { (part) }
        }
    }
}

/// What is worth knowing about a plan.
pub(crate) fn plan_findings<'a>(all: impl Iterator<Item = &'a PlanFinding>) -> Markup {
    let one = |f: &PlanFinding| {
        notice(
            f.severity,
            &f.code,
            &Said {
                about: None,
                text: &f.text,
                measured: f.measured.as_deref(),
                wanted: f.wanted.as_deref(),
                hint: &f.hint,
            },
        )
    };
    first_few(&all.map(one).collect::<Vec<_>>())
}

struct Said<'a> {
    about: Option<&'a str>,
    text: &'a str,
    measured: Option<&'a str>,
    wanted: Option<&'a str>,
    hint: &'a str,
}

fn notice(severity: Severity, code: &str, f: &Said<'_>) -> Markup {
    let (class, name) = match severity {
        Severity::Note => ("note", "Good to know"),
        Severity::Warning => ("warning", "Look first"),
        Severity::Serious => ("serious", "Will not come out"),
    };
    html! {
        div class={ "notice " (class) } {
            p {
                strong { (name) ": " }
                @if let Some(about) = f.about { (about) ": " }
                (said(f.text))
                @match (f.measured, f.wanted) {
                    (Some(m), Some(w)) => { " (" (m) ", wanted " (w) ")" }
                    (Some(m), None) => { " (" (m) ")" }
                    (None, Some(w)) => { " (wanted " (w) ")" }
                    (None, None) => {}
                }
            }
            p.hint { (said(&sentence(f.hint))) ". " a href={ "/help/findings#" (code) } { "What is this?" } }
        }
    }
}

/// Figures with formula and inputs, each folded away behind its value.
pub(crate) fn reasons<'a>(title: &str, all: impl IntoIterator<Item = &'a Reason>) -> Markup {
    let all: Vec<&Reason> = all.into_iter().collect();
    html! {
        @if !all.is_empty() {
            h2 { (title) }
            @for reason in all { (reason_of(reason)) }
        }
    }
}

/// One figure, to be opened.
pub(crate) fn reason_of(reason: &Reason) -> Markup {
    html! {
        details.why {
            summary { (sentence(&reason.figure)) ": " strong { (reason.value) } }
            div.reason {
                p { (sentence(&reason.formula)) }
                div.table tabindex="0" role="group" aria-label={ "Inputs of " (reason.figure) } {
                    table {
                        thead { tr { th { "Input" } th { "Value" } th { "Where from" } } }
                        tbody {
                            @for input in &reason.inputs {
                                tr { td { (input.name) } td { (input.value) } td { (origin(input.origin)) } }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn origin(origin: Origin) -> &'static str {
    match origin {
        Origin::Document => "you said so",
        Origin::Usual => "usual, nothing was said",
        Origin::Log => "your own records",
        Origin::Lay => "the lay",
        Origin::Plan => "another figure of the plan",
    }
}

/// The swatch of a colour with the kind's mark in it, so that colours need not be told apart.
pub(crate) fn swatch(colour: &str) -> Markup {
    html! {
        svg.swatch viewBox="0 0 20 20" aria-hidden="true" { circle cx="10" cy="10" r="9.5" fill=(colour) {} }
    }
}

/// Keys of an order's document that have pages of their own.
pub(crate) const OWN_PAGES: &[&str] = &[
    "stonelay",
    "kind",
    "mix",
    "piece",
    "workshop",
    "log",
    "stock",
    "stock_file",
    "supplier",
    "adhesive",
    "price",
    "kit",
    "bag",
];

/// What every form that changes a document sends along: the revision it was made from, and the
/// page it stands on. Enter in a field presses a form's first button, which must not be one that
/// takes something out: this one only sends.
pub(crate) fn hidden(revision: shop::RevisionId, page: &str) -> Markup {
    html! {
        button hidden { "Keep" }
        input type="hidden" name="from" value=(revision);
        input type="hidden" name="page" value=(page);
    }
}

/// Work is going on: look again. With script the page does so itself.
pub(crate) fn later(text: &str) -> Markup {
    html! {
        div.notice role="status" data-module="again" {
            p { (text) " " a href="" { "Look again" } }
        }
    }
}
