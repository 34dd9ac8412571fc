//! What buying starts from: what is wanted, what lies on the shelf, and who sells what.

use crate::Given;
use lay::Colour;
use rust_decimal::Decimal;

/// All that decides what to buy.
#[derive(Clone, Debug, PartialEq)]
pub struct Market {
    /// Every kind that a want, the shelf or an offer names; places elsewhere are indices into it.
    pub kinds: Vec<Want>,
    /// What lies on the shelf.
    pub stock: Vec<Stock>,
    /// Who sells.
    pub suppliers: Vec<Supplier>,
    /// What they sell.
    pub offers: Vec<Offer>,
    /// Working days until the stones must be there; without it every supplier is in time.
    pub days: Option<u32>,
    /// How far a stand-in may be from what it stands in for.
    pub tolerance: Tolerance,
    /// Work that the search may do, in steps: one step is one purchase of one kind looked at. The
    /// same steps give the same purchase on every machine. [`Market::USUAL_STEPS`] is usual.
    pub steps: u64,
}

impl Market {
    /// Steps within which markets of a hundred kinds and five suppliers are usually proven cheapest.
    pub const USUAL_STEPS: u64 = 10_000_000;
}

/// One kind of stone and how many of it are needed.
#[derive(Clone, Debug, PartialEq)]
pub struct Want {
    /// The kind's name.
    pub name: String,
    /// Its colour, for stand-ins.
    pub colour: Colour,
    /// Its mean diameter, mm, for stand-ins.
    pub diameter_mm: f64,
    /// Stones to have, spare included; 0 for a kind that is only a stand-in or only in stock.
    pub need: u64,
    /// Stones in the pack it is usually sold in, for what no supplier covers.
    pub usual_pack: Option<u32>,
    /// A price per stone that the maker knows, for what no supplier covers and for stock without a
    /// price.
    pub price_per_stone: Option<Decimal>,
    /// Kinds (indices) that may stand in for it, the preferred first.
    pub stand_ins: Vec<usize>,
    /// Where its stones go; together at most `need`, the rest is spare.
    pub uses: Vec<Use>,
}

/// The stones of one kind in one piece.
#[derive(Clone, Debug, PartialEq)]
pub struct Use {
    /// The piece's name.
    pub piece: String,
    /// How many copies are made.
    pub copies: u32,
    /// Stones of the kind in each copy.
    pub stones_per_copy: u64,
}

/// Stones of one kind and one lot on the shelf.
#[derive(Clone, Debug, PartialEq)]
pub struct Stock {
    /// The kind (index).
    pub kind: usize,
    /// The lot, if the maker noted one; stock without a lot is taken for a lot of its own.
    pub lot: Option<String>,
    /// Stones on the shelf, reserved ones included.
    pub stones: u64,
    /// Stones put by for other orders, at most `stones`.
    pub reserved: u64,
    /// What a stone was bought for.
    pub price_per_stone: Option<Decimal>,
}

/// Someone who sells stones.
#[derive(Clone, Debug, PartialEq)]
pub struct Supplier {
    /// The supplier's name.
    pub name: String,
    /// Charge for a delivery.
    pub delivery: Decimal,
    /// Goods worth this much are delivered free.
    pub free_from: Option<Decimal>,
    /// Goods worth less are not sold.
    pub minimum: Option<Decimal>,
    /// Working days until a delivery arrives.
    pub lead_days: u32,
}

/// One kind in one pack size at one supplier.
#[derive(Clone, Debug, PartialEq)]
pub struct Offer {
    /// The supplier (index).
    pub supplier: usize,
    /// The kind (index).
    pub kind: usize,
    /// Stones in a pack, above 0.
    pub pack: u32,
    /// Price of a pack.
    pub price: Decimal,
    /// Price breaks, by rising number of packs and falling price.
    pub breaks: Vec<Break>,
    /// Packs that the supplier has; without it, as many as wanted.
    pub packs: Option<u64>,
    /// The lot all of them are from, if the supplier names it.
    pub lot: Option<String>,
}

/// From so many packs on, every pack of the line costs less.
#[derive(Clone, Debug, PartialEq)]
pub struct Break {
    /// Packs in the line, 2 or more.
    pub packs: u64,
    /// Price of each pack of the line.
    pub price: Decimal,
}

/// How far a stand-in may be from what it stands in for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tolerance {
    /// Largest difference of the mean diameters, mm.
    pub size_mm: Given<f64>,
    /// Largest difference of colour by CIEDE2000.
    pub colour_difference: Given<f64>,
}
