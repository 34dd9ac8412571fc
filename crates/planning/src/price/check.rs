//! Terms and outlays that nobody could mean are refused, with their names.

use super::{Currency, Fee, Outlay, Overhead, PriceError, RushCharge, Terms};
use crate::hours::{COPIES_MAX, Hours};
use rust_decimal::Decimal;

pub(super) fn check(terms: &Terms, hours: &Hours, outlay: &Outlay) -> Result<(), PriceError> {
    if hours.pieces.len() != outlay.pieces.len() {
        let materials = outlay.pieces.len();
        return Err(PriceError::Pieces { hours: hours.pieces.len(), materials });
    }
    terms_right(terms)?;
    for (hours, piece) in hours.pieces.iter().zip(&outlay.pieces) {
        quantity(hours.copies)?;
        for material in &piece.materials {
            not_negative(&format!("`{}` of `{}`", material.name, hours.piece), material.each)?;
        }
        if let Some(asked) = piece.asked {
            in_units("a price", asked, terms.currency.digits())?;
        }
    }
    for cost in &outlay.whole_order {
        not_negative(&cost.name, cost.amount)?;
    }
    not_negative("what has to be bought", outlay.to_buy.unwrap_or_default())
}

fn terms_right(terms: &Terms) -> Result<(), PriceError> {
    not_negative("an hourly wage", terms.wage_per_h.value)?;
    match terms.overhead.value {
        Overhead::PerHour(amount) => not_negative("overhead an hour", amount)?,
        Overhead::Share(share) => not_negative("overhead", share)?,
    }
    share("waste", terms.waste.value)?;
    fees_right(terms.tax.value, &terms.fees)?;
    share("a deposit", terms.deposit.value)?;
    if let Some(rush) = terms.rush {
        match rush.charge {
            RushCharge::Share(part) => not_negative("a rush charge", part)?,
            RushCharge::Fixed(amount) => not_negative("a rush charge", amount)?,
        }
    }
    step_right(terms.round_up_to, terms.currency)?;
    terms.quantities.iter().try_for_each(|&q| quantity(q))
}

/// Tax, and fees by their shares and fixed parts.
pub(super) fn fees_right(tax: Decimal, fees: &[Fee]) -> Result<(), PriceError> {
    share("tax", tax)?;
    for fee in fees {
        share(&format!("the fee `{}`", fee.name), fee.share)?;
        not_negative(&format!("the fixed part of the fee `{}`", fee.name), fee.fixed)?;
    }
    Ok(())
}

/// The step of a round price.
pub(super) fn step_right(step: Option<Decimal>, currency: Currency) -> Result<(), PriceError> {
    step.map_or(Ok(()), |s| in_units("the step of a round price", s, currency.digits()))
}

fn quantity(copies: u32) -> Result<(), PriceError> {
    if (1..=COPIES_MAX).contains(&copies) { Ok(()) } else { Err(PriceError::Quantity(copies)) }
}

fn not_negative(what: &str, value: Decimal) -> Result<(), PriceError> {
    if value >= Decimal::ZERO {
        return Ok(());
    }
    Err(PriceError::Negative { what: what.to_owned(), value })
}

fn share(what: &str, value: Decimal) -> Result<(), PriceError> {
    not_negative(what, value)?;
    if value <= Decimal::ONE {
        return Ok(());
    }
    Err(PriceError::OverWhole { what: what.to_owned(), value })
}

fn in_units(what: &'static str, value: Decimal, digits: u32) -> Result<(), PriceError> {
    if value > Decimal::ZERO && value.normalize().scale() <= digits {
        return Ok(());
    }
    Err(PriceError::Step { what, value, digits })
}
