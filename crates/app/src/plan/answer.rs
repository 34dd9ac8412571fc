//! The first line of a plan.

use crate::laying::LaidOrder;
use jiff::civil::Date;
use planning::buying::Purchase;
use planning::calendar::Schedule;
use planning::glue::GluePlan;
use planning::hours::Hours;
use planning::price::Price;
use rust_decimal::Decimal;
use schemars::JsonSchema;
use serde::Serialize;
use std::fmt;
use units::{Span, grouped, trimmed};

/// What a maker asks first: how many, what to buy, how long, when, how much.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Answer {
    /// Stones in all copies of all pieces, without spare.
    pub stones: u64,
    /// Packs of stones to buy.
    pub packs: u64,
    /// Stones, spare included, that neither the shelf nor a supplier gives in time.
    pub short: u64,
    /// Adhesive to have, ml.
    pub adhesive_ml: f64,
    /// Hours at the bench, min.
    pub hands_on_min: f64,
    /// The day on which it can ship.
    #[schemars(with = "String")]
    pub ready: Date,
    /// Whether that is soon enough; none if no day was asked for.
    pub in_time: Option<bool>,
    /// What the customer pays, tax included.
    #[schemars(with = "Option<String>")]
    pub charge: Option<Decimal>,
    /// Decimals of its currency.
    pub digits: u32,
    /// Its currency, ISO 4217.
    pub currency: Option<String>,
}

pub(super) fn answer(
    laid: &LaidOrder,
    purchase: &Purchase,
    glue: &GluePlan,
    hours: &Hours,
    calendar: &Schedule,
    price: Option<&Price>,
) -> Answer {
    // Where no supplier is named, nothing is short: packs of the usual size are to be bought somewhere.
    let unsold = laid.terms.suppliers.is_empty();
    let all_packs = purchase.shortages.iter().filter_map(|s| s.packs).sum();
    Answer {
        stones: laid.total() as u64,
        packs: if unsold { all_packs } else { purchase.lines.iter().map(|l| l.packs).sum() },
        short: if unsold { 0 } else { purchase.shortages.iter().map(|s| s.stones).sum() },
        adhesive_ml: glue.adhesives.iter().map(|a| a.need.ml).sum(),
        hands_on_min: hours.total_min,
        ready: calendar.ship_on,
        in_time: calendar.due_met,
        charge: price.map(|p| p.charged.gross),
        digits: laid.terms.price.digits(),
        currency: price.map(|p| p.currency.clone()),
    }
}

impl fmt::Display for Answer {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let hours = Span::from_minutes(self.hands_on_min).unwrap_or_default();
        let packs = if self.packs == 1 { "pack" } else { "packs" };
        let work = if hours.hours() >= 48.0 {
            format!("{} h", trimmed(hours.hours(), 0))
        } else {
            hours.to_string()
        };
        write!(f, "{} stones", grouped(self.stones))?;
        if self.short > 0 {
            write!(f, " · {} short", grouped(self.short))?;
        }
        write!(
            f,
            " · {} {packs} to buy · {} ml · {work} · ready {}",
            grouped(self.packs),
            trimmed(self.adhesive_ml, if self.adhesive_ml < 10.0 { 1 } else { 0 }),
            self.ready.strftime("%-d %b"),
        )?;
        // The currency is said below: the line has to fit a screen of 80 columns.
        if let Some(charge) = self.charge {
            write!(f, " · charge {}", crate::money(charge, self.digits))?;
        }
        Ok(())
    }
}
