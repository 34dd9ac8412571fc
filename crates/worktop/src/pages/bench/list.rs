//! What is at the bench, and what can be begun.

use super::stones_words;
use crate::problem::Problem;
use crate::state::State;
use crate::view::{Here, Shell};
use axum::extract::State as Ask;
use desk::DeskError;
use desk::bench::AtBench;
use maud::{Markup, html};
use shop::{Asked, By};

/// Orders that are offered to begin with.
const MOST_ORDERS: u32 = 24;

/// `GET /bench`
pub(super) async fn page(Ask(state): Ask<State>, shell: Shell) -> Result<Markup, Problem> {
    let (open, orders) = state
        .at_desk(|desk| {
            let open = desk.shop().open_settings()?;
            let open = open.iter().map(|s| {
                let name = desk.shop().head(s.document)?.document.name;
                Ok::<_, DeskError>((name, desk.at_bench(s.id)?))
            });
            let open = open.collect::<Result<Vec<_>, _>>()?;
            let asked = Asked { by: By::Due, limit: MOST_ORDERS, ..Asked::default() };
            Ok::<_, DeskError>((open, desk.shop().documents(&asked)?))
        })
        .await?;
    let body = html! {
        div.order-head {
            h1 { "Bench" }
            a.button href="/bench/rates" { "Your own rates" }
        }
        section aria-labelledby="at-hand" {
            h2 #at-hand { "At the bench" }
            @if open.is_empty() {
                div.empty {
                    h3 { "Nothing is being set" }
                    p { "Pick an order below, then the piece and the copies. From then on they are set by the lay as it is now, whatever is changed later." }
                }
            } @else {
                ul.cards { @for (order, at) in &open { (card(order, at)) } }
            }
        }
        section aria-labelledby="begin" {
            h2 #begin { "Begin" }
            @if orders.is_empty() {
                p { "There is no order yet. " a href="/orders/new" { "Take one" } }
            } @else {
                ul.bench-orders {
                    @for order in &orders {
                        li {
                            a.button href={ "/orders/" (order.id) "/set" } { (order.name) }
                            @if let Some(due) = &order.due_day { span.hint { " due " (due) } }
                        }
                    }
                }
            }
        }
    };
    Ok(shell.page("Bench", Some(Here::Bench), &body))
}

/// A setting that goes on.
pub(super) fn card(order: &str, at: &AtBench) -> Markup {
    let rows = at.course.shape().rows_of_copy() * at.copies() as usize;
    let set = at.course.set().len();
    html! {
        li.card {
            h3 { a href={ "/bench/" (at.setting.id) } { (at.setting.piece) } }
            p.hint { (order) }
            p {
                @if at.over() { "Every copy is set; it can be closed." }
                @else { (copy_words(at)) ": " (set) " of " (rows) " rows set" }
                @if at.course.paused() { " " span.badge { "paused" } }
            }
            progress.bench-progress max=(rows.max(1)) value=(set) aria-label="rows set" {}
            p.hint { (stones_words(at.frozen.stones.kind.len() as u64)) " on a copy, copies " (at.setting.first_copy) " to " (at.setting.last_copy) }
            div.actions { a.button.main href={ "/bench/" (at.setting.id) } { "Go on" span.quiet { " with " (at.setting.piece) } } }
        }
    }
}

/// Which copy is at hand, and whose: `copy 7 of 18, for Ana`.
pub(super) fn copy_words(at: &AtBench) -> String {
    let (copy, all) = (at.course.copy(), at.frozen.quantity.max(at.setting.last_copy));
    match at.whose() {
        Some(name) => format!("copy {copy} of {all}, for {name}"),
        None => format!("copy {copy} of {all}"),
    }
}
