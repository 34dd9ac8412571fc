//! What the customer pays, what fees take of it, and stones and labour by the gross.

use super::cost::{Item, Line};
use super::exact::{Exact, Ratio};
use super::{
    Fee, FeeLine, MaterialSort, PerGross, PriceError, RushCharge, RushPrice, Terms, Totals,
};
use crate::hours::{Hours, PieceHours};
use jiff::Span;
use jiff::civil::Date;
use rust_decimal::Decimal;

/// Stones in a gross.
pub(super) const GROSS: u64 = 144;

/// Tax, deposit and balance of an amount before tax.
pub(super) fn totals(terms: &Terms, net: Decimal) -> Result<Totals, PriceError> {
    let digits = terms.currency.digits();
    let tax = Exact::of(net).times(terms.tax.value).rounded(digits)?;
    let gross = net + tax;
    let deposit = Exact::of(gross).times(terms.deposit.value).rounded(digits)?;
    Ok(Totals { net, tax, gross, deposit, balance: gross - deposit })
}

/// What is charged, and both ways if haste has a price.
pub(super) fn rush(terms: &Terms, net: Decimal) -> Result<(Totals, Option<RushPrice>), PriceError> {
    let unhurried = totals(terms, net)?;
    let Some(rush) = terms.rush else {
        return Ok((unhurried, None));
    };
    let charge = match rush.charge {
        RushCharge::Share(share) => Exact::of(net).times(share),
        RushCharge::Fixed(amount) => Exact::of(amount),
    };
    let charge = charge.rounded(terms.currency.digits())?;
    let rushed = totals(terms, net + charge)?;
    let charged = if rush.applies { rushed.clone() } else { unhurried.clone() };
    Ok((charged, Some(RushPrice { charge, applies: rush.applies, rushed, unhurried })))
}

/// Each fee on what the customer pays.
pub(super) fn fees(fees: &[Fee], gross: Decimal, digits: u32) -> Result<Vec<FeeLine>, PriceError> {
    let line = |fee: &Fee| {
        let amount = Exact::of(gross).times(fee.share) + &Exact::of(fee.fixed);
        let amount = amount.rounded(digits)?;
        Ok(FeeLine { name: fee.name.clone(), amount })
    };
    fees.iter().map(line).collect()
}

/// A part of a whole, to four decimals; none of nothing.
pub(super) fn part(part: Decimal, of: Decimal) -> Result<Option<Decimal>, PriceError> {
    if of.is_zero() {
        return Ok(None);
    }
    // A loss greater than the cost has a denominator below 0.
    let (part, of) = if of.is_sign_negative() { (-part, -of) } else { (part, of) };
    Ratio::new(&Exact::of(part), &Exact::of(of)).rounded(4).map(Some)
}

/// Stones and labour for a gross of stones applied, and what the customer pays for that: the price
/// less the part of it that things other than stones on the piece have of the cost. None without
/// stones or without cost.
pub(super) fn per_gross(
    terms: &Terms,
    hours: &Hours,
    pieces: &[Vec<Line>],
    order: &[Line],
    net: Decimal,
) -> Result<Option<PerGross>, PriceError> {
    let applied = applied(hours);
    let (mut stones, mut labour, mut beside) = (Exact::zero(), Exact::zero(), Exact::zero());
    let mut cost = Exact::zero();
    for line in pieces.iter().flatten().chain(order) {
        cost += &line.amount;
        match line.item {
            Item::Material(MaterialSort::Stones) => stones += &line.amount,
            Item::Labour(_) => labour += &line.amount,
            // For these a customer who brings the blank would not pay.
            Item::Material(MaterialSort::Blank | MaterialSort::Packaging | MaterialSort::Other)
            | Item::WholeOrder => beside += &line.amount,
            Item::Material(MaterialSort::Adhesive) | Item::Waste | Item::Overhead => {}
        }
    }
    if applied == 0 || cost.is_zero() {
        return Ok(None);
    }
    let digits = terms.currency.digits();
    let a_gross = |amount: &Exact| {
        Ratio::new(amount, &Exact::one()).times_n(GROSS).by_n(applied).rounded(digits)
    };
    let part = Ratio::new(&(cost.clone() - &beside), &cost);
    let price = part.times(&Ratio::new(&Exact::of(net), &Exact::one()));
    let price = price.times_n(GROSS).by_n(applied).rounded(digits)?;
    let (stones, labour) = (a_gross(&stones)?, a_gross(&labour)?);
    Ok(Some(PerGross { stones, labour, on_top: price - stones - labour, price }))
}

/// Stones on all copies of all pieces.
pub(super) fn applied(hours: &Hours) -> u64 {
    let of = |p: &PieceHours| p.stones.saturating_mul(u64::from(p.copies));
    hours.pieces.iter().map(of).fold(0, u64::saturating_add)
}

/// The last day on which a quote holds.
pub(super) fn valid_until(terms: &Terms) -> Result<Date, PriceError> {
    let days = terms.valid_days.value;
    let span = Span::new().try_days(i64::from(days)).map_err(|_| PriceError::Days(days))?;
    terms.quoted_on.checked_add(span).map_err(|_| PriceError::Days(days))
}
