//! What an order costs its maker and what to charge for it.

mod check;
mod cost;
mod currency;
mod error;
mod exact;
mod explain;
mod findings;
mod profit;
mod quote;
mod result;
mod sheet;
mod single;
mod terms;
#[cfg(test)]
mod tests;
mod totals;

pub use currency::Currency;
pub use profit::{Margin, Markup, Profit};
pub use quote::{Quote, quote_text};

pub use error::PriceError;
pub(crate) use findings::PAGES;
pub use result::{
    CostLine, FeeLine, PerGross, PieceLine, PiecePrice, Price, QuantityPrice, RushPrice, Totals,
};
pub use single::{SinglePrice, SingleTerms, price_single};
pub use terms::{
    Fee, Material, MaterialSort, OrderCost, Outlay, Overhead, PieceOutlay, Rush, RushCharge, Terms,
};

use crate::hours::Hours;
use lay::Finding;

/// What an order costs and what to charge, with what is worth knowing about it.
///
/// # Errors
/// Terms that nobody could mean, or that leave nothing for the cost.
pub fn price(
    terms: &Terms,
    hours: &Hours,
    outlay: &Outlay,
) -> Result<(Price, Vec<Finding>), PriceError> {
    sheet::price(terms, hours, outlay)
}
