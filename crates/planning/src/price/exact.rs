//! Fractions without rounding, and the ways in which they become money.

use super::PriceError;
use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::{ToPrimitive, Zero};
use rust_decimal::Decimal;

/// Amounts above this many smallest units are refused, so that sums and products of amounts stay
/// well within a [`Decimal`].
const UNITS_MAX: i128 = 1_000_000_000_000_000;

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

/// Hours from minutes as `hours` keeps them, to a thousandth of a minute.
pub(super) fn hours_of(minutes: f64) -> Exact {
    // Orders are refused above 1e8 min: thousandths are whole numbers that f64 and i64 hold.
    Exact::new(((minutes * 1000.0).round() as i64).into(), 60_000.into())
}

/// To `digits` decimals, half away from zero: how every amount is shown.
pub(super) fn rounded(value: &Exact, digits: u32) -> Result<Decimal, PriceError> {
    in_units(&(value * Exact::from_integer(power_of_ten(digits))).round().to_integer(), digits)
}

/// Up to the next multiple of `step`, which is above 0: how prices are made.
pub(super) fn up_to(value: &Exact, step: Decimal, digits: u32) -> Result<Decimal, PriceError> {
    let step = exact(step);
    rounded(&((value / &step).ceil() * step), digits)
}

/// `total` shared out in proportion to `parts`, to whole units that add up to it: each part rounded
/// down, then the largest remainders up, the first of equal ones first. Parts are 0 or more; if all
/// are 0, the first part takes everything.
pub(super) fn spread(
    total: Decimal,
    parts: &[Exact],
    digits: u32,
) -> Result<Vec<Decimal>, PriceError> {
    let sum: Exact = parts.iter().sum();
    let scale = Exact::from_integer(power_of_ten(digits));
    let units = (exact(total) * scale).round();
    let wanted = parts.iter().map(|p| if sum.is_zero() { p.clone() } else { p / &sum * &units });
    let wanted: Vec<Exact> = wanted.collect();
    let mut shares: Vec<BigInt> = wanted.iter().map(|w| w.floor().to_integer()).collect();
    let mut order: Vec<usize> = (0..parts.len()).collect();
    order.sort_by(|&a, &b| wanted[b].fract().cmp(&wanted[a].fract()));
    let mut left = units.to_integer() - shares.iter().sum::<BigInt>();
    if sum.is_zero() {
        if let Some(first) = shares.first_mut() {
            *first = left.clone();
        }
        left = BigInt::zero();
    }
    for i in order {
        if left.is_zero() {
            break;
        }
        shares[i] += 1;
        left -= 1;
    }
    shares.iter().map(|s| in_units(s, digits)).collect()
}

fn in_units(units: &BigInt, digits: u32) -> Result<Decimal, PriceError> {
    let units = units.to_i128().filter(|n| n.abs() <= UNITS_MAX).ok_or(PriceError::TooMuch)?;
    Decimal::try_from_i128_with_scale(units, digits).map_err(|_| PriceError::TooMuch)
}

fn power_of_ten(n: u32) -> BigInt {
    BigInt::from(10).pow(n)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn dec(text: &str) -> Decimal {
        text.parse().unwrap()
    }

    #[test]
    fn halves_go_away_from_zero() {
        let to_cents = |t: &str| rounded(&exact(dec(t)), 2).unwrap().to_string();
        assert_eq!(to_cents("0.005"), "0.01");
        assert_eq!(to_cents("-0.005"), "-0.01");
        assert_eq!(to_cents("2.675"), "2.68");
        assert_eq!(to_cents("2.6749999"), "2.67");
        assert_eq!(to_cents("7"), "7.00");
    }

    #[test]
    fn prices_go_up_and_a_price_on_the_step_stays() {
        let up = |t: &str, step: &str| up_to(&exact(dec(t)), dec(step), 2).unwrap().to_string();
        assert_eq!(up("12.301", "0.01"), "12.31");
        assert_eq!(up("12.30", "0.01"), "12.30");
        assert_eq!(up("12.30", "0.50"), "12.50");
        assert_eq!(up("0", "5"), "0.00");
        let third = whole(1) / whole(3);
        assert_eq!(up_to(&(&third + &third + &third), dec("0.01"), 2).unwrap(), dec("1"));
    }

    #[test]
    fn parts_add_up_and_the_largest_remainder_gets_the_odd_unit() {
        let parts = [dec("1"), dec("1"), dec("1")].map(exact);
        let shares = spread(dec("10.00"), &parts, 2).unwrap();
        assert_eq!(shares, [dec("3.34"), dec("3.33"), dec("3.33")]);
        let parts = [dec("0.004"), dec("0.018"), dec("0.011")].map(exact);
        let shares = spread(dec("0.03"), &parts, 2).unwrap();
        assert_eq!(shares, [dec("0.00"), dec("0.02"), dec("0.01")]);
        assert_eq!(spread(dec("0.05"), &[exact(dec("0"))], 2).unwrap(), [dec("0.05")]);
    }

    #[test]
    fn amounts_nobody_pays_are_refused() {
        let huge = exact(Decimal::MAX) * whole(1_000_000);
        assert_eq!(rounded(&huge, 2), Err(PriceError::TooMuch));
        assert_eq!(up_to(&huge, dec("0.01"), 2), Err(PriceError::TooMuch));
    }
}
