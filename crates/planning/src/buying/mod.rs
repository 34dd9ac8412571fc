//! What to buy: the cheapest purchase that covers what is wanted by the date.
//!
//! | need | item |
//! |---|---|
//! | what is wanted, what there is, who sells | [`Market`] and its parts |
//! | the purchase | [`buy`], [`Purchase`] |
//! | why a market was refused | [`BadMarket`] |
//!
//! First the most stones are covered, then the least is paid. All money is whole numbers of the
//! smallest unit that a price has, so a total is right to that unit.
//!
//! A general integer programme in pure Rust was measured first (`microlp` 0.7 through `good_lp`
//! 1.15): it took 5 s for three kinds and did not end within 4 minutes for ten. A market has more
//! structure than that: kinds are tied together only by what is spent with a few suppliers. The
//! module `search` says how it is used.

mod basket;
mod check;
mod error;
mod findings;
mod labels;
mod lots;
mod market;
mod model;
mod pool;
mod purchase;
mod reasons;
mod search;
mod settle;
mod stand_ins;
mod table;

pub(crate) use findings::PAGES;

pub use error::BadMarket;
pub use market::{Break, Market, Offer, Stock, Supplier, Tolerance, Use, Want};
pub use purchase::{
    CopyLots, Delivery, KindCover, Leftover, Line, LotPart, PieceLots, Proof, Purchase, Shortage,
    StandInUse, StockUse,
};

use lay::Finding;
use model::{Model, Money, Rounding};
use search::{Found, cheapest};
use stand_ins::Matches;

/// The cheapest purchase that covers the needs of `market`, or as much of them as can be covered;
/// and what is worth knowing about it.
///
/// Only offers of kinds that are needed, or stand in for one, are looked at. Stock is used before
/// anything is bought, since it is paid for. [`Purchase::proof`] says whether the search came to its
/// end within [`Market::steps`].
///
/// # Errors
///
/// A [`BadMarket`] if a value makes no sense.
pub fn buy(market: &Market) -> Result<(Purchase, Vec<Finding>), BadMarket> {
    check::check(market)?;
    let matches = Matches::new(market);
    let (model, found) = search(market, &matches, false, market.steps);
    let proof = proof(market, &matches, &model, &found);
    let mut purchase = settle::settle(market, &matches, &model, &found.basket, proof);
    purchase.reasons = reasons::reasons(market, &purchase);
    let with_time = with_time(market, &matches, &purchase);
    let findings = findings::findings(market, &matches, &purchase, with_time.as_ref());
    Ok((purchase, findings))
}

fn search(market: &Market, matches: &Matches, late: bool, steps: u64) -> (Model, Found) {
    let model = Model::new(market, matches, Rounding::Down, late);
    let found = cheapest(&model, steps);
    (model, found)
}

/// Missing stones, and what is paid.
fn parts(model: &Model, cost: Money) -> (Money, Money) {
    (cost.div_euclid(model.missing), cost.rem_euclid(model.missing))
}

fn proof(market: &Market, matches: &Matches, model: &Model, found: &Found) -> Proof {
    let (short, paid) = parts(model, found.cost);
    let (bound_short, bound) = if model.rounded {
        // Packs that count for a little more than they hold: what that costs, nothing beats.
        let relaxed = Model::new(market, matches, Rounding::Up, false);
        parts(&relaxed, cheapest(&relaxed, market.steps / 2).bound)
    } else {
        parts(model, found.bound)
    };
    match (short, paid) {
        _ if (bound_short, bound) == (short, paid) => Proof::Cheapest,
        _ if bound_short == short => Proof::Within { over: model.decimal(paid - bound) },
        // It was not even shown that no more can be covered.
        _ => Proof::Within { over: model.decimal(paid) },
    }
}

/// What all suppliers would offer if there were time, if that is better than `purchase`.
fn with_time(
    market: &Market,
    matches: &Matches,
    purchase: &Purchase,
) -> Option<findings::WithTime> {
    let days = market.days?;
    let is_late = |o: &&Offer| market.suppliers[o.supplier].lead_days > days;
    let serves = |o: &Offer| matches.serves_any(o.kind);
    market.offers.iter().find(|o| is_late(o) && serves(o))?;
    let (model, found) = search(market, matches, true, market.steps / 4);
    let other = settle::settle(market, matches, &model, &found.basket, Proof::Cheapest);
    let short = |p: &Purchase| -> u64 { p.shortages.iter().map(|s| s.stones).sum() };
    let more_stones = short(purchase).saturating_sub(short(&other));
    let saved = purchase.total - other.total;
    let better = more_stones > 0
        || (short(purchase) == short(&other) && saved > rust_decimal::Decimal::ZERO);
    let late = other.deliveries.iter().filter(|d| d.lead_days > days);
    let late: Vec<(String, u32)> = late.map(|d| (d.supplier.clone(), d.lead_days)).collect();
    (better && !late.is_empty()).then_some(findings::WithTime { late, saved, more_stones })
}
