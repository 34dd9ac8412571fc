//! Kits to pack and mixes to sell by the bag.

use super::{PlanError, finding};
use super::charge::profit;
use super::market::StoneCosts;
use crate::document::terms::{self, Content};
use crate::laying::{LaidOrder, LaidPiece};
use crate::order::ShelfKind;
use lay::{Finding, Severity};
use planning::Given;
use planning::kits::{Kit, KitKind, KitWork};
use planning::mixes::{BagSize, LaidZone, MixBag, MixKind, MixWork, Pricing};
use planning::price::Currency;
use planning::weighing::{Sample, USUAL_SPREAD, UnitWeight, Weighing, spread_of_weight};
use rust_decimal::Decimal;

/// An empty bag where nothing is said, g. Ours, no source.
const BAG_G: f64 = 0.5;
/// How sure a kit must be enough. Ours, no source.
const KIT_SURE: f64 = 0.95;
/// Loss of somebody who sets a kit. Ours, no source.
const KIT_LOSS: f64 = 0.05;
/// The smallest step of a scale where nothing is said, g: that of a pocket scale.
const STEP_G: f64 = 0.01;

/// Every kit of the document.
pub(super) fn kits(
    laid: &LaidOrder,
    costs: &StoneCosts,
    found: &mut Vec<Finding>,
) -> Result<Vec<Kit>, PlanError> {
    let mut all = vec![];
    for kit in &laid.terms.kits {
        // The document names only pieces that there are; `lay --piece` may leave some out.
        let Some(p) = laid.pieces.iter().find(|p| p.asked.piece.name == kit.piece) else {
            continue;
        };
        if p.lay.stones.is_empty() {
            found.push(finding(
                "plan.kit-empty",
                Severity::Serious,
                format!("the kit `{}` is empty: no stone fits on `{}`", kit.name, kit.piece),
                "look at what `stonelay lay` says of the piece",
            ));
            continue;
        }
        let work = KitWork {
            kit: kit.name.clone(),
            piece: kit.piece.clone(),
            kits: kit.copies,
            sure: Given::or_usual(laid.terms.workshop.sure, KIT_SURE),
            loss: Given::or_usual(kit.loss, KIT_LOSS),
            kinds: kit_kinds(laid, p, kit, costs),
        };
        let (kit, findings) = planning::kits::kit(&work)?;
        found.extend(findings);
        all.push(kit);
    }
    Ok(all)
}

fn kit_kinds(
    laid: &LaidOrder,
    p: &LaidPiece,
    kit: &terms::Kit,
    costs: &StoneCosts,
) -> Vec<KitKind> {
    let kinds = p.asked.piece.kinds.iter().zip(p.counts()).filter(|k| k.1 > 0);
    kinds
        .map(|(kind, stones)| {
            let index = laid.kinds.iter().position(|k| k.kind.name == kind.name);
            let shelf = index.map(|i| &laid.kinds[i]);
            KitKind {
                kind: kind.name.clone(),
                size: kind.size.clone(),
                diameter_mm: kind.reach_mm,
                stones: stones as u32,
                put_in: None,
                bag_g: Given::or_usual(kit.tare_g, BAG_G),
                unit: shelf.and_then(unit_weight),
                stone_price: index.and_then(|i| costs.kind(i)),
            }
        })
        .collect()
}

/// What is known of the weight of a stone; none if nobody weighed it. A weight that somebody states
/// counts as if a gross had been weighed (ours).
fn unit_weight(shelf: &ShelfKind) -> Option<UnitWeight> {
    const GROSS: u32 = 144;
    let stones = shelf.weighed.unwrap_or(GROSS);
    let kind = &shelf.kind;
    let weighing = Weighing {
        kind: kind.name.clone(),
        tare_g: Given::usual(0.0),
        readability_g: Given::usual(STEP_G),
        spread: Given::usual(if kind.spread_mm > 0.0 {
            spread_of_weight(kind.spread_mm, kind.reach_mm)
        } else {
            USUAL_SPREAD
        }),
        samples: vec![Sample { stones, shown_g: shelf.weight_g? * f64::from(stones) }],
        confidence: Given::usual(0.95),
    };
    planning::weighing::unit_weight(&weighing).ok()
}

/// Every bag of the document.
pub(super) fn bags(
    laid: &LaidOrder,
    costs: &StoneCosts,
    found: &mut Vec<Finding>,
) -> Result<Vec<MixBag>, PlanError> {
    let mut all = vec![];
    // A document with bags names its currency, or it is refused.
    let Some(currency) = laid.terms.price.currency else { return Ok(all) };
    for bag in &laid.terms.bags {
        let (bag, findings) = planning::mixes::mix_bag(&mix_work(laid, bag, currency, costs)?)?;
        found.extend(findings);
        all.push(bag);
    }
    Ok(all)
}

fn mix_work(
    laid: &LaidOrder,
    bag: &terms::Bag,
    currency: Currency,
    costs: &StoneCosts,
) -> Result<MixWork, PlanError> {
    let profit = profit(laid)?;
    let workshop = &laid.terms.workshop;
    let hour = workshop.wage.map(|w| w + workshop.overhead.unwrap_or_default());
    let kinds = bag.recipe.iter().map(|p| {
        let shelf = &laid.kinds[p.kind];
        let free = laid.terms.stock.iter().filter(|s| s.kind == p.kind);
        MixKind {
            kind: shelf.kind.name.clone(),
            share: p.share,
            unit_g: Given::or_usual(shelf.weight_g, usual_weight_g(shelf.kind.reach_mm)),
            stone_price: costs.kind(p.kind),
            shelf_stones: free.map(|s| s.stones.saturating_sub(s.reserved)).sum(),
        }
    });
    Ok(MixWork {
        mix: bag.name.clone(),
        kinds: kinds.collect(),
        bag: match bag.content {
            Content::Grams(g) => BagSize::Grams(g),
            Content::Stones(n) => BagSize::Stones(n.min(u64::from(u32::MAX)) as u32),
        },
        bag_g: Given::or_usual(bag.tare_g, BAG_G),
        bag_price: Given::document(bag.cost),
        bag_min: Given::document(bag.time_min),
        hour_price: Given::or_usual(hour, Decimal::ZERO),
        pricing: Given { value: Pricing::Profit(profit.value), origin: profit.origin },
        currency,
        laid: zones_of(laid, bag),
    })
}

/// Weight of a glass stone by its diameter, g: a dome of 0.42 d high, two thirds of the cylinder
/// around it, glass of 2.5 g/ml (shape and density from memory; ours where nothing was weighed).
fn usual_weight_g(diameter_mm: f64) -> f64 {
    let cylinder_mm3 =
        std::f64::consts::FRAC_PI_4 * diameter_mm * diameter_mm * (0.42 * diameter_mm);
    cylinder_mm3 * 2.0 / 3.0 * 2.5 / 1000.0
}

/// The zones of the order that were laid from the mix of a bag.
fn zones_of(laid: &LaidOrder, bag: &terms::Bag) -> Vec<LaidZone> {
    let mut all = vec![];
    for p in &laid.pieces {
        let piece = &p.asked.piece;
        for (i, zone) in piece.zones.iter().enumerate() {
            let same = zone.mix.len() == bag.recipe.len()
                && zone.mix.iter().zip(&bag.recipe).all(|(z, b)| {
                    piece.kinds[z.kind].name == laid.kinds[b.kind].kind.name
                        && (z.share - b.share).abs() < 1e-9
                });
            let stones = p.lay.stones.iter().filter(|s| s.zone as usize == i).count();
            if same && stones > 0 {
                all.push(LaidZone {
                    zone: format!("{}, {}", piece.name, zone.name),
                    stones: stones as u64,
                    area_cm2: zone.region.area() / 100.0,
                    coverage: p.lay.zones[i].coverage,
                });
            }
        }
    }
    all
}
