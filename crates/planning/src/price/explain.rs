//! How prices came about.

use super::exact::Exact;
use super::totals::{GROSS, applied};
use super::{Overhead, PiecePrice, Price, Profit, RushCharge, Terms};
use crate::hours::{Hours, clock};
use crate::{Given, Origin, Reason};
use rust_decimal::Decimal;

/// A part of 1 in per cent: `33.33 %`.
pub(super) fn per_cent(part: Decimal) -> String {
    let shown = Exact::of(part).times_n(100).rounded(2);
    shown.map_or_else(|_| part.to_string(), |p| format!("{} %", p.normalize()))
}

/// The reasons of a price, in the order in which one figure stands on another.
pub(super) fn reasons(price: &Price, terms: &Terms, hours: &Hours) -> Vec<Reason> {
    let mut reasons = vec![cost(price, terms, hours)];
    for piece in &price.pieces {
        reasons.extend([floor(price, terms, piece), suggested(price, terms, piece)]);
    }
    reasons.extend([charged(price, terms), profit(price, terms), deposit(price, terms)]);
    reasons.extend(price.per_gross.as_ref().map(|_| per_gross(price, hours)));
    reasons.push(
        Reason::new(
            "quote valid until",
            price.valid_until.to_string(),
            "day of the quote + days, the last one included",
        )
        .with("day of the quote", price.quoted_on.to_string(), Origin::Document)
        .with("days", terms.valid_days.value.to_string(), terms.valid_days.origin),
    );
    reasons
}

fn cost(price: &Price, terms: &Terms, hours: &Hours) -> Reason {
    let overhead = match terms.overhead.value {
        Overhead::PerHour(amount) => format!("{} an hour", price.amount(amount)),
        Overhead::Share(share) => format!("{} of material and labour", per_cent(share)),
    };
    let reason = Reason::new(
        "cost of the order",
        price.amount(price.cost),
        "for each piece: material used + waste × material + hours × wage + overhead, every line \
         from figures that are not rounded yet and then rounded half away from zero; over all \
         pieces + costs of the whole order, the sum of the rounded lines (so waste of all pieces \
         may differ from waste × their material by half a unit a line)",
    )
    .with("hours", clock(hours.total_min), Origin::Plan)
    .with(
        "wage",
        format!("{} an hour", price.amount(terms.wage_per_h.value)),
        terms.wage_per_h.origin,
    )
    .with("overhead", overhead, terms.overhead.origin)
    .with("waste", per_cent(terms.waste.value), terms.waste.origin);
    let lines = price.sheet.iter();
    lines.fold(reason, |reason, l| reason.with(&*l.item, price.amount(l.amount), Origin::Plan))
}

fn piece_inputs(reason: Reason, price: &Price, terms: &Terms, piece: &PiecePrice) -> Reason {
    let mut reason = reason
        .with("cost of all copies", price.amount(piece.cost), Origin::Plan)
        .with("part of the whole order's costs", price.amount(piece.order_part), Origin::Plan)
        .with("copies", piece.copies.to_string(), Origin::Document)
        .with("tax", per_cent(terms.tax.value), terms.tax.origin);
    for fee in &terms.fees {
        let text = format!("{} and {} an order", per_cent(fee.share), price.amount(fee.fixed));
        reason = reason.with(format!("fee `{}`", fee.name), text, Origin::Document);
    }
    reason
}

fn floor(price: &Price, terms: &Terms, piece: &PiecePrice) -> Reason {
    let reason = Reason::new(
        format!("floor price of {}", piece.piece),
        format!("{} a copy before tax", price.amount(piece.floor_each)),
        "(cost + part of the whole order's costs + part of the fixed fees) / copies / (1 − fees × \
         (1 + tax)), up to the next smallest unit: fees are a share of what the customer pays",
    );
    piece_inputs(reason, price, terms, piece)
}

fn suggested(price: &Price, terms: &Terms, piece: &PiecePrice) -> Reason {
    let profit = terms.profit;
    let unit = Decimal::new(1, price.digits);
    let step = Given::or_usual(terms.round_up_to, unit);
    let reason = Reason::new(
        format!("suggested price of {}", piece.piece),
        format!("{} a copy before tax", price.amount(piece.suggested_each)),
        "the floor price's cost / (1 − margin − fees × (1 + tax)), up to the next step",
    );
    piece_inputs(reason, price, terms, piece)
        .with("profit", profit_words(profit.value), profit.origin)
        .with("step", price.amount(step.value), step.origin)
}

/// Both ways, so that neither is taken for the other.
fn profit_words(profit: Profit) -> String {
    let margin = per_cent(profit.margin().part());
    let markup = per_cent(profit.markup().part());
    match profit {
        Profit::Margin(_) => format!("margin {margin} of the price, which is mark-up {markup}"),
        Profit::Markup(_) => format!("mark-up {markup} of the cost, which is margin {margin}"),
    }
}

fn charged(price: &Price, terms: &Terms) -> Reason {
    let pieces: Decimal = price.pieces.iter().map(|p| p.net).sum();
    let mut reason = Reason::new(
        "what the customer pays",
        price.amount(price.charged.gross),
        "copies × price of a copy, over all pieces + rush charge = price before tax; + tax on it, \
         rounded half away from zero",
    )
    .with("pieces", price.amount(pieces), Origin::Plan);
    if let (Some(rush), Some(terms)) = (&price.rush, terms.rush) {
        let how = match terms.charge {
            RushCharge::Share(share) => format!(" ({} of the price)", per_cent(share)),
            RushCharge::Fixed(_) => String::new(),
        };
        let name = if rush.applies { "rush charge" } else { "rush charge, not for this order" };
        reason = reason.with(name, price.amount(rush.charge) + &how, Origin::Document);
    }
    reason.with("tax rate", per_cent(terms.tax.value), terms.tax.origin).with(
        "tax",
        price.amount(price.charged.tax),
        Origin::Plan,
    )
}

fn profit(price: &Price, terms: &Terms) -> Reason {
    let fees: Decimal = price.fees.iter().map(|f| f.amount).sum();
    let shown = |part: Option<Decimal>| part.map_or_else(|| "none".to_owned(), per_cent);
    Reason::new(
        "profit",
        format!(
            "{}: margin {} of the price, mark-up {} of cost and fees",
            price.amount(price.profit),
            shown(price.margin),
            shown(price.markup)
        ),
        "price before tax − cost − fees; a mark-up m is a margin m / (1 + m)",
    )
    .with("price before tax", price.amount(price.charged.net), Origin::Plan)
    .with("cost", price.amount(price.cost), Origin::Plan)
    .with("fees", price.amount(fees), Origin::Plan)
    .with("profit wanted", profit_words(terms.profit.value), terms.profit.origin)
}

fn deposit(price: &Price, terms: &Terms) -> Reason {
    Reason::new(
        "deposit and balance",
        format!(
            "{} and {}",
            price.amount(price.charged.deposit),
            price.amount(price.charged.balance)
        ),
        "deposit = share × what the customer pays, rounded half away from zero; balance = the rest",
    )
    .with("what the customer pays", price.amount(price.charged.gross), Origin::Plan)
    .with("share", per_cent(terms.deposit.value), terms.deposit.origin)
}

fn per_gross(price: &Price, hours: &Hours) -> Reason {
    let Some(gross) = &price.per_gross else {
        return Reason::new("144 stones applied", "none", "no stones");
    };
    let minutes = hours.total_min / applied(hours) as f64 * GROSS as f64;
    Reason::new(
        "144 stones applied",
        price.amount(gross.price),
        "price before tax less the part that blanks, packaging and costs of the whole order have of \
         the cost, / stones applied × 144; published prices of stones and labour by hand lie at USD \
         20 to 35 (a costume maker's price page, 2024–25), set beside it without conversion",
    )
    .with("stones", price.amount(gross.stones), Origin::Plan)
    .with("labour", price.amount(gross.labour), Origin::Plan)
    .with("adhesive, overhead, fees, profit", price.amount(gross.on_top), Origin::Plan)
    .with("work on 144 stones", clock(minutes), Origin::Plan)
}
