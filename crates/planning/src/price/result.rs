//! A price, line by line.

use crate::Reason;
use jiff::civil::Date;
use rust_decimal::Decimal;
use schemars::JsonSchema;
use serde::Serialize;

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
    /// What 144 stones applied cost and fetch; none without stones.
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
    /// Prices if this piece were ordered alone in these quantities, from few to many.
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

/// What 144 stones applied cost and fetch: the measure by which makers compare.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PerGross {
    /// Stones, at cost.
    #[schemars(with = "String")]
    pub stones: Decimal,
    /// All labour, at cost.
    #[schemars(with = "String")]
    pub labour: Decimal,
    /// Adhesive, waste, overhead, and their and the others' part of fees and profit.
    #[schemars(with = "String")]
    pub on_top: Decimal,
    /// What the customer pays for them before tax: all but the part of the price that blanks,
    /// packaging, other material and named costs of the whole order have of the cost.
    #[schemars(with = "String")]
    pub price: Decimal,
}

impl Price {
    /// An amount with the currency before it: `EUR 12.30`.
    pub fn amount(&self, amount: Decimal) -> String {
        format!("{} {amount}", self.currency)
    }
}
