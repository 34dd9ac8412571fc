//! How many hours an order takes at the bench, piece by piece and activity by activity.

mod explain;
mod learning;
mod rate;
#[cfg(test)]
mod tests;

pub use learning::{COPIES_MAX, LEARNING, Learning};
pub use rate::{
    AWKWARD_SIZE, LARGE_MM, Level, Maker, Rate, SCATTER, SMALL_MM, SPREAD, Session, SizeBand,
    TRUST_SESSIONS, TRUST_STONES, Work,
};

pub(crate) use explain::{PAGES, clock};

use crate::{Given, Pace, Reason};
use lay::Finding;
use schemars::JsonSchema;
use serde::Serialize;

/// Usual time to begin an order: reading it, laying out tools, min. Ours, no source.
pub const ORDER_SET_UP_MIN: f64 = 20.0;
/// Usual time to begin one piece, whatever its copies: printing a placing sheet, counting out
/// stones, min. Ours, no source.
pub const PIECE_SET_UP_MIN: f64 = 10.0;
/// Usual time to scuff, wash and dry one copy by hand, min. Ours, no source.
pub const PREPARE_MIN: f64 = 4.0;
/// Usual time to look over, wipe and pack one copy, min. Ours, no source.
pub const PACKING_MIN: f64 = 3.0;

/// Minutes beyond which an order is refused: about two hundred years of work.
const TOTAL_MAX_MIN: f64 = 1e8;

/// Stones of one size that one copy of a piece takes in one zone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ZoneWork {
    /// How many.
    pub stones: u64,
    /// How they lie.
    pub work: Work,
    /// Their diameter, mm.
    pub diameter_mm: f64,
}

/// The handwork of one piece.
#[derive(Clone, Debug, PartialEq)]
pub struct PieceWork {
    /// Its name.
    pub piece: String,
    /// How many copies are ordered, 1 to [`COPIES_MAX`].
    pub copies: u32,
    /// What is set on one copy, an entry for each zone and size.
    pub zones: Vec<ZoneWork>,
    /// Once, whatever the copies, min.
    pub set_up_min: Given<f64>,
    /// Preparing one copy, hands on, min.
    pub prepare_min: Given<f64>,
    /// Mixing adhesive for one copy (minutes a batch times batches, divided by copies), min.
    pub mixing_min: Given<f64>,
    /// Packing one copy, min.
    pub packing_min: Given<f64>,
}

/// The handwork of an order.
#[derive(Clone, Debug, PartialEq)]
pub struct OrderWork {
    /// Its pieces.
    pub pieces: Vec<PieceWork>,
    /// Once for the order, min.
    pub set_up_min: Given<f64>,
    /// Learning rate b: each doubling of copies takes b times as long, over 0 and at most 1. Usual
    /// is [`LEARNING`].
    pub learning: Given<f64>,
}

/// The hours of an order.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Hours {
    /// Everything, min.
    pub total_min: f64,
    /// Once for the order, min.
    pub set_up_min: f64,
    /// The same total by what is done, in the order of the work, min.
    pub activities: Vec<ActivityTime>,
    /// The paces it goes by, each sort of work once.
    pub paces: Vec<PaceOf>,
    /// Each piece, in the order's order.
    pub pieces: Vec<PieceHours>,
    /// How the figures came about.
    pub reasons: Vec<Reason>,
}

/// The time of one activity.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ActivityTime {
    /// What is done.
    pub activity: Activity,
    /// All of it, min.
    pub total_min: f64,
}

/// What hands do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Activity {
    /// Beginning the order and each piece.
    SetUp,
    /// Preparing blanks.
    Prepare,
    /// Mixing adhesive.
    Mixing,
    /// Setting stones.
    Setting,
    /// Looking over, wiping and packing.
    Packing,
}

/// Every activity, in the order of the work.
pub const ACTIVITIES: [Activity; 5] =
    [Activity::SetUp, Activity::Prepare, Activity::Mixing, Activity::Setting, Activity::Packing];

impl Activity {
    /// In a maker's words.
    pub fn words(self) -> &'static str {
        match self {
            Activity::SetUp => "set-up",
            Activity::Prepare => "preparing",
            Activity::Mixing => "mixing",
            Activity::Setting => "setting",
            Activity::Packing => "packing",
        }
    }
}

/// The pace on one sort of work.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PaceOf {
    /// How the stones lie.
    pub work: Work,
    /// How large they are.
    pub size: SizeBand,
    /// The usual pace, stones/h.
    pub usual_per_h: f64,
    /// The pace that is kept or beaten nine times in ten, stones/h.
    pub slow_per_h: f64,
    /// The pace beyond which no learning is counted, stones/h.
    pub fast_per_h: f64,
}

/// The hours of one piece.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PieceHours {
    /// Its name.
    pub piece: String,
    /// How many copies.
    pub copies: u32,
    /// Stones on one copy.
    pub stones: u64,
    /// Once, whatever the copies, min.
    pub set_up_min: f64,
    /// Preparing one copy, min.
    pub prepare_min: f64,
    /// Mixing for one copy, min.
    pub mixing_min: f64,
    /// Packing one copy, min.
    pub packing_min: f64,
    /// Setting, from the first copy on.
    pub setting: Learning,
    /// Setting the last copy, min.
    pub last_setting_min: f64,
    /// Setting all copies, min.
    pub setting_min: f64,
    /// One copy on average, with its part of the piece's set-up, min.
    pub each_min: f64,
    /// All copies, min.
    pub total_min: f64,
}

impl PieceHours {
    /// Minutes of one activity if `copies` of this piece were made, without the order's own set-up.
    pub fn activity_min(&self, activity: Activity, copies: u32) -> f64 {
        let n = f64::from(copies);
        milli(match activity {
            Activity::SetUp => self.set_up_min,
            Activity::Prepare => n * self.prepare_min,
            Activity::Mixing => n * self.mixing_min,
            Activity::Setting => self.setting.total_min(copies),
            Activity::Packing => n * self.packing_min,
        })
    }
}

/// Why the hours of an order could not be told.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum HoursError {
    /// No maker sets that many.
    #[error("a pace lies above 0 and up to 10,000 stones an hour: `{0}`")]
    Pace(f64),
    /// Log entry, counted from 1.
    #[error("entry {0} of the log needs stones and a time above 0 to say a pace")]
    Session(usize),
    /// Not a time.
    #[error("a time is 0 min or longer: `{min}` for {what} of `{piece}`")]
    Time {
        /// Which.
        what: &'static str,
        /// Of which piece.
        piece: String,
        /// As given.
        min: f64,
    },
    /// Not a learning rate.
    #[error("a learning rate lies above 0 and up to 1: `{0}`")]
    Learning(f64),
    /// None, or more than anybody makes.
    #[error("a piece has 1 to {max} copies: `{copies}` of `{piece}`", max = COPIES_MAX)]
    Copies {
        /// As given.
        copies: u32,
        /// Of which piece.
        piece: String,
    },
    /// More than a life of work.
    #[error("the order takes longer than anybody can work: {0:.0} hours")]
    TooLong(f64),
}

/// The hours of an order, and what is worth knowing about the log they come from.
///
/// # Errors
/// A pace, time, learning rate or count that nobody could mean.
pub fn hours(maker: &Maker, order: &OrderWork) -> Result<(Hours, Vec<Finding>), HoursError> {
    check(maker, order)?;
    let pieces: Vec<PieceHours> =
        order.pieces.iter().map(|p| piece_hours(maker, p, order.learning.value)).collect();
    let set_up_min = milli(order.set_up_min.value);
    let activities = ACTIVITIES.map(|activity| {
        let once = if activity == Activity::SetUp { set_up_min } else { 0.0 };
        let all: f64 = pieces.iter().map(|p| p.activity_min(activity, p.copies)).sum();
        ActivityTime { activity, total_min: milli(once + all) }
    });
    let total_min = milli(activities.iter().map(|a| a.total_min).sum());
    if total_min > TOTAL_MAX_MIN {
        return Err(HoursError::TooLong(total_min / 60.0));
    }
    let rates = rates(maker, order);
    let reasons = explain::reasons(&rates, &pieces, order, &activities, total_min);
    let paces = rates.into_iter().map(|(of, _)| of).collect();
    let activities = activities.to_vec();
    let hours = Hours { total_min, set_up_min, activities, paces, pieces, reasons };
    Ok((hours, explain::odd_sessions(maker)))
}

fn check(maker: &Maker, order: &OrderWork) -> Result<(), HoursError> {
    let base = maker.base_per_h.value;
    if !(base > 0.0 && base <= 10_000.0) {
        return Err(HoursError::Pace(base));
    }
    let says_pace = |s: &Session| s.stones > 0 && s.minutes > 0.0 && s.minutes.is_finite();
    if let Some(i) = maker.sessions.iter().position(|s| !says_pace(s)) {
        return Err(HoursError::Session(i + 1));
    }
    let b = order.learning.value;
    if !(b > 0.0 && b <= 1.0) {
        return Err(HoursError::Learning(b));
    }
    let time = |what, piece: &str, min: f64| {
        let right = (0.0..=TOTAL_MAX_MIN).contains(&min);
        if right { Ok(()) } else { Err(HoursError::Time { what, piece: piece.to_owned(), min }) }
    };
    time("set-up", "the order", order.set_up_min.value)?;
    for p in &order.pieces {
        if !(1..=COPIES_MAX).contains(&p.copies) {
            return Err(HoursError::Copies { copies: p.copies, piece: p.piece.clone() });
        }
        time("set-up", &p.piece, p.set_up_min.value)?;
        time("preparing", &p.piece, p.prepare_min.value)?;
        time("mixing", &p.piece, p.mixing_min.value)?;
        time("packing", &p.piece, p.packing_min.value)?;
    }
    Ok(())
}

fn piece_hours(maker: &Maker, work: &PieceWork, learning: f64) -> PieceHours {
    let (mut first_min, mut floor_min) = (0.0, 0.0);
    for zone in &work.zones {
        let rate = maker.rate(zone.work, zone.diameter_mm);
        first_min += zone.stones as f64 / rate.pace.usual_per_h * 60.0;
        floor_min += zone.stones as f64 / rate.fast_per_h * 60.0;
    }
    let setting = Learning::new(first_min, floor_min, learning);
    let mut hours = PieceHours {
        piece: work.piece.clone(),
        copies: work.copies,
        stones: work.zones.iter().fold(0, |sum, z| sum.saturating_add(z.stones)),
        set_up_min: milli(work.set_up_min.value),
        prepare_min: milli(work.prepare_min.value),
        mixing_min: milli(work.mixing_min.value),
        packing_min: milli(work.packing_min.value),
        setting,
        last_setting_min: setting.copy_min(work.copies),
        setting_min: setting.total_min(work.copies),
        each_min: 0.0,
        total_min: 0.0,
    };
    hours.total_min = milli(ACTIVITIES.iter().map(|&a| hours.activity_min(a, work.copies)).sum());
    hours.each_min = milli(hours.total_min / f64::from(work.copies));
    hours
}

/// The rate of each sort of work in the order, each once, as they come up.
fn rates(maker: &Maker, order: &OrderWork) -> Vec<(PaceOf, Rate)> {
    let mut rates: Vec<(PaceOf, Rate)> = vec![];
    for zone in order.pieces.iter().flat_map(|p| &p.zones) {
        let (work, size) = (zone.work, SizeBand::of(zone.diameter_mm));
        if rates.iter().all(|(of, _)| (of.work, of.size) != (work, size)) {
            let rate = maker.rate(work, zone.diameter_mm);
            let Pace { usual_per_h, slow_per_h } = rate.pace;
            let fast_per_h = rate.fast_per_h;
            rates.push((PaceOf { work, size, usual_per_h, slow_per_h, fast_per_h }, rate));
        }
    }
    rates
}

/// Minutes to a thousandth, which is how finely times are kept.
fn milli(minutes: f64) -> f64 {
    (minutes * 1000.0).round() / 1000.0
}
