//! The order document and what can be asked of it.
//!
//! | need | item |
//! |---|---|
//! | what a maker writes | [`document`] |
//! | pieces that can be laid | [`order`] |
//! | changes of its text | [`edit`] |
//! | every key of it, for forms | [`fields`] |
//! | a text to begin with, entries taken from another | [`begin`], [`adopt`] |
//! | an order to begin with | [`demo`] |
//! | every piece laid, and its files | [`laying`], [`files`] |
//! | what to buy, mix, set and charge | [`plan`] |
//! | one zone laid in every way | [`ways`] |
//! | how many stones, without a document | [`counting`] |
//! | an amount of money for people | [`money()`] |
//! | every finding explained | [`pages`] |
//! | the shelf as a spreadsheet's table | [`shelf`] |

pub mod adopt;
pub mod begin;
pub mod counting;
pub mod demo;
pub mod document;
pub mod edit;
pub mod fields;
pub mod files;
pub mod laying;
mod money;
pub mod order;
pub mod pages;
pub mod plan;
pub mod shelf;
pub mod ways;

pub use money::money;

pub use export::{WriteError, write_atomically};

/// The documents of the project that are written by itself: name and text.
pub fn documents() -> Vec<(&'static str, String)> {
    vec![
        ("findings.md", pages::markdown()),
        ("lay.schema.json", export::json::schema()),
        ("count.schema.json", counting::schema()),
        ("plan.schema.json", plan::schema()),
    ]
}
