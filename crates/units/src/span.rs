//! Lengths of time.

use crate::{ReadError, number, trimmed};
use std::fmt;
use std::str::FromStr;

const UNITS: &str = "s, min, h, days";

/// A length of time, kept in minutes, never negative, always finite.
///
/// Reads `40 min`, `90 s`, `1.5 h`, `9 h 40 min`, `7 days`. Prints hours and minutes, from two days
/// on in days.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Span(f64);

impl Span {
    /// Of so many minutes; `None` if negative or not finite.
    pub fn from_minutes(minutes: f64) -> Option<Span> {
        (minutes.is_finite() && minutes >= 0.0).then_some(Span(minutes))
    }

    /// In minutes.
    pub fn minutes(self) -> f64 {
        self.0
    }

    /// In hours.
    pub fn hours(self) -> f64 {
        self.0 / 60.0
    }
}

impl fmt::Display for Span {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0 > 0.0 && self.0 < 1.0 {
            return write!(f, "{} s", trimmed((self.0 * 60.0).max(1.0), 0));
        }
        let minutes = self.0.round();
        if minutes >= 2.0 * 24.0 * 60.0 {
            return write!(f, "{} days", trimmed(minutes / (24.0 * 60.0), 1));
        }
        let (hours, rest) = ((minutes / 60.0).floor(), minutes % 60.0);
        match (hours > 0.0, rest > 0.0) {
            (true, true) => write!(f, "{hours} h {rest:02} min"),
            (true, false) => write!(f, "{hours} h"),
            _ => write!(f, "{rest} min"),
        }
    }
}

impl FromStr for Span {
    type Err = ReadError;

    fn from_str(text: &str) -> Result<Span, ReadError> {
        const EXAMPLE: &str = "9 h 40 min";
        let (mut minutes, mut rest) = (0.0, text.trim());
        loop {
            let (number, after) = number::leading(rest, "length of time", EXAMPLE)?;
            let end = after.find(|c: char| !c.is_alphabetic()).unwrap_or(after.len());
            let (unit, next) = after.split_at(end);
            minutes += match unit {
                "s" | "sec" | "second" | "seconds" => number.value() / 60.0,
                "min" | "m" | "minute" | "minutes" => number.value(),
                "h" | "hr" | "hour" | "hours" => number.value() * 60.0,
                "d" | "day" | "days" => number.value() * 24.0 * 60.0,
                "" => {
                    let text = rest.to_owned();
                    return Err(ReadError::NoUnit { text, units: UNITS, usual: "min" });
                }
                other => {
                    return Err(ReadError::UnknownUnit { unit: other.to_owned(), units: UNITS });
                }
            };
            rest = next.trim();
            if rest.is_empty() {
                break;
            }
        }
        let text = || text.trim().to_owned();
        if minutes < 0.0 {
            return Err(ReadError::Negative { text: text() });
        }
        Span::from_minutes(minutes).ok_or_else(|| ReadError::TooLarge { text: text() })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_one_unit_or_several() {
        let minutes = |t: &str| t.parse::<Span>().unwrap().minutes();
        assert_eq!(minutes("40 min"), 40.0);
        assert_eq!(minutes("90 s"), 1.5);
        assert_eq!(minutes("1.5 h"), 90.0);
        assert_eq!(minutes("9 h 40 min"), 580.0);
        assert_eq!(minutes("9h40min"), 580.0);
        assert_eq!(minutes("2 days"), 2880.0);
    }

    #[test]
    fn prints_what_a_clock_would() {
        let shown = |m: f64| Span::from_minutes(m).unwrap().to_string();
        assert_eq!(shown(0.0), "0 min");
        assert_eq!(shown(0.5), "30 s");
        assert_eq!(shown(59.6), "1 h");
        assert_eq!(shown(320.0), "5 h 20 min");
        assert_eq!(shown(65.0), "1 h 05 min");
        assert_eq!(shown(4320.0), "3 days");
    }

    #[test]
    fn a_number_alone_and_less_than_nothing_are_refused() {
        assert_eq!("40".parse::<Span>().unwrap_err().to_string(), "the unit is missing: `40`");
        assert_eq!(
            "-3 min".parse::<Span>().unwrap_err().to_string(),
            "less than nothing: `-3 min`"
        );
        assert!("3 fortnights".parse::<Span>().is_err());
        assert!("9 h 40".parse::<Span>().is_err());
    }
}
