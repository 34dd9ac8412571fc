//! A file for each screen. A page is a function from a request to HTML; what changes something is a
//! form that answers with another page.

mod bench;
mod board;
mod change;
mod compare;
mod events;
pub(crate) mod files;
mod help;
mod look;
mod offer;
mod order;
mod orders;
mod piece;
mod plan;
mod quote;
mod reserve;
mod share;
mod shelf;
mod tour;
mod workshop;

use crate::problem::Problem;
use crate::state::State;
use crate::view::Shell;
use axum::Router;
use axum::extract::Request;
use axum::middleware::Next;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};

/// Every page.
pub(crate) fn router() -> Router<State> {
    Router::new()
        .route("/", get(orders::list))
        .route("/orders", post(orders::begin))
        .route("/orders/new", get(orders::new))
        .route("/orders/bring", post(files::bring))
        .route("/orders/{order}", get(order::page))
        .route("/orders/{order}/change", post(change::change))
        .route("/orders/{order}/undo", post(change::undo))
        .route("/orders/{order}/redo", post(change::redo))
        .route("/orders/{order}/steps", get(order::steps))
        .route("/orders/{order}/away", post(order::away))
        .route("/orders/{order}/document", get(files::document))
        .route("/orders/{order}/text", get(files::text).post(files::write))
        .route("/orders/{order}/pieces", post(piece::add))
        .route("/orders/{order}/pieces/new", get(piece::new))
        .route("/orders/{order}/pieces/{piece}", get(piece::page))
        .route("/orders/{order}/pieces/{piece}/facts", get(piece::facts))
        .route("/orders/{order}/pieces/{piece}/options", get(piece::option_fields))
        .route("/orders/{order}/pieces/{piece}/hand", post(board::by_hand))
        .route("/orders/{order}/pieces/{piece}/stop", post(piece::stop))
        .route("/orders/{order}/pieces/{piece}/progress", get(piece::progress))
        .route("/orders/{order}/pieces/{piece}/board.json", get(board::data))
        .route("/orders/{order}/pieces/{piece}/picture.svg", get(board::picture))
        .route("/orders/{order}/pieces/{piece}/outline.svg", get(board::outline))
        .route("/orders/{order}/pieces/{piece}/files/{sort}", get(files::of_piece))
        .route("/orders/{order}/pieces/{piece}/compare", get(compare::page).post(compare::take))
        .route("/orders/{order}/pieces/{piece}/compare/stop", post(compare::stop))
        .route("/orders/{order}/pieces/{piece}/compare/picture.svg", get(compare::picture))
        .route("/orders/{order}/buy", get(plan::buy))
        .route("/orders/{order}/buy/arrived", post(plan::arrived))
        .route("/orders/{order}/buy/hold", post(plan::hold))
        .route("/orders/{order}/buy/release", post(plan::release))
        .route("/orders/{order}/glue", get(plan::glue))
        .route("/orders/{order}/days", get(plan::days))
        .route("/orders/{order}/days.ics", get(plan::ical))
        .route("/orders/{order}/price", get(plan::price))
        .route("/orders/{order}/kits", get(plan::kits))
        .route("/orders/{order}/tries", post(plan::keep))
        .route("/orders/{order}/quote", get(quote::page))
        .route("/orders/{order}/quote/yes", post(quote::say_yes))
        .route("/orders/{order}/quote/withdraw", post(quote::withdraw))
        .route("/orders/{order}/quote/words", post(quote::words))
        .route("/orders/{order}/offer", get(offer::page).post(offer::take))
        .route("/orders/{order}/refresh", post(offer::refresh))
        .route("/orders/{order}/reserve", get(reserve::page))
        .route("/share", get(share::page))
        .route("/share/code", post(share::turn))
        .route("/share/devices/{device}/out", post(share::shut_out))
        .route("/pair", get(share::ask).post(share::pair))
        .merge(shelf::router())
        .route("/workshop", get(workshop::page))
        .route("/workshop/{part}", get(workshop::part))
        .route("/demo", post(orders::demo))
        .route("/look", post(look::choose))
        .route("/tour", post(tour::choose))
        .route("/help", get(help::begin))
        .route("/help/words", get(help::words))
        .route("/help/cautions", get(help::cautions))
        .route("/help/findings", get(help::findings))
        .route("/events", get(events::events))
        .merge(bench::router())
        .fallback(|| async { Problem::missing("page") })
}

/// Turns a problem into a page that says so, unless the asker wants JSON.
pub(crate) async fn problems_as_pages(request: Request, next: Next) -> Response {
    let shell = Shell::of(request.headers(), request.uri());
    let wants_json = wants_json(request.headers());
    let mut response = next.run(request).await;
    match response.extensions_mut().remove::<Problem>() {
        Some(problem) if !wants_json => problem.page(&shell),
        _ => response,
    }
}

/// Whether a script asks, which wants facts and not a page.
pub(crate) fn wants_json(headers: &axum::http::HeaderMap) -> bool {
    let accept = headers.get(axum::http::header::ACCEPT).and_then(|v| v.to_str().ok());
    accept.is_some_and(|a| a.starts_with("application/json"))
}

/// To another page after something was done, which says so.
pub(crate) fn go(to: &str, done: &str) -> Response {
    let (path, at) = to.split_once('#').map_or((to, None), |(p, a)| (p, Some(a)));
    let mut there = path.to_owned();
    if !done.is_empty() {
        there.push(if path.contains('?') { '&' } else { '?' });
        there.push_str("done=");
        there.push_str(&encoded(done));
    }
    if let Some(at) = at {
        there.push('#');
        there.push_str(at);
    }
    Redirect::to(&there).into_response()
}

/// Text as part of a query.
pub(crate) fn encoded(text: &str) -> String {
    let plain = |b: u8| b.is_ascii_alphanumeric() || b"-._~".contains(&b);
    let put = |b: u8| if plain(b) { char::from(b).to_string() } else { format!("%{b:02X}") };
    text.bytes().map(put).collect()
}

/// A path of our own to go back to; anything else is the list of orders.
pub(crate) fn own_path(path: &str) -> &str {
    let ours = path.starts_with('/') && !path.starts_with("//") && !path.contains('\\');
    if ours { path } else { "/" }
}
