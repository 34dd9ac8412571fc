//! Amounts of money as a maker reads them.

use rust_decimal::Decimal;
use units::grouped;

/// An amount with a comma between thousands, and with two decimals at least.
pub fn money(amount: Decimal) -> String {
    let mut amount = amount.normalize();
    if amount.scale() < 2 {
        amount.rescale(2);
    }
    let text = amount.to_string();
    let (whole, rest) = text.split_once('.').unwrap_or((&text, ""));
    let (sign, digits) = whole.strip_prefix('-').map_or(("", whole), |d| ("-", d));
    let whole = digits.parse().map_or_else(|_| digits.to_owned(), grouped);
    format!("{sign}{whole}.{rest}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thousands_are_set_apart_and_cents_are_two() {
        let shown = |t: &str| money(t.parse().unwrap());
        assert_eq!(shown("3252.9"), "3,252.90");
        assert_eq!(shown("1200"), "1,200.00");
        assert_eq!(shown("-0.0052"), "-0.0052");
        assert_eq!(shown("0"), "0.00");
    }
}
