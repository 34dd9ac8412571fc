//! A mix as a product: what a bag holds, covers, costs and sells for, and how many can be filled.

use crate::{Given, Reason};
use rust_decimal::Decimal;
use schemars::JsonSchema;
use serde::Serialize;

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
    /// How the price is found.
    pub pricing: Given<Pricing>,
    /// Digits behind the point in the order's currency.
    pub currency_digits: u32,
    /// What zones laid from this mix took; may be empty.
    pub laid: Vec<LaidZone>,
}

/// One kind of a mix.
#[derive(Clone, Debug, PartialEq)]
pub struct MixKind {
    /// The kind.
    pub kind: String,
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

/// How the price of a bag is found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Pricing {
    /// By margin, a part of the price, below 1: price = cost / (1 − margin).
    Margin(Decimal),
    /// By mark-up, a part of the cost: price = cost × (1 + mark-up).
    Markup(Decimal),
    /// At this price.
    Price(Decimal),
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
    /// The part of the price that is left over the cost.
    #[schemars(with = "Option<String>")]
    pub margin: Option<Decimal>,
    /// The area that a bag covers; none without a laid zone.
    pub covers: Option<Covers>,
    /// Full bags that the shelf can give.
    pub shelf_bags: u64,
    /// The kind that runs out first.
    pub runs_out_first: String,
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
