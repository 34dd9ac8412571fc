//! Lengths.

use crate::{ReadError, number, trimmed};
use std::fmt;
use std::str::FromStr;

/// Millimetres in one inch, exactly (International yard and pound agreement, 1959).
pub const MM_PER_INCH: f64 = 25.4;

const UNITS: &str = "mm, cm, m, in";
const EXAMPLE: &str = "3 mm";

/// A length, kept in millimetres; may be negative, is always finite.
///
/// Reads `3 mm`, `2.5cm`, `0.1 m`, `2 1/4 in`, `1/8"`, `1.2e1 mm`. Prints in millimetres with at
/// most three decimals, or as many as the precision of the format asks for.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Length(f64);

impl Length {
    /// Of so many millimetres; `None` unless finite.
    pub fn from_mm(mm: f64) -> Option<Length> {
        mm.is_finite().then_some(Length(mm))
    }

    /// In millimetres.
    pub fn mm(self) -> f64 {
        self.0
    }

    /// In inches.
    pub fn inches(self) -> f64 {
        self.0 / MM_PER_INCH
    }

    /// In inches to the nearest `1/denominator`, as a fraction in lowest terms: `2 23/64 in`.
    /// `denominator` is usually 64; 0 counts as 1.
    pub fn inch_fraction(self, denominator: u32) -> String {
        let parts = u64::from(denominator.max(1));
        // A cast saturates; a length is far below 2^63 parts of an inch.
        let total = (self.inches().abs() * parts as f64).round() as u64;
        let sign = if self.0 < 0.0 && total > 0 { "-" } else { "" };
        let (whole, above) = (total / parts, total % parts);
        if above == 0 {
            return format!("{sign}{whole} in");
        }
        let shared = greatest_common_divisor(above, parts);
        let (above, below) = (above / shared, parts / shared);
        if whole == 0 {
            format!("{sign}{above}/{below} in")
        } else {
            format!("{sign}{whole} {above}/{below} in")
        }
    }
}

fn greatest_common_divisor(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { greatest_common_divisor(b, a % b) }
}

impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} mm", trimmed(self.0, f.precision().unwrap_or(3)))
    }
}

impl FromStr for Length {
    type Err = ReadError;

    fn from_str(text: &str) -> Result<Length, ReadError> {
        let (number, unit) = number::leading(text, "length", EXAMPLE)?;
        let mm = match unit {
            "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => number.value(),
            "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => {
                number.times_ten_to(1)
            }
            "m" | "metre" | "metres" | "meter" | "meters" => number.times_ten_to(3),
            // 254/10 and not 25.4, which `f64` does not hold: 3 in are 76.2 mm to the last bit.
            "in" | "inch" | "inches" | "\"" | "″" | "”" => number.value() * 254.0 / 10.0,
            "" => {
                let text = text.trim().to_owned();
                return Err(ReadError::NoUnit { text, units: UNITS, usual: "mm" });
            }
            other => {
                return Err(ReadError::UnknownUnit { unit: other.to_owned(), units: UNITS });
            }
        };
        Length::from_mm(mm).ok_or_else(|| ReadError::TooLarge { text: text.trim().to_owned() })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(text: &str) -> f64 {
        text.parse::<Length>().unwrap().mm()
    }

    fn refused(text: &str) -> String {
        let e = text.parse::<Length>().unwrap_err();
        format!("{e} / {}", e.hint())
    }

    #[test]
    fn reads_what_makers_write() {
        assert_eq!(mm("3 mm"), 3.0);
        assert_eq!(mm("2.5cm"), 25.0);
        assert_eq!(mm("0.1 m"), 100.0);
        assert_eq!(mm("  .5 mm "), 0.5);
        assert_eq!(mm("5. mm"), 5.0);
        assert_eq!(mm("1.2e1 mm"), 12.0);
        assert_eq!(mm("1.5E-2 m"), 15.0);
        assert_eq!(mm("-3 mm"), -3.0);
        assert_eq!(mm("12 millimetres"), 12.0);
    }

    /// Inch: 25.4 mm exactly, International yard and pound agreement, 1959.
    #[test]
    fn inches_are_exact() {
        assert_eq!(mm("1 in"), 25.4);
        assert_eq!(mm("3 in"), 76.2);
        assert_eq!(mm("2 1/4 in"), 57.15);
        assert_eq!(mm("2-1/4 in"), 57.15);
        assert_eq!(mm("1/8\""), 3.175);
        assert_eq!(mm("1 / 8 inch"), 3.175);
        assert_eq!(mm("-1/8 in"), -3.175);
        assert_eq!(mm("12 in"), 304.8);
    }

    #[test]
    fn decimal_units_round_once() {
        assert_eq!(mm("0.07 m"), 70.0);
        assert_eq!(mm("8.41 cm"), 84.1);
        assert_eq!(mm("1/3 m"), 1000.0 / 3.0);
    }

    #[test]
    fn says_what_is_wrong_and_what_would_be_right() {
        let cases = [
            ("", "there is no length here / write it like `3 mm`"),
            ("wide", "`wide` does not begin with a number / write it like `3 mm`"),
            ("nan mm", "`nan mm` does not begin with a number / write it like `3 mm`"),
            ("3", "the unit is missing: `3` / the units are mm, cm, m, in; perhaps `3 mm`"),
            ("3 ft", "unknown unit `ft` / the units are mm, cm, m, in"),
            (
                "3,5 mm",
                "a comma stands in the number: `3,5 mm` / decimals are written with a point, \
                 thousands without a mark: `3.5 mm`",
            ),
            (
                "1/0 in",
                "not a fraction: `1/0 in` / write a fraction like `1/8` or `2 1/4`, with whole \
                 numbers",
            ),
            (
                "1.5/2 in",
                "not a fraction: `1.5/2 in` / write a fraction like `1/8` or `2 1/4`, with whole \
                 numbers",
            ),
            ("1e999 mm", "the number is too large: `1e999 mm` / check the exponent"),
            ("1e307 m", "the number is too large: `1e307 m` / check the exponent"),
            ("3 mm x", "unknown unit `mm x` / the units are mm, cm, m, in"),
        ];
        for (text, message) in cases {
            assert_eq!(refused(text), message, "{text}");
        }
    }

    #[test]
    fn huge_exponents_neither_hang_nor_wrap() {
        assert_eq!(mm("1e-99999999999999999999 m"), 0.0);
        assert!("1e99999999999999999999 mm".parse::<Length>().is_err());
    }

    #[test]
    fn prints_trimmed_millimetres_and_inch_fractions() {
        assert_eq!(Length(60.0).to_string(), "60 mm");
        assert_eq!(Length(3.9).to_string(), "3.9 mm");
        assert_eq!(format!("{:.1}", Length(3.175)), "3.2 mm");
        assert_eq!(Length(57.15).inch_fraction(64), "2 1/4 in");
        assert_eq!(Length(60.0).inch_fraction(64), "2 23/64 in");
        assert_eq!(Length(3.175).inch_fraction(64), "1/8 in");
        assert_eq!(Length(25.4).inch_fraction(64), "1 in");
        assert_eq!(Length(-25.39).inch_fraction(64), "-1 in");
        assert_eq!(Length(0.01).inch_fraction(64), "0 in");
    }
}
