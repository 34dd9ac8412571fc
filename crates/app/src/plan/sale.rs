//! Kits to pack and mixes to sell by the bag.

use super::PlanError;
use super::charge::{profit, single_terms};
use super::market::{GROSS, StoneCosts};
use crate::document::terms::{self, Content};
use crate::laying::{LaidOrder, LaidPiece};
use crate::order::ShelfKind;
use lay::{Finding, Severity};
use planning::Given;
use planning::buying::Purchase;
use planning::kits::{FreeStones, Kit, KitKind, KitWork, kits_on_shelf};
use planning::mixes::{BagSize, LaidZone, MixBag, MixKind, MixWork};
use planning::price::SingleTerms;
use planning::weighing::{
    Sample, USUAL_SPREAD, UnitWeight, Weighing, spread_of_weight, usual_weight_g,
};
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
    purchase: &Purchase,
    found: &mut Vec<Finding>,
) -> Result<Vec<Kit>, PlanError> {
    let mut all = vec![];
    for kit in &laid.terms.kits {
        // The document names only pieces that there are; `lay --piece` may leave some out.
        let Some(p) = laid.pieces.iter().find(|p| p.asked.piece.name == kit.piece) else {
            continue;
        };
        if p.lay.stones.is_empty() {
            found.push(Finding::new(
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
            digits: laid.terms.price.digits(),
            kinds: kit_kinds(laid, p, kit, costs),
        };
        let (kit, findings) = planning::kits::kit(&work)?;
        found.extend(findings);
        all.push(kit);
    }
    let free = laid.kinds.iter().enumerate().map(|(i, shelf)| FreeStones {
        kind: shelf.kind.name.clone(),
        stones: free_stones(laid, purchase, i),
    });
    found.extend(kits_on_shelf(&all, &free.collect::<Vec<_>>()));
    Ok(all)
}

/// Stones of a kind that lie on the shelf, neither reserved nor used by the order.
fn free_stones(laid: &LaidOrder, purchase: &Purchase, kind: usize) -> u64 {
    let name = &laid.kinds[kind].kind.name;
    let stock = laid.terms.stock.iter().filter(|s| s.kind == kind);
    let unreserved: u64 = stock.map(|s| s.stones.saturating_sub(s.reserved)).sum();
    let used: u64 = purchase.stock.iter().filter(|s| s.kind == *name).map(|s| s.used).sum();
    unreserved.saturating_sub(used)
}

fn kit_kinds(
    laid: &LaidOrder,
    p: &LaidPiece,
    kit: &terms::Kit,
    costs: &StoneCosts,
) -> Vec<KitKind> {
    p.kinds_used()
        .map(|(kind, stones)| {
            let shelf = laid.kinds.iter().find(|k| k.kind.name == kind.name);
            KitKind {
                kind: kind.name.clone(),
                size: kind.size.clone(),
                diameter_mm: kind.reach_mm,
                stones: stones as u32,
                bag_g: Given::or_usual(kit.tare_g, BAG_G),
                unit: shelf.and_then(unit_weight),
                stone_price: costs.named(laid, &kind.name),
            }
        })
        .collect()
}

/// What is known of the weight of a stone; none if nobody weighed it. A weight that somebody states
/// counts as if a gross had been weighed (ours).
fn unit_weight(shelf: &ShelfKind) -> Option<UnitWeight> {
    let stones = shelf.weighed.unwrap_or(GROSS);
    let kind = &shelf.kind;
    let shown_g = shelf.weight_g? * f64::from(stones);
    let weighing = Weighing {
        kind: kind.name.clone(),
        tare_g: Given::usual(0.0),
        // Who weighed less than ten steps had a finer scale.
        readability_g: Given::usual(STEP_G.min(shown_g / 10.0)),
        spread: Given::usual(if kind.spread_mm > 0.0 {
            spread_of_weight(kind.spread_mm, kind.reach_mm)
        } else {
            USUAL_SPREAD
        }),
        samples: vec![Sample { stones, shown_g }],
        confidence: Given::usual(0.95),
    };
    planning::weighing::unit_weight(&weighing).ok()
}

/// Every bag of the document.
pub(super) fn bags(
    laid: &LaidOrder,
    costs: &StoneCosts,
    purchase: &Purchase,
    found: &mut Vec<Finding>,
) -> Result<Vec<MixBag>, PlanError> {
    let mut all = vec![];
    // A document with bags names its currency, or it is refused.
    let Some(terms) = single_terms(laid) else { return Ok(all) };
    for bag in &laid.terms.bags {
        let work = mix_work(laid, bag, terms.clone(), costs, purchase);
        let (bag, findings) = planning::mixes::mix_bag(&work)?;
        found.extend(findings);
        all.push(bag);
    }
    Ok(all)
}

fn mix_work(
    laid: &LaidOrder,
    bag: &terms::Bag,
    terms: SingleTerms,
    costs: &StoneCosts,
    purchase: &Purchase,
) -> MixWork {
    let workshop = &laid.terms.workshop;
    let hour = workshop.wage.map(|w| w + workshop.overhead.unwrap_or_default());
    let kinds = bag.recipe.iter().map(|p| {
        let shelf = &laid.kinds[p.kind];
        MixKind {
            kind: shelf.kind.name.clone(),
            size: shelf.kind.size.clone(),
            diameter_mm: shelf.kind.reach_mm,
            share: p.share,
            unit_g: Given::or_usual(shelf.weight_g, usual_weight_g(shelf.kind.reach_mm)),
            stone_price: costs.kind(p.kind),
            shelf_stones: free_stones(laid, purchase, p.kind),
        }
    });
    MixWork {
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
        profit: profit(laid),
        terms,
        laid: zones_of(laid, bag),
    }
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
