//! Who may ask, and what every answer carries.
//!
//! A page elsewhere must not be able to use a maker's browser to reach the worktop: the `Host` must
//! be one of ours (a name that somebody pointed here is not), and what changes anything must come
//! from one of our own pages.

use crate::problem::Problem;
use crate::state::State;
use axum::extract::{Request, State as Ask};
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

/// Largest body of a request, bytes: an order of 4 MB with its outlines.
pub(crate) const MOST_BYTES: usize = 16 * 1024 * 1024;

/// The hosts by which the worktop may be called, each with its port.
#[derive(Clone, Debug)]
pub(crate) struct Hosts(Vec<String>);

impl Hosts {
    /// This machine, by its usual names.
    pub(crate) fn local(port: u16) -> Hosts {
        Hosts(["127.0.0.1", "localhost", "[::1]"].map(|h| format!("{h}:{port}")).to_vec())
    }

    /// This machine and `address`, by which others reach it.
    pub(crate) fn shared(port: u16, address: std::net::IpAddr) -> Hosts {
        let mut hosts = Hosts::local(port);
        hosts.0.push(std::net::SocketAddr::new(address, port).to_string());
        hosts
    }

    fn has(&self, host: &str) -> bool {
        self.0.iter().any(|h| h.eq_ignore_ascii_case(host))
    }

    /// Whether an `Origin` is one of our own pages.
    fn is_own(&self, origin: &str) -> bool {
        origin.strip_prefix("http://").is_some_and(|host| self.has(host))
    }
}

/// Refuses what does not come to us by our name or from our pages, and adds the headers that keep a
/// page to itself.
pub(crate) async fn watch(Ask(state): Ask<State>, request: Request, next: Next) -> Response {
    let refused = refusal(&state, request.method(), request.headers());
    let mut response = match refused {
        Some(problem) => problem.into_response(),
        None => next.run(request).await,
    };
    let headers = response.headers_mut();
    for (name, value) in HEADERS {
        headers.entry(*name).or_insert(HeaderValue::from_static(value));
    }
    response
}

fn refusal(state: &State, method: &Method, headers: &HeaderMap) -> Option<Problem> {
    let text = |name: header::HeaderName| headers.get(name).and_then(|v| v.to_str().ok());
    let host = text(header::HOST).unwrap_or_default();
    if !state.hosts().has(host) {
        let problem = Problem::new(StatusCode::MISDIRECTED_REQUEST, "this is not where you meant to go");
        return Some(problem.hint("open the address that `stonelay open` printed"));
    }
    if method.is_safe() {
        return None;
    }
    // A browser names where a change comes from; a program at this machine need not.
    let foreign = match text(header::ORIGIN) {
        Some(origin) => !state.hosts().is_own(origin),
        None => headers.get("sec-fetch-site").is_some_and(|v| v != "same-origin" && v != "none"),
    };
    foreign.then(|| {
        Problem::new(StatusCode::FORBIDDEN, "this came from a page that is not the worktop's")
            .hint("do it on the worktop's own page")
    })
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
