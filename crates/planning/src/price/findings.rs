//! What is worth knowing about a price.

use super::totals::{GROSS, applied};
use super::{Outlay, PerGross, Price, Terms};
use crate::hours::{Hours, clock};
use lay::finding::Page;
use lay::{Finding, Severity};
use rust_decimal::Decimal;

/// Published prices of stones and labour for a gross applied by hand, USD: a costume maker's price
/// page, 2024–25.
const BAND_USD: (i64, i64) = (20, 35);

/// The findings of this module.
pub(crate) const PAGES: &[Page] = &[
    Page {
        code: "plan.deposit-short",
        what: "The deposit does not pay for what has to be bought before the work begins.",
        why: "If the order is called off, the maker has paid for stones that may fit no other.",
        example: "A deposit of 25.00 for an order that needs 41.10 of stones and adhesive.",
        remedy: "Ask for a larger deposit, or buy what other orders will use as well.",
    },
    Page {
        code: "plan.price-band",
        what: "What the customer pays for 144 stones applied, stones and work together, lies outside the published 20 to 35 US dollars. In another currency this is no more than orientation, since nothing is converted.",
        why: "Outside that band, a customer who compares will ask why, or the maker gives work away.",
        example: "300 stones an hour, stones at 0.004, wage 14.00 and overhead 5.00 an hour, margin 35 %: a gross comes to 14.92, below the band.",
        remedy: "Look at pace and wage first: labour is most of it. If they are right, say in the quote what the customer gets for the price.",
    },
    Page {
        code: "plan.price-below-floor",
        what: "The maker's own price of a copy is lower than the floor price, which covers cost and fees and leaves no profit.",
        why: "Every copy sold costs the maker money.",
        example: "A badge asked at 4.00 that costs 5.17 with fees.",
        remedy: "Ask at least the floor price, make more copies at a time, or say in the order that it is a gift.",
    },
    Page {
        code: "plan.wage-zero",
        what: "The wage is nothing, so that work costs nothing and every price is too low.",
        why: "Setting takes hours; a price without them cannot be kept up.",
        example: "No `wage` under `[workshop]`.",
        remedy: "Write an hourly wage, the least you would work for.",
    },
];

/// Everything worth knowing, pieces in their order.
pub(super) fn findings(
    price: &Price,
    terms: &Terms,
    hours: &Hours,
    outlay: &Outlay,
) -> Vec<Finding> {
    let mut found = vec![];
    if terms.wage_per_h.value.is_zero() && hours.total_min > 0.0 {
        found.push(Finding::new(
            "plan.wage-zero",
            Severity::Warning,
            format!("{} of work are charged at nothing", clock(hours.total_min)),
            "write the least you would work for as `wage` under `[workshop]`",
        ));
    }
    found.extend(below_floor(price, outlay));
    found.extend(deposit_short(price));
    let gross = price.per_gross.as_ref();
    found.extend(gross.and_then(|g| price_band(price, g, hours)));
    found
}

fn below_floor(price: &Price, outlay: &Outlay) -> Vec<Finding> {
    let asked = price.pieces.iter().zip(&outlay.pieces).filter(|(_, o)| o.asked.is_some());
    asked
        .filter(|(p, _)| p.each < p.floor_each)
        .map(|(p, _)| {
            let mut f = Finding::new(
                "plan.price-below-floor",
                Severity::Serious,
                format!("the price of `{}` does not cover its cost and fees", p.piece),
                "ask at least the floor price, or make more copies at a time",
            );
            f.measured = Some(format!("{} a copy", price.amount(p.each)));
            f.wanted = Some(format!("at least {} a copy", price.amount(p.floor_each)));
            f
        })
        .collect()
}

fn deposit_short(price: &Price) -> Option<Finding> {
    let to_buy = price.to_buy?;
    let deposit = price.charged.deposit;
    if deposit.is_zero() || deposit >= to_buy {
        return None;
    }
    let mut f = Finding::new(
        "plan.deposit-short",
        Severity::Note,
        "the deposit does not pay for what has to be bought",
        "ask for a larger deposit, or buy what other orders will use as well",
    );
    f.measured = Some(price.amount(deposit));
    f.wanted = Some(format!("at least {}", price.amount(to_buy)));
    Some(f)
}

/// Beside the published band: what the figure is made of. Not said in a currency without smaller
/// units, whose amounts are of another order than dollars.
fn price_band(price: &Price, gross: &PerGross, hours: &Hours) -> Option<Finding> {
    let (low, high) = (Decimal::from(BAND_USD.0), Decimal::from(BAND_USD.1));
    if (low..=high).contains(&gross.price) || price.digits == 0 {
        return None;
    }
    let dollars = price.currency == "USD";
    let minutes = hours.total_min / applied(hours) as f64 * GROSS as f64;
    let side = if gross.price < low { "below" } else { "above" };
    let orientation = if dollars { "" } else { " (not converted, for orientation only)" };
    let mut f = Finding::new(
        "plan.price-band",
        Severity::Note,
        format!(
            "144 stones applied lie {side} published prices{orientation}: \
             stones {}, labour {} for {} of work, the rest {} (adhesive, overhead, fees, profit)",
            gross.stones,
            gross.labour,
            clock(minutes),
            gross.on_top
        ),
        if gross.price < low {
            "look at wage and pace: others ask more for the same work"
        } else {
            "look at pace, fixed times and wage; if they are right, say in the quote what they buy"
        },
    );
    f.measured = Some(price.amount(gross.price));
    f.wanted = Some(format!("USD {} to {}", BAND_USD.0, BAND_USD.1));
    Some(f)
}
