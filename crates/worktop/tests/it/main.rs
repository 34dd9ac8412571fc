//! The pages in process, over a shop of its own for each test.

#![expect(clippy::unwrap_used, reason = "a helper of tests may fail the test")]

mod bench;
mod compare;
mod files;
mod offers;
mod orders;
mod paper;
mod plan;
mod quote;
mod sharing;
mod shelf;
mod tour;

use axum::body::Body;
use axum::http::{Request, Response, StatusCode, header};
use desk::Desk;
use jiff::tz::TimeZone;
use shop::{Opening, Shop, SystemClock};
use std::sync::Arc;
use tower::ServiceExt;
use worktop::State;

/// A worktop over a shop of its own; everything goes when it is dropped.
pub(crate) struct Worktop {
    pub(crate) desk: Arc<Desk>,
    pub(crate) state: State,
    _folder: tempfile::TempDir,
}

pub(crate) const PORT: u16 = 7878;
pub(crate) const HOST: &str = "127.0.0.1:7878";

/// An answer, read whole.
pub(crate) struct Answer {
    pub(crate) status: StatusCode,
    pub(crate) headers: axum::http::HeaderMap,
    pub(crate) text: String,
}

impl Answer {
    async fn of(response: Response<Body>) -> Answer {
        let (parts, body) = response.into_parts();
        let bytes = axum::body::to_bytes(body, usize::MAX).await.unwrap();
        Answer {
            status: parts.status,
            headers: parts.headers,
            text: String::from_utf8_lossy(&bytes).into_owned(),
        }
    }

    /// Where it leads to.
    pub(crate) fn to(&self) -> &str {
        assert_eq!(self.status, StatusCode::SEE_OTHER, "{}", self.text);
        self.headers[header::LOCATION].to_str().unwrap()
    }

    /// The value of the first hidden field of this name behind `mark`.
    pub(crate) fn hidden(&self, mark: &str, name: &str) -> String {
        let from = self.text.find(mark).unwrap_or_else(|| panic!("no `{mark}` in {}", self.text));
        let field = format!("name=\"{name}\" value=\"");
        let at = self.text[from..].find(&field).expect("the field is there") + from + field.len();
        self.text[at..].split('"').next().unwrap().to_owned()
    }
}

impl Worktop {
    /// An empty one.
    pub(crate) fn new() -> Worktop {
        let folder = tempfile::tempdir().unwrap();
        let shop = Shop::open(&folder.path().join("shop.db"), Opening::default()).unwrap();
        let desk = Desk::new(Arc::new(shop), Arc::new(SystemClock), TimeZone::UTC).unwrap();
        let desk = Arc::new(desk);
        let state = State::local(Arc::clone(&desk), PORT);
        Worktop { desk, state, _folder: folder }
    }

    /// With the demo order.
    pub(crate) fn with_demo() -> Worktop {
        let worktop = Worktop::new();
        worktop.desk.show_demo().unwrap();
        worktop
    }

    pub(crate) async fn ask(&self, request: Request<Body>) -> Answer {
        Answer::of(worktop::router(&self.state).oneshot(request).await.unwrap()).await
    }

    pub(crate) async fn get(&self, path: &str) -> Answer {
        let request = Request::get(path).header(header::HOST, HOST).body(Body::empty()).unwrap();
        self.ask(request).await
    }

    pub(crate) async fn post(&self, path: &str, fields: &[(&str, &str)]) -> Answer {
        self.ask(form(path).body(Body::from(encoded(fields))).unwrap()).await
    }
}

/// A form sent from our own page on this machine.
pub(crate) fn form(path: &str) -> axum::http::request::Builder {
    Request::post(path)
        .header(header::HOST, HOST)
        .header(header::ORIGIN, format!("http://{HOST}"))
        .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded")
}

/// Fields as a form sends them.
pub(crate) fn encoded(fields: &[(&str, &str)]) -> String {
    let word = |text: &str| -> String {
        let plain = |b: u8| b.is_ascii_alphanumeric();
        text.bytes()
            .map(|b| if plain(b) { char::from(b).to_string() } else { format!("%{b:02X}") })
            .collect()
    };
    let pairs: Vec<String> =
        fields.iter().map(|(k, v)| format!("{}={}", word(k), word(v))).collect();
    pairs.join("&")
}
