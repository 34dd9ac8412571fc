//! What the customer pays, what fees take of it, and stones and labour by the gross.

use super::cost::{Item, Line, sum};
use super::exact::{Exact, exact, rounded, whole};
use super::{FeeLine, MaterialSort, PerGross, PriceError, RushCharge, RushPrice, Terms, Totals};
use crate::hours::{Hours, PieceHours};
use jiff::Span;
use jiff::civil::Date;
use num_traits::Zero;
use rust_decimal::Decimal;

/// Stones in a gross.
pub(super) const GROSS: u64 = 144;

/// Tax, deposit and balance of an amount before tax.
pub(super) fn totals(terms: &Terms, net: Decimal) -> Result<Totals, PriceError> {
    let digits = terms.currency.digits();
    let tax = rounded(&(exact(net) * exact(terms.tax.value)), digits)?;
    let gross = net + tax;
    let deposit = rounded(&(exact(gross) * exact(terms.deposit.value)), digits)?;
    Ok(Totals { net, tax, gross, deposit, balance: gross - deposit })
}

/// What is charged, and both ways if haste has a price.
pub(super) fn rush(terms: &Terms, net: Decimal) -> Result<(Totals, Option<RushPrice>), PriceError> {
    let unhurried = totals(terms, net)?;
    let Some(rush) = terms.rush else {
        return Ok((unhurried, None));
    };
    let charge = match rush.charge {
        RushCharge::Share(share) => exact(net) * exact(share),
        RushCharge::Fixed(amount) => exact(amount),
    };
    let charge = rounded(&charge, terms.currency.digits())?;
    let rushed = totals(terms, net + charge)?;
    let charged = if rush.applies { rushed.clone() } else { unhurried.clone() };
    Ok((charged, Some(RushPrice { charge, applies: rush.applies, rushed, unhurried })))
}

/// Each fee on what the customer pays.
pub(super) fn fees(terms: &Terms, gross: Decimal) -> Result<Vec<FeeLine>, PriceError> {
    let line = |fee: &super::Fee| {
        let amount = exact(gross) * exact(fee.share) + exact(fee.fixed);
        let amount = rounded(&amount, terms.currency.digits())?;
        Ok(FeeLine { name: fee.name.clone(), amount })
    };
    terms.fees.iter().map(line).collect()
}

/// A part of a whole, to four decimals; none of nothing.
pub(super) fn part(part: Decimal, of: Decimal) -> Result<Option<Decimal>, PriceError> {
    if of.is_zero() {
        return Ok(None);
    }
    rounded(&(exact(part) / exact(of)), 4).map(Some)
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
    let applied = whole(applied(hours));
    let lines = || pieces.iter().flatten().chain(order);
    let cost: Exact = lines().map(|l| &l.amount).sum();
    if applied.is_zero() || cost.is_zero() {
        return Ok(None);
    }
    let gross = whole(GROSS) / applied;
    let of = |wanted: fn(Item) -> bool| {
        let lines: Vec<Line> = lines().filter(|l| wanted(l.item)).cloned().collect();
        sum(&lines) * &gross
    };
    let stones = of(|i| i == Item::Material(MaterialSort::Stones));
    let labour = of(|i| matches!(i, Item::Labour(_)));
    let price = exact(net) * of(applied_to_piece) / cost;
    let digits = terms.currency.digits();
    let (stones, labour) = (rounded(&stones, digits)?, rounded(&labour, digits)?);
    let price = rounded(&price, digits)?;
    Ok(Some(PerGross { stones, labour, on_top: price - stones - labour, price }))
}

/// Whether a customer who brings the blank would pay for it all the same.
fn applied_to_piece(item: Item) -> bool {
    !matches!(
        item,
        Item::WholeOrder
            | Item::Material(MaterialSort::Blank | MaterialSort::Packaging | MaterialSort::Other)
    )
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
