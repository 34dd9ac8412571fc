//! Other devices, and a copy of everything.

use super::extract::{At, Body, Given};
use super::operation::Operation;
use crate::guard::Asker;
use crate::problem::Problem;
use crate::sharing;
use crate::state::State;
use axum::body::Body as Bytes;
use axum::extract::State as Ask;
use axum::http::header;
use axum::response::{AppendHeaders, IntoResponse, Response};
use axum::{Extension, Json};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::json;
use shop::{Device, DeviceId};
use tokio_util::io::ReaderStream;

pub(super) fn operations() -> Vec<Operation> {
    vec![
        Operation::get(
            "/share",
            "sharing",
            "Whether other devices may come in, by which code, and which did.",
            shown,
        )
        .gives::<SharingShown>(),
        Operation::post(
            "/share/code",
            "new_code",
            "Makes a new pairing code; the old one pairs nobody.",
            new_code,
        )
        .gives::<SharingShown>(),
        Operation::post(
            "/share/devices/{device}/out",
            "shut_out",
            "Shuts a device out from now on.",
            shut_out,
        )
        .gives::<SharingShown>(),
        Operation::post(
            "/pair",
            "pair",
            "Pairs the device that asks, by the code on the screen of the machine that shares.",
            pair,
        )
        .takes::<Pairing>(json!({ "code": "000000", "name": "bench tablet" }))
        .gives::<Paired>(),
        Operation::get(
            "/backup",
            "backup",
            "A copy of everything that is kept, whole and checked, as `stonelay restore` takes it.",
            backup,
        )
        .gives_file(vec!["application/vnd.sqlite3"]),
    ]
}

/// How it stands with other devices.
#[derive(Serialize, JsonSchema)]
struct SharingShown {
    /// Whether other devices may come in at all; `stonelay open --share` begins it.
    shared: bool,
    /// The addresses of the worktop for them.
    addresses: Vec<String>,
    /// The code that pairs the next one.
    code: Option<String>,
    /// Devices that were paired.
    devices: Vec<DeviceShown>,
}

/// A device that was paired. Times are milliseconds since 1970 in UTC.
#[derive(Serialize, JsonSchema)]
struct DeviceShown {
    /// Its number.
    id: i64,
    /// Its name.
    name: String,
    /// When it was paired.
    paired_ms: i64,
    /// When it was seen last.
    seen_ms: i64,
    /// When it was shut out, if it was.
    out_ms: Option<i64>,
}

impl From<Device> for DeviceShown {
    fn from(d: Device) -> DeviceShown {
        DeviceShown {
            id: d.id.0,
            name: d.name,
            paired_ms: d.made_ms,
            seen_ms: d.seen_ms,
            out_ms: d.revoked_ms,
        }
    }
}

async fn shown(Ask(state): Ask<State>) -> Given<SharingShown> {
    let devices = state.at_desk(|desk| desk.shop().devices()).await?;
    let invitation = state.invitation();
    Ok(Json(SharingShown {
        shared: invitation.is_some(),
        code: invitation.as_ref().map(|i| i.code.clone()),
        addresses: invitation.map(|i| i.addresses).unwrap_or_default(),
        devices: devices.into_iter().map(DeviceShown::from).collect(),
    }))
}

async fn new_code(ask: Ask<State>) -> Given<SharingShown> {
    sharing::of(&ask.0)?.turn()?;
    shown(ask).await
}

async fn shut_out(ask: Ask<State>, At(id): At<i64>) -> Given<SharingShown> {
    ask.0.at_desk(move |desk| desk.shop().revoke_device(DeviceId(id))).await?;
    shown(ask).await
}

/// What a device says to be paired.
#[derive(Deserialize, JsonSchema)]
struct Pairing {
    /// The code.
    code: String,
    /// What the device is called.
    #[serde(default)]
    name: String,
}

/// A device that may come in.
#[derive(Serialize, JsonSchema)]
struct Paired {
    /// What it has to send from now on as the cookie `device`, which the answer sets, too; none if
    /// it needs no pairing.
    secret: Option<String>,
}

async fn pair(
    Ask(state): Ask<State>,
    Extension(asker): Extension<Asker>,
    Body(said): Body<Pairing>,
) -> Result<Response, Problem> {
    let sharing = sharing::of(&state)?;
    if asker != Asker::Stranger {
        return Ok(Json(Paired { secret: None }).into_response());
    }
    let secret = sharing::pair(&state, &sharing, &said.code, &said.name).await?;
    let cookie = AppendHeaders([(header::SET_COOKIE, sharing::cookie(&secret))]);
    Ok((cookie, Json(Paired { secret: Some(secret) })).into_response())
}

async fn backup(Ask(state): Ask<State>) -> Result<Response, Problem> {
    let copy = state.at_desk(|desk| desk.shop().copy()).await?;
    let headers = [
        (header::CONTENT_TYPE, "application/vnd.sqlite3"),
        (header::CONTENT_DISPOSITION, "attachment; filename=\"stonelay-backup.db\""),
    ];
    let stream = ReaderStream::new(tokio::fs::File::from_std(copy));
    Ok((headers, Bytes::from_stream(stream)).into_response())
}
