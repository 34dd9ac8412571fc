//! Sharing with other devices: the code and who came in by it, and the page on which a device is
//! paired.

use crate::guard::Asker;
use crate::pages::go;
use crate::problem::{Problem, sentence};
use crate::sharing::{self, MOST_LETTERS};
use crate::state::State;
use crate::view::{Here, Shell};
use axum::extract::{Path, Query, State as Ask};
use axum::http::{HeaderValue, header};
use axum::response::{IntoResponse, Response};
use axum::{Extension, Form};
use maud::{Markup, PreEscaped, html};
use serde::Deserialize;
use shop::{Device, DeviceId};

/// `GET /share`
pub(super) async fn page(Ask(state): Ask<State>, shell: Shell) -> Result<Markup, Problem> {
    let devices = state.at_desk(|desk| desk.shop().devices()).await?;
    let body = html! {
        h1 { "Other devices" }
        @match state.invitation() {
            None => {
                p.lead { "Only this machine can open the worktop." }
                p { "To work beside a tablet or a phone, close the worktop and open it anew so:" }
                pre { "stonelay open --share" }
                p { "Then other devices of your network can be paired with a code; everything else stays refused. Do this only in a network that you trust: what is sent can be read by whoever listens in it." }
            }
            Some(invitation) => {
                p { "Scan this with the other device, which must be in the same network, or open the address there and type the code. Each code pairs one device." }
                div.cards {
                    @for address in &invitation.addresses {
                        div.card.qr {
                            div role="img" aria-label={ "QR code of " (address) "pair with the pairing code in it" } { (PreEscaped(invitation.svg(address))) }
                            p { code { (address) "pair" } }
                        }
                    }
                }
                dl.answer { div { dt { "pairing code" } dd.code { (spaced(&invitation.code)) } } }
                form method="post" action="/share/code" { button { "Make a new code" } }
                p.hint { "Do this only in a network that you trust: what is sent can be read by whoever listens in it." }
            }
        }
        h2 { "Paired devices" }
        (list(&state, &devices))
    };
    Ok(shell.page("Other devices", Some(Here::Workshop), &body))
}

fn list(state: &State, devices: &[Device]) -> Markup {
    let day = |ms: i64| state.desk().local(ms).strftime("%-d %b %Y, %H:%M").to_string();
    html! {
        @if devices.is_empty() { p { "None was paired yet." } }
        @else {
            div.table tabindex="0" role="group" aria-label="Paired devices" {
                table {
                    thead { tr { th { "Device" } th { "Paired" } th { "Last seen" } th {} } }
                    tbody { @for device in devices {
                        tr {
                            th scope="row" { (device.name) }
                            td { (day(device.made_ms)) } td { (day(device.seen_ms)) }
                            td {
                                @match device.revoked_ms {
                                    Some(at) => { "shut out " (day(at)) },
                                    None => form method="post" action={ "/share/devices/" (device.id) "/out" } {
                                        button.grave { "Shut it out" span.quiet { ": " (device.name) } }
                                    },
                                }
                            }
                        }
                    } }
                }
            }
        }
    }
}

/// Six digits as they are read aloud.
fn spaced(code: &str) -> String {
    match code.split_at_checked(3) {
        Some((a, b)) => format!("{a} {b}"),
        None => code.to_owned(),
    }
}

/// `POST /share/code`
pub(super) async fn turn(Ask(state): Ask<State>) -> Result<Response, Problem> {
    sharing::of(&state)?.turn()?;
    Ok(go("/share", "There is a new code; the old one pairs nobody."))
}

/// `POST /share/devices/{device}/out`
pub(super) async fn shut_out(
    Ask(state): Ask<State>,
    Path(id): Path<i64>,
) -> Result<Response, Problem> {
    state.at_desk(move |desk| desk.shop().revoke_device(DeviceId(id))).await?;
    Ok(go("/share", "The device is shut out from now on."))
}

#[derive(Default, Deserialize)]
pub(super) struct Scanned {
    #[serde(default)]
    code: String,
}

/// `GET /pair`
pub(super) async fn ask(
    Ask(state): Ask<State>,
    shell: Shell,
    Extension(asker): Extension<Asker>,
    Query(scanned): Query<Scanned>,
) -> Result<Markup, Problem> {
    sharing::of(&state)?;
    Ok(pairing(&shell, asker, &scanned.code, "", None))
}

fn pairing(shell: &Shell, asker: Asker, code: &str, name: &str, wrong: Option<&Problem>) -> Markup {
    let body = html! {
        div.narrow {
            h1 { "Pair this device" }
            @match asker {
                Asker::Here => p { "This is the machine that shares: it needs no pairing. " a href="/share" { "Other devices" } },
                Asker::Paired => p { "This device is paired already. " a href="/" { "To the orders" } },
                Asker::Stranger => {
                    @if let Some(wrong) = wrong {
                        div.notice.serious role="alert" {
                            p { strong { (sentence(&wrong.title)) "." } }
                            @if let Some(hint) = &wrong.detail { p { (sentence(hint)) "." } }
                        }
                    }
                    form.card method="post" action="/pair" {
                        div.field {
                            label for="code" { "Pairing code" }
                            input.digits id="code" name="code" inputmode="numeric" autocomplete="one-time-code" required value=(code) aria-describedby="code-help";
                            p.hint id="code-help" { "Six digits, on the screen of the machine that shares." }
                        }
                        div.field {
                            label for="name" { "What this device is called" }
                            input id="name" name="name" maxlength=(MOST_LETTERS) autocomplete="off" value=(name) placeholder="bench tablet";
                        }
                        div.actions { button.main { "Pair it" } }
                    }
                }
            }
        }
    };
    shell.page("Pair this device", None, &body)
}

#[derive(Deserialize)]
pub(super) struct Typed {
    code: String,
    #[serde(default)]
    name: String,
}

/// `POST /pair`
pub(super) async fn pair(
    Ask(state): Ask<State>,
    shell: Shell,
    Extension(asker): Extension<Asker>,
    Form(typed): Form<Typed>,
) -> Result<Response, Problem> {
    let sharing = sharing::of(&state)?;
    if asker != Asker::Stranger {
        return Ok(go("/", "This device needs no pairing."));
    }
    match sharing::pair(&state, &sharing, &typed.code, &typed.name).await {
        Ok(secret) => {
            let mut response = go("/", "This device is paired.");
            let cookie = HeaderValue::from_str(&sharing::cookie(&secret));
            let cookie = cookie.map_err(|_| Problem::ours())?;
            response.headers_mut().append(header::SET_COOKIE, cookie);
            Ok(response)
        }
        Err(wrong) if wrong.status().is_client_error() => {
            let page = pairing(&shell, asker, "", &typed.name, Some(&wrong));
            Ok((wrong.status(), page).into_response())
        }
        Err(other) => Err(other),
    }
}
