//! A number at the beginning of a text, kept exact until its unit is known.

use crate::ReadError;

/// A number as it was written.
///
/// It is not turned into an `f64` before the unit is known: `0.07 m` is `0.07e3` mm, which rounds
/// once, where 0.07 × 1000 is 70.00000000000001.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Number {
    /// `-3`, `2.5`, `1.5e-2`: sign and digits, and the exponent of ten.
    Decimal { digits: String, exponent: i32 },
    /// `1/8`, `2 1/4`: a numerator, made whole, and a denominator.
    Fraction { numerator: f64, denominator: f64 },
}

impl Number {
    /// Its value times ten to the power of `shift`.
    pub(crate) fn times_ten_to(&self, shift: i32) -> f64 {
        match self {
            Number::Decimal { digits, exponent } => {
                let text = format!("{digits}e{}", exponent.saturating_add(shift));
                // The scanner only lets through what parses; an overflow comes out as infinite.
                text.parse().unwrap_or(f64::INFINITY)
            }
            Number::Fraction { numerator, denominator } => {
                let scale: f64 = format!("1e{}", shift.abs()).parse().unwrap_or(1.0);
                if shift < 0 {
                    numerator / (denominator * scale)
                } else {
                    numerator * scale / denominator
                }
            }
        }
    }

    /// Its value.
    pub(crate) fn value(&self) -> f64 {
        self.times_ten_to(0)
    }
}

/// The number at the beginning of `text`, and what follows it, both trimmed. `example` is a text
/// that would do.
pub(crate) fn leading<'t>(
    text: &'t str,
    what: &'static str,
    example: &'static str,
) -> Result<(Number, &'t str), ReadError> {
    let trimmed = text.trim();
    if trimmed.is_empty() {
        return Err(ReadError::Empty { what, example });
    }
    let no_number = || ReadError::NoNumber { text: trimmed.to_owned(), example };
    let (first, rest) = decimal(trimmed).ok_or_else(no_number)?;
    if let Some(after) = rest.strip_prefix(',')
        && after.starts_with(|c: char| c.is_ascii_digit())
    {
        let with_point = trimmed.replace(',', ".");
        return Err(ReadError::Comma { text: trimmed.to_owned(), with_point });
    }
    let (number, rest) = match fraction(first, rest) {
        Some(found) => found.ok_or_else(|| ReadError::BadFraction { text: trimmed.to_owned() })?,
        None => (first_number(first), rest),
    };
    if !number.value().is_finite() {
        return Err(ReadError::TooLarge { text: trimmed.to_owned() });
    }
    Ok((number, rest.trim()))
}

/// The longest decimal number at the beginning, and the rest.
fn decimal(text: &str) -> Option<(&str, &str)> {
    let bytes = text.as_bytes();
    let digits_from = |from: usize| bytes[from..].iter().take_while(|b| b.is_ascii_digit()).count();
    let sign = usize::from(matches!(bytes.first(), Some(b'-' | b'+')));
    let whole = digits_from(sign);
    let mut end = sign + whole;
    let mut n_digits = whole;
    if bytes.get(end) == Some(&b'.') {
        let part = digits_from(end + 1);
        n_digits += part;
        end += 1 + part;
    }
    if n_digits == 0 {
        return None;
    }
    if matches!(bytes.get(end), Some(b'e' | b'E')) {
        let sign = usize::from(matches!(bytes.get(end + 1), Some(b'-' | b'+')));
        let part = digits_from(end + 1 + sign);
        if part > 0 {
            end += 1 + sign + part;
        }
    }
    Some((&text[..end], &text[end..]))
}

fn first_number(written: &str) -> Number {
    let (digits, exponent) = match written.find(['e', 'E']) {
        // An exponent of more digits than an `i32` holds overflows or vanishes all the same.
        Some(i) => {
            let clipped = if written[i + 1..].starts_with('-') { -9999 } else { 9999 };
            (&written[..i], written[i + 1..].parse().unwrap_or(clipped))
        }
        None => (written, 0),
    };
    Number::Decimal { digits: digits.to_owned(), exponent }
}

/// A fraction that begins with `first`: `1/8`, or `2 1/4`. `None` if there is no stroke;
/// `Some(None)` if there is one but no fraction.
#[expect(clippy::option_option, reason = "no fraction and a bad fraction are two things")]
fn fraction<'t>(first: &str, rest: &'t str) -> Option<Option<(Number, &'t str)>> {
    let whole_number = |t: &str| t.parse::<u32>().ok().map(f64::from);
    if let Some(after) = rest.trim_start().strip_prefix('/') {
        let (negative, first) = signed(first);
        let parts = decimal(after.trim_start()).and_then(|(below, rest)| {
            let (numerator, denominator) = (whole_number(first)?, whole_number(below)?);
            let numerator = if negative { -numerator } else { numerator };
            (denominator > 0.0).then_some((Number::Fraction { numerator, denominator }, rest))
        });
        return Some(parts);
    }
    // `2 1/4`: a second number, set off by a space or a hyphen, with a stroke behind it.
    let after = rest.trim_start();
    if after.len() == rest.len() && !after.starts_with('-') {
        return None;
    }
    let after = after.strip_prefix('-').unwrap_or(after).trim_start();
    let (above, rest) = decimal(after)?;
    let after = rest.trim_start().strip_prefix('/')?;
    let (negative, first) = signed(first);
    let parts = decimal(after.trim_start()).and_then(|(below, rest)| {
        let (whole, above) = (whole_number(first)?, whole_number(above)?);
        let denominator = whole_number(below)?;
        let numerator = whole * denominator + above;
        let numerator = if negative { -numerator } else { numerator };
        (denominator > 0.0).then_some((Number::Fraction { numerator, denominator }, rest))
    });
    Some(parts)
}

fn signed(text: &str) -> (bool, &str) {
    match text.strip_prefix('-') {
        Some(rest) => (true, rest),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    }
}
