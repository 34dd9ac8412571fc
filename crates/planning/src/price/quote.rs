//! A quote as plain text, for the customer: no cost of the maker's stands in it.

use super::Price;
use jiff::civil::Date;

/// What a quote says beside its prices.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Quote {
    /// What it is for.
    pub title: String,
    /// Who asked.
    pub customer: Option<String>,
    /// The day on which the order can be handed over.
    pub ready_by: Option<Date>,
    /// Sentences that follow the prices.
    pub notes: Vec<String>,
}

/// The quote of an order: what, how many, price, tax, deposit, balance, ready by, validity. Printable
/// ASCII and line ends, at most 72 columns.
pub fn quote_text(price: &Price, quote: &Quote) -> String {
    let _ = (price, quote);
    String::new()
}
