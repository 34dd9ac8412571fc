//! Sums of money without rounding, and the ways in which they become whole units.

use super::PriceError;
use num_bigint::BigInt;
use num_integer::Integer;
use num_traits::{Signed, ToPrimitive, Zero};
use rust_decimal::Decimal;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Sub};
use std::sync::LazyLock;

/// Amounts above this many smallest units are refused, so that sums and products of amounts stay
/// well within a [`Decimal`].
const UNITS_MAX: i128 = 1_000_000_000_000_000;

/// Decimals of an [`Exact`]: three factors of 28 decimals, as many as a [`Decimal`] has, and six to
/// spare.
const DECIMALS: u32 = 90;

/// One, in the steps of an [`Exact`]: 60 of them at the last decimal, since hours come in minutes.
static ONE: LazyLock<BigInt> = LazyLock::new(|| BigInt::from(10).pow(DECIMALS) * 60);
/// A thousandth of a minute, in hours.
static MILLI_MINUTE: LazyLock<BigInt> = LazyLock::new(|| BigInt::from(10).pow(DECIMALS - 3));

/// A number in fixed steps of 1/60 at the 90th decimal: what a price is made from is never rounded
/// on the way, nothing overflows, and no fraction has to be reduced.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Exact(BigInt);

impl Exact {
    pub(super) fn zero() -> Exact {
        Exact(BigInt::zero())
    }

    pub(super) fn one() -> Exact {
        Exact(ONE.clone())
    }

    /// A decimal as it stands.
    pub(super) fn of(value: Decimal) -> Exact {
        Exact::one().times(value)
    }

    /// Hours from minutes as `hours` keeps them, to a thousandth of a minute.
    pub(super) fn hours(minutes: f64) -> Exact {
        // Orders are refused above 1e8 min: thousandths are whole numbers that f64 and i64 hold.
        Exact(BigInt::from((minutes * 1000.0).round() as i64) * &*MILLI_MINUTE)
    }

    /// A product, exact as long as no more than three decimals are multiplied.
    pub(super) fn times(&self, value: Decimal) -> Exact {
        let scale = 10_i128.pow(value.scale());
        Exact(&self.0 * value.mantissa() / scale)
    }

    pub(super) fn times_n(&self, n: u64) -> Exact {
        Exact(&self.0 * n)
    }

    pub(super) fn is_zero(&self) -> bool {
        self.0.is_zero()
    }

    pub(super) fn is_positive(&self) -> bool {
        self.0.is_positive()
    }

    /// To `digits` decimals, half away from zero: how every amount is shown.
    pub(super) fn rounded(&self, digits: u32) -> Result<Decimal, PriceError> {
        Ratio::new(self, &Exact::one()).rounded(digits)
    }
}

impl Add<&Exact> for Exact {
    type Output = Exact;
    fn add(self, other: &Exact) -> Exact {
        Exact(self.0 + &other.0)
    }
}

impl Sub<&Exact> for Exact {
    type Output = Exact;
    fn sub(self, other: &Exact) -> Exact {
        Exact(self.0 - &other.0)
    }
}

impl AddAssign<&Exact> for Exact {
    fn add_assign(&mut self, other: &Exact) {
        self.0 += &other.0;
    }
}

impl<'a> Sum<&'a Exact> for Exact {
    fn sum<I: Iterator<Item = &'a Exact>>(numbers: I) -> Exact {
        Exact(numbers.map(|n| &n.0).sum())
    }
}

impl Sum for Exact {
    fn sum<I: Iterator<Item = Exact>>(numbers: I) -> Exact {
        Exact(numbers.map(|n| n.0).sum())
    }
}

/// One number by another, which is above 0; not reduced.
#[derive(Clone, Debug)]
pub(super) struct Ratio {
    over: BigInt,
    under: BigInt,
}

impl Ratio {
    pub(super) fn new(over: &Exact, under: &Exact) -> Ratio {
        Ratio { over: over.0.clone(), under: under.0.clone() }
    }

    /// `own` and the part `of / all` of `shared`.
    pub(super) fn share_of(own: &Exact, shared: &Exact, of: &Exact, all: &Exact) -> Ratio {
        let over = &own.0 * &all.0 + &shared.0 * &of.0;
        Ratio { over, under: &all.0 * &*ONE }
    }

    pub(super) fn times(&self, other: &Ratio) -> Ratio {
        Ratio { over: &self.over * &other.over, under: &self.under * &other.under }
    }

    pub(super) fn times_n(&self, n: u64) -> Ratio {
        Ratio { over: &self.over * n, under: self.under.clone() }
    }

    /// By a count above 0.
    pub(super) fn by_n(&self, n: u64) -> Ratio {
        Ratio { over: self.over.clone(), under: &self.under * n }
    }

    /// To `digits` decimals, half away from zero.
    pub(super) fn rounded(&self, digits: u32) -> Result<Decimal, PriceError> {
        let twice = self.over.abs() * power_of_ten(digits) * 2 + &self.under;
        let units: BigInt = twice / (&self.under * 2);
        decimal(&(if self.over.is_negative() { -units } else { units }), digits)
    }

    /// Up to the next multiple of `step`, a number of whole units above 0: how prices are made.
    pub(super) fn up_to(&self, step: Decimal, digits: u32) -> Result<Decimal, PriceError> {
        let step = in_units(step, digits);
        let steps = (&self.over * power_of_ten(digits)).div_ceil(&(&self.under * &step));
        decimal(&(steps * step), digits)
    }
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
    let mut left = in_units(total, digits);
    let mut shares = vec![BigInt::zero(); parts.len()];
    let mut remainders = shares.clone();
    if sum.is_zero() {
        shares.iter_mut().take(1).for_each(|first| std::mem::swap(first, &mut left));
    } else {
        let units = left.clone();
        for (i, part) in parts.iter().enumerate() {
            (shares[i], remainders[i]) = (&part.0 * &units).div_rem(&sum.0);
            left -= &shares[i];
        }
    }
    let mut order: Vec<usize> = (0..parts.len()).collect();
    order.sort_by(|&a, &b| remainders[b].cmp(&remainders[a]));
    for i in order.into_iter().take(left.to_usize().unwrap_or(0)) {
        shares[i] += 1;
    }
    shares.iter().map(|s| decimal(s, digits)).collect()
}

/// An amount that is a whole number of smallest units, in these.
fn in_units(amount: Decimal, digits: u32) -> BigInt {
    let amount = amount.normalize();
    BigInt::from(amount.mantissa()) * power_of_ten(digits.saturating_sub(amount.scale()))
}

fn decimal(units: &BigInt, digits: u32) -> Result<Decimal, PriceError> {
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
        let to_cents = |t: &str| Exact::of(dec(t)).rounded(2).unwrap().to_string();
        assert_eq!(to_cents("0.005"), "0.01");
        assert_eq!(to_cents("-0.005"), "-0.01");
        assert_eq!(to_cents("2.675"), "2.68");
        assert_eq!(to_cents("2.6749999"), "2.67");
        assert_eq!(to_cents("7"), "7.00");
    }

    #[test]
    fn prices_go_up_and_a_price_on_the_step_stays() {
        let ratio = |t: &str| Ratio::new(&Exact::of(dec(t)), &Exact::one());
        let up = |t: &str, step: &str| ratio(t).up_to(dec(step), 2).unwrap().to_string();
        assert_eq!(up("12.301", "0.01"), "12.31");
        assert_eq!(up("12.30", "0.01"), "12.30");
        assert_eq!(up("12.30", "0.50"), "12.50");
        assert_eq!(up("0", "5"), "0.00");
    }

    /// 20 min at 0.03 an hour are a cent, three times a third of a cent.
    #[test]
    fn thirds_of_an_hour_add_up() {
        let third = Exact::hours(20.0).times(dec("0.01"));
        let all = third.clone() + &third + &third;
        assert_eq!(all, Exact::of(dec("0.01")));
        assert_eq!(Ratio::new(&all, &Exact::one()).up_to(dec("0.01"), 2).unwrap(), dec("0.01"));
    }

    /// The smallest share of the smallest share of the smallest amount is still there.
    #[test]
    fn three_factors_of_28_decimals_are_exact() {
        let least = Decimal::new(1, 28);
        let product = Exact::of(least).times(least).times(least);
        assert_eq!(product.0, BigInt::from(10).pow(6) * 60);
    }

    #[test]
    fn parts_add_up_and_the_largest_remainder_gets_the_odd_unit() {
        let parts = [dec("1"), dec("1"), dec("1")].map(Exact::of);
        let shares = spread(dec("10.00"), &parts, 2).unwrap();
        assert_eq!(shares, [dec("3.34"), dec("3.33"), dec("3.33")]);
        let parts = [dec("0.004"), dec("0.018"), dec("0.011")].map(Exact::of);
        let shares = spread(dec("0.03"), &parts, 2).unwrap();
        assert_eq!(shares, [dec("0.00"), dec("0.02"), dec("0.01")]);
        assert_eq!(spread(dec("0.05"), &[Exact::zero()], 2).unwrap(), [dec("0.05")]);
    }

    #[test]
    fn amounts_nobody_pays_are_refused() {
        let huge = Exact::of(Decimal::MAX).times_n(1_000_000);
        assert_eq!(huge.rounded(2), Err(PriceError::TooMuch));
        let ratio = Ratio::new(&huge, &Exact::one());
        assert_eq!(ratio.up_to(dec("0.01"), 2), Err(PriceError::TooMuch));
    }
}
