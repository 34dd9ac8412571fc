//! Terms that cannot make a price.

use super::explain::per_cent;
use crate::hours::COPIES_MAX;
use rust_decimal::Decimal;

/// What profit fees leave room for.
fn room(fees: Decimal) -> String {
    let left = Decimal::ONE - fees;
    if left <= Decimal::ZERO {
        return "fees must take less than the whole price, whatever the margin".to_owned();
    }
    let markup = left.checked_div(fees).unwrap_or(Decimal::MAX);
    let (margin, markup) = (per_cent(left), per_cent(markup));
    format!("with these fees, ask for a margin below {margin}, which is a mark-up below {markup}")
}

/// Why an order could not be priced.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PriceError {
    /// Not a currency.
    #[error("a currency is a code of ISO 4217 with a smallest unit, such as EUR: `{0}`")]
    Currency(String),
    /// Nothing would be left for the cost.
    #[error("a margin is a part of the price, 0 % and up to below 100 %: `{}`", per_cent(*.0))]
    Margin(Decimal),
    /// Not a mark-up.
    #[error("a mark-up lies between 0 % and 100,000 %: `{}`", per_cent(*.0))]
    Markup(Decimal),
    /// Margin, fees and tax on the fees' base take the whole price.
    #[error("margin {} and fees {} of what the customer pays leave nothing of the price for the cost: {}", per_cent(*.margin), per_cent(*.fees), room(*.fees))]
    NothingLeft {
        /// Margin, as a part of the price.
        margin: Decimal,
        /// All fees, as a part of the price before tax.
        fees: Decimal,
    },
    /// Below nothing.
    #[error("{what} is 0 or more: `{value}`")]
    Negative {
        /// Which.
        what: String,
        /// As given.
        value: Decimal,
    },
    /// More than the whole.
    #[error("{what} is at most 100 %: `{}`", per_cent(*.value))]
    OverWhole {
        /// Which.
        what: String,
        /// As given, as a part of 1.
        value: Decimal,
    },
    /// No whole number of smallest units.
    #[error(
        "{what} is above 0 and has no more than the {digits} decimals of the currency: `{value}`"
    )]
    Step {
        /// Which.
        what: &'static str,
        /// As given.
        value: Decimal,
        /// Decimal digits of the smallest unit.
        digits: u32,
    },
    /// Nobody makes so few or so many.
    #[error("a quantity is 1 to {max} copies: `{0}`", max = COPIES_MAX)]
    Quantity(u32),
    /// Pieces of one do not match those of the other.
    #[error("hours are known for {hours} pieces and materials for {materials}")]
    Pieces {
        /// Pieces with hours.
        hours: usize,
        /// Pieces with materials.
        materials: usize,
    },
    /// A day that no calendar has.
    #[error("a quote that is valid for {0} days ends on no day of the calendar")]
    Days(u32),
    /// Amounts beyond what anybody pays.
    #[error("an amount has more than 15 digits")]
    TooMuch,
}
