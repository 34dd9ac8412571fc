//! A maker's pace on each sort of work: usual values, drawn towards the maker's own log.

use crate::{Given, Origin, Pace, Reason};
use schemars::JsonSchema;
use serde::Serialize;
use units::{grouped, trimmed};

/// A scatter goes at this part of the pace in rows. Common practice, no source.
pub const SCATTER: f64 = 0.8;
/// Very small and very large stones go at this part of the pace: the middle of 0.8 to 0.9. Common
/// practice, no source.
pub const AWKWARD_SIZE: f64 = 0.85;
/// Stones below this diameter are very small, mm. Common practice, no source.
pub const SMALL_MM: f64 = 2.5;
/// Stones above this diameter are very large, mm. Common practice, no source.
pub const LARGE_MM: f64 = 7.0;
/// What is known without a log of the work itself counts as much as so many logged stones. Ours.
pub const TRUST_STONES: f64 = 1000.0;
/// Usual spread of the pace from session to session: standard deviation of its logarithm. Ours.
pub const SPREAD: f64 = 0.2;
/// The usual spread counts as much as so many logged sessions. Ours.
pub const TRUST_SESSIONS: f64 = 4.0;
/// The standard normal distribution lies below this in nine cases of ten.
const Z_90: f64 = 1.281_551_565_544_600_4;

/// How stones lie beside each other, as far as pace goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Work {
    /// One after the other: honeycomb, square rows, rings.
    Rows,
    /// Each to be tried for a place.
    Scatter,
}

impl From<&lay::Arrangement> for Work {
    fn from(arrangement: &lay::Arrangement) -> Work {
        match arrangement {
            lay::Arrangement::Scatter(_) => Work::Scatter,
            lay::Arrangement::Honeycomb(_)
            | lay::Arrangement::Square(_)
            | lay::Arrangement::Rings(_) => Work::Rows,
        }
    }
}

impl Work {
    fn factor(self) -> f64 {
        match self {
            Work::Rows => 1.0,
            Work::Scatter => SCATTER,
        }
    }

    /// In a maker's words.
    pub fn words(self) -> &'static str {
        match self {
            Work::Rows => "rows",
            Work::Scatter => "scatter",
        }
    }
}

/// How large stones are, as far as pace goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum SizeBand {
    /// Below [`SMALL_MM`].
    Small,
    /// Between them.
    Middle,
    /// Above [`LARGE_MM`].
    Large,
}

impl SizeBand {
    /// The band of a diameter.
    pub fn of(diameter_mm: f64) -> SizeBand {
        if diameter_mm < SMALL_MM {
            SizeBand::Small
        } else if diameter_mm > LARGE_MM {
            SizeBand::Large
        } else {
            SizeBand::Middle
        }
    }

    fn factor(self) -> f64 {
        match self {
            SizeBand::Middle => 1.0,
            SizeBand::Small | SizeBand::Large => AWKWARD_SIZE,
        }
    }

    /// In a maker's words.
    pub fn words(self) -> &'static str {
        match self {
            SizeBand::Small => "very small stones",
            SizeBand::Middle => "middle stones",
            SizeBand::Large => "very large stones",
        }
    }
}

/// How practised a maker is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Level {
    /// First pieces.
    Beginner,
    /// Some months.
    Practised,
    /// As fast as hands go.
    Fast,
}

impl Level {
    /// Stones an hour in rows of middle stones. Ours, within 80 to 430 of six published accounts.
    pub fn base_per_h(self) -> f64 {
        match self {
            Level::Beginner => 150.0,
            Level::Practised => 300.0,
            Level::Fast => 450.0,
        }
    }
}

/// One entry of a maker's log that says how long it took.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Session {
    /// Stones set.
    pub stones: u64,
    /// Time it took, setting alone, min.
    pub minutes: f64,
    /// How they lay; rows, if it does not say.
    pub work: Option<Work>,
    /// Their diameter, mm; middle, if it does not say.
    pub diameter_mm: Option<f64>,
}

impl Session {
    /// Stones an hour.
    pub fn per_h(&self) -> f64 {
        self.stones as f64 / self.minutes * 60.0
    }

    fn sort(&self) -> (Work, SizeBand) {
        let size = self.diameter_mm.map_or(SizeBand::Middle, SizeBand::of);
        (self.work.unwrap_or(Work::Rows), size)
    }
}

/// The one who sets the stones.
#[derive(Clone, Debug, PartialEq)]
pub struct Maker {
    /// Pace in rows of middle stones, stones/h: that of a [`Level`], or the maker's word.
    pub base_per_h: Given<f64>,
    /// What the log says.
    pub sessions: Vec<Session>,
}

/// The pace on one sort of work, and why.
#[derive(Clone, Debug, PartialEq)]
pub struct Rate {
    /// Usual and slow.
    pub pace: Pace,
    /// Beyond this pace no learning is counted, stones/h: that of [`Level::Fast`] at this work, or
    /// the maker's own usual pace if that is faster.
    pub fast_per_h: f64,
    /// How it came about.
    pub reason: Reason,
}

impl Maker {
    /// The pace at which this maker sets stones of `diameter_mm`.
    ///
    /// Minutes a stone are averaged by stones, in two steps. First the pace in rows of middle
    /// stones: [`Maker::base_per_h`] counts as [`TRUST_STONES`] stones beside the sessions of other
    /// work, each brought to rows of middle stones by its factors. Then, times the factors of this
    /// work, that counts as [`TRUST_STONES`] stones beside the sessions of this work. So no session
    /// counts twice, and other work never outweighs this one.
    pub fn rate(&self, work: Work, diameter_mm: f64) -> Rate {
        let size = SizeBand::of(diameter_mm);
        let (own, other): (Vec<&Session>, Vec<&Session>) =
            self.sessions.iter().partition(|s| s.sort() == (work, size));
        let factor = work.factor() * size.factor();
        let general = shrunk(self.base_per_h.value, &other, factor_of);
        let usual_per_h = shrunk(general * factor, &own, |_| 1.0);
        let spread = self.spread();
        let pace = Pace { usual_per_h, slow_per_h: usual_per_h * libm::exp(-Z_90 * spread) };
        let fast_per_h = (Level::Fast.base_per_h() * factor).max(usual_per_h);
        let reason = self.reason(work, size, &own, &other, &pace);
        Rate { pace, fast_per_h, reason }
    }

    /// Standard deviation of the logarithm of the pace from session to session: sum of squares about
    /// the sessions' own mean, with [`SPREAD`] counting as [`TRUST_SESSIONS`] more.
    fn spread(&self) -> f64 {
        let n = self.sessions.len() as f64;
        if self.sessions.len() < 2 {
            return SPREAD;
        }
        let logs: Vec<f64> =
            self.sessions.iter().map(|s| libm::log(s.per_h() / factor_of(s))).collect();
        let mean = logs.iter().sum::<f64>() / n;
        let squares: f64 = logs.iter().map(|l| (l - mean) * (l - mean)).sum();
        ((TRUST_SESSIONS * SPREAD * SPREAD + squares) / (TRUST_SESSIONS + n - 1.0)).sqrt()
    }

    fn reason(
        &self,
        work: Work,
        size: SizeBand,
        own: &[&Session],
        other: &[&Session],
        pace: &Pace,
    ) -> Reason {
        let per_h = |v: f64| format!("{} stones/h", trimmed(v, 1));
        let logged = |s: &[&Session]| {
            let stones: f64 = s.iter().map(|s| s.stones as f64).sum();
            let minutes: f64 = s.iter().map(|s| s.minutes).sum();
            format!("{} stones in {} h", grouped(stones as u64), trimmed(minutes / 60.0, 2))
        };
        let mut reason = Reason::new(
            format!("pace, {}, {}", work.words(), size.words()),
            format!("{}, slow {}", per_h(pace.usual_per_h), per_h(pace.slow_per_h)),
            "minutes a stone averaged by stones: the base pace counts as `trust` stones beside the \
             log of other work, and times the factors as `trust` stones beside the log of this \
             work; slow = usual × exp(−1.2816 × spread), kept or beaten nine times in ten \
             (lognormal; trust and spread ours, factors common practice without a source)",
        )
        .with("base pace", per_h(self.base_per_h.value), self.base_per_h.origin)
        .with("trust", format!("{} stones", grouped(TRUST_STONES as u64)), Origin::Usual)
        .with("factor of the arrangement", trimmed(work.factor(), 2), Origin::Usual)
        .with("factor of the size", trimmed(size.factor(), 2), Origin::Usual);
        if !other.is_empty() {
            reason = reason.with("log of other work", logged(other), Origin::Log);
        }
        if !own.is_empty() {
            reason = reason.with("log of this work", logged(own), Origin::Log);
        }
        let origin = if self.sessions.len() < 2 { Origin::Usual } else { Origin::Log };
        reason.with("spread", trimmed(self.spread(), 3), origin)
    }
}

/// What a session's own work multiplies the pace by.
fn factor_of(session: &Session) -> f64 {
    let (work, size) = session.sort();
    work.factor() * size.factor()
}

/// A pace drawn from `prior_per_h` towards the sessions, each first divided by its `factor`,
/// stones/h.
fn shrunk(prior_per_h: f64, sessions: &[&Session], factor: impl Fn(&Session) -> f64) -> f64 {
    let mut stones = TRUST_STONES;
    let mut hours = TRUST_STONES / prior_per_h;
    for session in sessions {
        stones += session.stones as f64 / factor(session);
        hours += session.minutes / 60.0;
    }
    stones / hours
}
