//! A stone replaced on a finished piece: pick the copy, tap the place, see what it takes.

use super::{nonce, place_words};
use crate::pages::{go, order};
use crate::problem::{Problem, sentence};
use crate::state::{State, Told};
use crate::view::{self, Figure, Here, Shell};
use axum::Form;
use axum::extract::{Path, Query, State as Ask};
use axum::response::Response;
use desk::bench::{AtBench, Frozen};
use desk::repair::{RepairAsked, RepairPlace, SetCopies};
use desk::{DeskError, Opened};
use maud::{Markup, html};
use serde::Deserialize;
use shop::{DocumentId, Repair, SettingId};

/// Width of the picture that is tapped, CSS px: without script a browser says where in it.
const PICTURE_PX: f64 = 640.0;

#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(super) struct Wanted {
    setting: Option<i64>,
    copy: Option<u32>,
    place: Option<String>,
    stones: Option<String>,
    /// Where the picture was tapped, px.
    #[serde(rename = "at.x")]
    x: Option<f64>,
    #[serde(rename = "at.y")]
    y: Option<f64>,
}

struct Shown {
    opened: Opened,
    copies: Vec<SetCopies>,
    at: Option<AtBench>,
    place: Option<Result<RepairPlace, DeskError>>,
    repairs: Vec<Repair>,
}

/// `GET /orders/{order}/repair`
pub(super) async fn page(
    Ask(state): Ask<State>,
    shell: Shell,
    Path(order): Path<i64>,
    Query(wanted): Query<Wanted>,
) -> Result<Markup, Problem> {
    let asked = wanted.clone();
    let shown = state
        .at_desk(move |desk| {
            let opened = desk.open(DocumentId(order))?;
            let copies = desk.set_copies(opened.document.id)?;
            let repairs = desk.shop().repairs(opened.document.id)?;
            let known = asked.setting.filter(|s| copies.iter().any(|c| c.setting == *s));
            let at = known.map(|s| desk.at_bench(SettingId(s))).transpose()?;
            let place = at.as_ref().and_then(|at| place_of(at, &asked));
            let place = place.map(|p| p.and_then(|p| desk.repair_place(&opened, &p)));
            Ok::<_, DeskError>(Shown { opened, copies, at, place, repairs })
        })
        .await?;
    let body = html! {
        (order::head(&shown.opened, Some(order::Part::Set)))
        h2 { "Repair" }
        @if shown.copies.is_empty() {
            div.empty { h3 { "No copy is set yet" } p { "What was said to be done at the bench can be repaired here, by the lay it was set by." } }
        } @else {
            (choose(&shown, &wanted))
            @if let Some(at) = &shown.at { (places(&shown, at, &wanted)) }
        }
        (log(&state, &shown.repairs))
    };
    Ok(shell.page("Repair", Some(Here::Orders), &body))
}

/// The place that is asked for: by its number, or by a tap on the picture.
fn place_of(at: &AtBench, wanted: &Wanted) -> Option<Result<RepairAsked, DeskError>> {
    let copy = wanted.copy.unwrap_or(at.setting.first_copy);
    let typed = wanted.place.as_deref().map(str::trim).filter(|t| !t.is_empty());
    let place_no = match (typed, wanted.x, wanted.y) {
        (_, Some(x), Some(y)) => nearest(&at.frozen, x, y)?,
        (Some(text), _, _) => match text.parse() {
            Ok(place) => place,
            Err(_) => {
                return Some(Err(DeskError::unfit(
                    format!("this is no place number: `{text}`"),
                    format!("type one from 1 to {}", at.frozen.stones.kind.len()),
                )));
            }
        },
        _ => return None,
    };
    let stones = wanted.stones.as_deref().and_then(|s| s.trim().parse().ok());
    Some(Ok(RepairAsked { setting: at.setting.id.0, copy, place_no, stones }))
}

/// The stone nearest to a tap on the picture.
fn nearest(f: &Frozen, x_px: f64, y_px: f64) -> Option<u32> {
    let mm = f.width_mm / PICTURE_PX;
    let (x, y) = (x_px * mm, y_px * mm);
    let far = |i: usize| {
        let (dx, dy) = (f.stones.right_mm[i] - x, f.stones.down_mm[i] - y);
        dx * dx + dy * dy
    };
    let all = 0..f.stones.kind.len();
    let best = all.min_by(|a, b| far(*a).total_cmp(&far(*b)))?;
    u32::try_from(best + 1).ok()
}

fn choose(shown: &Shown, wanted: &Wanted) -> Markup {
    html! {
        div.row {
            @for c in &shown.copies {
                form.card method="get" action={ "/orders/" (shown.opened.document.id) "/repair" } {
                    input type="hidden" name="setting" value=(c.setting);
                    strong { (c.piece) }
                    div.field {
                        @let id = format!("copy-{}", c.setting);
                        label for=(id) { "Copy" }
                        select id=(id) name="copy" {
                            @for n in c.first..=c.last { option value=(n) selected[wanted.setting == Some(c.setting) && wanted.copy == Some(n)] { (n) @if let Some(name) = c.names.get(n as usize - 1) { ", " (name) } } }
                        }
                    }
                    button { "Show it" }
                }
            }
        }
    }
}

fn places(shown: &Shown, at: &AtBench, wanted: &Wanted) -> Markup {
    let f = &at.frozen;
    let (order, id) = (shown.opened.document.id, at.setting.id);
    let copy = wanted.copy.unwrap_or(at.setting.first_copy);
    let height = (PICTURE_PX * f.height_mm / f.width_mm).round();
    let hidden = html! {
        input type="hidden" name="setting" value=(id);
        input type="hidden" name="copy" value=(copy);
    };
    html! {
        h3 { (at.setting.piece) ", copy " (copy) }
        @match &shown.place {
            Some(Ok(place)) => (found(order, place, wanted)),
            Some(Err(wrong)) => {
                div.notice.serious role="alert" {
                    p { (sentence(&wrong.to_string())) "." }
                    @if let Some(hint) = wrong.hint() { p.hint { (sentence(&hint)) "." } }
                }
            }
            None => p { "Tap the place on the picture, or type its number." },
        }
        form method="get" action={ "/orders/" (order) "/repair" } {
            (hidden)
            div.row {
                label for="place" { "Place number" }
                input.bench-small id="place" name="place" inputmode="numeric" value=[wanted.place.as_deref()];
                label for="stones" { "Stones repaired together" }
                input.bench-small id="stones" name="stones" inputmode="numeric" value=(wanted.stones.as_deref().unwrap_or("1"));
                button { "Look it up" }
            }
            div.bench-tap tabindex="0" role="group" aria-label="the piece, to tap on" {
                input type="image" name="at" src={ "/bench/" (id) "/picture.svg?view=tap" } alt="the place on the piece" width=(PICTURE_PX) height=(height);
            }
        }
        details {
            summary { "Places by row" }
            div.table tabindex="0" role="group" aria-label="places by row" {
                table {
                    thead { tr { th { "Zone" } th { "Row" } th { "Place numbers" } } }
                    tbody { @for (zone, row, first, last) in rows(f) { tr { td { (zone) } td { (row) } td { (first) "–" (last) } } } }
                }
            }
        }
    }
}

/// Rows of the lay: zone, row, first and last place number.
fn rows(f: &Frozen) -> Vec<(&str, u32, u32, u32)> {
    let mut rows: Vec<(&str, u32, u32, u32)> = vec![];
    for (place, (zone, row)) in (1..).zip(f.stones.zone.iter().zip(&f.stones.row)) {
        let zone = f.zones.get(*zone as usize).map_or("", |z| z.name.as_str());
        match rows.last_mut() {
            Some(last) if (last.0, last.1) == (zone, *row) => last.3 = place,
            _ => rows.push((zone, *row, place, place)),
        }
    }
    rows
}

fn found(order: DocumentId, p: &RepairPlace, wanted: &Wanted) -> Markup {
    let lot = if p.lot.is_empty() { "without a lot".to_owned() } else { format!("lot {}", p.lot) };
    let mut figures =
        vec![Figure::new("kind", format!("{} {}", p.kind, p.size)), Figure::new("set from", lot)];
    figures.push(Figure::new("on the shelf of it", p.on_shelf.to_string()));
    figures.push(Figure::new("adhesive", p.adhesive.clone()));
    if let Some(price) = &p.price {
        figures.push(Figure::new("to charge", price.clone()));
    }
    html! {
        section #place-found {
            p { strong { "Stone " (p.place_no) } ", " (p.zone) ", row " (p.row) ": " (place_words(p.right_mm, p.down_mm)) }
            (view::figures(&figures))
            @match &p.reason {
                Some(reason) => (view::reason_of(reason)),
                None => p.hint { "The order names no currency, so there is no price." },
            }
            @if !p.before_ms.is_empty() { p { strong { "Repaired before: " (p.before_ms.len()) "×." } " Look whether the place is sound." } }
            ul.bench-cautions { @for c in &p.cautions { li { (sentence(c)) "." } } }
            form.card.narrow method="post" action={ "/orders/" (order) "/repair" } {
                input type="hidden" name="nonce" value=(nonce());
                input type="hidden" name="setting" value=(p.setting);
                input type="hidden" name="copy" value=(p.copy);
                input type="hidden" name="place" value=(p.place_no);
                input type="hidden" name="stones" value=(wanted.stones.as_deref().unwrap_or("1"));
                div.field {
                    label for="why" { "Why" }
                    input id="why" name="why" maxlength="200" placeholder="came off in the rain";
                }
                button.main { "It is repaired" }
                p.hint { "The stone leaves the shelf, and the repair stands in the list below." }
            }
        }
    }
}

fn log(state: &State, repairs: &[Repair]) -> Markup {
    html! {
        @if !repairs.is_empty() {
            h3 { "Repairs so far" }
            ul {
                @for r in repairs {
                    li {
                        (state.desk().local(r.at_ms).strftime("%-d %b %Y")) ": copy " (r.copy) ", stone " (r.place_no) ", " (r.kind)
                        @if !r.price.is_empty() { ", " (r.price) }
                        @if !r.why.is_empty() { ", " (r.why) }
                    }
                }
            }
        }
    }
}

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(super) struct Done {
    nonce: String,
    setting: i64,
    copy: u32,
    place: u32,
    stones: String,
    why: String,
}

/// `POST /orders/{order}/repair`
pub(super) async fn repaired(
    Ask(state): Ask<State>,
    Path(order): Path<i64>,
    Form(done): Form<Done>,
) -> Result<Response, Problem> {
    let stones = done.stones.trim().parse().ok();
    let asked =
        RepairAsked { setting: done.setting, copy: done.copy, place_no: done.place, stones };
    let nonce = if done.nonce.is_empty() { nonce() } else { done.nonce };
    let why = done.why;
    state
        .at_desk(move |desk| {
            let opened = desk.open(DocumentId(order))?;
            desk.repaired(&opened, &asked, &nonce, &why)
        })
        .await?;
    state.tell(Told::Order(order));
    state.tell(Told::Shelf);
    let back = format!("/orders/{order}/repair?setting={}&copy={}", asked.setting, asked.copy);
    Ok(go(&back, "The repair is written down."))
}
