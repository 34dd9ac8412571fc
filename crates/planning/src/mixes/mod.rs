//! A mix as a product: what a bag holds, covers, costs and sells for, and how many can be filled.

mod check;
mod remainder;
mod said;
#[cfg(test)]
mod tests;

pub use remainder::largest_remainder;
pub(crate) use said::PAGES;

use crate::kits::{Label, SMALL_PARTS_MM};
use crate::price::{PriceError, Profit, SingleTerms, price_single};
use crate::{Given, Reason};
use lay::Finding;
use rust_decimal::{Decimal, RoundingStrategy};
use schemars::JsonSchema;
use serde::Serialize;
use units::{grouped, trimmed};

/// A mix to be sold by the bag.
#[derive(Clone, Debug, PartialEq)]
pub struct MixWork {
    /// Its name.
    pub mix: String,
    /// Its kinds.
    pub kinds: Vec<MixKind>,
    /// How much goes into a bag.
    pub bag: BagSize,
    /// Weight of the empty bag, g.
    pub bag_g: Given<f64>,
    /// Price of the empty bag with its label.
    pub bag_price: Given<Decimal>,
    /// Weighing out, filling and labelling one bag, min, hands-on.
    pub bag_min: Given<f64>,
    /// What an hour of work costs, wage and overhead together.
    pub hour_price: Given<Decimal>,
    /// The profit that a bag is to leave.
    pub profit: Given<Profit>,
    /// The order's currency, tax, fees and step of a round price. A bag is sold by itself, so that
    /// each bears the fixed parts of the fees.
    pub terms: SingleTerms,
    /// What zones laid from this mix took; may be empty.
    pub laid: Vec<LaidZone>,
}

/// One kind of a mix.
#[derive(Clone, Debug, PartialEq)]
pub struct MixKind {
    /// The kind.
    pub kind: String,
    /// Its size as the maker wrote it.
    pub size: String,
    /// Its diameter, mm.
    pub diameter_mm: f64,
    /// Its share by count, on any positive scale.
    pub share: f64,
    /// Weight of one stone, g.
    pub unit_g: Given<f64>,
    /// Price of one stone, if known.
    pub stone_price: Option<Decimal>,
    /// Stones on the shelf that nothing else has reserved.
    pub shelf_stones: u64,
}

/// How much goes into a bag.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BagSize {
    /// At least this weight of stones, g.
    Grams(f64),
    /// This many stones.
    Stones(u32),
}

/// A zone that was laid from the mix.
#[derive(Clone, Debug, PartialEq)]
pub struct LaidZone {
    /// Piece and zone, for people.
    pub zone: String,
    /// Stones that lie in it.
    pub stones: u64,
    /// Area of the zone, cm².
    pub area_cm2: f64,
    /// Area of its stones, as drawn, divided by the area of the zone.
    pub coverage: f64,
}

/// A bag of a mix.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct MixBag {
    /// The mix.
    pub mix: String,
    /// What a bag holds.
    pub contents: Vec<BagLine>,
    /// Stones in a bag.
    pub stones: u64,
    /// Weight of its stones, g.
    pub grams: f64,
    /// What the scale shows with the bag when it is full, g.
    pub gross_g: f64,
    /// What a bag costs; none where the price of a kind is not known.
    pub cost: Option<BagCost>,
    /// What to charge for it, before tax.
    #[schemars(with = "Option<String>")]
    pub price: Option<Decimal>,
    /// What fees take of it, of one bag sold by itself.
    #[schemars(with = "Option<String>")]
    pub fees: Option<Decimal>,
    /// The part of the price that is left over cost and fees, to four decimals.
    #[schemars(with = "Option<String>")]
    pub margin: Option<Decimal>,
    /// The area that a bag covers; none without a laid zone.
    pub covers: Option<Covers>,
    /// Full bags that the shelf can give.
    pub shelf_bags: u64,
    /// The kind that runs out first.
    pub runs_out_first: String,
    /// What stands on every bag.
    pub labels: Vec<Label>,
    /// How the figures came about.
    pub reasons: Vec<Reason>,
}

/// One kind in a bag.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct BagLine {
    /// The kind.
    pub kind: String,
    /// Its share by count that was asked for, 0..=1.
    pub share: f64,
    /// Stones in a bag.
    pub stones: u64,
    /// Their weight, g.
    pub grams: f64,
    /// Bags that the shelf can give of this kind alone; none if a bag holds none of it.
    pub shelf_bags: Option<u64>,
}

/// What a bag costs, in the order's currency.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct BagCost {
    /// Its stones.
    #[schemars(with = "String")]
    pub stones: Decimal,
    /// The bag itself.
    #[schemars(with = "String")]
    pub bag: Decimal,
    /// Filling it.
    #[schemars(with = "String")]
    pub work: Decimal,
    /// All together.
    #[schemars(with = "String")]
    pub total: Decimal,
}

/// The area that one bag covers, as laid zones show it.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Covers {
    /// Over all zones: their area by their stones, times the stones of a bag, cm².
    pub mean_cm2: f64,
    /// By the zone that took the most stones for its area, cm².
    pub least_cm2: f64,
    /// By the zone that took the fewest, cm².
    pub most_cm2: f64,
    /// Standard deviation between zones, cm²; none for a single zone.
    pub spread_cm2: Option<f64>,
    /// Coverage of all zones together.
    pub coverage: f64,
    /// How many zones it stands on.
    pub zones: u32,
}

/// Why a mix cannot be bagged.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum MixError {
    /// No kind, or shares that add up to nothing.
    #[error("mix `{mix}` has no kind with a share")]
    Empty {
        /// The mix.
        mix: String,
    },
    /// Less than one stone.
    #[error(
        "a bag of `{mix}` of {grams} g is lighter than one stone of its lightest kind, `{kind}` at \
         {} g: put more in, or say its `stones`", trimmed(*.unit_g, 4)
    )]
    BelowOneStone {
        /// The mix.
        mix: String,
        /// What a bag is to weigh, g.
        grams: f64,
        /// Its lightest kind.
        kind: String,
        /// Weight of one stone of it, g.
        unit_g: f64,
    },
    /// No price leaves the profit wanted.
    #[error("a bag of `{mix}`: {error}")]
    Price {
        /// The mix.
        mix: String,
        /// Why.
        error: PriceError,
    },
    /// A number out of its range.
    #[error("{what} in mix `{mix}` must be {wanted}: {value}")]
    Range {
        /// Which number.
        what: String,
        /// The mix.
        mix: String,
        /// The value given.
        value: String,
        /// What it must be.
        wanted: &'static str,
    },
}

/// What a bag of a mix holds, covers, costs and sells for, and how many the shelf can fill.
///
/// # Errors
/// A mix without shares, or numbers out of their range.
pub fn mix_bag(work: &MixWork) -> Result<(MixBag, Vec<Finding>), MixError> {
    check::check(work)?;
    let shares = normalized(work);
    let counts = bag_counts(work, &shares);
    let line = |(kind, (share, stones)): (&MixKind, (&f64, &u64))| BagLine {
        kind: kind.kind.clone(),
        share: *share,
        stones: *stones,
        grams: *stones as f64 * kind.unit_g.value,
        shelf_bags: kind.shelf_stones.checked_div(*stones),
    };
    let contents: Vec<BagLine> =
        work.kinds.iter().zip(shares.iter().zip(&counts)).map(line).collect();
    let stones: u64 = counts.iter().sum();
    let grams: f64 = contents.iter().map(|l| l.grams).sum();
    let cost = cost(work, &counts)?;
    let (price, fees) = priced(work, cost.as_ref())?;
    let left = |c: &BagCost| price.and_then(|p| (p - fees? - c.total).checked_div(p));
    let margin = cost.as_ref().and_then(left);
    // Some line has stones, since the bag has.
    let first_out = contents.iter().filter(|l| l.shelf_bags.is_some()).min_by_key(|l| l.shelf_bags);
    let mut bag = MixBag {
        mix: work.mix.clone(),
        stones,
        grams,
        gross_g: grams + work.bag_g.value,
        price,
        fees,
        margin: margin.map(|m| m.round_dp(4)),
        covers: covers(&work.laid, stones),
        shelf_bags: first_out.and_then(|l| l.shelf_bags).unwrap_or(0),
        runs_out_first: first_out.map_or(String::new(), |l| l.kind.clone()),
        cost: cost.map(|c| shown_cost(&c, work.terms.currency.digits())),
        contents,
        labels: vec![],
        reasons: vec![],
    };
    bag.labels = vec![label(work, &bag)];
    let findings = said::findings(work, &bag);
    bag.reasons = said::reasons(work, &bag);
    Ok((bag, findings))
}

fn normalized(work: &MixWork) -> Vec<f64> {
    let sum: f64 = work.kinds.iter().map(|k| k.share).sum();
    work.kinds.iter().map(|k| k.share / sum).collect()
}

/// Stones of each kind in a bag. By weight, the fewest that reach it, so that no bag is light.
fn bag_counts(work: &MixWork, shares: &[f64]) -> Vec<u64> {
    let BagSize::Grams(grams) = work.bag else {
        let BagSize::Stones(n) = work.bag else { return vec![] };
        return largest_remainder(shares, u64::from(n));
    };
    let weigh = |counts: &[u64]| -> f64 {
        work.kinds.iter().zip(counts).map(|(k, n)| k.unit_g.value * *n as f64).sum()
    };
    let mean_g: f64 = work.kinds.iter().zip(shares).map(|(k, s)| k.unit_g.value * s).sum();
    // Rounding moves less than one stone of each kind, so we begin that far below and go up. One
    // more stone may take another kind one down (the Alabama paradox): each count is weighed.
    let below = (grams / mean_g).floor() as u64;
    let mut n = below.saturating_sub(shares.len() as u64).max(1);
    loop {
        let counts = largest_remainder(shares, n);
        if weigh(&counts) >= grams * (1.0 - 1e-12) {
            return counts;
        }
        n += 1;
    }
}

/// Unrounded; none where a price is missing.
fn cost(work: &MixWork, counts: &[u64]) -> Result<Option<BagCost>, MixError> {
    let mut stones = Decimal::ZERO;
    for (kind, n) in work.kinds.iter().zip(counts) {
        match kind.stone_price {
            Some(price) => stones += price * Decimal::from(*n),
            None if *n == 0 => {}
            None => return Ok(None),
        }
    }
    let minutes = Decimal::try_from(work.bag_min.value).map_err(|_| MixError::Range {
        what: "time to fill a bag".into(),
        mix: work.mix.clone(),
        value: work.bag_min.value.to_string(),
        wanted: "a number of minutes",
    })?;
    let filling = work.hour_price.value * minutes / Decimal::from(60);
    let bag = work.bag_price.value;
    Ok(Some(BagCost { stones, bag, work: filling, total: stones + bag + filling }))
}

/// Price before tax and what fees take of it; none where a cost is missing.
fn priced(
    work: &MixWork,
    cost: Option<&BagCost>,
) -> Result<(Option<Decimal>, Option<Decimal>), MixError> {
    let Some(cost) = cost else { return Ok((None, None)) };
    // A quotient that does not end must not be pushed up by its last digit.
    let single = price_single(&work.terms, work.profit.value, cost.total.round_dp(18))
        .map_err(|error| MixError::Price { mix: work.mix.clone(), error })?;
    Ok((Some(single.price), Some(single.fees)))
}

/// What stands on a bag: name, contents, weight of the stones, area, and whom it is not for.
fn label(work: &MixWork, bag: &MixBag) -> Label {
    let mut lines = vec![work.mix.clone()];
    for (kind, line) in work.kinds.iter().zip(&bag.contents).filter(|(_, l)| l.stones > 0) {
        let noun = if line.stones == 1 { "stone" } else { "stones" };
        lines.push(format!("{}, {}: {} {noun}", kind.kind, kind.size, grouped(line.stones)));
    }
    lines.push(format!("net weight {} g", trimmed(bag.grams, 1)));
    lines.extend(bag.covers.as_ref().map(|c| format!("covers {} cm²", trimmed(c.mean_cm2, 0))));
    if work.kinds.iter().any(|k| k.diameter_mm <= SMALL_PARTS_MM) {
        lines.push("small parts: not for children under 3 years".into());
    }
    Label { lines }
}

/// To the currency's smallest unit, half away from zero, with all its digits.
fn rounded(amount: Decimal, digits: u32) -> Decimal {
    let mut amount = amount.round_dp_with_strategy(digits, RoundingStrategy::MidpointAwayFromZero);
    amount.rescale(digits);
    amount
}

/// Each part to the currency's smallest unit, half away from zero. The total is rounded by itself
/// and may differ from the sum of what is shown by a unit.
fn shown_cost(cost: &BagCost, digits: u32) -> BagCost {
    let shown = |amount: Decimal| rounded(amount, digits);
    BagCost {
        stones: shown(cost.stones),
        bag: shown(cost.bag),
        work: shown(cost.work),
        total: shown(cost.total),
    }
}

fn covers(laid: &[LaidZone], stones: u64) -> Option<Covers> {
    let n = stones as f64;
    let each: Vec<f64> = laid.iter().map(|z| z.area_cm2 / z.stones as f64 * n).collect();
    let area: f64 = laid.iter().map(|z| z.area_cm2).sum();
    let all: f64 = laid.iter().map(|z| z.stones as f64).sum();
    let covered: f64 = laid.iter().map(|z| z.area_cm2 * z.coverage).sum();
    let zones = each.len();
    if zones == 0 {
        return None;
    }
    let middle = each.iter().sum::<f64>() / zones as f64;
    let squares: f64 = each.iter().map(|a| (a - middle) * (a - middle)).sum();
    Some(Covers {
        mean_cm2: area / all * n,
        least_cm2: each.iter().copied().fold(f64::INFINITY, f64::min),
        most_cm2: each.iter().copied().fold(0.0, f64::max),
        spread_cm2: (zones > 1).then(|| (squares / (zones - 1) as f64).sqrt()),
        coverage: covered / area,
        zones: zones as u32,
    })
}
