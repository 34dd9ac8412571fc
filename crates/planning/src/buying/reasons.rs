//! How the figures of a purchase came about.

use super::market::Market;
use super::purchase::{Proof, Purchase};
use crate::{Origin, Reason};
use units::{grouped, trimmed};

/// Reasons for the total, for what is left over and for how far stand-ins may be off.
pub(super) fn reasons(market: &Market, purchase: &Purchase) -> Vec<Reason> {
    let mut reasons = vec![total(market, purchase)];
    if !purchase.leftovers.is_empty() {
        reasons.push(leftover(purchase));
    }
    if market.kinds.iter().any(|k| k.need > 0 && !k.stand_ins.is_empty()) {
        let t = &market.tolerance;
        let stones: u64 = purchase.stand_ins.iter().map(|s| s.stones).sum();
        reasons.push(
            Reason::new(
                "stand-ins",
                format!("{} stones", grouped(stones)),
                "allowed where |diameter − diameter| ≤ size and colour difference ≤ limit \
                 (CIEDE2000; Sharma, Wu, Dalal 2005)",
            )
            .with("size", format!("{} mm", trimmed(t.size_mm.value, 3)), t.size_mm.origin)
            .with(
                "limit",
                trimmed(t.colour_difference.value, 2),
                t.colour_difference.origin,
            ),
        );
    }
    reasons
}

fn total(market: &Market, purchase: &Purchase) -> Reason {
    let proof = match &purchase.proof {
        Proof::Cheapest => "no purchase that covers as much costs less",
        Proof::Within { .. } => "the best that was found within the steps",
    };
    let need: u64 = purchase.kinds.iter().map(|k| k.need).sum();
    let stock: u64 = purchase.stock.iter().map(|s| s.used).sum();
    let mut reason = Reason::new(
        "purchase",
        purchase.total.to_string(),
        format!("least sum of packs × pack price + delivery; {proof} (branch and bound)"),
    )
    .with("needed", format!("{} stones", grouped(need)), Origin::Plan)
    .with("from the shelf", format!("{} stones", grouped(stock)), Origin::Document);
    if let Some(days) = market.days {
        reason = reason.with("days left", format!("{days} working days"), Origin::Plan);
    }
    for d in &purchase.deliveries {
        reason = reason
            .with(format!("goods from {}", d.supplier), d.goods.to_string(), Origin::Plan)
            .with(format!("delivery from {}", d.supplier), d.charge.to_string(), Origin::Document);
    }
    reason
}

fn leftover(purchase: &Purchase) -> Reason {
    let mut reason = Reason::new(
        "left over",
        purchase.leftover_value.to_string(),
        "sum of stones left × pack price ÷ stones in a pack",
    );
    for l in &purchase.leftovers {
        let value = format!("{} stones, {}", grouped(l.stones), l.value);
        reason = reason.with(format!("{} from {}", l.kind, l.supplier), value, Origin::Plan);
    }
    reason
}
