//! `[price]`: what is charged.

use super::value::{decimal, maybe};
use crate::document::walk::{Node, shortened};
use planning::price::{Currency, Fee, Margin, Markup, Profit};
use rust_decimal::Decimal;
use toml::de::DeValue;

/// What is charged. What is `None` was not said.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Price {
    /// The order's currency (ISO 4217).
    pub currency: Option<Currency>,
    /// The maker's profit.
    pub profit: Option<Profit>,
    /// Tax on the net price, 0..=1.
    pub tax: Option<Decimal>,
    /// What others keep of every payment.
    pub fees: Vec<Fee>,
    /// Materials that end in the bin, 0..=1 of their cost.
    pub waste: Option<Decimal>,
    /// Quantities for which a price is asked.
    pub quantities: Option<Vec<u32>>,
    /// Added to the price when it is wanted sooner, 0..=1.
    pub rush: Option<Decimal>,
    /// Part of the price that is paid beforehand, 0..=1.
    pub deposit: Option<Decimal>,
    /// Days for which a quote stands.
    pub valid_days: Option<u32>,
    /// Prices are rounded up to a multiple of this.
    pub round_to: Option<Decimal>,
    /// Wrapping of one copy.
    pub packaging: Option<Decimal>,
}

impl Price {
    /// Decimals of the smallest coin; those of most currencies where none is named.
    pub fn digits(&self) -> u32 {
        self.currency.map_or(2, Currency::digits)
    }
}

/// Reads `[price]`.
pub(super) fn price(node: &Node<'_, '_>) -> Option<Price> {
    let mut f = node.fields("a price", "`[price]` with its keys below")?;
    let currency = maybe(f.get("currency"), currency);
    let margin = maybe(f.get("margin"), |n| Margin::new(n.decimal_part(0.95)?).ok());
    let markup_node = f.get("markup");
    let markup = maybe(markup_node.clone(), markup);
    if let (Some(node), true) = (&markup_node, f.has("margin")) {
        node.wrong::<()>(
            "a mark-up beside a margin",
            "give one of them: a margin is part of the price, a mark-up is on top of the cost",
        );
    }
    let tax = maybe(f.get("tax"), |n| n.decimal_part(1.0));
    let fees_node = f.get("fees");
    let fees = maybe(fees_node.clone(), |n| {
        n.all("fee", "it like [{ name = \"card\", share = \"2.9 %\", fixed = \"0.30\" }]", fee)
    });
    let waste = maybe(f.get("waste"), |n| n.decimal_part(1.0));
    let quantities = maybe(f.get("quantities"), |n| {
        n.all("quantity", "it like [1, 6, 12, 24]", |n| n.whole(1..100_001, "it like 12"))
    });
    let rush = maybe(f.get("rush"), |n| n.decimal_part(1.0));
    let deposit = maybe(f.get("deposit"), |n| n.decimal_part(1.0));
    let valid = maybe(f.get("valid"), |n| n.whole(1..3651, "days, like 30"));
    let known = currency.as_ref().and_then(|c| *c);
    let round_to = maybe(f.get("round_to"), |n| n.payable(known));
    let packaging = maybe(f.get("packaging"), Node::money);
    f.done();
    let profit = match (margin?, markup?) {
        (Some(m), _) => Some(Profit::Margin(m)),
        (None, m) => m.map(Profit::Markup),
    };
    let (tax, fees) = (tax?, fees?.unwrap_or_default());
    something_left(fees_node.as_ref().unwrap_or(node), profit, tax.unwrap_or_default(), &fees)?;
    Some(Price {
        currency: currency?,
        profit,
        tax,
        fees,
        waste: waste?,
        quantities: quantities?.map(|q| q.into_iter().map(|n| n as u32).collect()),
        rush: rush?,
        deposit: deposit?,
        valid_days: valid?.map(|n| n as u32),
        round_to: round_to?,
        packaging: packaging?,
    })
}

/// Refuses fees that leave nothing of the price for the cost. A fee is a share of what the customer
/// pays, tax included; a mark-up is on the fees too.
fn something_left(
    node: &Node<'_, '_>,
    profit: Option<Profit>,
    tax: Decimal,
    fees: &[Fee],
) -> Option<()> {
    let fees: Decimal = fees.iter().map(|f| f.share).sum::<Decimal>() * (Decimal::ONE + tax);
    let left = match profit.unwrap_or(Profit::usual()) {
        Profit::Margin(m) => Decimal::ONE - m.part() - fees,
        Profit::Markup(m) => Decimal::ONE - (Decimal::ONE + m.part()) * fees,
    };
    // Exact shares of a millionth are reckoned with later: what is closer to nothing is nothing.
    if left > Decimal::new(1, 5) {
        return Some(());
    }
    let per_cent = (fees * Decimal::ONE_HUNDRED).round_dp(2).normalize();
    node.wrong(
        format!("fees of {per_cent} % of the price and the profit leave nothing for the cost"),
        "ask for less profit, or look up what the fees are",
    )
}

/// The currency of a `[price]` that is not read yet, if it names one.
pub(super) fn peeked(node: &Node<'_, '_>) -> Option<Currency> {
    let DeValue::Table(table) = node.value else { return None };
    let DeValue::String(code) = table.get("currency")?.get_ref() else { return None };
    Currency::new(code.trim()).ok()
}

fn currency(node: &Node<'_, '_>) -> Option<Currency> {
    let code = node.text("a currency in quotes", "it like \"EUR\"")?.trim();
    let hint = "write the three letters of ISO 4217, like EUR, GBP, USD, JPY";
    Currency::new(code)
        .or_else(|_| node.wrong(format!("unknown currency `{}`", shortened(code)), hint).ok_or(()))
        .ok()
}

/// A mark-up may be more than everything.
fn markup(node: &Node<'_, '_>) -> Option<Markup> {
    let text = node.text("a mark-up in quotes", "it like \"50 %\"")?;
    let number = text.trim().strip_suffix('%').map(str::trim).and_then(|t| t.parse::<f64>().ok());
    match number {
        Some(n) if (0.0..=2000.0).contains(&n) => Markup::new(decimal(n / 100.0)).ok(),
        Some(_) => node.wrong("out of range", "it must be 0 to 2000 %"),
        None => node.wrong(
            format!("not a mark-up: `{}`", shortened(text)),
            "write it in per cent, like `\"50 %\"`",
        ),
    }
}

fn fee(node: &Node<'_, '_>) -> Option<Fee> {
    let mut f = node.fields("a fee", "it like { name = \"card\", share = \"2.9 %\" }")?;
    let name = f.need("name", "`name = \"card\"`").and_then(|n| n.name());
    let share = maybe(f.get("share"), |n| n.decimal_part(0.5));
    let fixed = maybe(f.get("fixed"), Node::money);
    f.done();
    Some(Fee { name: name?, share: share?.unwrap_or_default(), fixed: fixed?.unwrap_or_default() })
}
