//! One cell: a name, a count of stones, a price.

use super::{MAX_DECIMALS, MAX_LETTERS, MAX_PRICE, MAX_STONES};
use crate::document::{Fault, shortened};
use rust_decimal::Decimal;
use std::ops::Range;
use std::str::FromStr;

/// A cell and where it stands.
pub(super) struct Cell<'t> {
    pub(super) column: &'static str,
    pub(super) text: &'t str,
    /// Bytes of its row in the text.
    pub(super) span: Range<usize>,
}

impl Cell<'_> {
    pub(super) fn fault(&self, text: impl Into<String>) -> Fault {
        Fault::new(self.column, self.span.clone(), text)
    }

    /// A name, `Some(None)` if the cell is empty.
    #[expect(clippy::option_option, reason = "an empty cell and a bad one are two things")]
    pub(super) fn name(&self, faults: &mut Vec<Fault>) -> Option<Option<String>> {
        if self.text.chars().count() > MAX_LETTERS {
            let text = format!("too long: `{}`", shortened(self.text));
            faults.push(self.fault(text).with_hint("use at most 80 letters"));
            return None;
        }
        if self.text.chars().any(char::is_control) {
            let text = "there is an invisible sign in the cell";
            faults.push(self.fault(text).with_hint("use plain letters"));
            return None;
        }
        Some((!self.text.is_empty()).then(|| self.text.to_owned()))
    }

    /// A count of stones.
    pub(super) fn stones(&self, faults: &mut Vec<Fault>) -> Option<u64> {
        let (text, hint) = match whole(self.text) {
            Ok(stones) if stones <= MAX_STONES => return Some(stones),
            Ok(_) => {
                (format!("out of range: {}", shortened(self.text)), "at most 10,000,000 stones")
            }
            Err(wrong) => wrong,
        };
        faults.push(self.fault(text).with_hint(hint));
        None
    }

    /// A price per stone, `Some(None)` if the cell is empty.
    #[expect(clippy::option_option, reason = "an empty cell and a bad one are two things")]
    pub(super) fn price(&self, faults: &mut Vec<Fault>) -> Option<Option<Decimal>> {
        if self.text.is_empty() {
            return Some(None);
        }
        let wrong = match decimal(self.text) {
            Ok(price) if price.is_sign_negative() && !price.is_zero() => {
                (format!("below 0: {}", shortened(self.text)), "a price is 0 or more")
            }
            Ok(price) if price > Decimal::from(MAX_PRICE) => {
                (format!("out of range: {}", shortened(self.text)), "it is the price of one stone")
            }
            Ok(price) if price.normalize().scale() > MAX_DECIMALS => {
                (format!("too many decimals: {}", shortened(self.text)), "at most six decimals")
            }
            Ok(price) => return Some(Some(price)),
            Err(wrong) => wrong,
        };
        faults.push(self.fault(wrong.0).with_hint(wrong.1));
        None
    }
}

/// What is wrong, and what to do.
type Wrong = (String, &'static str);

/// A whole number; `1200.0` and `1200,00` as spreadsheets write it too.
fn whole(text: &str) -> Result<u64, Wrong> {
    if text.is_empty() {
        return Err(("the count of stones is missing".into(), "write 0 if there are none"));
    }
    let digits = |t: &str| !t.is_empty() && t.bytes().all(|b| b.is_ascii_digit());
    if let Some(rest) = text.strip_prefix(['-', '−'])
        && rest.starts_with(|c: char| c.is_ascii_digit())
    {
        return Err((format!("below 0: {}", shortened(text)), "a shelf holds 0 stones or more"));
    }
    let plain = match text.split_once(['.', ',']) {
        // Three zeros may be thousands; one or two are decimals.
        Some((before, "0" | "00")) => before,
        _ => text,
    };
    if digits(plain) {
        // So many digits that they do not fit are out of range all the same.
        return Ok(plain.parse().unwrap_or(u64::MAX));
    }
    let hint = "write the count in digits alone, without a separator between thousands: 1200";
    Err((format!("not a whole number: `{}`", shortened(text)), hint))
}

/// A decimal number with a point or a comma.
fn decimal(text: &str) -> Result<Decimal, Wrong> {
    let separators = text.matches(['.', ',']).count();
    let plain = text.replace(',', ".").replace('−', "-");
    let sound = plain.bytes().all(|b| b.is_ascii_digit() || matches!(b, b'.' | b'-'))
        && plain.bytes().any(|b| b.is_ascii_digit());
    if !sound || separators > 1 {
        let hint = if separators > 1 {
            "write it without a separator between thousands: 0.004 or 0,004"
        } else {
            "write the number alone, without a currency: 0.004 or 0,004"
        };
        return Err((format!("not a price: `{}`", shortened(text)), hint));
    }
    Decimal::from_str(&plain).map_err(|_| {
        (format!("not a price: `{}`", shortened(text)), "write it like 0.004 or 0,004")
    })
}
