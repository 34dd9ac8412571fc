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

use crate::pages::routes::Routes;
use std::hash::{BuildHasher, RandomState};

/// Its pages.
pub(super) fn routes() -> Routes {
    Routes::default()
        .shows("/bench", list::page)
        .shows("/bench/rates", rates::page)
        .shows("/bench/{setting}", setting::page)
        .does("/bench/{setting}/press", "press", press::press)
        .does("/bench/{setting}/close", "close_setting", press::close)
        .shows("/bench/{setting}/picture.svg", picture::picture)
        .shows("/bench/{setting}/board.json", picture::board)
        .shows("/bench/{setting}/under", under::page)
        .shows("/orders/{order}/set", begin::page)
        .does("/orders/{order}/set", "begin_setting", begin::begin)
        .shows("/orders/{order}/repair", repair::page)
        .does("/orders/{order}/repair", "repaired", repair::repaired)
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
