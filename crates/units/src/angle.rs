//! Angles.

use crate::{ReadError, number, trimmed};
use std::fmt;
use std::str::FromStr;

const UNITS: &str = "deg, °, turn";

/// An angle, kept in degrees, counter-clockwise positive, always finite. Not reduced to one turn.
///
/// Reads `30 deg`, `30°`, `1/4 turn`.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Angle(f64);

impl Angle {
    /// Of so many degrees; `None` unless finite.
    pub fn from_degrees(degrees: f64) -> Option<Angle> {
        degrees.is_finite().then_some(Angle(degrees))
    }

    /// In degrees.
    pub fn degrees(self) -> f64 {
        self.0
    }

    /// In radians.
    pub fn radians(self) -> f64 {
        self.0.to_radians()
    }
}

impl fmt::Display for Angle {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}°", trimmed(self.0, f.precision().unwrap_or(3)))
    }
}

impl FromStr for Angle {
    type Err = ReadError;

    fn from_str(text: &str) -> Result<Angle, ReadError> {
        let (number, unit) = number::leading(text, "angle", "30 deg")?;
        let degrees = match unit {
            "deg" | "°" | "degree" | "degrees" => number.value(),
            "turn" | "turns" => number.value() * 360.0,
            "" => {
                let text = text.trim().to_owned();
                return Err(ReadError::NoUnit { text, units: UNITS, usual: "deg" });
            }
            other => return Err(ReadError::UnknownUnit { unit: other.to_owned(), units: UNITS }),
        };
        Angle::from_degrees(degrees)
            .ok_or_else(|| ReadError::TooLarge { text: text.trim().to_owned() })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_degrees_and_turns() {
        let degrees = |t: &str| t.parse::<Angle>().unwrap().degrees();
        assert_eq!(degrees("30 deg"), 30.0);
        assert_eq!(degrees("-22.5°"), -22.5);
        assert_eq!(degrees("1/4 turn"), 90.0);
        assert_eq!("180 deg".parse::<Angle>().unwrap().radians(), std::f64::consts::PI);
        assert_eq!("22.50 deg".parse::<Angle>().unwrap().to_string(), "22.5°");
    }

    #[test]
    fn other_units_are_refused_with_those_there_are() {
        let e = "1 rad".parse::<Angle>().unwrap_err();
        assert_eq!(e.hint(), "the units are deg, °, turn");
        let e = "30".parse::<Angle>().unwrap_err();
        assert_eq!(e.hint(), "the units are deg, °, turn; perhaps `30 deg`");
    }
}
