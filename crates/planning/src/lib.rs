//! What a lay costs in stones, adhesive, evenings and money.
//!
//! Counts, stock, prices and a maker's rates come in; what to buy, to mix, to set and to charge
//! comes out, every figure with the [`Reason`] for it. Money is exact decimals in the order's one
//! currency, times are minutes, dates are civil dates of the workshop. This crate reads no file and
//! no clock, and knows of coordinates only the rows and runs that a lay says.
//!
//! | need | item |
//! |---|---|
//! | how a figure came about | [`Reason`], [`Input`], [`Origin`], [`Given`] |
//! | how fast a maker sets | [`Pace`] |
//! | sorts of adhesive, labels, open times, amounts | [`adhesive`] |
//! | the bench order, cut by open time | [`stretches`] |
//! | how much adhesive, batches, containers | [`glue`] |
//! | every finding explained | [`PAGES`] |

pub mod adhesive;
pub mod glue;
mod pace;
mod reason;
pub mod stretches;

pub use pace::Pace;
pub use reason::{Given, Input, Origin, Reason};

use lay::finding::Page;

/// The findings of every part, for the documentation.
pub const PAGES: &[&[Page]] = &[glue::PAGES, stretches::PAGES];
