//! Counting a heap of stones on a scale.

use super::number;
use super::stone::{Draft, shown};
use crate::problem::{Problem, sentence};
use crate::state::State;
use crate::view::{self, Shell, Who};
use axum::Form;
use axum::extract::{Path, State as Ask};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use desk::{Weighed, WeighedCount, WeighedSample};
use maud::{Markup, html};
use std::collections::BTreeMap;

/// So many samples can be typed at once; from three on their own spread is believed.
const SAMPLES: usize = 3;

/// `POST /shelf/stones/{name}/weigh`
pub(super) async fn weigh(
    Ask(state): Ask<State>,
    shell: Shell,
    who: Who,
    Path(name): Path<String>,
    Form(pairs): Form<Vec<(String, String)>>,
) -> Result<Response, Problem> {
    let values: BTreeMap<String, String> = pairs.into_iter().collect();
    let value = |key: &str| values.get(key).cloned().unwrap_or_default();
    let sample = |i: usize| WeighedSample {
        stones: value(&format!("stones{i}")),
        shown: value(&format!("shown{i}")),
    };
    let weighed = Weighed {
        samples: (1..=SAMPLES).map(sample).collect(),
        heap: value("heap"),
        dish: value("dish"),
        step: value("step"),
    };
    let stone = name.clone();
    let weigh = move |desk: &desk::Desk| Ok::<_, Problem>(desk.weigh(&stone, &weighed));
    let counted = state.at_desk(weigh).await?;
    let mut draft = Draft { what: "weigh".to_owned(), values, ..Draft::default() };
    let status = match counted {
        Ok(count) => {
            draft.weighed = Some(count);
            StatusCode::OK
        }
        Err(wrong) => {
            draft.wrong = Some(Problem::from(wrong));
            StatusCode::UNPROCESSABLE_ENTITY
        }
    };
    Ok((status, shown(&state, &shell, &who, &name, None, &draft).await?).into_response())
}

/// The form, with what was typed last and what came of it.
pub(super) fn form(stone: &str, who: &Who, nonce: &str, lots: &[String], draft: &Draft) -> Markup {
    let mine = draft.what == "weigh";
    let value = |key: &str| draft.values.get(key).filter(|_| mine).cloned().unwrap_or_default();
    html! {
        details.card #weigh open[mine] {
            summary { "Count by weight" }
            @if mine { (draft.trouble()) }
            @if let Some(count) = draft.weighed.as_ref().filter(|_| mine) { (result(stone, who, nonce, lots, count, draft)) }
            form method="post" action={ (super::href(stone)) "/weigh#weigh" } {
                p.hint { "Count a few stones by hand and weigh them, then weigh the heap. Three samples are better than one: their own spread is used then." }
                div.fields {
                    @for i in 1..=SAMPLES {
                        @let (n, g) = (format!("stones{i}"), format!("shown{i}"));
                        fieldset.within {
                            legend { "Sample " (i) @if i > 1 { span.hint { " (may stay empty)" } } }
                            div.field { label for=(n) { "Stones, counted" } input id=(n) name=(n) inputmode="numeric" autocomplete="off" value=(value(&n)); }
                            div.field { label for=(g) { "The scale shows" } input id=(g) name=(g) inputmode="decimal" autocomplete="off" placeholder="4.10 g" value=(value(&g)); }
                        }
                    }
                }
                div.fields {
                    @for (key, label, example) in [("heap", "The scale shows with the heap", "61.4 g"), ("dish", "The empty dish", "0 g"), ("step", "Smallest step of the scale", "0.01 g")] {
                        div.field { label for=(key) { (label) } input id=(key) name=(key) inputmode="decimal" autocomplete="off" placeholder=(example) value=(value(key)); }
                    }
                }
                div.actions { button { "Work it out" } }
            }
        }
    }
}

fn result(
    stone: &str,
    who: &Who,
    nonce: &str,
    lots: &[String],
    count: &WeighedCount,
    draft: &Draft,
) -> Markup {
    let (heap, unit) = (&count.heap, &count.unit);
    let stones = i64::try_from(heap.stones).unwrap_or(i64::MAX);
    let milligrams = |g: f64| units::trimmed(g * 1000.0, 2);
    let weighed: Vec<String> = (1..=SAMPLES)
        .filter_map(|i| {
            Some((
                draft.values.get(&format!("stones{i}"))?,
                draft.values.get(&format!("shown{i}"))?,
            ))
        })
        .filter(|(n, _)| !n.trim().is_empty())
        .map(|(n, g)| format!("{n} = {g}"))
        .collect();
    let why = format!(
        "weighed: heap {}, samples {}",
        draft.values.get("heap").map_or("", String::as_str),
        weighed.join(", ")
    );
    html! {
        div.notice.good role="status" {
            p { strong { (number(stones)) " stones" } ", between " (units::grouped(heap.low)) " and " (units::grouped(heap.high)) " at 95 %." }
            p {
                "One weighs " (milligrams(unit.unit_g)) " mg, between " (milligrams(unit.low_g)) " and " (milligrams(unit.high_g))
                " mg, by " (unit.stones) " stones; count " (units::grouped(unit.stones_for_1_percent)) " to know it within 1 %."
            }
            form.row method="post" action="/shelf/moves" {
                input type="hidden" name="nonce" value=(nonce);
                input type="hidden" name="what" value="counted";
                input type="hidden" name="stone" value=(stone);
                input type="hidden" name="amount" value=(stones);
                input type="hidden" name="why" value=(why);
                input type="hidden" name="who" value=(who.0);
                label for="weighed-lot" { "Lot" }
                input.lot id="weighed-lot" name="lot" list="lots" value=(lots.first().filter(|_| lots.len() == 1).map_or("", String::as_str)) autocomplete="off";
                button.main { "Take as counted" }
            }
        }
        (view::reasons(&sentence("how it came about"), unit.reasons.iter().chain(&heap.reasons)))
    }
}
