//! A piece sold as a kit, or taught to a class: what goes into each bag.

use crate::{Given, Reason};
use rust_decimal::Decimal;
use schemars::JsonSchema;
use serde::Serialize;

/// A piece to be packed as kits.
#[derive(Clone, Debug, PartialEq)]
pub struct KitWork {
    /// Name of the kit, on its labels.
    pub kit: String,
    /// The piece.
    pub piece: String,
    /// Number of kits: to sell, or heads in the class.
    pub kits: u32,
    /// How sure each kit has to be enough, all its kinds together, above 0 and below 1.
    pub sure: Given<f64>,
    /// Share of the stones that a person handles and loses, breaks or cannot use, 0 to below 1.
    pub loss: Given<f64>,
    /// The stones of one copy, by kind.
    pub kinds: Vec<KitKind>,
}

/// One kind of a kit. It has a bag of its own in every kit.
#[derive(Clone, Debug, PartialEq)]
pub struct KitKind {
    /// The kind.
    pub kind: String,
    /// Its size as the maker wrote it.
    pub size: String,
    /// Its diameter, mm.
    pub diameter_mm: f64,
    /// Stones that one copy takes.
    pub stones: u32,
    /// Stones to put in, spare included, if that is said; else by `sure` and `loss`.
    pub put_in: Option<Given<u32>>,
    /// Weight of the empty bag, g.
    pub bag_g: Given<f64>,
    /// What was weighed, if anything: then bags can be filled on a scale.
    pub unit: Option<crate::weighing::UnitWeight>,
    /// Price of one stone, if known.
    pub stone_price: Option<Decimal>,
}

/// What goes into every kit, and what the whole class takes.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Kit {
    /// Name of the kit.
    pub kit: String,
    /// The piece.
    pub piece: String,
    /// Number of kits.
    pub kits: u32,
    /// The gathering list: one line for each kind.
    pub gathering: Vec<GatheringLine>,
    /// Stones in one kit.
    pub stones_per_kit: u64,
    /// Stones in all kits.
    pub stones: u64,
    /// Grams in all kits, without bags; none where a kind was not weighed.
    pub grams: Option<f64>,
    /// What the stones of all kits cost; none where a price is missing.
    #[schemars(with = "Option<String>")]
    pub stones_cost: Option<Decimal>,
    /// Stones that would do if the spare lay in one dish for all instead of in each bag.
    pub stones_with_shared_spare: u64,
    /// Labels: kit by kit, kind by kind.
    pub labels: Vec<Label>,
    /// How the figures came about.
    pub reasons: Vec<Reason>,
}

/// One kind of a kit.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct GatheringLine {
    /// The kind.
    pub kind: String,
    /// Its size.
    pub size: String,
    /// Stones that one copy takes.
    pub stones: u32,
    /// Stones more, for what gets lost.
    pub spare: u32,
    /// Stones to put into each bag.
    pub put_in: u32,
    /// Their weight, g.
    pub grams: Option<f64>,
    /// What the scale shows with the bag when it is full, g.
    pub gross_g: Option<f64>,
    /// By how many stones a bag filled by weight may be off, at the confidence of the weighing.
    pub within_stones: Option<f64>,
    /// Stones in all kits.
    pub all_stones: u64,
    /// Grams in all kits, without bags.
    pub all_grams: Option<f64>,
}

/// What stands on one bag, line by line.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Label {
    /// The lines.
    pub lines: Vec<String>,
}
