//! Who may ask, and what every answer carries.
//!
//! A page elsewhere must not be able to use a maker's browser to reach the worktop: the `Host` must
//! be one of ours (a name that somebody pointed here is not), and what changes anything must come
//! from one of our own pages. Other machines reach it only while it is shared, and see nothing but
//! the page that pairs them until they are.

use crate::pages::wants_json;
use crate::problem::Problem;
use crate::sharing::{self, DEVICE, Sharing};
use crate::state::State;
use crate::view::{Shell, cookie};
use axum::body::Body;
use axum::extract::connect_info::Connected;
use axum::extract::{ConnectInfo, Request, State as Ask};
use axum::http::request::Parts;
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use axum::serve::IncomingStream;
use std::net::Ipv4Addr;
use std::sync::Arc;
use std::time::{Duration, Instant};
use tokio::net::TcpListener;
use tower_http::timeout::TimeoutBody;

/// Largest body of a request, bytes: an order of 4 MB with its outlines.
pub(crate) const MOST_BYTES: usize = 16 * 1024 * 1024;
/// A request is answered, or begun to be answered, within this time.
pub(crate) const WHOLE: Duration = Duration::from_secs(60);
/// More of a body comes within this time, or the request ends.
const PAUSE: Duration = Duration::from_secs(10);

/// The hosts by which the worktop may be called on its own machine, each with its port.
#[derive(Clone, Debug)]
pub(crate) struct Hosts(Vec<String>);

impl Hosts {
    /// This machine, by its usual names.
    pub(crate) fn local(port: u16) -> Hosts {
        Hosts(["127.0.0.1", "localhost", "[::1]"].map(|h| format!("{h}:{port}")).to_vec())
    }

    fn has(&self, host: &str) -> bool {
        self.0.iter().any(|h| h.eq_ignore_ascii_case(host))
    }
}

/// By which of our addresses a request came.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Door {
    /// The address that only this machine reaches.
    Own,
    /// An address at which the worktop is shared.
    Shared,
}

impl Connected<IncomingStream<'_, TcpListener>> for Door {
    fn connect_info(stream: IncomingStream<'_, TcpListener>) -> Door {
        let ours = stream.io().local_addr().is_ok_and(|a| a.ip() == Ipv4Addr::LOCALHOST);
        if ours { Door::Own } else { Door::Shared }
    }
}

/// Who asks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Asker {
    /// Somebody at this machine.
    Here,
    /// Somebody at a paired device.
    Paired,
    /// Anybody else on the network.
    Stranger,
}

/// Refuses what does not come to us by our name, from our pages, or from a device that may, and adds
/// the headers that keep a page to itself.
pub(crate) async fn watch(Ask(state): Ask<State>, request: Request, next: Next) -> Response {
    let (mut parts, body) = request.into_parts();
    let mut response = match admitted(&state, &parts).await {
        Ok(asker) => {
            parts.extensions.insert(asker);
            // A body that stops coming ends the request.
            let body = Body::new(TimeoutBody::new(PAUSE, body));
            next.run(Request::from_parts(parts, body)).await
        }
        Err(problem) => shown(&parts, problem),
    };
    let headers = response.headers_mut();
    for (name, value) in HEADERS {
        headers.entry(*name).or_insert(HeaderValue::from_static(value));
    }
    response
}

/// A refusal as a page for people, and as JSON for programs.
fn shown(request: &Parts, problem: Problem) -> Response {
    let program = wants_json(&request.headers) || request.uri.path().starts_with("/api/");
    if program {
        return problem.into_response();
    }
    problem.page(&Shell::of(&request.headers, &request.uri))
}

/// Whether the machine that asks is our own. A request that does not say comes from a test or from
/// a listener that only this machine reaches.
fn is_here(request: &Parts, sharing: Option<&Arc<Sharing>>) -> bool {
    match request.extensions.get::<ConnectInfo<Door>>() {
        Some(ConnectInfo(door)) => *door == Door::Own,
        None => sharing.is_none(),
    }
}

async fn admitted(state: &State, request: &Parts) -> Result<Asker, Problem> {
    let (method, headers) = (&request.method, &request.headers);
    let sharing = state.sharing();
    if is_here(request, sharing) {
        refuse_foreign(method, headers, true, |host| state.hosts().has(host))?;
        return Ok(Asker::Here);
    }
    let Some(sharing) = sharing else { return Err(misdirected()) };
    refuse_foreign(method, headers, false, |host| sharing.has(host))?;
    let path = request.uri.path();
    if is_paired(state, sharing, headers).await? {
        if is_for_here_alone(path) {
            let refused = Problem::new(
                StatusCode::FORBIDDEN,
                "sharing and copies are looked after at the machine that shares",
            );
            return Err(refused.hint("do it there"));
        }
        return Ok(Asker::Paired);
    }
    if ["/pair", "/api/pair"].contains(&path) || path.starts_with("/assets/") {
        return Ok(Asker::Stranger);
    }
    let refused =
        Problem::new(StatusCode::UNAUTHORIZED, "pair this device first").of_kind("unpaired");
    Err(refused
        .hint("scan the code on the screen of the machine that shares, or open /pair and type it"))
}

/// Who may come in is decided at the machine itself, and a copy of everything is taken there.
fn is_for_here_alone(path: &str) -> bool {
    ["/share", "/api/share", "/api/backup"]
        .iter()
        .any(|p| path.strip_prefix(p).is_some_and(|rest| rest.is_empty() || rest.starts_with('/')))
}

/// Refuses what was not called by one of our names, and changes that come from elsewhere.
fn refuse_foreign(
    method: &Method,
    headers: &HeaderMap,
    here: bool,
    is_ours: impl Fn(&str) -> bool,
) -> Result<(), Problem> {
    let text = |name: header::HeaderName| headers.get(name).and_then(|v| v.to_str().ok());
    if !is_ours(text(header::HOST).unwrap_or_default()) {
        return Err(misdirected());
    }
    if method.is_safe() {
        return Ok(());
    }
    let site = headers.get("sec-fetch-site");
    let foreign_site = site.is_some_and(|v| v != "same-origin" && v != "none");
    let foreign = match headers.get(header::ORIGIN) {
        Some(origin) => {
            let host = origin.to_str().ok().and_then(|o| o.strip_prefix("http://"));
            foreign_site || !host.is_some_and(is_ours)
        }
        // A browser says where a change comes from; a program at this machine need not.
        None => foreign_site || (!here && site.is_none()),
    };
    if foreign {
        let refused =
            Problem::new(StatusCode::FORBIDDEN, "this came from a page that is not the worktop's");
        return Err(refused.hint("do it on the worktop's own page"));
    }
    Ok(())
}

fn misdirected() -> Problem {
    Problem::new(StatusCode::MISDIRECTED_REQUEST, "this is not where you meant to go")
        .hint("open the address that `stonelay open` printed")
}

/// Whether the request holds the secret of a device that is paired and not shut out.
async fn is_paired(
    state: &State,
    sharing: &Arc<Sharing>,
    headers: &HeaderMap,
) -> Result<bool, Problem> {
    let Some(secret) = cookie(headers, DEVICE) else { return Ok(false) };
    let sharing = Arc::clone(sharing);
    state
        .at_desk(move |desk| {
            let Some(device) = desk.shop().device_with(&sharing::hash_of(&secret))? else {
                return Ok::<_, shop::ShopError>(false);
            };
            if sharing.sees(device.id.0, Instant::now()) {
                desk.shop().see_device(device.id)?;
            }
            Ok(true)
        })
        .await
}

const HEADERS: &[(&str, &str)] = &[
    (
        "content-security-policy",
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; \
         connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
    ),
    ("x-content-type-options", "nosniff"),
    ("referrer-policy", "same-origin"),
    ("x-frame-options", "DENY"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
    ("permissions-policy", "camera=(), geolocation=(), microphone=()"),
    ("cache-control", "no-store"),
];
