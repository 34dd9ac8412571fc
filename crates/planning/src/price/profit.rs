//! Margin and mark-up: two ways to say a profit, which never stand for each other.

use super::PriceError;
use rust_decimal::Decimal;

/// Profit as a part of the price before tax, 0 or more and below 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd)]
pub struct Margin(Decimal);

/// Profit as a part of what the work costs, fees included, 0 or more.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd)]
pub struct Markup(Decimal);

/// The profit wanted, as the maker says it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Profit {
    /// By part of the price.
    Margin(Margin),
    /// By part of the cost.
    Markup(Markup),
}

impl Margin {
    /// Of this part of the price.
    ///
    /// # Errors
    /// Below 0, or the whole price and more: then nothing is left for the cost.
    pub fn new(part: Decimal) -> Result<Margin, PriceError> {
        let right = part >= Decimal::ZERO && part < Decimal::ONE;
        if right { Ok(Margin(part)) } else { Err(PriceError::Margin(part)) }
    }

    /// The part of the price.
    pub fn part(self) -> Decimal {
        self.0
    }

    /// The same profit by cost: m/(1 − m).
    pub fn as_markup(self) -> Markup {
        Markup(self.0.checked_div(Decimal::ONE - self.0).unwrap_or(Decimal::MAX))
    }
}

impl Markup {
    /// Of this part of the cost.
    ///
    /// # Errors
    /// Below 0, or more than a thousand times the cost.
    pub fn new(part: Decimal) -> Result<Markup, PriceError> {
        let right = part >= Decimal::ZERO && part <= Decimal::ONE_THOUSAND;
        if right { Ok(Markup(part)) } else { Err(PriceError::Markup(part)) }
    }

    /// The part of the cost.
    pub fn part(self) -> Decimal {
        self.0
    }

    /// The same profit by price: m/(1 + m).
    pub fn as_margin(self) -> Margin {
        Margin(self.0 / (Decimal::ONE + self.0))
    }
}

impl Profit {
    /// Where nothing is said: 30 % of the price. Ours, no source.
    pub fn usual() -> Profit {
        Profit::Margin(Margin(Decimal::new(30, 2)))
    }

    /// By part of the price, as the maker said it or made out from the mark-up.
    pub fn margin(self) -> Margin {
        match self {
            Profit::Margin(margin) => margin,
            Profit::Markup(markup) => markup.as_margin(),
        }
    }

    /// By part of the cost, as the maker said it or made out from the margin.
    pub fn markup(self) -> Markup {
        match self {
            Profit::Margin(margin) => margin.as_markup(),
            Profit::Markup(markup) => markup,
        }
    }
}
