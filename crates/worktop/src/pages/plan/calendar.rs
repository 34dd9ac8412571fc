//! Hours and days: how long it takes, what is done on which day, what decides the day.

use super::{counted, table};
use crate::problem::Problem;
use crate::state::State;
use crate::view;
use app::plan::Plan;
use axum::extract::{Path, State as Ask};
use axum::http::header;
use axum::response::{IntoResponse, Response};
use desk::{DeskError, Opened};
use maud::{Markup, html};
use planning::calendar::{Activity, Because, Event, Remedy, Step};
use planning::hours::{SizeBand, Work};
use shop::DocumentId;
use units::{grouped, trimmed};

pub(super) fn body(plan: &Plan, opened: &Opened) -> Markup {
    let (h, c) = (&plan.hours, &plan.calendar);
    let id = opened.document.id;
    html! {
        p.lead { (lead(plan)) }
        div.actions.no-print { a.button href={ "/orders/" (id) "/days.ics" } { "Calendar file (.ics)" } }
        (remedies(plan))
        (table("Hours by what is done",
            &html! { th { "What" } th.n { "Time" } },
            &html! { @for a in &h.activities { tr { th scope="row" { (a.activity.words()) } td.n { (view::minutes(a.total_min)) } } }
                tr.sum { th scope="row" { "all" } td.n { (view::minutes(h.total_min)) } } }))
        (table("Hours by piece",
            &html! { th { "Piece" } th.n { "Copies" } th.n { "Stones" } th.n { "First copy" } th.n { "Last copy" } th.n { "A copy, all in" } th.n { "All" } },
            &html! { @for p in &h.pieces { tr {
                th scope="row" { (p.piece) } td.n { (p.copies) } td.n { (grouped(p.stones)) }
                td.n { (view::minutes(p.setting.total_min(1))) } td.n { (view::minutes(p.last_setting_min)) }
                td.n { (view::minutes(p.each_min)) } td.n { (view::minutes(p.total_min)) }
            } } }))
        p.hint { "First and last copy are setting alone: hands learn from copy to copy, down to your fast pace; nothing is learnt on drying and curing." }
        (table("Pace",
            &html! { th { "Work" } th { "Stones" } th.n { "Usual" } th.n { "Slow" } th.n { "Fast" } },
            &html! { @for p in &h.paces { tr {
                td { (work(p.work)) } td { (size(p.size)) }
                td.n { (trimmed(p.usual_per_h, 0)) " an hour" } td.n { (trimmed(p.slow_per_h, 0)) } td.n { (trimmed(p.fast_per_h, 0)) }
            } } }))
        h3 { "Day by day" }
        p.hint { (view::minutes(c.hands_on_min as f64)) " with hands on, on " (counted(c.days.len() as u64, "day", "days")) "; up to " (counted(c.bench_copies.into(), "blank", "blanks")) " side by side." }
        (day_by_day(plan))
        details { summary { "Hour by hour" } (hour_by_hour(plan)) }
        (table("What decides the day",
            &html! { th { "From" } th { "To" } th { "What" } th { "It had to wait because" } },
            &html! { @for run in c.critical_path.chunk_by(alike) { (decides(run)) } }))
        (view::reasons("How these figures came about", h.reasons.iter().chain(&c.reasons)))
    }
}

fn lead(plan: &Plan) -> String {
    let c = &plan.calendar;
    match (c.due, c.due_met) {
        (Some(due), Some(true)) => {
            format!("Ready on {}, in time for {}.", view::day(c.ship_on), view::day(due))
        }
        (Some(due), _) => format!(
            "Ready on {}: {} late for {}.",
            view::day(c.ship_on),
            counted(c.late_days.into(), "day", "days"),
            view::day(due)
        ),
        _ => format!("Ready on {}. No day was asked for.", view::day(c.ship_on)),
    }
}

fn remedies(plan: &Plan) -> Markup {
    let all = &plan.calendar.remedies;
    html! {
        @if !all.is_empty() {
            div.notice.warning {
                p { strong { "Any one of these would bring it in time; each was tried:" } }
                ul { @for r in all { li { (remedy(r)) } } }
            }
        }
    }
}

fn remedy(remedy: &Remedy) -> String {
    let then = |d: &jiff::civil::Date| format!(" (ready {})", view::day(*d));
    match remedy {
        Remedy::EarlierStart { start, ship_on } => {
            format!("begin on {}{}", start.strftime("%a %-d %b at %H:%M"), then(ship_on))
        }
        Remedy::MoreHours { more_min, ship_on } => {
            format!("work {} longer each day{}", view::minutes(f64::from(*more_min)), then(ship_on))
        }
        Remedy::EarlierStones { working_days, last_on, ship_on } => format!(
            "have the stones {} earlier, the last on {}{}",
            counted((*working_days).into(), "working day", "working days"),
            view::day(*last_on),
            then(ship_on)
        ),
        Remedy::OtherAdhesive { adhesive, ship_on } => {
            format!("glue with {adhesive}{}", then(ship_on))
        }
        Remedy::LargerBench { bench, ship_on } => {
            format!("make room for {bench} blanks side by side{}", then(ship_on))
        }
        Remedy::FewerCopies { copies, of, ship_on } => {
            format!("send {copies} of {of} copies first{}", then(ship_on))
        }
    }
}

/// Each day with what is done on it: pieces in the order in which hands get to them.
fn day_by_day(plan: &Plan) -> Markup {
    let c = &plan.calendar;
    let done = |date: jiff::civil::Date| {
        let mut pieces: Vec<(&str, Vec<&str>)> = vec![];
        for e in c.events.iter().filter(|e| e.hands.is_some() && e.starts_at.date() == date) {
            let at = pieces.iter().position(|p| p.0 == e.piece).unwrap_or(pieces.len());
            if at == pieces.len() {
                pieces.push((&e.piece, vec![]));
            }
            if !pieces[at].1.contains(&words(e.activity)) {
                pieces[at].1.push(words(e.activity));
            }
        }
        pieces
    };
    table(
        "Calendar",
        &html! { th { "Day" } th.n { "Hands on" } th { "What" } },
        &html! { @for d in &c.days { tr {
            th scope="row" { (view::day(d.date)) }
            td.n { (view::minutes(d.hands_on_min as f64)) }
            td { @for (i, (piece, done)) in done(d.date).iter().enumerate() { @if i > 0 { br; } strong { (piece) } ": " (done.join(", ")) } }
        } } },
    )
}

fn hour_by_hour(plan: &Plan) -> Markup {
    let c = &plan.calendar;
    let rows = html! {
        @for d in &c.days {
            @let events: Vec<&Event> = c.events.iter().filter(|e| e.hands.is_some() && e.starts_at.date() == d.date).collect();
            @for (i, e) in events.iter().enumerate() {
                tr.new-day[i == 0] {
                    @if i == 0 { th scope="rowgroup" rowspan=(events.len()) { (view::day(d.date)) br; span.hint { (view::minutes(d.hands_on_min as f64)) } } }
                    td.n { (e.starts_at.strftime("%H:%M")) "–" (e.ends_at.strftime("%H:%M")) }
                    td { (words(e.activity)) @if e.part > 1 { ", going on" } }
                    td { (e.piece) }
                    td { (copies(e)) }
                    td { @if e.critical { "decides the day" } @else { (view::minutes(e.float_min as f64)) " to spare" } }
                }
            }
        }
    };
    table(
        "Hour by hour",
        &html! { th { "Day" } th.n { "Time" } th { "What" } th { "Piece" } th { "Copies" } th { "Room" } },
        &rows,
    )
}

fn copies(e: &Event) -> String {
    if e.first_copy == e.last_copy {
        e.first_copy.to_string()
    } else {
        format!("{}–{}", e.first_copy, e.last_copy)
    }
}

/// Whether two steps of the critical path are one thing to a maker: hands at one piece, batch after
/// batch, or the same wait.
fn alike(a: &Step, b: &Step) -> bool {
    a.piece == b.piece && (a.activity == b.activity || by_hand(a.activity) && by_hand(b.activity))
}

fn by_hand(a: Activity) -> bool {
    !matches!(a, Activity::Drying | Activity::Handling | Activity::Curing)
}

fn decides(run: &[Step]) -> Markup {
    let (Some(first), Some(last)) = (run.first(), run.last()) else { return html! {} };
    let mut done: Vec<&str> = vec![];
    for step in run {
        if !done.contains(&words(step.activity)) {
            done.push(words(step.activity));
        }
    }
    html! {
        tr {
            td { (first.starts_at.strftime("%a %-d %b %H:%M")) } td { (last.ends_at.strftime("%a %-d %b %H:%M")) }
            td { (first.piece) ": " (done.join(" and ")) } td { (because(first.because)) }
        }
    }
}

/// An activity in a maker's words.
fn words(a: Activity) -> &'static str {
    match a {
        Activity::SettingUp => "setting up",
        Activity::Preparing => "preparing",
        Activity::Drying => "drying",
        Activity::Setting => "setting",
        Activity::Handling => "waiting until it can be handled",
        Activity::Turning => "turning",
        Activity::Curing => "curing",
        Activity::Packing => "packing",
    }
}

fn because(b: Because) -> &'static str {
    match b {
        Because::Start => "work begins",
        Because::Delivery => "its stones arrive",
        Because::Batch => "of what came before",
        Because::Hands => "hands were elsewhere",
        Because::Bench => "the bench was full",
    }
}

fn work(w: Work) -> &'static str {
    match w {
        Work::Rows => "in rows",
        Work::Scatter => "scatter",
    }
}

fn size(s: SizeBand) -> &'static str {
    match s {
        SizeBand::Small => "small",
        SizeBand::Middle => "middling",
        SizeBand::Large => "large",
    }
}

/// `GET /orders/{order}/days.ics`
pub(in crate::pages) async fn ical(
    Ask(state): Ask<State>,
    Path(id): Path<i64>,
) -> Result<Response, Problem> {
    let text = state
        .at_desk(move |desk| {
            let opened = desk.open(DocumentId(id))?;
            let plan = desk.plan(&opened, &lay::Unwatched)?;
            Ok::<_, DeskError>(plan.ical(desk.utc(opened.revision.at_ms)))
        })
        .await?;
    let headers = [
        (header::CONTENT_TYPE, "text/calendar; charset=utf-8"),
        (header::CONTENT_DISPOSITION, "attachment; filename=\"order.ics\""),
    ];
    Ok((headers, text).into_response())
}
