//! The part of the bench that changes from press to press.

use super::{list, nonce, place_words};
use crate::problem::sentence;
use crate::state::State;
use crate::view::minutes;
use desk::DeskError;
use desk::bench::{Act, AtBench, FrozenRow, FrozenStretch, GlueClock, Step, Way};
use maud::{Markup, html};

/// What could not be done.
pub(super) fn wrong(wrong: Option<&DeskError>) -> Markup {
    html! {
        @if let Some(wrong) = wrong {
            div.notice.serious role="alert" {
                p { strong { (sentence(&wrong.to_string())) "." } }
                @if let Some(hint) = wrong.hint() { p { (sentence(&hint)) "." } }
            }
        }
    }
}

/// Which step is at hand, as one word: pictures and pages are told apart by it.
pub(super) fn step_key(at: &AtBench) -> String {
    match at.course.step() {
        Step::Row { copy, stretch, row } => format!("{copy}-{stretch}-{row}"),
        Step::Look { copy } => format!("{copy}-look"),
        Step::Over => "over".to_owned(),
    }
}

/// Everything that a press changes.
pub(super) fn now(state: &State, at: &AtBench) -> Markup {
    let (left, whole) = match at.glue() {
        GlueClock::Open { left_ms, whole_ms } => (Some(left_ms), Some(whole_ms)),
        _ => (None, None),
    };
    html! {
        div #now .bench-now data-step=(step_key(at)) data-presses=(at.course.presses()) data-speak=(speech(at)) data-left-ms=[left] data-whole-ms=[whole] {
            (head(state, at))
            @if at.setting.closed_ms.is_some() {
                div.notice.good { p { strong { "This setting is closed." } " " a href={ "/orders/" (at.setting.document) "/set" } { "To the order's other copies" } } }
            } @else {
                @match (at.course.step(), at.row()) {
                    (Step::Row { stretch: index, row: number, .. }, Some((stretch, row))) => (row_page(at, index, number, stretch, row)),
                    (Step::Over, _) => (over(at)),
                    _ => (look(at)),
                }
                @if !at.over() { (more(at)) }
            }
        }
    }
}

/// What is spoken, and what a screen reader is told.
fn speech(at: &AtBench) -> String {
    match (at.course.step(), at.row()) {
        (Step::Row { row: number, .. }, Some((stretch, row))) => {
            let kinds = at.frozen.kinds_of(row);
            let kinds: Vec<String> =
                kinds.iter().map(|(k, n)| format!("{n} {}", at.frozen.kinds[*k].name)).collect();
            format!("{}: {}", row_name(at, stretch, row, number), kinds.join(", "))
        }
        (Step::Look { copy }, _) => {
            let whose = at.whose().map(|n| format!(" for {n}")).unwrap_or_default();
            format!("copy {copy}{whose}: every row is set, look it over")
        }
        _ => "every copy is set".to_owned(),
    }
}

/// What a row is called: rows have the zone's numbers, handfuls are counted in their stretch.
fn row_name(at: &AtBench, stretch: &FrozenStretch, row: &FrozenRow, number: usize) -> String {
    match at.frozen.zones.get(stretch.zone as usize).map(|z| z.way) {
        Some(Way::Scatter) => format!("Handful {}", number + 1),
        _ => format!("Row {}", row.row),
    }
}

fn head(state: &State, at: &AtBench) -> Markup {
    let rows = at.course.shape().rows_of_copy();
    let place = match at.course.step() {
        Step::Row { stretch, row, .. } => {
            let all = at.frozen.stretches.len();
            let of = at.frozen.stretches.get(stretch).map_or(0, |s| s.rows.len());
            format!("stretch {} of {all} · {} of {of} in it", stretch + 1, row + 1)
        }
        Step::Look { .. } => "every row is set".to_owned(),
        Step::Over => "every copy is set".to_owned(),
    };
    html! {
        div.bench-head {
            p.bench-copy { (at.setting.piece) ", " strong { (list::copy_words(at)) } }
            p.bench-where { (place) }
            progress.bench-progress max=(rows.max(1)) value=(at.course.rows_set()) aria-label="rows of this copy that are set" {}
            (clock(state, at))
        }
    }
}

/// How long the glue may lie open still: in words, and never by colour alone.
fn clock(state: &State, at: &AtBench) -> Markup {
    let seen = state.desk().local(at.now_ms).strftime("%H:%M").to_string();
    html! {
        @match at.glue() {
            GlueClock::Closed => p.bench-clock { "○ no glue open" },
            GlueClock::NoLimit => p.bench-clock.good { "● glue is on: it sets no limit" },
            GlueClock::Unknown => p.bench-clock.bad { "✕ age of the glue not known: this machine's clock was set. Put fresh glue on" },
            GlueClock::Open { left_ms, .. } if left_ms <= 0 => {
                p.bench-clock.bad data-clock="" { "✕ " span data-words="" { "skinned: over by " (minutes(-left_ms as f64 / 60_000.0)) } }
            }
            GlueClock::Open { left_ms, whole_ms } => {
                p.bench-clock .good[left_ms * 5 > whole_ms] .warn[left_ms * 5 <= whole_ms] data-clock="" {
                    @if left_ms * 5 > whole_ms { "● " } @else { "▲ " }
                    span data-words="" { (minutes(left_ms as f64 / 60_000.0)) " of open time left at " (seen) }
                }
            }
        }
    }
}

fn row_page(
    at: &AtBench,
    index: usize,
    number: usize,
    stretch: &FrozenStretch,
    row: &FrozenRow,
) -> Markup {
    let id = at.setting.id;
    let zone = at.frozen.zones.get(stretch.zone as usize).map_or("", |z| z.name.as_str());
    let picture =
        |view: &str| format!("/bench/{id}/picture.svg?view={view}&stretch={index}&row={number}");
    let fresh = wants_fresh_glue(at);
    let closed = at.glue() == GlueClock::Closed;
    let name = row_name(at, stretch, row, number);
    html! {
        div.bench-main {
            figure.bench-picture {
                div.bench-close-up data-board={ "/bench/" (id) "/board.json" } data-places=(row.places.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ")) data-set=(set_stones(at, index, number)) {
                    img src=(picture("close")) alt={ (name) " of " (zone) ", close up" };
                }
                div.bench-whole { img src=(picture("whole")) alt={ "where it lies on the " (at.setting.piece) }; }
            }
            div.bench-side {
                @if closed || fresh { (glue_card(at, stretch, fresh)) }
                section.bench-row aria-labelledby="row" {
                    h2 #row { (name) span.hint { " · " (zone) } }
                    (kinds(at, row))
                    (place_of(at, row))
                }
                @if !closed && !fresh { details.bench-fold { summary { "Glue of this stretch" } (glue_card(at, stretch, true)) } }
            }
        }
        (acts(at, "Done"))
    }
}

/// Whether the glue of the stretch has skinned, or may have.
fn wants_fresh_glue(at: &AtBench) -> bool {
    matches!(at.glue(), GlueClock::Unknown | GlueClock::Open { left_ms: ..=0, .. })
}

/// How many stones are set before this row, in bench order.
fn set_stones(at: &AtBench, stretch: usize, row: usize) -> usize {
    let stretches = &at.frozen.stretches;
    let before = stretches.iter().take(stretch).flat_map(|s| &s.rows);
    let here = stretches.get(stretch).into_iter().flat_map(|s| s.rows.iter().take(row));
    before.chain(here).map(|r| r.places.len()).sum()
}

/// The row to set: its stones in the order of setting, by kind.
fn kinds(at: &AtBench, row: &FrozenRow) -> Markup {
    let runs: Vec<(usize, usize)> = row
        .places
        .chunk_by(|a, b| at.frozen.kind_at(*a) == at.frozen.kind_at(*b))
        .filter_map(|run| Some((at.frozen.kind_at(run[0])?, run.len())))
        .collect();
    html! {
        ul.bench-kinds {
            @for (kind, n) in at.frozen.kinds_of(row) {
                @let k = &at.frozen.kinds[kind];
                li { strong.bench-n { (n) } (mark(&k.colour, &k.mark)) span { (k.name) span.hint { " " (k.size) } } }
            }
        }
        @if runs.len() > 1 {
            p.bench-runs {
                "In order: "
                @for (i, (kind, n)) in runs.iter().enumerate() {
                    @if i > 0 { " · " }
                    span { (n) " " strong { (at.frozen.kinds[*kind].mark) } }
                }
            }
        }
    }
}

/// A stone with its mark in it, in an ink that can be read on its colour.
pub(super) fn mark(colour: &str, mark: &str) -> Markup {
    html! {
        svg.bench-mark viewBox="0 0 32 32" aria-hidden="true" {
            circle cx="16" cy="16" r="15" fill=(colour) stroke="#7d7567" {}
            text x="16" y="21.5" text-anchor="middle" font-size="16" font-weight="700" fill=(super::svg::ink_on(colour)) { (mark) }
        }
    }
}

fn place_of(at: &AtBench, row: &FrozenRow) -> Markup {
    let spot = |place: Option<&u32>| place.and_then(|p| at.frozen.spot(*p));
    html! {
        @if let (Some(a), Some(b)) = (spot(row.places.first()), spot(row.places.last())) {
            p.hint {
                "From " (place_words(a.right_mm, a.down_mm))
                @if row.places.len() > 1 { " to " (place_words(b.right_mm, b.down_mm)) }
                ", of the blank's top left corner"
            }
        }
    }
}

/// Where the glue of the stretch goes, and what to take care of. `again` offers to say that fresh
/// glue is on; the first time the main button of the page says so.
fn glue_card(at: &AtBench, stretch: &FrozenStretch, again: bool) -> Markup {
    let glue = &at.frozen.glue;
    let stones: usize = stretch.rows.iter().map(|r| r.places.len()).sum();
    html! {
        section.bench-glue aria-label="Glue" {
            h2 { "Glue: " (glue.name) }
            @match stretch.width_mm {
                Some(width) => p {
                    "Start " strong { "▶ " (place_words(stretch.start.right_mm, stretch.start.down_mm)) } ", "
                    "stop " strong { "■ " (place_words(stretch.stop.right_mm, stretch.stop.down_mm)) } ": "
                    (format!("{:.0}", stretch.line_mm)) " mm "
                    @if stretch.lines > 1 { "in " (stretch.lines) " parts, " }
                    (format!("{width:.1}")) " mm wide"
                },
                None => p { "Over " (format!("{:.1}", stretch.area_cm2)) " cm², from " strong { "▶ " (place_words(stretch.start.right_mm, stretch.start.down_mm)) } " to " strong { "■ " (place_words(stretch.stop.right_mm, stretch.stop.down_mm)) } },
            }
            p.hint { (stones) " stones, about " (minutes(stretch.usual_min)) ", slowly " (minutes(stretch.slow_min)) @if let Some(open) = glue.open_min { "; it may lie open for " (minutes(open)) } }
            @if !glue.cautions.is_empty() { ul.bench-cautions { @for c in &glue.cautions { li { (sentence(c)) "." } } } }
            @if again {
                form method="post" action={ "/bench/" (at.setting.id) "/press" } {
                    (hidden(at))
                    @if wants_fresh_glue(at) { p { "Take the old glue off, and put fresh glue on." } }
                    button.bench-act name="act" value="glue" { "Fresh glue is on" }
                }
            }
        }
    }
}

/// Done and back. Before the glue of a stretch is on, that comes first: a foot pedal says so, too.
fn acts(at: &AtBench, done: &str) -> Markup {
    html! {
        form.bench-acts method="post" action={ "/bench/" (at.setting.id) "/press" } {
            (hidden(at))
            button.bench-act data-act="back" name="act" value="back" disabled[!at.course.can_go_back()] { "← Back" }
            @if at.course.paused() {
                button.bench-act.main.bench-done name="act" value="resume" data-act="done" { "Go on" }
            } @else if at.row().is_some() && at.glue() == GlueClock::Closed {
                button.bench-act.main.bench-done name="act" value="glue" data-act="done" { "Glue is on" }
            } @else {
                button.bench-act.main.bench-done name="act" value="done" data-act="done" { "✓ " (done) }
            }
        }
    }
}

/// What every press sends along: the step that was shown.
fn hidden(at: &AtBench) -> Markup {
    let sent = at.press(Act::Done, "");
    html! {
        input type="hidden" name="nonce" value=(nonce());
        input type="hidden" name="device" value="";
        input type="hidden" name="copy" value=(sent.copy);
        input type="hidden" name="stretch" value=[sent.stretch];
        input type="hidden" name="row" value=[sent.row];
    }
}

/// A copy is set.
fn look(at: &AtBench) -> Markup {
    html! {
        section.bench-look {
            h2 { "Copy " (at.course.copy()) @if let Some(name) = at.whose() { ", for " (name) } ": every row is set" }
            p { "Look it over while a stone can still be moved. When it is done, its stones leave the shelf." }
            p.hint { "At work so far: " (minutes(at.course.worked_ms() as f64 / 60_000.0)) }
        }
        (acts(at, "The copy is done"))
    }
}

/// Every copy is set.
fn over(at: &AtBench) -> Markup {
    html! {
        section.bench-look {
            h2 { "Every copy is set" }
            p { (at.copies()) @if at.copies() == 1 { " copy" } @else { " copies" } ", " (minutes(at.course.worked_ms() as f64 / 60_000.0)) " at work." }
            (lost_so_far(at))
            (used(at))
            form.bench-acts method="post" action={ "/bench/" (at.setting.id) "/press" } {
                (hidden(at))
                button.bench-act data-act="back" name="act" value="back" { "← Back" }
            }
            form method="post" action={ "/bench/" (at.setting.id) "/close" } {
                button.bench-act.main.bench-wide { "Close this setting" }
            }
        }
    }
}

fn lost_so_far(at: &AtBench) -> Markup {
    html! {
        @if !at.course.lost().is_empty() {
            p.hint { "Lost so far: " @for (i, (kind, n)) in at.course.lost().iter().enumerate() { @if i > 0 { ", " } (n) " " (kind) } }
        }
    }
}

/// Stones lost, a pause, glue used, a note.
fn more(at: &AtBench) -> Markup {
    let to = format!("/bench/{}/press", at.setting.id);
    html! {
        div.bench-more {
            form method="post" action=(to) {
                (hidden(at))
                input type="hidden" name="act" value="lost";
                fieldset {
                    legend { "Lost a stone" }
                    div.row {
                        label for="lost-n" { "How many" }
                        input.bench-small id="lost-n" name="stones" inputmode="numeric" value="1";
                        @for kind in &at.frozen.kinds {
                            button.bench-act name="kind" value=(kind.name) { (mark(&kind.colour, &kind.mark)) (kind.name) }
                        }
                    }
                    (lost_so_far(at))
                }
            }
            form method="post" action=(to) {
                (hidden(at))
                @if at.row().is_some() && at.glue() == GlueClock::Closed {
                    button.bench-act name="act" value="done" { "Row done, no glue to time" }
                    " "
                }
                @if at.course.paused() {
                    p { strong { "Paused." } " The work does not count now; glue that is open skins all the same." }
                    button.bench-act name="act" value="resume" { "Go on" }
                } @else {
                    button.bench-act name="act" value="pause" { "Pause" }
                    p.hint { "A pause does not stop glue from skinning." }
                }
            }
            (used(at))
            details.bench-fold {
                summary { "A note" }
                form method="post" action=(to) {
                    (hidden(at))
                    input type="hidden" name="act" value="note";
                    label for="note" { "Note" }
                    textarea id="note" name="text" maxlength="500" required {}
                    div.actions { button.bench-act { "Write it down" } }
                }
            }
        }
    }
}

fn used(at: &AtBench) -> Markup {
    html! {
        details.bench-fold {
            summary { "Glue used" }
            form method="post" action={ "/bench/" (at.setting.id) "/press" } {
                (hidden(at))
                input type="hidden" name="act" value="used";
                label for="grams" { "Grams since it was weighed last" }
                input.bench-small id="grams" name="grams" inputmode="decimal" required placeholder="2.5";
                div.actions { button.bench-act { "Write it down" } }
            }
        }
    }
}
