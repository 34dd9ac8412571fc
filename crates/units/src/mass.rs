//! Masses.

use crate::{ReadError, number, trimmed};
use std::fmt;
use std::str::FromStr;

/// Grams in one avoirdupois ounce, exactly (NIST Handbook 44, Appendix C; from memory).
pub const GRAMS_PER_OUNCE: f64 = 28.349_523_125;

const UNITS: &str = "mg, g, kg, oz";

/// A mass, kept in grams; may be negative, is always finite.
///
/// Reads `0.12 g`, `250 mg`, `0.5 kg`, `1 1/2 oz` (avoirdupois).
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Mass(f64);

impl Mass {
    /// Of so many grams; `None` unless finite.
    pub fn from_grams(grams: f64) -> Option<Mass> {
        grams.is_finite().then_some(Mass(grams))
    }

    /// In grams.
    pub fn grams(self) -> f64 {
        self.0
    }
}

impl fmt::Display for Mass {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} g", trimmed(self.0, f.precision().unwrap_or(3)))
    }
}

impl FromStr for Mass {
    type Err = ReadError;

    fn from_str(text: &str) -> Result<Mass, ReadError> {
        let (number, unit) = number::leading(text, "mass", "0.12 g")?;
        let grams = match unit {
            "mg" | "milligram" | "milligrams" => number.times_ten_to(-3),
            "g" | "gram" | "grams" | "gramme" | "grammes" => number.value(),
            "kg" | "kilogram" | "kilograms" => number.times_ten_to(3),
            "oz" | "ounce" | "ounces" => number.value() * GRAMS_PER_OUNCE,
            "" => {
                let text = text.trim().to_owned();
                return Err(ReadError::NoUnit { text, units: UNITS, usual: "g" });
            }
            other => return Err(ReadError::UnknownUnit { unit: other.to_owned(), units: UNITS }),
        };
        Mass::from_grams(grams).ok_or_else(|| ReadError::TooLarge { text: text.trim().to_owned() })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Ounce: NIST Handbook 44, Appendix C (from memory). 16 ounces are the pound of
    /// 453.59237 g (International yard and pound agreement, 1959).
    #[test]
    fn reads_grams_and_ounces() {
        let grams = |t: &str| t.parse::<Mass>().unwrap().grams();
        assert_eq!(grams("0.12 g"), 0.12);
        assert_eq!(grams("120 mg"), 0.12);
        assert_eq!(grams("0.03 kg"), 30.0);
        assert_eq!(grams("1 oz"), 28.349_523_125);
        assert_eq!(grams("16 oz"), 453.592_37);
        assert_eq!("0.120 g".parse::<Mass>().unwrap().to_string(), "0.12 g");
    }

    #[test]
    fn pounds_are_refused_with_the_units_there_are() {
        let e = "1 lb".parse::<Mass>().unwrap_err();
        assert_eq!(e.to_string(), "unknown unit `lb`");
        assert_eq!(e.hint(), "the units are mg, g, kg, oz");
    }
}
