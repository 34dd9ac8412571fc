//! What an order costs its maker and what to charge for it.

mod cost;
mod currency;
mod exact;
mod explain;
mod profit;
mod quote;
mod sheet;

pub use currency::Currency;
pub(crate) use explain::PAGES;
pub use profit::{Margin, Markup, Profit};
pub use quote::{Quote, quote_text};

use crate::hours::Hours;
use crate::{Given, Reason};
use jiff::civil::Date;
use lay::Finding;
use rust_decimal::Decimal;
use schemars::JsonSchema;
use serde::Serialize;

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
    /// For how many copies to say a price.
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
    /// So much besides, once an order.
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

/// What an order costs, line by line, and what to charge.
///
/// Amounts are rounded to the currency's smallest unit, half away from zero, line by line for all
/// copies together; sums are sums of the rounded lines. Prices are made from the costs before they
/// are rounded, and go up to the next unit or step.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Price {
    /// ISO 4217 code.
    pub currency: String,
    /// Decimal digits of its smallest unit.
    pub digits: u32,
    /// What the order costs, each item over all pieces.
    pub sheet: Vec<CostLine>,
    /// Sum of the sheet.
    #[schemars(with = "String")]
    pub cost: Decimal,
    /// Fees on what the customer pays.
    pub fees: Vec<FeeLine>,
    /// What is left of the price before tax after cost and fees.
    #[schemars(with = "String")]
    pub profit: Decimal,
    /// That profit as a part of the price before tax, to four decimals; none at a price of nothing.
    #[schemars(with = "Option<String>")]
    pub margin: Option<Decimal>,
    /// That profit as a part of cost and fees, to four decimals; none at a cost of nothing.
    #[schemars(with = "Option<String>")]
    pub markup: Option<Decimal>,
    /// Each piece.
    pub pieces: Vec<PiecePrice>,
    /// All pieces at their floor prices, before tax.
    #[schemars(with = "String")]
    pub floor: Decimal,
    /// All pieces at their suggested prices, before tax.
    #[schemars(with = "String")]
    pub suggested: Decimal,
    /// Tax rate, as a part of 1.
    #[schemars(with = "String")]
    pub tax_share: Decimal,
    /// Deposit, as a part of 1.
    #[schemars(with = "String")]
    pub deposit_share: Decimal,
    /// What the customer pays, rush included if this order is one.
    pub charged: Totals,
    /// What haste costs.
    pub rush: Option<RushPrice>,
    /// What has to be bought, which is more than what is used if packs leave something over.
    #[schemars(with = "Option<String>")]
    pub to_buy: Option<Decimal>,
    /// Stones and labour for 144 stones applied.
    pub per_gross: Option<PerGross>,
    /// Day of the quote.
    #[schemars(with = "String")]
    pub quoted_on: Date,
    /// Last day on which it holds.
    #[schemars(with = "String")]
    pub valid_until: Date,
    /// How the figures came about.
    pub reasons: Vec<Reason>,
}

/// One item of what an order costs.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct CostLine {
    /// What it is: `stones`, `setting`, `overhead`.
    pub item: String,
    /// For the order.
    #[schemars(with = "String")]
    pub amount: Decimal,
}

/// One fee.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct FeeLine {
    /// Its name.
    pub name: String,
    /// Its share of what the customer pays and its fixed part.
    #[schemars(with = "String")]
    pub amount: Decimal,
}

/// What a customer pays.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Totals {
    /// Before tax.
    #[schemars(with = "String")]
    pub net: Decimal,
    /// Tax.
    #[schemars(with = "String")]
    pub tax: Decimal,
    /// With tax.
    #[schemars(with = "String")]
    pub gross: Decimal,
    /// Before the work begins.
    #[schemars(with = "String")]
    pub deposit: Decimal,
    /// The rest.
    #[schemars(with = "String")]
    pub balance: Decimal,
}

/// What haste costs.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct RushPrice {
    /// On top of the price before tax.
    #[schemars(with = "String")]
    pub charge: Decimal,
    /// Whether this order is one.
    pub applies: bool,
    /// The order in haste.
    pub rushed: Totals,
    /// The order without haste.
    pub unhurried: Totals,
}

/// What one piece costs and what to charge for it.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PiecePrice {
    /// Its name.
    pub piece: String,
    /// How many copies.
    pub copies: u32,
    /// What it costs, line by line.
    pub sheet: Vec<PieceLine>,
    /// Sum of the lines for all copies.
    #[schemars(with = "String")]
    pub cost: Decimal,
    /// Sum of the lines for one copy.
    #[schemars(with = "String")]
    pub cost_each: Decimal,
    /// Its part of the costs of the whole order, by its own cost.
    #[schemars(with = "String")]
    pub order_part: Decimal,
    /// Lowest price of a copy that covers cost and fees, before tax.
    #[schemars(with = "String")]
    pub floor_each: Decimal,
    /// Price of a copy that leaves the profit wanted, before tax.
    #[schemars(with = "String")]
    pub suggested_each: Decimal,
    /// Price of a copy that is charged, before tax: the maker's own, or the suggested one.
    #[schemars(with = "String")]
    pub each: Decimal,
    /// All copies at that price, before tax.
    #[schemars(with = "String")]
    pub net: Decimal,
    /// Prices if this piece were ordered alone in these quantities.
    pub by_quantity: Vec<QuantityPrice>,
}

/// One line of what a piece costs.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PieceLine {
    /// What it is: `stones`, `setting`, `overhead`.
    pub item: String,
    /// Which one, if there are several: `sea glass`.
    pub name: Option<String>,
    /// For one copy. Rounding is spread so that these add up to the cost of a copy: the largest
    /// remainders are rounded up.
    #[schemars(with = "String")]
    pub each: Decimal,
    /// For all copies.
    #[schemars(with = "String")]
    pub amount: Decimal,
}

/// The price at one quantity, without rush.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct QuantityPrice {
    /// How many copies.
    pub copies: u32,
    /// Hours of work on one copy, its part of every set-up included, min.
    pub each_min: f64,
    /// Lowest price of a copy that covers cost and fees, before tax.
    #[schemars(with = "String")]
    pub floor_each: Decimal,
    /// Suggested price of a copy, before tax.
    #[schemars(with = "String")]
    pub each: Decimal,
    /// All copies, before tax.
    #[schemars(with = "String")]
    pub net: Decimal,
    /// Tax.
    #[schemars(with = "String")]
    pub tax: Decimal,
    /// All copies with tax.
    #[schemars(with = "String")]
    pub gross: Decimal,
}

/// Stones and labour for 144 stones applied: the measure by which makers compare.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PerGross {
    /// Stones alone, at cost.
    #[schemars(with = "String")]
    pub stones: Decimal,
    /// All labour, at cost.
    #[schemars(with = "String")]
    pub labour: Decimal,
    /// Their part of overhead, waste, order costs, fees and profit.
    #[schemars(with = "String")]
    pub on_top: Decimal,
    /// What the customer pays for them before tax: the part of the price that stones and labour
    /// have of the cost.
    #[schemars(with = "String")]
    pub price: Decimal,
}

/// Why an order could not be priced.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PriceError {
    /// Not a currency.
    #[error("a currency is a code of ISO 4217 with a smallest unit, such as EUR: `{0}`")]
    Currency(String),
    /// Nothing would be left for the cost.
    #[error("a margin is a part of the price, 0 % and up to below 100 %: `{}`", explain::per_cent(*.0))]
    Margin(Decimal),
    /// Not a mark-up.
    #[error("a mark-up lies between 0 % and 100,000 %: `{}`", explain::per_cent(*.0))]
    Markup(Decimal),
    /// Margin, fees and tax on the fees' base take the whole price.
    #[error("margin {} and fees {} of what the customer pays leave nothing of the price for the cost", explain::per_cent(*.margin), explain::per_cent(*.fees))]
    NothingLeft {
        /// Margin, as a part of the price.
        margin: Decimal,
        /// All fees, as a part of the price before tax.
        fees: Decimal,
    },
    /// Below nothing.
    #[error("{what} is 0 or more: `{value}`")]
    Negative {
        /// Which.
        what: String,
        /// As given.
        value: Decimal,
    },
    /// More than the whole.
    #[error("{what} is at most 100 %: `{}`", explain::per_cent(*.value))]
    OverWhole {
        /// Which.
        what: String,
        /// As given, as a part of 1.
        value: Decimal,
    },
    /// No whole number of smallest units.
    #[error(
        "{what} is a whole number of the currency's smallest unit, {digits} decimals, and above 0: `{value}`"
    )]
    Step {
        /// Which.
        what: &'static str,
        /// As given.
        value: Decimal,
        /// Decimal digits of the smallest unit.
        digits: u32,
    },
    /// Nobody makes so few or so many.
    #[error("a quantity is 1 to {max} copies: `{0}`", max = crate::hours::COPIES_MAX)]
    Quantity(u32),
    /// Pieces of one do not match those of the other.
    #[error("hours are known for {hours} pieces and materials for {materials}")]
    Pieces {
        /// Pieces with hours.
        hours: usize,
        /// Pieces with materials.
        materials: usize,
    },
    /// A day that no calendar has.
    #[error("a quote that is valid for {0} days ends on no day of the calendar")]
    Days(u32),
    /// Amounts beyond 28 digits.
    #[error("an amount has more than 28 digits")]
    TooMuch,
}

/// What an order costs and what to charge, with what is worth knowing about it.
///
/// # Errors
/// Terms that nobody could mean, or that leave nothing for the cost.
pub fn price(
    terms: &Terms,
    hours: &Hours,
    outlay: &Outlay,
) -> Result<(Price, Vec<Finding>), PriceError> {
    sheet::price(terms, hours, outlay)
}
