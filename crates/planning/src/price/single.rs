//! The price of a thing that is sold by itself: a bag of a mix.

use super::cost::PriceFactors;
use super::exact::{Exact, Ratio};
#[cfg(doc)]
use super::price;
use super::{Currency, Fee, PriceError, Profit, Terms};
use crate::Given;
use rust_decimal::Decimal;

/// How a thing that is sold by itself is priced. Shares are parts of 1.
#[derive(Clone, Debug, PartialEq)]
pub struct SingleTerms {
    /// The currency.
    pub currency: Currency,
    /// Tax on the price.
    pub tax: Given<Decimal>,
    /// Fees on what the customer pays. Every thing is an order of its own, so that each bears the
    /// fixed parts in full.
    pub fees: Vec<Fee>,
    /// The price before tax goes up to a multiple of this; to the smallest unit, if `None`.
    pub round_up_to: Option<Decimal>,
}

/// The price of one thing, in whole smallest units.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SinglePrice {
    /// Before tax.
    pub price: Decimal,
    /// What fees take of it, tax included in what they are a share of.
    pub fees: Decimal,
}

impl From<&Terms> for SingleTerms {
    fn from(terms: &Terms) -> SingleTerms {
        SingleTerms {
            currency: terms.currency,
            tax: terms.tax,
            fees: terms.fees.clone(),
            round_up_to: terms.round_up_to,
        }
    }
}

/// The price of one thing that costs so much: what it leaves after fees is the profit wanted, by
/// the arithmetic of [`price`] for an order of one copy.
///
/// # Errors
/// Fees and profit leave nothing for the cost, or a step that the currency does not have.
pub fn price_single(
    terms: &SingleTerms,
    profit: Profit,
    cost: Decimal,
) -> Result<SinglePrice, PriceError> {
    super::check::fees_right(terms.tax.value, &terms.fees)?;
    super::check::step_right(terms.round_up_to, terms.currency)?;
    let factors = PriceFactors::new(profit, terms.tax.value, &terms.fees)?;
    let cost = Ratio::new(&(Exact::of(cost) + &factors.fixed_fees), &Exact::one());
    let digits = terms.currency.digits();
    let (_, price) = factors.prices(&cost, 1, terms.round_up_to, digits)?;
    Ok(SinglePrice { price, fees: fees_of(terms, price)? })
}

/// What all fees take of one thing at this price before tax.
///
/// # Errors
/// Amounts that nobody pays.
fn fees_of(terms: &SingleTerms, price: Decimal) -> Result<Decimal, PriceError> {
    let digits = terms.currency.digits();
    let gross = price + Exact::of(price).times(terms.tax.value).rounded(digits)?;
    let lines = super::totals::fees(&terms.fees, gross, digits)?;
    Ok(lines.iter().map(|l| l.amount).sum())
}
