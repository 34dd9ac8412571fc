//! Fractions without rounding, and the two ways in which they become money.

use super::PriceError;
use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::ToPrimitive;
use rust_decimal::Decimal;

/// A fraction of whole numbers of any length: nothing overflows and nothing is rounded on the way.
pub(super) type Exact = BigRational;

/// A decimal as it stands.
pub(super) fn exact(value: Decimal) -> Exact {
    Exact::new(value.mantissa().into(), power_of_ten(value.scale()))
}

/// Whole things.
pub(super) fn whole(n: u64) -> Exact {
    Exact::from_integer(n.into())
}

/// Minutes as `hours` keeps them, to a thousandth.
pub(super) fn minutes(minutes: f64) -> Exact {
    // Below 1e8 min, so that thousandths of them are whole numbers that f64 holds.
    Exact::new(((minutes * 1000.0).round() as i64).into(), 1000.into())
}

/// To `digits` decimals, half away from zero: how every amount is shown.
pub(super) fn rounded(value: &Exact, digits: u32) -> Result<Decimal, PriceError> {
    scaled(&(value * Exact::from_integer(power_of_ten(digits))).round(), digits)
}

/// Up to the next multiple of `step`: how prices are made.
pub(super) fn up_to(value: &Exact, step: Decimal) -> Result<Decimal, PriceError> {
    let steps = (value / exact(step)).ceil();
    let steps = steps.to_integer().to_i128().ok_or(PriceError::TooMuch)?;
    let steps = Decimal::try_from_i128_with_scale(steps, 0).map_err(|_| PriceError::TooMuch)?;
    steps.checked_mul(step).ok_or(PriceError::TooMuch)
}

fn scaled(whole: &Exact, digits: u32) -> Result<Decimal, PriceError> {
    let n = whole.to_integer().to_i128().ok_or(PriceError::TooMuch)?;
    Decimal::try_from_i128_with_scale(n, digits).map_err(|_| PriceError::TooMuch)
}

fn power_of_ten(n: u32) -> BigInt {
    BigInt::from(10).pow(n)
}
