//! The bench: copies set row by row, the maker's own rates, repairs.

mod begin;
mod list;
mod now;
mod picture;
mod press;
mod rates;
mod repair;
mod setting;
mod svg;
mod under;

use crate::state::State;
use axum::Router;
use axum::routing::{get, post};
use std::hash::{BuildHasher, RandomState};

/// Its pages.
pub(super) fn router() -> Router<State> {
    Router::new()
        .route("/bench", get(list::page))
        .route("/bench/rates", get(rates::page))
        .route("/bench/{setting}", get(setting::page))
        .route("/bench/{setting}/press", post(press::press))
        .route("/bench/{setting}/close", post(press::close))
        .route("/bench/{setting}/picture.svg", get(picture::picture))
        .route("/bench/{setting}/board.json", get(picture::board))
        .route("/bench/{setting}/under", get(under::page))
        .route("/orders/{order}/set", get(begin::page).post(begin::begin))
        .route("/orders/{order}/repair", get(repair::page).post(repair::repaired))
}

/// A name for something that is to happen once. No secret: it only has to be new each time, and the
/// keys of a `RandomState` come from the machine.
fn nonce() -> String {
    let half = || RandomState::new().hash_one(0u8);
    format!("{:016x}{:016x}", half(), half())
}

/// A place for people: `12.4 mm right, 3.0 mm down`.
fn place_words(right_mm: f64, down_mm: f64) -> String {
    format!("{right_mm:.1} mm right, {down_mm:.1} mm down")
}

/// `1 stone`, `12 stones`.
fn stones_words(n: u64) -> String {
    if n == 1 { "1 stone".to_owned() } else { format!("{} stones", units::grouped(n)) }
}
