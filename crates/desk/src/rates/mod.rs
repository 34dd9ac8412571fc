//! The maker's own rates, from what was pressed at the bench: pace, loss, glue, each with its
//! spread. The next plan goes by them at once.
//!
//! What counts, and what does not:
//!
//! * A row counts with the time from the press before it that belongs to work: pauses are left out,
//!   and so is putting the glue on, which the press "glue is on" ends.
//! * A row is left out if its time is not known: the program was started anew or the clock was set
//!   in between, the pause was forgotten, or nobody said that the glue was on, so that its first row
//!   holds the gluing as well.
//! * A row that took less than 0.3 s a stone was tapped later: it counts together with the row
//!   before it, or not at all.
//! * A row that took over five times as long as the plan's slow pace is left out: something else
//!   was done meanwhile.
//! * A row of several kinds counts for each by its share of the stones.
//! * The demo order does not count: it is there to play with.
//!
//! | need | item |
//! |---|---|
//! | the rates | [`Desk::rates`], [`Rates`], [`PaceRate`], [`LossRate`], [`GlueRate`], [`LeftOut`] |
//! | for a plan | [`Rates::log_for`], [`Rates::waste`] |

mod sums;

use crate::bench::Way;
use crate::{Desk, DeskError};
use app::document::terms::LogEntry;
use app::order::Order;
use planning::hours::SizeBand;
use schemars::JsonSchema;
use serde::Serialize;
use shop::{PressId, SettingId, ShopError};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, Mutex, PoisonError};
use sums::SettingSum;

/// The last sessions that a plan goes by: hands change, and a plan must not grow slower with the
/// years. Ours, no source.
const MOST_SESSIONS: usize = 1000;
/// So many presses are read at a time.
const A_PAGE: u32 = 5000;
/// The standard normal distribution lies below this in nine cases of ten.
const Z_90: f64 = 1.281_551_565_544_600_4;
/// The most that a label may say is left in cup and nozzle: more is an error of weighing.
const MOST_WASTE: f64 = 0.95;

/// The maker's own rates.
#[derive(Clone, Debug, Default, PartialEq, Serialize, JsonSchema)]
pub struct Rates {
    /// How fast, by kind and by how the stones lie.
    pub pace: Vec<PaceRate>,
    /// How many are lost, by kind.
    pub loss: Vec<LossRate>,
    /// How much glue a stone takes, by adhesive.
    pub glue: Vec<GlueRate>,
    /// Rows whose time does not count, and why.
    pub left_out: LeftOut,
    #[serde(skip)]
    sessions: Vec<Session>,
}

/// How fast stones of a kind are set.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PaceRate {
    /// The kind.
    pub kind: String,
    /// Its size, as the maker wrote it.
    pub size: String,
    /// Whether in rows or as a scatter.
    pub work: planning::hours::Work,
    /// How many copies they come from.
    pub copies: usize,
    /// How many rows.
    pub rows: usize,
    /// How many stones.
    pub stones: u64,
    /// Seconds a stone: all time by all stones.
    pub mean_s: f64,
    /// Nine rows in ten went at this many seconds a stone or fewer (nearest rank).
    pub slow_s: f64,
}

/// How many stones of a kind are lost.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct LossRate {
    /// The kind.
    pub kind: String,
    /// Stones handled: set, and lost.
    pub handled: u64,
    /// Of these, lost.
    pub lost: u64,
    /// Lost by handled.
    pub share: f64,
    /// In nine cases of ten no more than this (Wilson's score bound, 1927).
    pub high_share: f64,
}

/// How much glue a stone takes.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct GlueRate {
    /// The adhesive.
    pub adhesive: String,
    /// How often it was weighed.
    pub times: usize,
    /// Grams used.
    pub grams: f64,
    /// For so many stones.
    pub stones: u64,
    /// Milligrams a stone: all of it by all stones.
    pub mean_mg: f64,
    /// Nine times in ten no more than this (nearest rank).
    pub high_mg: f64,
    /// What was used by what the plans reckoned to end up on the pieces; nothing for sheets.
    pub by_plan: Option<f64>,
}

/// Rows whose time does not count.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub struct LeftOut {
    /// Their time is not known.
    pub unknown: usize,
    /// They took too long to have been worked on all the time.
    pub too_long: usize,
    /// They were tapped too quickly to have been set.
    pub too_quick: usize,
}

/// Stones of one kind on one copy, as a session of the log.
#[derive(Clone, Debug, PartialEq)]
struct Session {
    kind: String,
    drawn_mm: f64,
    way: Way,
    stones: u64,
    minutes: f64,
}

/// What was summed up last.
#[derive(Default)]
pub(crate) struct Memo(Mutex<Summed>);

#[derive(Default)]
struct Summed {
    last: Option<PressId>,
    settings: BTreeMap<SettingId, SettingSum>,
    rates: Arc<Rates>,
}

impl Desk {
    /// The maker's own rates, by every press so far.
    ///
    /// # Errors
    /// The shop's; what was frozen cannot be read.
    pub fn rates(&self) -> Result<Arc<Rates>, DeskError> {
        let mut summed = self.own_rates.0.lock().unwrap_or_else(PoisonError::into_inner);
        let mut touched = BTreeSet::new();
        loop {
            let page = self.shop.presses_since(summed.last, A_PAGE)?;
            touched.extend(page.iter().map(|p| p.setting));
            let Some(last) = page.last() else { break };
            summed.last = Some(last.id);
        }
        if touched.is_empty() {
            return Ok(Arc::clone(&summed.rates));
        }
        for id in touched {
            match self.sum_of(id)? {
                Some(sum) => summed.settings.insert(id, sum),
                None => summed.settings.remove(&id),
            };
        }
        summed.rates = Arc::new(Rates::of(summed.settings.values()));
        Ok(Arc::clone(&summed.rates))
    }

    /// What a setting adds; `None` if it does not count.
    fn sum_of(&self, id: SettingId) -> Result<Option<SettingSum>, DeskError> {
        let setting = match self.shop.setting(id) {
            Ok(setting) => setting,
            Err(ShopError::Unknown { .. }) => return Ok(None),
            Err(e) => return Err(e.into()),
        };
        if self.shop.head(setting.document)?.document.demo {
            return Ok(None);
        }
        let (frozen, course) = self.benches.at(&self.shop, &setting)?;
        Ok(Some(SettingSum::of(&frozen, &course)))
    }
}

impl Rates {
    fn of<'a>(sums: impl Iterator<Item = &'a SettingSum>) -> Rates {
        let mut all = sums::Sums::default();
        sums.for_each(|s| all.add(s));
        all.rates()
    }

    /// Entries for the log of an order: they stand beside its own. A session of stones that the
    /// order does not have speaks by their size.
    pub fn log_for(&self, order: &Order) -> Vec<LogEntry> {
        let named = |kind: &str| order.kinds.iter().position(|k| k.kind.name == kind);
        let sized = |band| order.kinds.iter().position(|k| SizeBand::of(k.kind.reach_mm) == band);
        let newest = &self.sessions[self.sessions.len().saturating_sub(MOST_SESSIONS)..];
        let pace = newest.iter().filter_map(|s| {
            let band = SizeBand::of(s.drawn_mm);
            let kind = named(&s.kind).or_else(|| sized(band));
            // Without a kind an entry speaks of middle stones.
            (kind.is_some() || band == SizeBand::Middle).then(|| LogEntry {
                kind,
                work: Some(s.way.work()),
                stones: s.stones,
                lost: None,
                time_min: Some(s.minutes),
            })
        });
        let loss = self.loss.iter().filter_map(|l| {
            Some(LogEntry {
                kind: Some(named(&l.kind)?),
                work: None,
                stones: l.handled - l.lost,
                lost: Some(l.lost),
                time_min: None,
            })
        });
        pace.chain(loss).collect()
    }

    /// What stays in cup and nozzle of an adhesive, as a share of what ends up on the pieces; `None`
    /// if it was never weighed.
    pub fn waste(&self, adhesive: &str) -> Option<f64> {
        let by_plan = self.glue.iter().find(|g| g.adhesive == adhesive)?.by_plan?;
        Some((by_plan - 1.0).clamp(0.0, MOST_WASTE))
    }
}

/// The value that nine in ten do not exceed, by nearest rank.
fn nine_in_ten(values: &mut [f64]) -> f64 {
    values.sort_by(f64::total_cmp);
    let rank = (values.len() * 9).div_ceil(10);
    rank.checked_sub(1).and_then(|i| values.get(i)).copied().unwrap_or_default()
}

/// Wilson's score bound from above, one-sided at nine in ten.
fn high_share(lost: u64, handled: u64) -> f64 {
    if handled == 0 {
        return 0.0;
    }
    let (n, z2) = (handled as f64, Z_90 * Z_90);
    let p = lost as f64 / n;
    let half = Z_90 * (p * (1.0 - p) / n + z2 / (4.0 * n * n)).sqrt();
    (p + z2 / (2.0 * n) + half) / (1.0 + z2 / n)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nine_in_ten_is_the_nearest_rank() {
        let mut ten: Vec<f64> = (1..=10).map(f64::from).collect();
        assert_eq!(nine_in_ten(&mut ten), 9.0);
        assert_eq!(nine_in_ten(&mut [3.0]), 3.0);
        assert_eq!(nine_in_ten(&mut []), 0.0);
    }

    #[test]
    fn the_high_share_of_losses_worked_by_hand() {
        // p = 3/100, z = 1.28155: (0.03 + 0.0082119 + 0.0233479)/1.0164237.
        assert!((high_share(3, 100) - 0.060_565).abs() < 1e-5, "{}", high_share(3, 100));
        assert_eq!(high_share(0, 0), 0.0);
    }
}
