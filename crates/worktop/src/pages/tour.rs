//! A first look round: a card on the first page, one step at a time, which can be skipped and called
//! back from the help.

use crate::pages::{go, own_path};
use axum::Form;
use axum::http::{HeaderMap, HeaderValue, header};
use axum::response::Response;
use maud::{Markup, html};
use serde::Deserialize;

/// One step: what to do, what there is to see, and where.
struct Stop {
    title: &'static str,
    text: &'static str,
    /// Where in the demo order, or in the worktop.
    place: &'static str,
    link: &'static str,
}

const STOPS: &[Stop] = &[
    Stop {
        title: "Look at an order",
        text: "Everything for one customer stands together. The line on top is the answer: stones, packs to buy, adhesive, hours, the day, the price.",
        place: "",
        link: "The lantern festival",
    },
    Stop {
        title: "Change a piece",
        text: "Change an option beside the board and look: the lay is there at once, in true millimetres. Undo brings everything back, today and tomorrow.",
        place: "/pieces/1",
        link: "The badge",
    },
    Stop {
        title: "Compare",
        text: "Arrangements and stones side by side, with coverage, hours and price. Take the one you like.",
        place: "/pieces/1/compare",
        link: "The badge in several ways",
    },
    Stop {
        title: "See what to buy",
        text: "The cheapest packs, with a spare that is sure enough, from the shelf first. Open any figure to see how it came about.",
        place: "/buy",
        link: "Stones to buy",
    },
    Stop {
        title: "Quote it",
        text: "A page for the customer, to print. Note the yes: it stays tied to the lay that was seen.",
        place: "/quote",
        link: "The quote",
    },
    Stop {
        title: "Set it",
        text: "At the bench one row stands on the screen at a time, large, with its glue and its clock. Every press is kept. Try it with a copy of the badge.",
        place: "/set",
        link: "Setting",
    },
];

/// The card of the step at hand; nothing once it was skipped or is through.
pub(super) fn card(headers: &HeaderMap, demo: Option<i64>) -> Markup {
    let at = step(headers);
    let Some(stop) = STOPS.get(at) else { return html! {} };
    html! {
        section.card.tour aria-labelledby="tour" {
            p.hint { "A first look round · " (at + 1) " of " (STOPS.len()) }
            h2 #tour { (stop.title) }
            p { (stop.text) }
            form.actions method="post" action="/tour" {
                input type="hidden" name="back" value="/";
                @if let Some(demo) = demo { a.button href={ "/orders/" (demo) (stop.place) } { (stop.link) } }
                @if at > 0 { button name="step" value=(at - 1) { "Back" } }
                @if at + 1 < STOPS.len() { button.main name="step" value=(at + 1) { "Next" } }
                button name="step" value=(STOPS.len()) { @if at + 1 < STOPS.len() { "Skip it" } @else { "Done" } }
            }
        }
    }
}

/// The step in the cookie; the first if there is none.
fn step(headers: &HeaderMap) -> usize {
    let cookies = headers.get_all(header::COOKIE).iter().filter_map(|v| v.to_str().ok());
    let step = cookies.flat_map(|c| c.split(';')).find_map(|c| c.trim().strip_prefix("tour="));
    step.and_then(|s| s.parse().ok()).unwrap_or(0)
}

#[derive(Deserialize)]
pub(super) struct Chosen {
    step: usize,
    #[serde(default)]
    back: String,
}

/// `POST /tour`
pub(super) async fn choose(Form(chosen): Form<Chosen>) -> Response {
    let step = chosen.step.min(STOPS.len());
    let mut response = go(own_path(&chosen.back), "");
    let cookie = format!("tour={step}; Path=/; Max-Age=31536000; SameSite=Strict; HttpOnly");
    if let Ok(cookie) = HeaderValue::from_str(&cookie) {
        response.headers_mut().insert(header::SET_COOKIE, cookie);
    }
    response
}
