//! What a lay costs in stones, adhesive, evenings and money.
//!
//! Counts, stock, prices and a maker's rates come in; what to buy, to mix, to set and to charge
//! comes out, every figure with the [`Reason`] for it. Money is exact decimals in the order's one
//! currency, times are minutes, dates are civil dates of the workshop. This crate reads no file and
//! no clock, and knows of coordinates only the places and regions that a lay says.
//!
//! | need | item |
//! |---|---|
//! | how a figure came about | [`Reason`], [`Input`], [`Origin`], [`Given`] |
//! | how many stones to have, spare included | [`spare`] |
//! | the cheapest purchase, the shelf, lots | [`buying`] |
//! | how fast a maker sets | [`Pace`], [`hours::Maker`] |
//! | how long an order takes | [`hours`] |
//! | sorts of adhesive, labels, open times, amounts | [`adhesive`] |
//! | the bench order, cut by open time | [`stretches`] |
//! | how much adhesive, batches, containers | [`glue`] |
//! | when an order can ship | [`calendar`] |
//! | what to charge, and the quote | [`price`] |
//! | how different two colours look | [`colour_difference()`], [`lab()`] |
//! | counting on a scale | [`weighing`] |
//! | kits and classes | [`kits`] |
//! | mixes by the bag, the tint under them | [`mixes`], [`tint`] |
//! | every finding explained | [`PAGES`] |

pub mod adhesive;
pub mod buying;
pub mod calendar;
mod colour_difference;
pub mod glue;
pub mod hours;
pub mod kits;
pub mod mixes;
mod pace;
pub mod price;
mod reason;
pub mod spare;
pub mod stretches;
pub mod tint;
pub mod weighing;

pub use colour_difference::{colour_difference, lab, lab_difference};
pub use pace::Pace;
pub use reason::{Given, Input, Origin, Reason};

use lay::finding::Page;

/// The findings of every part, for the documentation.
pub const PAGES: &[&[Page]] = &[
    buying::PAGES,
    calendar::PAGES,
    glue::PAGES,
    hours::PAGES,
    kits::PAGES,
    mixes::PAGES,
    price::PAGES,
    spare::PAGES,
    stretches::PAGES,
    tint::PAGES,
];
