//! Shares of a whole.

use crate::{ReadError, number, trimmed};
use std::fmt;
use std::str::FromStr;

/// A share of a whole, kept as a part of 1, always in 0..=1.
///
/// Reads `30 %`, `0.3`, `1/3`. Prints in per cent with at most one decimal, or as many as the
/// precision of the format asks for.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Share(f64);

impl Share {
    /// Of this part of 1; `None` outside 0..=1.
    pub fn from_part(part: f64) -> Option<Share> {
        (0.0..=1.0).contains(&part).then_some(Share(part))
    }

    /// As a part of 1.
    pub fn part(self) -> f64 {
        self.0
    }

    /// In per cent.
    pub fn per_cent(self) -> f64 {
        self.0 * 100.0
    }
}

impl fmt::Display for Share {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} %", trimmed(self.per_cent(), f.precision().unwrap_or(1)))
    }
}

impl FromStr for Share {
    type Err = ReadError;

    fn from_str(text: &str) -> Result<Share, ReadError> {
        let (number, unit) = number::leading(text, "share", "30 %")?;
        let part = match unit {
            "%" | "per cent" | "percent" => number.times_ten_to(-2),
            "" => number.value(),
            other => {
                return Err(ReadError::UnknownUnit {
                    unit: other.to_owned(),
                    units: "%, or none for a part of 1",
                });
            }
        };
        Share::from_part(part).ok_or_else(|| ReadError::NoShare { text: text.trim().to_owned() })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_per_cent_decimals_and_fractions() {
        let part = |t: &str| t.parse::<Share>().unwrap().part();
        assert_eq!(part("30 %"), 0.3);
        assert_eq!(part("30%"), 0.3);
        assert_eq!(part("0.3"), 0.3);
        assert_eq!(part("1/3"), 1.0 / 3.0);
        assert_eq!(part("12 1/2 %"), 0.125);
        assert_eq!("1/3".parse::<Share>().unwrap().to_string(), "33.3 %");
    }

    #[test]
    fn more_than_everything_is_refused() {
        let e = "30".parse::<Share>().unwrap_err();
        assert_eq!(e.to_string(), "a share lies between 0 % and 100 %: `30`");
        assert!("-1 %".parse::<Share>().is_err());
        assert!("101 %".parse::<Share>().is_err());
        assert!("30 g".parse::<Share>().is_err());
    }
}
