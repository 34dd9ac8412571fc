//! Compare: a piece laid in several ways side by side, and one of them taken.

use crate::pages::board::svg_response;
use crate::pages::{encoded, go, order};
use crate::problem::Problem;
use crate::state::{State, Told};
use crate::view::{self, Here, Shell};
use axum::Form;
use axum::extract::{Path, Query, State as Ask};
use axum::response::Response;
use desk::{
    Candidate, CandidateFigures, CompareAsked, Comparison, DeskError, LAID, Laid, MOST_WAYS,
    Opened, Progress, StoneToPick, Way,
};
use maud::{Markup, html};
use serde::Deserialize;
use shop::{DocumentId, RevisionId};
use std::cmp::Ordering;
use std::sync::Arc;
use std::time::Duration;
use units::{grouped, trimmed};

/// How long the page waits for a comparison before it says how far it is.
const PATIENCE: Duration = Duration::from_millis(300);

/// By what candidates are sorted: name in the address, what it is called, whether more is first.
const SORTS: &[(&str, &str, bool)] = &[
    ("stones", "stones", true),
    ("coverage", "coverage", true),
    ("bare", "largest bare spot", false),
    ("hours", "hours", false),
    ("cost", "cost", false),
    ("price", "price", false),
];

/// What was chosen on the form.
#[derive(Clone, Debug, Default)]
struct Chosen {
    asked: CompareAsked,
    by: Option<&'static str>,
}

impl Chosen {
    fn of(pairs: Vec<(String, String)>) -> Chosen {
        let mut chosen = Chosen::default();
        for (name, value) in pairs {
            match name.as_str() {
                "zone" => chosen.asked.zone = value.parse().ok(),
                "laid" => chosen.asked.laid.extend(Laid::named(&value)),
                "stones" => chosen.asked.stones.push(value),
                "by" => chosen.by = SORTS.iter().find(|s| s.0 == value).map(|s| s.0),
                _ => {}
            }
        }
        chosen
    }
}

/// `GET /orders/{order}/pieces/{piece}/compare`
pub(super) async fn page(
    Ask(state): Ask<State>,
    shell: Shell,
    Path((id, number)): Path<(i64, usize)>,
    Query(pairs): Query<Vec<(String, String)>>,
) -> Result<Markup, Problem> {
    let chosen = Chosen::of(pairs);
    let asked = chosen.asked.clone();
    let desk = Arc::clone(state.desk());
    let (opened, asked, stones, made, progress) = state
        .at_desk(move |_| {
            let opened = desk.open(DocumentId(id))?;
            let asked = desk.compare_choice(&opened, number, &asked)?;
            let stones = desk.stones_to_pick(&opened)?;
            let job = desk.begin_compare(&opened, number, &asked)?;
            let made = job.wait(PATIENCE);
            Ok::<_, DeskError>((opened, asked, stones, made, job.progress()))
        })
        .await?;
    let name = &opened.piece(number)?.piece.name;
    let here = format!("/orders/{id}/pieces/{number}");
    let body = html! {
        (order::head(&opened, None))
        div.piece-head {
            h1 { "Compare: " (name) }
            a.button href=(here) { "Back to the piece" }
        }
        @match &made {
            Some(Ok(done)) => (side_by_side(&opened, number, &asked, done, chosen.by)),
            Some(Err(wrong)) => (stopped(wrong)),
            None => (going_on(&here, &progress)),
        }
        (form(&opened, number, &asked, &stones, made.as_ref().is_some_and(|m| m.is_err()))?)
    };
    Ok(shell.page(&format!("Compare {name}"), Some(Here::Orders), &body))
}

fn stopped(wrong: &DeskError) -> Markup {
    html! {
        div.notice.warning role="status" {
            p { strong { (crate::problem::sentence(&wrong.to_string())) "." } }
            p.hint { "Choose below what to lay side by side, and begin again." }
        }
    }
}

fn going_on(here: &str, progress: &Progress) -> Markup {
    html! {
        (view::later("The ways are being laid side by side."))
        @if progress.total > 0 {
            p {
                label for="far" { (progress.done) " of " (progress.total) " are laid; now: " (progress.what) }
                " " progress #far max=(progress.total) value=(progress.done) { (progress.done) "/" (progress.total) }
            }
        }
        form method="post" action={ (here) "/compare/stop" } { button { "Stop" } }
    }
}

/// What is laid side by side is chosen here.
fn form(
    opened: &Opened,
    number: usize,
    asked: &CompareAsked,
    stones: &[StoneToPick],
    open: bool,
) -> Result<Markup, Problem> {
    let zones = opened.zones(number)?;
    let zone = asked.zone.unwrap_or(1);
    Ok(html! {
        details.card.choose.no-print open[open] {
            summary { "Choose what is laid side by side" }
            form method="get" {
                @if zones.len() > 1 {
                    div.field {
                        label for="zone" { "Zone" }
                        select id="zone" name="zone" {
                            @for (i, name) in zones.iter().enumerate() { option value=(i + 1) selected[zone == i + 1] { (name) } }
                        }
                        p.hint { "The other zones stay as they are." }
                    }
                }
                fieldset.field {
                    legend { "Arrangements" }
                    div.choices {
                        @for laid in LAID {
                            label.choice { input type="checkbox" name="laid" value=(laid.name()) checked[asked.laid.contains(&laid)]; span { (laid.words()) } }
                        }
                    }
                }
                fieldset.field {
                    legend { "Stones" }
                    div.choices {
                        label.choice { input type="checkbox" name="stones" value="" checked[asked.stones.iter().any(String::is_empty)]; span { "those it has now" } }
                        @for stone in stones {
                            label.choice {
                                input type="checkbox" name="stones" value=(stone.name) checked[asked.stones.contains(&stone.name)];
                                @if let Some(colour) = &stone.colour { (view::swatch(colour)) }
                                span { (stone.name) " " span.hint { (stone.size) } }
                            }
                        }
                    }
                }
                p.hint { "Each arrangement is laid with each of the stones; what stands now is always beside them. At most " (MOST_WAYS) " are laid at once." }
                div.actions { button.main { "Lay them side by side" } }
            }
        }
    })
}

fn side_by_side(
    opened: &Opened,
    number: usize,
    asked: &CompareAsked,
    made: &Comparison,
    by: Option<&'static str>,
) -> Markup {
    let mut order: Vec<&Candidate> = made.candidates.iter().collect();
    if let Some(by) = by {
        order.sort_by(|a, b| ranked(by, a, b));
    }
    let here = format!("/orders/{}/pieces/{number}", opened.document.id);
    html! {
        p { "What is told of hours, cost and price is of this piece alone, for " (made.copies) @if made.copies == 1 { " copy" } @else { " copies" } ". Prices are before tax and leave the margin that you want." }
        @if made.left_out > 0 {
            div.notice.warning { p { (made.left_out) " more were chosen; at most " (MOST_WAYS) " are laid side by side." } }
        }
        nav.row.sorts.no-print aria-label="Sorted by" {
            span { "Sorted by" }
            a href={ (here) "/compare?" (query(asked, None)) } aria-current=[by.is_none().then_some("true")] { "as chosen" }
            @for (name, words, _) in SORTS {
                a href={ (here) "/compare?" (query(asked, Some(name))) } aria-current=[(by == Some(name)).then_some("true")] { (words) }
            }
        }
        ul.cards.candidates {
            @for c in order { (card(opened, &here, made, c)) }
        }
    }
}

fn card(opened: &Opened, here: &str, made: &Comparison, c: &Candidate) -> Markup {
    let way = &c.way;
    let named = match &way.stones {
        Some(stones) => format!("{} · {stones}", crate::problem::sentence(way.laid.words())),
        None if way.is_as_written() => "As it is now".to_owned(),
        None => crate::problem::sentence(way.laid.words()),
    };
    html! {
        li.card.candidate {
            @if c.figures.is_some() {
                img src={ (here) "/compare/picture.svg?" (way_query(way)) "&at=" (opened.revision.id) } alt={ "The piece, " (named) } loading="lazy";
            }
            h2 { (named) }
            @if let Some(wrong) = &c.wrong {
                p.notice.warning { @if c.figures.is_none() { "It cannot be laid so: " } @else { "There is no plan for it: " } (view::said(wrong)) }
            }
            @if let Some(f) = &c.figures { (figures(f, made)) }
            @if way.is_as_written() {
                p.hint { "This is what stands." }
            } @else if c.figures.is_some() {
                form.no-print method="post" action={ (here) "/compare" } {
                    input type="hidden" name="from" value=(opened.revision.id);
                    input type="hidden" name="zone" value=(way.zone);
                    input type="hidden" name="laid" value=(way.laid.name());
                    @if let Some(stones) = &way.stones { input type="hidden" name="stones" value=(stones); }
                    button { "Take it" span.quiet { ": " (named) } }
                }
            }
        }
    }
}

fn figures(f: &CandidateFigures, made: &Comparison) -> Markup {
    let best = |key: &str| {
        let most = SORTS.iter().any(|s| s.0 == key && s.2);
        let mine = value(key, f);
        let all =
            made.candidates.iter().filter_map(|c| c.figures.as_ref()).filter_map(|o| value(key, o));
        let first = all.reduce(|a, b| if most { a.max(b) } else { a.min(b) });
        let mark = if most { "most" } else { "least" };
        html! { @if mine.is_some() && mine == first { " " span.badge { (mark) } } }
    };
    let money = |amount: Option<rust_decimal::Decimal>| {
        let currency = f.currency.as_deref().unwrap_or_default();
        amount.map_or("no price".to_owned(), |a| format!("{} {currency}", app::money(a, f.digits)))
    };
    html! {
        dl.facts {
            dt { "Stones" } dd { (grouped(f.stones)) (best("stones")) }
            dt { "Coverage" } dd { (view::percent(f.coverage)) (best("coverage")) }
            dt { "Largest bare spot" } dd { @if f.bare_spot_mm > 0.0 { (trimmed(f.bare_spot_mm, 2)) " mm" } @else { "none" } (best("bare")) }
            dt { "At the bench" } dd { @match f.hours_min { Some(m) => (view::minutes(m)), None => "not known" } (best("hours")) }
            dt { "Cost" } dd { (money(f.cost)) (best("cost")) }
            dt { "Price of a copy" } dd { (money(f.price_each)) (best("price")) }
            @if made.copies > 1 { dt { "Of all copies" } dd { (money(f.price)) } }
        }
    }
}

fn value(key: &str, f: &CandidateFigures) -> Option<f64> {
    let decimal = |d: Option<rust_decimal::Decimal>| d.and_then(|d| f64::try_from(d).ok());
    match key {
        "stones" => Some(f.stones as f64),
        "coverage" => Some(f.coverage),
        "bare" => Some(f.bare_spot_mm),
        "hours" => f.hours_min,
        "cost" => decimal(f.cost),
        _ => decimal(f.price_each),
    }
}

/// What is better first; what has no such figure last.
fn ranked(by: &str, a: &Candidate, b: &Candidate) -> Ordering {
    let most = SORTS.iter().any(|s| s.0 == by && s.2);
    let of = |c: &Candidate| c.figures.as_ref().and_then(|f| value(by, f));
    match (of(a), of(b)) {
        (Some(a), Some(b)) if most => b.total_cmp(&a),
        (Some(a), Some(b)) => a.total_cmp(&b),
        (Some(_), None) => Ordering::Less,
        (None, Some(_)) => Ordering::Greater,
        (None, None) => Ordering::Equal,
    }
}

fn query(asked: &CompareAsked, by: Option<&str>) -> String {
    let mut all = vec![];
    all.extend(asked.zone.map(|z| format!("zone={z}")));
    all.extend(asked.laid.iter().map(|l| format!("laid={}", l.name())));
    all.extend(asked.stones.iter().map(|s| format!("stones={}", encoded(s))));
    all.extend(by.map(|b| format!("by={b}")));
    all.join("&")
}

fn way_query(way: &Way) -> String {
    let stones = way.stones.iter().cloned().collect();
    query(&CompareAsked { zone: Some(way.zone), laid: vec![way.laid], stones }, None)
}

/// A way, as an address or a form names it.
#[derive(Clone, Debug, Deserialize)]
pub(super) struct WayAsked {
    zone: usize,
    laid: String,
    stones: Option<String>,
    #[serde(default)]
    from: i64,
}

impl WayAsked {
    fn way(&self) -> Result<Way, Problem> {
        let laid = Laid::named(&self.laid).ok_or_else(|| Problem::missing("arrangement"))?;
        let stones = self.stones.clone().filter(|s| !s.is_empty());
        Ok(Way { zone: self.zone, laid, stones })
    }
}

/// `GET …/compare/picture.svg`
pub(super) async fn picture(
    Ask(state): Ask<State>,
    Path((id, number)): Path<(i64, usize)>,
    Query(asked): Query<WayAsked>,
) -> Result<Response, Problem> {
    let way = asked.way()?;
    let svg = state
        .at_desk(move |desk| {
            let opened = desk.open(DocumentId(id))?;
            let laid = desk.lay_way(&opened, number, &way, &lay::Unwatched)?;
            Ok::<_, DeskError>(export::svg(&drawing::picture(&laid.asked.piece, &laid.lay)))
        })
        .await?;
    Ok(svg_response(svg))
}

/// `POST …/compare`: takes one.
pub(super) async fn take(
    Ask(state): Ask<State>,
    Path((id, number)): Path<(i64, usize)>,
    Form(asked): Form<WayAsked>,
) -> Result<Response, Problem> {
    let way = asked.way()?;
    state
        .at_desk(move |desk| desk.take_way(DocumentId(id), RevisionId(asked.from), number, &way))
        .await?;
    state.tell(Told::Order(id));
    Ok(go(&format!("/orders/{id}/pieces/{number}"), "Taken. It can be taken back like any change."))
}

/// `POST …/compare/stop`
pub(super) async fn stop(
    Ask(state): Ask<State>,
    Path((id, number)): Path<(i64, usize)>,
) -> Response {
    state.desk().stop_comparing(DocumentId(id), number);
    go(&format!("/orders/{id}/pieces/{number}"), "The comparison was stopped.")
}
