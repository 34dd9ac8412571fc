//! Counting stones on a scale: unit weight, the count of a heap, and how far to trust it.

use crate::Given;
use crate::Reason;
use schemars::JsonSchema;
use serde::Serialize;

/// One weighing of counted stones.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sample {
    /// Stones counted by hand.
    pub stones: u32,
    /// What the scale shows with the dish, g.
    pub shown_g: f64,
}

/// What is known about the stones and the scale.
#[derive(Clone, Debug, PartialEq)]
pub struct Weighing {
    /// The kind of stone, for messages.
    pub kind: String,
    /// Weight of the empty dish, g; 0 if the scale was set to zero with it.
    pub tare_g: Given<f64>,
    /// The smallest step that the scale shows, g.
    pub readability_g: Given<f64>,
    /// Standard deviation of the weight of single stones, as a part of their mean weight. See
    /// [`spread_of_weight`] and [`USUAL_SPREAD`].
    pub spread: Given<f64>,
    /// Counted samples, one or more.
    pub samples: Vec<Sample>,
    /// Confidence of all intervals, above 0 and below 1; usually 0.95.
    pub confidence: Given<f64>,
}

/// The weight of one stone.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct UnitWeight {
    /// Mean weight of a stone, g.
    pub unit_g: f64,
    /// Its standard error, g.
    pub standard_error_g: f64,
    /// Lower end of its interval, g.
    pub low_g: f64,
    /// Upper end of its interval, g.
    pub high_g: f64,
    /// Standard deviation of single stones as a part of the mean, as the samples show it, or as
    /// assumed where there are fewer than three.
    pub spread: f64,
    /// Confidence of the intervals.
    pub confidence: f64,
    /// Factor from a standard error to half an interval: Student's or the normal quantile.
    pub factor: f64,
    /// Stones in all samples together.
    pub stones: u32,
    /// The smallest step that the scale shows, g.
    pub readability_g: f64,
    /// Stones that a sample needs for the unit weight to be within 1 %.
    pub stones_for_1_percent: u64,
    /// How the figures came about.
    pub reasons: Vec<Reason>,
}

/// How many stones lie in a heap.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct HeapCount {
    /// The most likely count.
    pub stones: u64,
    /// The count before it is rounded.
    pub estimate: f64,
    /// Its standard error, stones.
    pub standard_error: f64,
    /// Lower end of its interval, rounded down.
    pub low: u64,
    /// Upper end of its interval, rounded up.
    pub high: u64,
    /// How the count came about.
    pub reasons: Vec<Reason>,
}

/// Why a weighing cannot be used.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum WeighingError {
    /// No counted sample.
    #[error("no counted sample of `{kind}`")]
    NoSample {
        /// The kind.
        kind: String,
    },
    /// A number out of its range.
    #[error("{what} of `{kind}` must be {wanted}: {value}")]
    Range {
        /// Which number.
        what: &'static str,
        /// The kind.
        kind: String,
        /// The value given.
        value: f64,
        /// What it must be.
        wanted: &'static str,
    },
    /// A sample that weighs no more than its dish.
    #[error(
        "{stones} stones of `{kind}` weigh no more than the dish: {shown_g} g with {tare_g} g of tare"
    )]
    NothingWeighed {
        /// The kind.
        kind: String,
        /// Stones of the sample.
        stones: u32,
        /// Shown, g.
        shown_g: f64,
        /// Tare, g.
        tare_g: f64,
    },
}

/// One kind of a recipe by count.
#[derive(Clone, Debug, PartialEq)]
pub struct RecipePart {
    /// The kind.
    pub kind: String,
    /// Its share by count, any positive scale.
    pub share: f64,
    /// Weight of one stone, g.
    pub unit_g: f64,
}
