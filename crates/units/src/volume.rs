//! Volumes of what is poured.

use crate::{ReadError, number, trimmed};
use std::fmt;
use std::str::FromStr;

/// Millilitres in a US fluid ounce (NIST Handbook 44, Appendix C; from memory).
pub const ML_PER_FLUID_OUNCE: f64 = 29.573_529_562_5;
/// Millilitres in a US gallon of 231 cubic inches (the same).
pub const ML_PER_GALLON: f64 = 3_785.411_784;

const UNITS: &str = "ml, cl, l, fl oz, gal";

/// A volume, kept in millilitres; may be negative, is always finite.
///
/// Reads `27 ml`, `0.5 l`, `1 fl oz`, `1 gal` (US).
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Volume(f64);

impl Volume {
    /// Of so many millilitres; `None` unless finite.
    pub fn from_ml(ml: f64) -> Option<Volume> {
        ml.is_finite().then_some(Volume(ml))
    }

    /// In millilitres.
    pub fn ml(self) -> f64 {
        self.0
    }
}

impl fmt::Display for Volume {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} ml", trimmed(self.0, f.precision().unwrap_or(2)))
    }
}

impl FromStr for Volume {
    type Err = ReadError;

    fn from_str(text: &str) -> Result<Volume, ReadError> {
        let (number, unit) = number::leading(text, "volume", "27 ml")?;
        let ml = match unit {
            "ml" | "mL" | "millilitre" | "millilitres" | "cc" => number.value(),
            "cl" | "centilitre" | "centilitres" => number.times_ten_to(1),
            "l" | "L" | "litre" | "litres" => number.times_ten_to(3),
            "fl oz" | "floz" | "fl. oz" | "fl. oz." => number.value() * ML_PER_FLUID_OUNCE,
            "gal" | "gallon" | "gallons" => number.value() * ML_PER_GALLON,
            "" => {
                let text = text.trim().to_owned();
                return Err(ReadError::NoUnit { text, units: UNITS, usual: "ml" });
            }
            other => return Err(ReadError::UnknownUnit { unit: other.to_owned(), units: UNITS }),
        };
        Volume::from_ml(ml).ok_or_else(|| ReadError::TooLarge { text: text.trim().to_owned() })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Fluid ounce and gallon: NIST Handbook 44, Appendix C (from memory). A gallon has 128 fluid
    /// ounces and 231 cubic inches of 25.4 mm (International yard and pound agreement, 1959).
    #[test]
    fn reads_litres_and_us_measures() {
        let ml = |t: &str| t.parse::<Volume>().unwrap().ml();
        assert_eq!(ml("27 ml"), 27.0);
        assert_eq!(ml("0.5 l"), 500.0);
        assert_eq!(ml("1 fl oz"), 29.573_529_562_5);
        assert_eq!(ml("1 gal"), 128.0 * ML_PER_FLUID_OUNCE);
        assert!((ml("1 gal") - 231.0 * 2.54 * 2.54 * 2.54).abs() < 1e-9);
        assert!("1 oz".parse::<Volume>().is_err(), "an ounce is a mass");
    }
}
