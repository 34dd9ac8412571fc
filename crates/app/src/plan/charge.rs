//! What to charge.

use super::PlanError;
use super::market::{self, StoneCosts};
use crate::document::terms::decimal;
use crate::laying::{LaidOrder, LaidPiece};
use crate::order::ShelfKind;
use jiff::civil::Date;
use lay::{Finding, Severity};
use planning::buying::Purchase;
use planning::glue::{AdhesiveNeed, GluePlan, PieceGlue};
use planning::hours::Hours;
use planning::price::{
    Material, MaterialSort, OrderCost, Outlay, Overhead, PieceOutlay, Price, Profit, Rush,
    RushCharge, SingleTerms, Terms,
};
use planning::spare::Spare;
use planning::{Given, Origin, Reason};
use rust_decimal::Decimal;
use units::grouped;

/// Deposit where nothing is said. Ours, no source.
const DEPOSIT: Decimal = Decimal::from_parts(30, 0, 0, false, 2);
/// Material of spoilt work where nothing is said. Ours, no source.
const WASTE: Decimal = Decimal::from_parts(5, 0, 0, false, 2);
/// Days for which a quote stands where nothing is said (common practice, no source).
const VALID_DAYS: u32 = 30;
/// Quantities for which a price is told where none are asked for.
const QUANTITIES: [u32; 4] = [1, 6, 12, 24];

/// The price of the order; none where the document names no currency.
#[expect(clippy::too_many_arguments, reason = "a price goes by everything that was found before")]
pub(super) fn price(
    laid: &LaidOrder,
    spare: &Spare,
    costs: &StoneCosts,
    purchase: &Purchase,
    glue: &GluePlan,
    hours: &Hours,
    today: Date,
    found: &mut Vec<Finding>,
) -> Result<Option<Price>, PlanError> {
    let Some(terms) = terms(laid, today) else { return Ok(None) };
    let pieces = laid.pieces.iter().zip(&glue.pieces).map(|(p, g)| PieceOutlay {
        materials: materials(laid, p, g, spare, costs),
        asked: p.asked.bench.asked,
    });
    let deliveries = purchase.deliveries.iter().filter(|d| !d.charge.is_zero());
    let outlay = Outlay {
        pieces: pieces.collect(),
        whole_order: deliveries
            .map(|d| OrderCost { name: format!("delivery from {}", d.supplier), amount: d.charge })
            .collect(),
        to_buy: Some(purchase.total + glue.cost.unwrap_or_default()),
    };
    let (mut price, findings) = planning::price::price(&terms, hours, &outlay)?;
    price.reasons.extend(stone_reasons(laid, spare, costs, &price));
    found.extend(market::unpriced(laid, spare, costs));
    found.extend(unpriced(glue));
    found.extend(findings);
    Ok(Some(price))
}

fn terms(laid: &LaidOrder, today: Date) -> Option<Terms> {
    let (price, workshop) = (&laid.terms.price, &laid.terms.workshop);
    let SingleTerms { currency, tax, fees, round_up_to } = single_terms(laid)?;
    let overhead = workshop.overhead.map(Overhead::PerHour);
    Some(Terms {
        currency,
        wage_per_h: Given::or_usual(workshop.wage, Decimal::ZERO),
        overhead: Given::or_usual(overhead, Overhead::PerHour(Decimal::ZERO)),
        waste: Given::or_usual(price.waste, WASTE),
        profit: profit(laid),
        tax,
        fees,
        round_up_to,
        rush: price.rush.map(|r| Rush { charge: RushCharge::Share(r), applies: false }),
        deposit: Given::or_usual(price.deposit, DEPOSIT),
        quoted_on: today,
        valid_days: Given::or_usual(price.valid_days, VALID_DAYS),
        quantities: price.quantities.clone().unwrap_or_else(|| QUANTITIES.to_vec()),
    })
}

/// Currency, tax, fees and step, of the order and of what is sold by itself; `None` without a
/// currency.
pub(super) fn single_terms(laid: &LaidOrder) -> Option<SingleTerms> {
    let price = &laid.terms.price;
    Some(SingleTerms {
        currency: price.currency?,
        tax: Given::or_usual(price.tax, Decimal::ZERO),
        fees: price.fees.clone(),
        round_up_to: price.round_to,
    })
}

/// The profit wanted.
pub(super) fn profit(laid: &LaidOrder) -> Given<Profit> {
    Given::or_usual(laid.terms.price.profit, Profit::usual())
}

/// The adhesives whose cost nobody says, as a finding.
fn unpriced(glue: &GluePlan) -> Option<Finding> {
    let used = |a: &&AdhesiveNeed| a.cost.is_none() && (a.need.ml > 0.0 || a.need.cm2 > 0.0);
    let names: Vec<&str> =
        glue.adhesives.iter().filter(used).map(|a| a.adhesive.as_str()).collect();
    (!names.is_empty()).then(|| {
        Finding::new(
            "plan.price-missing",
            Severity::Warning,
            format!(
                "nobody says what this adhesive costs, so it counts as nothing: {}",
                names.join(", ")
            ),
            "give the `[[adhesive]]` a `container` and its `price`",
        )
    })
}

fn loss_of(spare: &Spare, kind: &str) -> Decimal {
    decimal(spare.kinds.iter().find(|k| k.kind == kind).map_or(0.0, |k| k.loss))
}

/// What so many set stones cost: of n handled, n·(1 − loss) are set.
fn stones_cost(price: Decimal, set: u64, loss: Decimal) -> Decimal {
    (price * Decimal::from(set)).checked_div(Decimal::ONE - loss).unwrap_or_default()
}

/// How the stones of each kind come to their cost, over all pieces.
fn stone_reasons(
    laid: &LaidOrder,
    spare: &Spare,
    costs: &StoneCosts,
    price: &Price,
) -> Vec<Reason> {
    let by_kind = laid.by_kind();
    let reason = |(i, shelf): (usize, &ShelfKind)| {
        let name = &shelf.kind.name;
        let each = costs.kind(i)?;
        let set = by_kind.iter().find(|k| k.0.name == *name).map_or(0, |k| k.1 as u64);
        let loss = loss_of(spare, name);
        let cost = stones_cost(each, set, loss).round_dp(price.digits);
        let origin = spare_origin(laid);
        (set > 0).then(|| {
            Reason::new(
                format!("cost of {name} in the order"),
                price.amount(cost),
                "stones set / (1 − loss) × price of a stone; a customer pays what is used, and what \
                 is left over goes back to the shelf",
            )
            .with("stones set", grouped(set), Origin::Lay)
            .with("loss", format!("{} %", (loss * Decimal::ONE_HUNDRED).normalize()), origin)
            .with("price of a stone", price.amount(each.round_dp(6).normalize()), Origin::Plan)
        })
    };
    laid.kinds.iter().enumerate().filter_map(reason).collect()
}

/// Where an expected loss comes from.
fn spare_origin(laid: &LaidOrder) -> Origin {
    if laid.terms.log.iter().any(|e| e.lost.is_some()) {
        Origin::Log
    } else if laid.terms.workshop.loss.is_some() {
        Origin::Document
    } else {
        Origin::Usual
    }
}

fn materials(
    laid: &LaidOrder,
    p: &LaidPiece,
    glue: &PieceGlue,
    spare: &Spare,
    costs: &StoneCosts,
) -> Vec<Material> {
    let mut all = vec![];
    for (kind, stones) in p.kinds_used() {
        let cost = costs.named(laid, &kind.name).unwrap_or_default();
        let each = stones_cost(cost, stones, loss_of(spare, &kind.name));
        all.push(Material { sort: MaterialSort::Stones, name: kind.name.clone(), each });
    }
    let mut add = |sort, name: &str, each: Option<Decimal>| {
        if let Some(each) = each.filter(|e| !e.is_zero()) {
            all.push(Material { sort, name: name.to_owned(), each });
        }
    };
    add(MaterialSort::Adhesive, &glue.adhesive, glue.copy_cost);
    add(MaterialSort::Blank, "blank", p.asked.bench.blank_price);
    add(MaterialSort::Packaging, "packaging", laid.terms.price.packaging);
    all
}
