//! The maker's own rates, with their spread, and how much they count.

use crate::problem::Problem;
use crate::state::State;
use crate::view::{Here, Shell, percent};
use axum::extract::State as Ask;
use desk::rates::Rates;
use maud::{Markup, html};
use planning::hours::TRUST_STONES;
use units::{grouped, trimmed};

/// `GET /bench/rates`
pub(super) async fn page(Ask(state): Ask<State>, shell: Shell) -> Result<Markup, Problem> {
    let rates = state.at_desk(|desk| desk.rates()).await?;
    let nothing = rates.pace.is_empty() && rates.loss.is_empty() && rates.glue.is_empty();
    let body = html! {
        p.above { a href="/bench" { "Bench" } }
        h1 { "Your own rates" }
        p.lead { "What the presses at the bench say of your pace, your losses and your glue. Every plan goes by them at once, beside what is usual." }
        @if nothing {
            div.empty { h2 { "Nothing is known yet" } p { "Set a copy at the bench: press “Glue is on”, then Done after each row. The demo order does not count." } }
        } @else {
            (pace(&rates))
            (loss(&rates))
            (glue(&rates))
        }
        (rules(&rates))
    };
    Ok(shell.page("Your own rates", Some(Here::Bench), &body))
}

fn pace(rates: &Rates) -> Markup {
    html! {
        h2 #pace { "Pace" }
        @if rates.pace.is_empty() { p { "No row has a time that counts yet." } }
        @else {
            div.table tabindex="0" role="group" aria-labelledby="pace" {
                table {
                    thead { tr {
                        th { "Kind" } th { "Work" } th.n { "Copies" } th.n { "Rows" } th.n { "Stones" }
                        th.n { "Seconds a stone" } th.n { "Slow, 9 in 10" } th.n { "Stones an hour" } th.n { "Counts" }
                    } }
                    tbody {
                        @for p in &rates.pace {
                            tr {
                                td { (p.kind) span.hint { " " (p.size) } }
                                td { (p.work.words()) }
                                td.n { (p.copies) }
                                td.n { (p.rows) }
                                td.n { (grouped(p.stones)) }
                                td.n { (trimmed(p.mean_s, 1)) }
                                td.n { (trimmed(p.slow_s, 1)) }
                                td.n { (trimmed(3600.0 / p.mean_s, 0)) }
                                td.n { (percent(p.stones as f64 / (p.stones as f64 + TRUST_STONES))) }
                            }
                        }
                    }
                }
            }
            p.hint { "“Counts” is its weight beside the usual pace, which counts as " (grouped(TRUST_STONES as u64)) " stones: the more you set, the more your own hand decides. Stones of the same size and work count together." }
        }
    }
}

fn loss(rates: &Rates) -> Markup {
    html! {
        h2 #loss { "Losses" }
        @if rates.loss.is_empty() { p { "No stone was set yet." } }
        @else {
            div.table tabindex="0" role="group" aria-labelledby="loss" {
                table {
                    thead { tr { th { "Kind" } th.n { "Handled" } th.n { "Lost" } th.n { "Share" } th.n { "High, 9 in 10" } } }
                    tbody {
                        @for l in &rates.loss {
                            tr { td { (l.kind) } td.n { (grouped(l.handled)) } td.n { (grouped(l.lost)) } td.n { (percent(l.share)) } td.n { (percent(l.high_share)) } }
                        }
                    }
                }
            }
            p.hint { "They are weighed against the loss that the order assumes, which counts as 500 handled stones unless the order says otherwise." }
        }
    }
}

fn glue(rates: &Rates) -> Markup {
    html! {
        h2 #glue { "Glue" }
        @if rates.glue.is_empty() { p { "Glue was not weighed yet: “Glue used” at the bench." } }
        @else {
            div.table tabindex="0" role="group" aria-labelledby="glue" {
                table {
                    thead { tr { th { "Adhesive" } th.n { "Weighed" } th.n { "Grams" } th.n { "Stones" } th.n { "mg a stone" } th.n { "High, 9 in 10" } th.n { "By the plan" } } }
                    tbody {
                        @for g in &rates.glue {
                            tr {
                                td { (g.adhesive) } td.n { (g.times) "×" } td.n { (trimmed(g.grams, 2)) } td.n { (grouped(g.stones)) }
                                td.n { (trimmed(g.mean_mg, 1)) } td.n { (trimmed(g.high_mg, 1)) }
                                td.n { @match g.by_plan { Some(by) => (percent(by)), None => "–" } }
                            }
                        }
                    }
                }
            }
            p.hint { "“By the plan” is what was used against what was reckoned to end up on the pieces; what is over 100 % is what stays in cup and nozzle, and the next plan reckons with it unless the label says otherwise." }
        }
    }
}

fn rules(rates: &Rates) -> Markup {
    let out = rates.left_out;
    html! {
        details {
            summary { "What counts, and what does not" }
            ul {
                li { "A row counts with the time since the press before it; pauses and putting the glue on are left out." }
                li { "Rows whose time is not known are left out: the program was started anew or the clock was set in between, a pause was forgotten, or nobody pressed “Glue is on”. So far: " (out.unknown) "." }
                li { "A row that took over five times the plan's slow pace is left out. So far: " (out.too_long) "." }
                li { "A row that took under 0.3 s a stone was tapped later: it counts together with the row before it, or not at all. So far: " (out.too_quick) "." }
                li { "A row of several kinds counts for each by its share of the stones." }
                li { "A plan goes by the last 1,000 pairs of copy and kind. The demo order does not count." }
            }
        }
    }
}
