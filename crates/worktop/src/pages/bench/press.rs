//! Presses, and closing a setting.

use super::setting::{self, Wanted};
use super::{nonce, now};
use crate::pages::{go, wants_json};
use crate::problem::Problem;
use crate::state::{State, Told};
use crate::view::Shell;
use axum::Form;
use axum::extract::{Path, Query, State as Ask};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Response};
use desk::DeskError;
use desk::bench::{Act, PressAsked};
use serde::Deserialize;
use shop::SettingId;

/// A press as a form sends it: everything is text until it is read.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(super) struct Sent {
    nonce: String,
    device: String,
    copy: String,
    stretch: String,
    row: String,
    act: String,
    kind: String,
    stones: String,
    grams: String,
    text: String,
}

/// Longest name of a device.
const MOST_DEVICE: usize = 60;

impl Sent {
    fn read(self) -> Result<PressAsked, DeskError> {
        let act = match self.act.as_str() {
            "done" => Act::Done,
            "back" => Act::Back,
            "lost" => Act::Lost,
            "pause" => Act::Pause,
            "resume" => Act::Resume,
            "glue" => Act::Glue,
            "used" => Act::Used,
            "note" => Act::Note,
            _ => return Err(DeskError::unfit("nothing was pressed", "press one of the buttons")),
        };
        let copy = self.copy.parse().map_err(|_| DeskError::Missing("copy"))?;
        let stones = match self.stones.trim() {
            "" => None,
            text => Some(text.parse().map_err(|_| {
                DeskError::unfit(format!("this is no number of stones: `{text}`"), "type it like 2")
            })?),
        };
        let grams = match self.grams.trim() {
            "" => None,
            text => {
                let plain = text.trim_end_matches('g').trim().replace(',', ".");
                Some(plain.parse().map_err(|_| {
                    DeskError::unfit(format!("this is no weight: `{text}`"), "type grams, like 2.5")
                })?)
            }
        };
        let said = |text: String| Some(text).filter(|t| !t.is_empty());
        Ok(PressAsked {
            nonce: said(self.nonce).unwrap_or_else(nonce),
            device: self.device.chars().take(MOST_DEVICE).collect(),
            copy,
            stretch: self.stretch.parse().ok(),
            row: self.row.parse().ok(),
            act,
            kind: said(self.kind),
            stones,
            grams,
            text: said(self.text),
        })
    }
}

/// `POST /bench/{setting}/press`
pub(super) async fn press(
    Ask(state): Ask<State>,
    shell: Shell,
    headers: HeaderMap,
    Path(setting): Path<i64>,
    Query(wanted): Query<Wanted>,
    Form(sent): Form<Sent>,
) -> Result<Response, Problem> {
    let shelf = matches!(sent.act.as_str(), "lost" | "done");
    let id = SettingId(setting);
    let pressed = state
        .at_desk(move |desk| {
            let pressed = sent.read().and_then(|asked| desk.press(id, &asked));
            Ok::<_, DeskError>(pressed.map_err(|e| (e, desk.at_bench(id))))
        })
        .await?;
    match pressed {
        Ok(at) => {
            state.tell(Told::Order(at.setting.document.0));
            if shelf {
                state.tell(Told::Shelf);
            }
            if wanted.only_now() {
                return Ok(now::now(&state, &at).into_response());
            }
            Ok(go(&format!("/bench/{setting}"), ""))
        }
        Err((error @ (DeskError::Unfit { .. } | DeskError::Meanwhile { .. }), Ok(at)))
            if !wants_json(&headers) =>
        {
            let status = match error {
                DeskError::Meanwhile { .. } => StatusCode::CONFLICT,
                _ => StatusCode::UNPROCESSABLE_ENTITY,
            };
            Ok((status, setting::render(&state, &shell, &at, Some(&error))).into_response())
        }
        Err((error, _)) => Err(error.into()),
    }
}

/// `POST /bench/{setting}/close`
pub(super) async fn close(
    Ask(state): Ask<State>,
    Path(setting): Path<i64>,
) -> Result<Response, Problem> {
    let at = state.at_desk(move |desk| desk.close_setting(SettingId(setting))).await?;
    let order = at.setting.document;
    state.tell(Told::Order(order.0));
    Ok(go(&format!("/orders/{order}/set"), "The setting is closed."))
}
