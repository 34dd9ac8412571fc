//! Densities and mixing ratios of what is poured.

use crate::{ReadError, number, trimmed};
use std::fmt;
use std::str::FromStr;

/// A density, kept in grams a millilitre, above 0 and finite.
///
/// Reads `1.10 g/ml` and `1100 kg/m3`; both are what labels print.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Density(f64);

impl Density {
    /// In grams a millilitre.
    pub fn g_per_ml(self) -> f64 {
        self.0
    }
}

impl fmt::Display for Density {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} g/ml", trimmed(self.0, f.precision().unwrap_or(3)))
    }
}

impl FromStr for Density {
    type Err = ReadError;

    fn from_str(text: &str) -> Result<Density, ReadError> {
        const UNITS: &str = "g/ml, g/cm3, kg/l, kg/m3";
        let (number, unit) = number::leading(text, "density", "1.1 g/ml")?;
        let density = match unit.replace(' ', "").as_str() {
            "g/ml" | "g/mL" | "g/cm3" | "g/cm³" | "kg/l" | "kg/L" => number.value(),
            "kg/m3" | "kg/m³" | "g/l" | "g/L" => number.times_ten_to(-3),
            "" => {
                let text = text.trim().to_owned();
                return Err(ReadError::NoUnit { text, units: UNITS, usual: "g/ml" });
            }
            _ => return Err(ReadError::UnknownUnit { unit: unit.to_owned(), units: UNITS }),
        };
        if density <= 0.0 {
            return Err(ReadError::Negative { text: text.trim().to_owned() });
        }
        Ok(Density(density))
    }
}

/// How much of A goes to how much of B; both above 0.
///
/// Reads `1:1`, `100 : 85`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ratio {
    /// Parts of A, the resin.
    pub a: f64,
    /// Parts of B, the hardener.
    pub b: f64,
}

impl fmt::Display for Ratio {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}", trimmed(self.a, 2), trimmed(self.b, 2))
    }
}

impl FromStr for Ratio {
    type Err = ReadError;

    fn from_str(text: &str) -> Result<Ratio, ReadError> {
        let bad = || ReadError::NoRatio { text: text.trim().to_owned() };
        let (a, b) = text.split_once(':').ok_or_else(bad)?;
        let part = |t: &str| t.trim().parse::<f64>().ok().filter(|p| p.is_finite() && *p > 0.0);
        Ok(Ratio { a: part(a).ok_or_else(bad)?, b: part(b).ok_or_else(bad)? })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_what_labels_print() {
        assert_eq!("1.10 g/ml".parse::<Density>().unwrap().g_per_ml(), 1.1);
        assert_eq!("1100 kg/m3".parse::<Density>().unwrap().g_per_ml(), 1.1);
        assert!("0 g/ml".parse::<Density>().is_err());
        assert_eq!("100 : 85".parse::<Ratio>().unwrap(), Ratio { a: 100.0, b: 85.0 });
        for bad in ["1", "1:0", "a:b", "1:-1", "1:inf"] {
            assert!(bad.parse::<Ratio>().is_err(), "{bad}");
        }
    }
}
