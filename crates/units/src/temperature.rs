//! Temperatures.

use crate::{ReadError, number, trimmed};
use std::fmt;
use std::str::FromStr;

const UNITS: &str = "C, F";

/// A temperature, kept in degrees Celsius, always finite.
///
/// Reads `21 C`, `21 °C`, `70 F`.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Temperature(f64);

impl Temperature {
    /// In degrees Celsius.
    pub fn celsius(self) -> f64 {
        self.0
    }
}

impl fmt::Display for Temperature {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} °C", trimmed(self.0, f.precision().unwrap_or(1)))
    }
}

impl FromStr for Temperature {
    type Err = ReadError;

    fn from_str(text: &str) -> Result<Temperature, ReadError> {
        let (number, unit) = number::leading(text, "temperature", "21 C")?;
        let celsius = match unit.trim_start_matches('°').trim() {
            "C" | "c" | "Celsius" | "celsius" => number.value(),
            "F" | "f" | "Fahrenheit" | "fahrenheit" => (number.value() - 32.0) / 1.8,
            "" => {
                let text = text.trim().to_owned();
                return Err(ReadError::NoUnit { text, units: UNITS, usual: "C" });
            }
            other => return Err(ReadError::UnknownUnit { unit: other.to_owned(), units: UNITS }),
        };
        Ok(Temperature(celsius))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_both_scales() {
        let celsius = |t: &str| t.parse::<Temperature>().unwrap().celsius();
        assert_eq!(celsius("21 C"), 21.0);
        assert_eq!(celsius("21 °C"), 21.0);
        assert_eq!(celsius("212 F"), 100.0);
        assert_eq!(celsius("32F"), 0.0);
        assert!("21".parse::<Temperature>().is_err());
        assert_eq!("70 F".parse::<Temperature>().unwrap().to_string(), "21.1 °C");
    }
}
