//! How numbers and days are written: by language and place. Words stay English.

use jiff::civil::{Date, DateTime};
use rust_decimal::Decimal;
use std::str::FromStr;
use units::{Span, grouped, trimmed};

/// How numbers and days are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Notation {
    /// Its tag (BCP 47), as it is chosen by.
    pub tag: &'static str,
    /// Between thousands.
    group: &'static str,
    /// Before decimals.
    point: &'static str,
    /// Days: `d` day, `m` month, `y` year; doubled with a nought before it, `mmm` by name.
    day: &'static str,
}

const fn notation(
    tag: &'static str,
    group: &'static str,
    point: &'static str,
    day: &'static str,
) -> Notation {
    Notation { tag, group, point, day }
}

/// No-break space and its narrow sister.
const SPACE: &str = "\u{a0}";
const NARROW: &str = "\u{202f}";

/// No such notation.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("numbers and days are written as in {tags}: `{0}`", tags = Notation::tags())]
pub struct NoNotation(String);

impl Notation {
    /// The house's own first, then by places. Separators and the order of days are those of Unicode
    /// CLDR (`decimal`, `group`, the skeleton `yMd`; with names of months `yMMMd`).
    pub const ALL: [Notation; 11] = [
        notation("en", ",", ".", "y-mm-dd"),
        notation("en-GB", ",", ".", "d mmm y"),
        notation("en-US", ",", ".", "mmm d, y"),
        notation("de", ".", ",", "d.m.y"),
        notation("de-CH", "'", ".", "d.m.y"),
        notation("fr", NARROW, ",", "dd/mm/y"),
        notation("it", ".", ",", "dd/mm/y"),
        notation("nl", ".", ",", "d-m-y"),
        notation("da", ".", ",", "d.m.y"),
        notation("sv", SPACE, ",", "y-mm-dd"),
        notation("fi", SPACE, ",", "d.m.y"),
    ];
    /// The house's own: 1,234.50 and 2026-12-01 (ISO 8601).
    pub const HOUSE: Notation = Notation::ALL[0];

    /// All tags, for people.
    fn tags() -> String {
        Notation::ALL.map(|n| n.tag).join(", ")
    }

    /// A number and a day, as an example.
    pub fn example(self) -> String {
        format!("{}, {}", self.written("1,234.50"), self.day(Date::constant(2026, 12, 18)))
    }

    /// A whole number.
    pub(super) fn count(self, n: u64) -> String {
        self.written(&grouped(n))
    }

    /// A number with so many decimals at most.
    pub(super) fn number(self, value: f64, decimals: usize) -> String {
        self.written(&trimmed(value, decimals))
    }

    /// An amount of money, with as many decimals as its smallest coin has.
    pub(super) fn money(self, amount: Decimal, digits: u32) -> String {
        self.written(&app::money(amount, digits))
    }

    /// A part of 1 in percent.
    pub(super) fn percent(self, share: Decimal) -> String {
        let percent = (share * Decimal::ONE_HUNDRED).normalize();
        format!("{}{SPACE}%", self.written(&percent.to_string()))
    }

    /// A length of time, min.
    pub(super) fn span(self, minutes: f64) -> String {
        let span = Span::from_minutes(minutes).unwrap_or_default();
        // From two days on a span prints days; hands work by the hour.
        if span.hours() >= 48.0 {
            return format!("{}{SPACE}h", self.count(span.hours().round() as u64));
        }
        self.written(&span.to_string()).replace(' ', SPACE)
    }

    /// A day.
    pub(super) fn day(self, day: Date) -> String {
        let mut text = String::new();
        let pattern: Vec<char> = self.day.chars().collect();
        for run in pattern.chunk_by(|a, b| a == b) {
            text += &match (run[0], run.len()) {
                ('y', _) => day.year().to_string(),
                ('m', 1) => day.month().to_string(),
                ('m', 2) => format!("{:02}", day.month()),
                ('m', _) => day.strftime("%b").to_string(),
                ('d', 1) => day.day().to_string(),
                ('d', _) => format!("{:02}", day.day()),
                _ => run.iter().collect(),
            };
        }
        text
    }

    /// A day with its weekday.
    pub(super) fn weekday(self, day: Date) -> String {
        format!("{}{SPACE}{}", day.strftime("%a"), self.day(day))
    }

    /// A time of day.
    pub(super) fn time(self, at: DateTime) -> String {
        at.strftime("%H:%M").to_string()
    }

    /// A number of the house in this notation.
    fn written(self, house: &str) -> String {
        let one = |c: char| match c {
            ',' => self.group.to_owned(),
            '.' => self.point.to_owned(),
            c => c.to_string(),
        };
        house.chars().map(one).collect()
    }
}

impl FromStr for Notation {
    type Err = NoNotation;

    fn from_str(text: &str) -> Result<Notation, NoNotation> {
        let known = Notation::ALL.into_iter().find(|n| n.tag.eq_ignore_ascii_case(text.trim()));
        known.ok_or_else(|| NoNotation(text.to_owned()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn numbers_and_days_follow_the_place() {
        let day = date(2026, 12, 1);
        let shown = |tag: &str| {
            let n: Notation = tag.parse().unwrap();
            format!("{} {}", n.money("1234567.5".parse().unwrap(), 2), n.day(day))
        };
        // As Unicode CLDR has them; `checks/check_order_papers.py` holds all to its data.
        assert_eq!(shown("en"), "1,234,567.50 2026-12-01");
        assert_eq!(shown("en-us"), "1,234,567.50 Dec 1, 2026");
        assert_eq!(shown("de"), "1.234.567,50 1.12.2026");
        assert_eq!(shown("fr"), "1\u{202f}234\u{202f}567,50 01/12/2026");
        assert_eq!(shown("de-CH"), "1'234'567.50 1.12.2026");
    }

    #[test]
    fn shares_and_times_are_short() {
        let n: Notation = "de".parse().unwrap();
        assert_eq!(n.percent("0.075".parse().unwrap()), "7,5\u{a0}%");
        assert_eq!(n.span(100.0), "1\u{a0}h\u{a0}40\u{a0}min");
        assert_eq!(n.span(90_000.0), "1.500\u{a0}h");
    }

    #[test]
    fn another_place_is_refused_with_those_there_are() {
        let told = "tlh".parse::<Notation>().unwrap_err().to_string();
        assert!(told.contains("`tlh`") && told.contains("en-GB"), "{told}");
    }
}
