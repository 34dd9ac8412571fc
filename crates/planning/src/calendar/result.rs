//! What a calendar says.

use crate::Reason;
use jiff::civil::{Date, DateTime};
use schemars::JsonSchema;
use serde::Serialize;

/// An order on the calendar.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Schedule {
    /// When the last copy is packed; floating local time.
    #[schemars(with = "String")]
    pub ready_at: DateTime,
    /// The earliest day on which the whole order can ship: the day of `ready_at`.
    #[schemars(with = "String")]
    pub ship_on: Date,
    /// The day on which it has to ship at the latest.
    #[schemars(with = "Option<String>")]
    pub due: Option<Date>,
    /// Whether it ships by then; none where no day was asked for.
    pub due_met: Option<bool>,
    /// Calendar days by which it is late; 0 if it is not.
    pub late_days: u32,
    /// Copies in one batch, at most: the fewest batches that ship on that day.
    pub batch_copies: u32,
    /// Copies that lie on the bench at one time, at most: several batches may lie there at once.
    pub bench_copies: u32,
    /// Hands-on minutes, all together.
    pub hands_on_min: u64,
    /// Hands-on minutes of each day on which there are some, in order.
    pub days: Vec<Day>,
    /// Everything that happens, by beginning. Work that a break or the end of a day interrupts is
    /// one event before and one after.
    pub events: Vec<Event>,
    /// The critical path: what decides the day, from the first event to the last.
    pub critical_path: Vec<Step>,
    /// What would meet the day asked for, each by itself; tried, not guessed. Empty if it is met.
    pub remedies: Vec<Remedy>,
    /// How the figures came about.
    pub reasons: Vec<Reason>,
}

/// Hands-on minutes of one day.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Day {
    /// The day.
    #[schemars(with = "String")]
    pub date: Date,
    /// Hands-on minutes, of all hands together.
    pub hands_on_min: u64,
}

/// One thing that happens to one batch.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Event {
    /// The piece.
    pub piece: String,
    /// The piece's batch, from 1.
    pub batch: u32,
    /// The first copy of the batch, from 1.
    pub first_copy: u32,
    /// The last copy of the batch.
    pub last_copy: u32,
    /// What happens.
    pub activity: Activity,
    /// The side or coat, from 1; none for what happens once.
    pub side: Option<u32>,
    /// Which part of an interrupted activity, from 1.
    pub part: u32,
    /// Whose hands, from 1; none where it waits by itself.
    pub hands: Option<u32>,
    /// When it begins; floating local time.
    #[schemars(with = "String")]
    pub starts_at: DateTime,
    /// When it ends; floating local time.
    #[schemars(with = "String")]
    pub ends_at: DateTime,
    /// By how much the whole activity could begin later without a later ship date, minutes on the
    /// clock.
    pub float_min: u64,
    /// Whether it lies on the critical path.
    pub critical: bool,
}

/// What happens to a batch.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Activity {
    /// The piece is begun, the first of all together with the order: hands-on, once.
    SettingUp,
    /// The blanks are prepared: hands-on.
    Preparing,
    /// They dry.
    Drying,
    /// Stones are set: hands-on.
    Setting,
    /// They wait until they can be handled.
    Handling,
    /// They are turned, or made ready for the next coat: hands-on.
    Turning,
    /// They cure.
    Curing,
    /// They are packed: hands-on.
    Packing,
}

/// One step of the critical path: an activity of a batch, with all its parts.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Step {
    /// The piece.
    pub piece: String,
    /// The piece's batch, from 1.
    pub batch: u32,
    /// What happens.
    pub activity: Activity,
    /// The side or coat, from 1; none for what happens once.
    pub side: Option<u32>,
    /// When it begins; floating local time.
    #[schemars(with = "String")]
    pub starts_at: DateTime,
    /// When it ends; floating local time.
    #[schemars(with = "String")]
    pub ends_at: DateTime,
    /// What it had to wait for.
    pub because: Because,
}

/// What an activity had to wait for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Because {
    /// The start of all work.
    Start,
    /// The delivery of its stones.
    Delivery,
    /// What its own batch did before.
    Batch,
    /// Hands that were at another batch.
    Hands,
    /// A place on the bench.
    Bench,
}

/// A change that was tried, and with which the order ships in time.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(tag = "change", rename_all = "snake_case")]
pub enum Remedy {
    /// Begin earlier, everything else as it is.
    EarlierStart {
        /// The latest start that does, at the same time of day; floating local time.
        #[schemars(with = "String")]
        start: DateTime,
        /// When the order ships then.
        #[schemars(with = "String")]
        ship_on: Date,
    },
    /// Work longer every working day.
    MoreHours {
        /// Minutes a day more, at the day's end; the least of whole half hours.
        more_min: u32,
        /// When the order ships then.
        #[schemars(with = "String")]
        ship_on: Date,
    },
    /// Have the stones earlier.
    EarlierStones {
        /// Working days by which all of them arrive earlier; the least that does.
        working_days: u32,
        /// The day on which the last of them arrive then.
        #[schemars(with = "String")]
        last_on: Date,
        /// When the order ships then.
        #[schemars(with = "String")]
        ship_on: Date,
    },
    /// Take another sort of adhesive for every piece.
    OtherAdhesive {
        /// The sort.
        adhesive: String,
        /// When the order ships then.
        #[schemars(with = "String")]
        ship_on: Date,
    },
    /// Make room for more blanks.
    LargerBench {
        /// Blanks side by side.
        bench: u32,
        /// When the order ships then.
        #[schemars(with = "String")]
        ship_on: Date,
    },
    /// Send only the first copies in time.
    FewerCopies {
        /// How many copies of all, in the document's order of pieces.
        copies: u32,
        /// How many were asked for.
        of: u32,
        /// When they ship.
        #[schemars(with = "String")]
        ship_on: Date,
    },
}
