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
pub(crate) mod paper;
mod piece;
mod plan;
mod quote;
mod routes;
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
use routes::Routes;

/// Every page.
pub(crate) fn router() -> Router<State> {
    routes().into_router().fallback(|| async { Problem::missing("page") })
}

/// Every route of a page.
fn routes() -> Routes {
    Routes::default()
        .shows("/", orders::list)
        .does("/orders", "begin_order", orders::begin)
        .shows("/orders/new", orders::new)
        .does("/orders/bring", "bring_order", files::bring)
        .shows("/orders/{order}", order::page)
        .does("/orders/{order}/change", "change_order", change::change)
        .does("/orders/{order}/undo", "undo", change::undo)
        .does("/orders/{order}/redo", "redo", change::redo)
        .shows("/orders/{order}/steps", order::steps)
        .does("/orders/{order}/away", "put_away", order::away)
        .shows("/orders/{order}/document", files::document)
        .shows("/orders/{order}/text", files::text)
        .does("/orders/{order}/text", "write_order", files::write)
        .does("/orders/{order}/pieces", "add_piece", piece::add)
        .shows("/orders/{order}/pieces/new", piece::new)
        .shows("/orders/{order}/pieces/{piece}", piece::page)
        .shows("/orders/{order}/pieces/{piece}/facts", piece::facts)
        .shows("/orders/{order}/pieces/{piece}/options", piece::option_fields)
        .does("/orders/{order}/pieces/{piece}/hand", "change_by_hand", board::by_hand)
        .does("/orders/{order}/pieces/{piece}/stop", "stop_laying", piece::stop)
        .shows("/orders/{order}/pieces/{piece}/progress", piece::progress)
        .shows("/orders/{order}/pieces/{piece}/board.json", board::data)
        .shows("/orders/{order}/pieces/{piece}/picture.svg", board::picture)
        .shows("/orders/{order}/pieces/{piece}/outline.svg", board::outline)
        .shows("/orders/{order}/pieces/{piece}/files/{sort}", files::of_piece)
        .shows("/orders/{order}/pieces/{piece}/compare", compare::page)
        .does("/orders/{order}/pieces/{piece}/compare", "take_way", compare::take)
        .does("/orders/{order}/pieces/{piece}/compare/stop", "stop_comparing", compare::stop)
        .shows("/orders/{order}/pieces/{piece}/compare/picture.svg", compare::picture)
        .shows("/orders/{order}/buy", plan::buy)
        .does("/orders/{order}/buy/arrived", "arrived", plan::arrived)
        .does("/orders/{order}/buy/hold", "hold", plan::hold)
        .does("/orders/{order}/buy/release", "release", plan::release)
        .shows("/orders/{order}/glue", plan::glue)
        .shows("/orders/{order}/days", plan::days)
        .shows("/orders/{order}/days.ics", plan::ical)
        .shows("/orders/{order}/price", plan::price)
        .shows("/orders/{order}/kits", plan::kits)
        .does("/orders/{order}/tries", "keep_tries", plan::keep)
        .does("/orders/{order}/tries/stop", "stop_tries", plan::stop_tries)
        .shows("/orders/{order}/tries/progress", plan::tries_progress)
        .shows("/orders/{order}/quote", quote::page)
        .does("/orders/{order}/quote/yes", "say_yes", quote::say_yes)
        .does("/orders/{order}/quote/withdraw", "withdraw_yes", quote::withdraw)
        .does("/orders/{order}/quote/words", "write_quote_words", quote::words)
        .shows("/orders/{order}/paper", paper::page)
        .does("/orders/{order}/paper", "set_printing", paper::keep)
        .shows("/orders/{order}/paper/{paper}", paper::file)
        .shows("/orders/{order}/offer", offer::page)
        .does("/orders/{order}/offer", "take_offer", offer::take)
        .does("/orders/{order}/refresh", "refresh", offer::refresh)
        .shows("/share", share::page)
        .does("/share/code", "new_code", share::turn)
        .does("/share/devices/{device}/out", "shut_out", share::shut_out)
        .shows("/pair", share::ask)
        .does("/pair", "pair", share::pair)
        .and(shelf::routes())
        .shows("/workshop", workshop::page)
        .shows("/workshop/{part}", workshop::part)
        .does("/demo", "demo", orders::demo)
        .chooses("/look", look::choose)
        .chooses("/tour", tour::choose)
        .shows("/help", help::begin)
        .shows("/help/words", help::words)
        .shows("/help/cautions", help::cautions)
        .shows("/help/findings", help::findings)
        .shows("/events", events::events)
        .and(bench::routes())
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
