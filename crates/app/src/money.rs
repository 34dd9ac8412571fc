//! Amounts of money as a maker reads them.

use rust_decimal::Decimal;
use units::grouped;

/// An amount with a comma between thousands, and with `digits` decimals at least: those of the
/// smallest coin. Parts of a coin, such as the price of a stone, have more.
pub fn money(amount: Decimal, digits: u32) -> String {
    let mut amount = amount.normalize();
    if amount.scale() < digits {
        amount.rescale(digits);
    }
    let text = amount.to_string();
    let (whole, rest) = text.split_once('.').unwrap_or((&text, ""));
    let (sign, digits) = whole.strip_prefix('-').map_or(("", whole), |d| ("-", d));
    let whole = digits.parse().map_or_else(|_| digits.to_owned(), grouped);
    if rest.is_empty() { format!("{sign}{whole}") } else { format!("{sign}{whole}.{rest}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thousands_are_set_apart_and_cents_are_two() {
        let shown = |t: &str| money(t.parse().unwrap(), 2);
        assert_eq!(shown("3252.9"), "3,252.90");
        assert_eq!(shown("1200"), "1,200.00");
        assert_eq!(shown("-0.0052"), "-0.0052");
        assert_eq!(shown("0"), "0.00");
        assert_eq!(money("44539.00".parse().unwrap(), 0), "44,539", "a yen has no cents");
        assert_eq!(money("40.32".parse().unwrap(), 3), "40.320", "a dinar has a thousand fils");
    }
}
