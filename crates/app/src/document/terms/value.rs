//! Single values of a plan: money, times, dates, temperatures.

use crate::document::value::Limits;
use crate::document::walk::{Node, shortened};
use jiff::civil::Date;
use planning::calendar::Hours;
use planning::price::Currency;
use rust_decimal::Decimal;
use toml::de::DeValue;
use units::{Density, Mass, Ratio, Span, Temperature, Volume, trimmed};

/// Largest amount of money, in the order's currency.
const MOST_MONEY: i64 = 1_000_000;
/// Most decimals of an amount: a millionth is less than any stone costs.
const MOST_DECIMALS: u32 = 6;

impl<'a, 'i> Node<'a, 'i> {
    /// An amount of money in the order's currency, not negative: `"14.00"`, `14.00` or `14`.
    pub(super) fn money(&self) -> Option<Decimal> {
        let written = match self.value {
            DeValue::String(text) => text.trim().to_owned(),
            DeValue::Float(n) => n.as_str().to_owned(),
            DeValue::Integer(n) if n.radix() == 10 => n.as_str().to_owned(),
            _ => return self.wrong_type("an amount of money", "it like `\"4.90\"`"),
        };
        let hint = "write digits and a point, without a currency sign, like `\"4.90\"`";
        let text = || format!("not an amount of money: `{}`", shortened(&written));
        if written.contains(',') {
            let hint = match with_point(&written) {
                Some(amount) => format!("decimals are written with a point: `\"{amount}\"`"),
                None => "decimals are written with a point, thousands without a mark".to_owned(),
            };
            return self.wrong(text(), hint);
        }
        let amount = match Decimal::from_str_exact(&written) {
            Ok(amount) => amount,
            Err(_) => return self.wrong(text(), hint),
        };
        if amount.is_sign_negative() && !amount.is_zero() {
            return self.wrong(format!("less than nothing: {amount}"), "it must be 0 or more");
        }
        if amount > Decimal::from(MOST_MONEY) {
            return self.wrong(
                format!("out of range: {amount}"),
                format!("it must be at most {}", units::grouped(MOST_MONEY as u64)),
            );
        }
        if amount.normalize().scale() > MOST_DECIMALS {
            return self.wrong(
                format!("finer than anything costs: {}", shortened(&written)),
                format!("at most {MOST_DECIMALS} decimals are read"),
            );
        }
        Some(amount)
    }

    /// What an hour costs: as money, but two of them together are still money.
    pub(super) fn hourly(&self) -> Option<Decimal> {
        const MOST: i64 = MOST_MONEY / 2;
        let amount = self.money()?;
        if amount > Decimal::from(MOST) {
            let hint = format!("an hour costs at most {}", units::grouped(MOST as u64));
            return self.wrong(format!("out of range: {amount}"), hint);
        }
        Some(amount)
    }

    /// A price that somebody pays: above 0, and in whole coins of the currency, if it is known.
    pub(super) fn payable(&self, currency: Option<Currency>) -> Option<Decimal> {
        let amount = self.money()?;
        if amount.is_zero() {
            return self.wrong("a price of nothing", "write what is to be paid, or leave it out");
        }
        let Some(currency) = currency else { return Some(amount) };
        if amount.normalize().scale() > currency.digits() {
            let text = format!("no coin of {} is that small: {amount}", currency.code());
            return self.wrong(
                text,
                match currency.digits() {
                    0 => "write a whole number".to_owned(),
                    n => format!("write at most {n} decimals"),
                },
            );
        }
        Some(amount)
    }

    /// The mass of an empty bag, g; it may be none.
    pub(super) fn tare(&self) -> Option<f64> {
        let mass: Mass = self.quantity("a mass", "\"0.5 g\"")?;
        if !(0.0..=1000.0).contains(&mass.grams()) {
            let hint = "an empty bag weighs 0 g to 1 kg";
            return self.wrong(format!("out of range: {mass}"), hint);
        }
        Some(mass.grams())
    }

    /// A length of time in minutes, from `least` to `most` minutes.
    pub(super) fn span(&self, least: f64, most: f64, example: &str) -> Option<f64> {
        let span: Span = self.quantity("a length of time", example)?;
        if !(least..=most).contains(&span.minutes()) {
            let of = |m: f64| Span::from_minutes(m).unwrap_or_default();
            return self.wrong(
                format!("out of range: {span}"),
                format!("it must be {} to {}", of(least), of(most)),
            );
        }
        Some(span.minutes())
    }

    /// A temperature in °C at which somebody would work.
    pub(super) fn temperature(&self) -> Option<f64> {
        let t: Temperature = self.quantity("a temperature", "\"21 C\"")?;
        if !(-10.0..=50.0).contains(&t.celsius()) {
            let hint = "it must be −10 to 50 °C, the air at the bench";
            return self.wrong(format!("out of range: {t}"), hint);
        }
        Some(t.celsius())
    }

    /// A volume in ml, above 0.
    pub(super) fn volume(&self) -> Option<f64> {
        let v: Volume = self.quantity("a volume", "\"27 ml\"")?;
        if !(v.ml() > 0.0 && v.ml() <= 1e6) {
            let hint = "it must be above 0 and at most 1000 l";
            return self.wrong(format!("out of range: {v}"), hint);
        }
        Some(v.ml())
    }

    /// A density in g/ml.
    pub(super) fn density(&self) -> Option<f64> {
        let d: Density = self.quantity("a density", "\"1.1 g/ml\"")?;
        if !(0.5..=5.0).contains(&d.g_per_ml()) {
            let hint = "it must be 0.5 to 5 g/ml: nothing that is glued with is lighter or heavier";
            return self.wrong(format!("out of range: {d}"), hint);
        }
        Some(d.g_per_ml())
    }

    /// A mixing ratio, A to B.
    pub(super) fn ratio(&self) -> Option<Ratio> {
        let r: Ratio = self.quantity("a mixing ratio", "\"1:1\"")?;
        if !(0.01..=100.0).contains(&(r.a / r.b)) {
            return self.wrong(format!("out of range: {r}"), "it must be 1:100 to 100:1");
        }
        Some(r)
    }

    /// A share of everything from 0 to `most`; nothing is allowed.
    pub(super) fn part(&self, most: f64) -> Option<f64> {
        let share: Option<f64> = match self.value {
            DeValue::Float(n) => n.as_str().parse().ok(),
            DeValue::Integer(n) if n.as_str() == "0" => Some(0.0),
            _ => Some(self.quantity::<units::Share>("a share", "\"5 %\"")?.part()),
        };
        match share {
            Some(s) if (0.0..=most).contains(&s) => Some(s),
            Some(s) => self.wrong(
                format!("out of range: {} %", trimmed(s * 100.0, 2)),
                format!("it must be 0 to {} %", trimmed(most * 100.0, 1)),
            ),
            None => self.wrong_type("a share", "it like `\"5 %\"`"),
        }
    }

    /// The same as a decimal, for what is reckoned in money.
    pub(super) fn decimal_part(&self, most: f64) -> Option<Decimal> {
        self.part(most).map(decimal)
    }

    /// A bead's width or a film's thickness, mm.
    pub(super) fn thickness(&self, example: &str) -> Option<f64> {
        self.length(Limits(0.01, 100.0), example)
    }

    /// A day: `2026-12-18`, with quotes or without.
    pub(super) fn date(&self) -> Option<Date> {
        let example = "it like 2026-12-18";
        let written = match self.value {
            DeValue::String(text) => text.trim().to_owned(),
            DeValue::Datetime(d) => d.to_string(),
            _ => return self.wrong_type("a day", example),
        };
        let shown = || format!("not a day of the calendar: `{}`", shortened(&written));
        let Ok(date) = written.parse::<Date>() else {
            return self.wrong(shown(), "write year, month and day, like 2026-12-18");
        };
        if written.len() != 10 {
            return self.wrong(shown(), "write the day alone, like 2026-12-18");
        }
        if !(2000..=2200).contains(&date.year()) {
            return self.wrong(format!("out of range: {date}"), "the year must be 2000 to 2200");
        }
        Some(date)
    }

    /// `"09:00-12:30"`.
    pub(super) fn hours(&self) -> Option<Hours> {
        let example = "it like \"09:00-12:30\"";
        let text = self.text("working hours in quotes", example)?;
        let minute = |t: &str| {
            let (h, m) = t.trim().split_once(':')?;
            let (h, m): (u32, u32) = (h.parse().ok()?, m.parse().ok()?);
            ((h < 24 && m < 60) || (h, m) == (24, 0)).then_some(h * 60 + m)
        };
        let split = text.split_once(['-', '–']);
        let pair = split.and_then(|(from, to)| Some((minute(from)?, minute(to)?)));
        match pair {
            Some((from_min, to_min)) if from_min < to_min => Some(Hours { from_min, to_min }),
            Some(_) => self.wrong(
                format!("these hours end before they begin: `{}`", shortened(text)),
                "write the earlier time first",
            ),
            None => self.wrong(
                format!("not working hours: `{}`", shortened(text)),
                format!("write {example}"),
            ),
        }
    }

    /// Every entry of a list by `read`, each read before any decides; `None` if one is bad.
    pub(super) fn all<T>(
        &self,
        entry: &str,
        example: &str,
        read: impl Fn(&Node<'a, 'i>) -> Option<T>,
    ) -> Option<Vec<T>> {
        const MOST: usize = 1000;
        let nodes = self.list(entry, example)?;
        if nodes.len() > MOST {
            return self.wrong(
                format!("{} are too many", nodes.len()),
                format!("at most {MOST} are read"),
            );
        }
        let read: Vec<Option<T>> = nodes.iter().map(read).collect();
        read.into_iter().collect()
    }
}

/// `12,50` as `12.50`; none where a comma may stand for thousands or for nothing.
fn with_point(written: &str) -> Option<String> {
    let (whole, decimals) = written.split_once(',')?;
    let digits = |t: &str| !t.is_empty() && t.bytes().all(|b| b.is_ascii_digit());
    let clear = digits(whole) && digits(decimals) && decimals.len() != 3;
    clear.then(|| format!("{whole}.{decimals}"))
}

/// A share as a decimal. It was written with a few digits; six keep them all.
pub(crate) fn decimal(share: f64) -> Decimal {
    Decimal::from_f64_retain(share).unwrap_or_default().round_dp(6).normalize()
}

/// A key that may be missing: `Some(None)` if it is, `None` if it is there and wrong.
#[expect(clippy::option_option, reason = "missing and wrong are two things")]
pub(super) fn maybe<'a, 'i, T>(
    node: Option<Node<'a, 'i>>,
    read: impl FnOnce(&Node<'a, 'i>) -> Option<T>,
) -> Option<Option<T>> {
    match node {
        None => Some(None),
        Some(node) => read(&node).map(Some),
    }
}
