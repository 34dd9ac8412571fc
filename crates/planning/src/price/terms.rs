//! What a price is made from: the maker's terms, and what an order is made of.

use super::{Currency, Profit};
use crate::Given;
#[cfg(doc)]
use crate::hours::Hours;
use jiff::civil::Date;
use rust_decimal::Decimal;

/// How an order is to be priced. Shares are parts of 1, money is in `currency`.
#[derive(Clone, Debug, PartialEq)]
pub struct Terms {
    /// The order's one currency.
    pub currency: Currency,
    /// An hour of the maker's work.
    pub wage_per_h: Given<Decimal>,
    /// Rent, light, tools.
    pub overhead: Given<Overhead>,
    /// Material of spoilt work, as a share of all material: over and above the spare stones and the
    /// waste of adhesive that the materials already hold.
    pub waste: Given<Decimal>,
    /// The profit wanted.
    pub profit: Given<Profit>,
    /// Tax on the price, shown apart.
    pub tax: Given<Decimal>,
    /// What a platform or a card costs.
    pub fees: Vec<Fee>,
    /// The price of one copy before tax goes up to a multiple of this; to the smallest unit, if
    /// `None`.
    pub round_up_to: Option<Decimal>,
    /// What haste costs.
    pub rush: Option<Rush>,
    /// Share of the whole that is paid before the work begins.
    pub deposit: Given<Decimal>,
    /// Day of the quote.
    pub quoted_on: Date,
    /// How many days it holds, the last one included.
    pub valid_days: Given<u32>,
    /// For how many copies to say a price, in any order; what is said twice counts once.
    pub quantities: Vec<u32>,
}

/// Costs of the workshop that no order causes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Overhead {
    /// So much for each hour of work.
    PerHour(Decimal),
    /// This share of material, waste and labour.
    Share(Decimal),
}

/// A fee on what the customer pays, tax and rush included.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fee {
    /// Its name.
    pub name: String,
    /// Share of what the customer pays.
    pub share: Decimal,
    /// So much besides, once an order (or a thing that is sold by itself).
    pub fixed: Decimal,
}

/// A charge for haste, on the price before tax.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rush {
    /// How much.
    pub charge: RushCharge,
    /// Whether this order is one.
    pub applies: bool,
}

/// How haste is charged.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RushCharge {
    /// This share of the price before tax.
    Share(Decimal),
    /// So much an order.
    Fixed(Decimal),
}

/// What an order is made of.
#[derive(Clone, Debug, PartialEq)]
pub struct Outlay {
    /// For each piece, in the order of [`Hours::pieces`].
    pub pieces: Vec<PieceOutlay>,
    /// Costs of the whole order that no piece causes alone: delivery of materials, a parcel.
    pub whole_order: Vec<OrderCost>,
    /// What has to be bought for this order, deliveries included, if that is known.
    pub to_buy: Option<Decimal>,
}

/// What one copy of a piece is made of.
#[derive(Clone, Debug, PartialEq)]
pub struct PieceOutlay {
    /// Its materials.
    pub materials: Vec<Material>,
    /// The maker's own price of a copy before tax, if there is one.
    pub asked: Option<Decimal>,
}

/// One material of a piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Material {
    /// What sort.
    pub sort: MaterialSort,
    /// Its name.
    pub name: String,
    /// What one copy uses up, lost stones and waste of adhesive included: a customer pays what is
    /// used, what is left over goes back to the shelf.
    pub each: Decimal,
}

/// Sorts of material.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MaterialSort {
    /// Stones.
    Stones,
    /// Adhesive.
    Adhesive,
    /// The bare thing.
    Blank,
    /// Box, card, tissue.
    Packaging,
    /// Anything else.
    Other,
}

/// A cost of the whole order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OrderCost {
    /// Its name.
    pub name: String,
    /// How much.
    pub amount: Decimal,
}
