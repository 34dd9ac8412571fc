//! What to buy, and what a stone of each kind costs.

use super::PlanError;
use super::counts::PieceCount;
use super::when::Arrival;
use crate::laying::{LaidOrder, LaidPiece};
use lay::{Finding, Severity};
use planning::Given;
use planning::buying::{Market, Purchase, Tolerance, Use, Want, buy as cheapest};
use planning::spare::Spare;
use rust_decimal::Decimal;

/// A stand-in may differ so much in size, mm. Ours, no source.
const STAND_IN_MM: f64 = 0.15;
/// And so much in colour, CIEDE2000. Ours: beyond about 5 most people see two colours side by
/// side (common practice, no source).
const STAND_IN_COLOUR: f64 = 5.0;
/// The pack of a kind that names none: a gross.
pub(super) const GROSS: u32 = 144;

/// The cheapest purchase that covers `spare` with stones that arrive soon enough. Where the order is
/// late all the same, what nobody brings soon is bought from whoever has it.
pub(super) fn buy(
    laid: &LaidOrder,
    spare: &Spare,
    pieces: &[PieceCount],
    arrival: Arrival,
    found: &mut Vec<Finding>,
) -> Result<Purchase, PlanError> {
    let short = |p: &Purchase| p.shortages.iter().map(|s| s.stones).sum::<u64>();
    let mut asked = market(laid, spare, pieces, arrival.within_days);
    let (mut purchase, mut findings) = cheapest(&asked)?;
    if arrival.late && short(&purchase) > 0 {
        asked.days = None;
        let any_day = cheapest(&asked)?;
        if short(&any_day.0) < short(&purchase) {
            (purchase, findings) = any_day;
        }
    }
    found.extend(findings);
    found.extend(minimum_decides(asked, &purchase, laid.terms.price.digits())?);
    Ok(purchase)
}

/// Whether a supplier's minimum, and not the need, decides what is bought: found by asking the same
/// market without minimums.
fn minimum_decides(
    mut market: Market,
    purchase: &Purchase,
    digits: u32,
) -> Result<Option<Finding>, PlanError> {
    let used = |name: &str| purchase.deliveries.iter().any(|d| d.supplier == name);
    let with_minimum: Vec<String> = market
        .suppliers
        .iter()
        .filter(|s| s.minimum.is_some() && used(&s.name))
        .map(|s| format!("`{}`", s.name))
        .collect();
    if with_minimum.is_empty() {
        return Ok(None);
    }
    market.suppliers.iter_mut().for_each(|s| s.minimum = None);
    let (free, _) = cheapest(&market)?;
    let dearer = purchase.total - free.total;
    if dearer <= Decimal::ZERO || free.shortages != purchase.shortages {
        return Ok(None);
    }
    let text =
        format!("more is bought than is needed, for the minimum of {}", with_minimum.join(", "));
    let hint = "buy for several orders at once, or take another supplier";
    let found = Finding::new("plan.minimum-decides", Severity::Note, text, hint);
    Ok(Some(found.with(
        format!("{} more", crate::money(dearer, digits)),
        format!("{} without a minimum", crate::money(free.total, digits)),
    )))
}

fn market(laid: &LaidOrder, spare: &Spare, pieces: &[PieceCount], days: Option<u32>) -> Market {
    let terms = &laid.terms;
    let wants = laid.kinds.iter().enumerate().map(|(i, shelf)| {
        let name = &shelf.kind.name;
        let have = spare.kinds.iter().find(|k| k.kind == *name);
        let stock = terms.stock.iter().filter(|s| s.kind == i);
        Want {
            name: name.clone(),
            colour: shelf.kind.colour,
            diameter_mm: shelf.kind.reach_mm,
            need: have.map_or(0, |k| k.quantity),
            usual_pack: Some(shelf.pack.unwrap_or(GROSS)),
            price_per_stone: stock.filter_map(|s| s.price_per_stone).next_back(),
            stand_ins: shelf.stand_ins.clone(),
            uses: uses(pieces, name),
        }
    });
    Market {
        kinds: wants.collect(),
        stock: terms.stock.clone(),
        suppliers: terms.suppliers.clone(),
        offers: terms.offers.clone(),
        days,
        tolerance: Tolerance {
            size_mm: Given::usual(STAND_IN_MM),
            colour_difference: Given::usual(STAND_IN_COLOUR),
        },
        steps: Market::USUAL_STEPS,
    }
}

fn uses(pieces: &[PieceCount], kind: &str) -> Vec<Use> {
    let of_piece = |p: &PieceCount| {
        let count = p.kinds.iter().find(|k| k.kind == kind)?;
        Some(Use { piece: p.piece.clone(), copies: p.copies, stones_per_copy: count.stones })
    };
    pieces.iter().filter_map(of_piece).collect()
}

/// What a stone of each kind costs in this order, by the document's kinds.
pub(super) struct StoneCosts(Vec<Option<Decimal>>);

impl StoneCosts {
    /// Bought stones at their price, those from the shelf at what they were bought for; averaged by
    /// stones. Kinds without any are valued at an offer: the cheapest single pack.
    pub(super) fn of(laid: &LaidOrder, purchase: &Purchase) -> StoneCosts {
        StoneCosts(
            laid.kinds
                .iter()
                .enumerate()
                .map(|(i, k)| one(laid, purchase, i, &k.kind.name))
                .collect(),
        )
    }

    /// Of the kind with this index; none if nobody says.
    pub(super) fn kind(&self, index: usize) -> Option<Decimal> {
        self.0.get(index).copied().flatten()
    }

    /// Of the kind of this name.
    pub(super) fn named(&self, laid: &LaidOrder, name: &str) -> Option<Decimal> {
        self.kind(laid.kinds.iter().position(|k| k.kind.name == name)?)
    }
}

fn one(laid: &LaidOrder, purchase: &Purchase, index: usize, name: &str) -> Option<Decimal> {
    let (mut stones, mut sum) = (0, Decimal::ZERO);
    for line in purchase.lines.iter().filter(|l| l.kind == name) {
        stones += line.stones;
        sum += line.sum;
    }
    for lot in purchase.stock.iter().filter(|s| s.kind == name) {
        if let Some(value) = lot.value {
            stones += lot.used;
            sum += value;
        }
    }
    if stones > 0 {
        return sum.checked_div(Decimal::from(stones));
    }
    let stock =
        laid.terms.stock.iter().filter(|s| s.kind == index).filter_map(|s| s.price_per_stone);
    let offers = laid.terms.offers.iter().filter(|o| o.kind == index);
    let offered = offers.filter_map(|o| o.price.checked_div(Decimal::from(o.pack)));
    stock.chain(offered).min()
}

/// The kinds of the order whose cost nobody says, as a finding.
pub(super) fn unpriced(laid: &LaidOrder, spare: &Spare, costs: &StoneCosts) -> Option<Finding> {
    let used = |name: &str| spare.kinds.iter().any(|k| k.kind == name && k.quantity > 0);
    let missing = laid
        .kinds
        .iter()
        .enumerate()
        .filter(|(i, k)| costs.kind(*i).is_none() && used(&k.kind.name));
    let names: Vec<&str> = missing.map(|(_, k)| k.kind.name.as_str()).collect();
    (!names.is_empty()).then(|| {
        Finding::new(
            "plan.price-missing",
            Severity::Serious,
            format!("nobody says what these cost, so they count as nothing: {}", names.join(", ")),
            "give the stock a `price`, or add an offer of a supplier",
        )
    })
}

/// Working days until the last bought stone of a piece arrives; none if nothing is bought for it.
pub(super) fn lead_days(purchase: &Purchase, p: &LaidPiece) -> Option<u32> {
    let of_piece = |kind: &str| p.asked.piece.kinds.iter().any(|k| k.name == kind);
    let lines = purchase.lines.iter().filter(|l| of_piece(&l.kind));
    let days = lines.filter_map(|l| {
        purchase.deliveries.iter().find(|d| d.supplier == l.supplier).map(|d| d.lead_days)
    });
    days.max()
}
