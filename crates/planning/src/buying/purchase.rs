//! What buying comes to.

use crate::Reason;
use rust_decimal::Decimal;
use schemars::JsonSchema;
use serde::Serialize;

/// What to buy, what to take from the shelf, and what is left of it.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Purchase {
    /// What is bought, by supplier, then by kind.
    pub lines: Vec<Line>,
    /// One delivery for each supplier that is bought from.
    pub deliveries: Vec<Delivery>,
    /// Goods and deliveries together.
    #[schemars(with = "String")]
    pub total: Decimal,
    /// Whether nothing cheaper covers as much.
    pub proof: Proof,
    /// What each kind's need is covered with.
    pub kinds: Vec<KindCover>,
    /// What comes from the shelf, by kind and lot; only lots of kinds that are needed or used.
    pub stock: Vec<StockUse>,
    /// What is left of what is bought.
    pub leftovers: Vec<Leftover>,
    /// What all leftovers were bought for.
    #[schemars(with = "String")]
    pub leftover_value: Decimal,
    /// Stones of one kind that stand in for another.
    pub stand_ins: Vec<StandInUse>,
    /// What could not be covered.
    pub shortages: Vec<Shortage>,
    /// Which lots go to which copies.
    pub lots: Vec<PieceLots>,
    /// How the figures came about.
    pub reasons: Vec<Reason>,
}

/// One line of an order to a supplier.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Line {
    /// The supplier's name.
    pub supplier: String,
    /// The kind's name.
    pub kind: String,
    /// Packs to order.
    pub packs: u64,
    /// Stones in a pack.
    pub pack: u32,
    /// Stones in all of them.
    pub stones: u64,
    /// Price of a pack, after breaks.
    #[schemars(with = "String")]
    pub pack_price: Decimal,
    /// Packs times price.
    #[schemars(with = "String")]
    pub sum: Decimal,
    /// The lot, if the supplier names it.
    pub lot: Option<String>,
}

/// One delivery.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Delivery {
    /// The supplier's name.
    pub supplier: String,
    /// What the goods cost.
    #[schemars(with = "String")]
    pub goods: Decimal,
    /// What the delivery costs; 0 from the supplier's threshold on.
    #[schemars(with = "String")]
    pub charge: Decimal,
    /// Working days until it arrives.
    pub lead_days: u32,
}

/// How sure it is that nothing cheaper covers as much.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(tag = "is", rename_all = "snake_case")]
pub enum Proof {
    /// No purchase covers as much for less.
    Cheapest,
    /// The search ended before that was proven.
    Within {
        /// The most that the total may be above the cheapest.
        #[schemars(with = "String")]
        over: Decimal,
    },
}

/// What one kind's need is covered with, in stones.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct KindCover {
    /// The kind's name.
    pub kind: String,
    /// Stones needed.
    pub need: u64,
    /// From the kind's own stock.
    pub from_stock: u64,
    /// From what is bought of the kind itself.
    pub bought: u64,
    /// Stones of other kinds that stand in for it, from stock or bought.
    pub stand_ins: u64,
    /// Not covered.
    pub short: u64,
}

/// What happens to one lot on the shelf.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct StockUse {
    /// The kind's name.
    pub kind: String,
    /// The lot, if one was noted.
    pub lot: Option<String>,
    /// Stones taken for this order.
    pub used: u64,
    /// Stones that stay on the shelf, reserved ones included.
    pub left: u64,
    /// Of those, reserved for other orders.
    pub reserved: u64,
    /// What the used stones were bought for, if a price is known.
    #[schemars(with = "Option<String>")]
    pub value: Option<Decimal>,
}

/// What is left of one line.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Leftover {
    /// The kind's name.
    pub kind: String,
    /// The supplier's name.
    pub supplier: String,
    /// The lot, if the supplier names it.
    pub lot: Option<String>,
    /// Stones left, spare not counted: spare is part of the need.
    pub stones: u64,
    /// What they cost: stones times pack price divided by stones in a pack.
    #[schemars(with = "String")]
    pub value: Decimal,
}

/// Stones of one kind in the place of another.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct StandInUse {
    /// What was wanted.
    pub kind: String,
    /// What stands in.
    pub stand_in: String,
    /// How many stones.
    pub stones: u64,
    /// Diameter of the stand-in less that of the kind, mm.
    pub size_difference_mm: f64,
    /// Difference of colour by CIEDE2000.
    pub colour_difference: f64,
}

/// Stones that nobody sells in time.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Shortage {
    /// The kind's name.
    pub kind: String,
    /// Stones missing.
    pub stones: u64,
    /// The pack the kind is usually sold in, if known.
    pub usual_pack: Option<u32>,
    /// So many of those would do.
    pub packs: Option<u64>,
    /// What they would cost by the maker's own price, if known.
    #[schemars(with = "Option<String>")]
    pub estimate: Option<Decimal>,
}

/// The lots of one kind in the copies of one piece.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PieceLots {
    /// The piece's name.
    pub piece: String,
    /// The kind's name.
    pub kind: String,
    /// Copies by what they are set with; the copies are alike, so only their number counts.
    pub copies: Vec<CopyLots>,
    /// Copies that mix lots.
    pub mixed: u32,
}

/// Copies that are set with the same lots.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct CopyLots {
    /// How many copies.
    pub copies: u32,
    /// The lots and stones for each of these copies; more than one means that lots are mixed.
    pub parts: Vec<LotPart>,
}

/// Stones of one lot in one copy.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct LotPart {
    /// Where the stones are: `shelf, lot A17`, or `harbour stones, lot B2`.
    pub source: String,
    /// The stones' kind: another than wanted where a stand-in is used.
    pub kind: String,
    /// Stones of it in one copy.
    pub stones: u64,
}
