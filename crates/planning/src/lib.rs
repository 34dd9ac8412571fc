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
//! | what to buy | [`buying`] |
//! | how different two colours look | [`colour_difference()`], [`lab()`] |
//! | how fast a maker sets | [`Pace`] |
//! | every finding explained | [`PAGES`] |

pub mod buying;
mod colour_difference;
mod pace;
mod reason;

pub use colour_difference::{colour_difference, lab, lab_difference};
pub use pace::Pace;
pub use reason::{Given, Input, Origin, Reason};

use lay::finding::Page;

/// The findings of every part, for the documentation.
pub const PAGES: &[&[Page]] = &[buying::PAGES];
