//! One setting at the bench: the row that is next, big, and what can be pressed.

use super::now;
use crate::problem::Problem;
use crate::state::State;
use crate::view::{Here, Shell};
use axum::extract::{Path, Query, State as Ask};
use axum::response::{IntoResponse, Response};
use desk::DeskError;
use desk::bench::AtBench;
use maud::{Markup, html};
use serde::Deserialize;
use shop::SettingId;

#[derive(Debug, Default, Deserialize)]
pub(super) struct Wanted {
    /// `now`: only the part that changes from press to press.
    #[serde(default)]
    pub(super) part: String,
}

impl Wanted {
    pub(super) fn only_now(&self) -> bool {
        self.part == "now"
    }
}

/// `GET /bench/{setting}`
pub(super) async fn page(
    Ask(state): Ask<State>,
    shell: Shell,
    Path(setting): Path<i64>,
    Query(wanted): Query<Wanted>,
) -> Result<Response, Problem> {
    let at = state.at_desk(move |desk| desk.at_bench(SettingId(setting))).await?;
    if wanted.only_now() {
        return Ok(now::now(&state, &at).into_response());
    }
    Ok(render(&state, &shell, &at, None).into_response())
}

/// The whole page, with what could not be done.
pub(super) fn render(
    state: &State,
    shell: &Shell,
    at: &AtBench,
    wrong: Option<&DeskError>,
) -> Markup {
    let id = at.setting.id;
    let body = html! {
        div.bench data-module="bench" data-now={ "/bench/" (id) "?part=now" } data-order=(at.setting.document) {
            h1.quiet { "Setting: " (at.setting.piece) }
            (now::wrong(wrong))
            (now::now(state, at))
            // What only a browser with script can do; the module shows it.
            div.bench-device.no-print hidden {
                p.bench-link role="status" {}
                div.tick { input type="checkbox" id="bench-keys"; label for="bench-keys" { "Keys and foot pedal: " kbd { "Enter" } ", " kbd { "Space" } " or " kbd { "Page down" } " is Done, " kbd { "Backspace" } " or " kbd { "Page up" } " is Back" } }
                div.tick { input type="checkbox" id="bench-speak"; label for="bench-speak" { "Speak each step" } }
                p.hint.bench-awake {}
            }
            p.no-print {
                a.button href={ "/bench/" (id) "/under" } { "Lay it on the tablet" } " "
                a.button href="/bench" { "Leave the bench" }
                @if at.setting.closed_ms.is_none() && !at.over() {
                    " "
                    details.bench-close {
                        summary { "Close before every copy is set" }
                        form method="post" action={ "/bench/" (id) "/close" } {
                            p { "No more presses then. Copies that are not done can be begun anew, by the lay as it is then." }
                            button.grave { "Close it" }
                        }
                    }
                }
            }
        }
    };
    shell.page(&format!("{} at the bench", at.setting.piece), Some(Here::Bench), &body)
}
