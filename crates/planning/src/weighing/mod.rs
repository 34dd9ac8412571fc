//! Counting stones on a scale: unit weight, the count of a heap, and how far to trust it.

mod check;
mod said;
#[cfg(test)]
mod tests;

use crate::{Given, Origin, Reason};
use schemars::JsonSchema;
use serde::Serialize;
use statrs::distribution::{ContinuousCDF, Normal, StudentsT};
use units::{grouped, trimmed};

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
        "the sample of {} of `{kind}` weighs no more than the empty dish: the scale shows {shown_g} g, \
         and the dish is {tare_g} g; weigh the sample in the dish, or say 0 g for the dish if the \
         scale was set to zero with it", stones_counted(*.stones)
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
    /// A sample of a few steps of the scale says nothing.
    #[error(
        "the step of the scale, {step_g} g, is more than a tenth of what the sample of {} of \
         `{kind}` weighs, {} g: count more stones or take a finer scale",
        stones_counted(*.stones), trimmed(*.net_g, 4)
    )]
    ScaleCoarse {
        /// The kind.
        kind: String,
        /// Stones of the sample.
        stones: u32,
        /// Their weight, g.
        net_g: f64,
        /// The step, g.
        step_g: f64,
    },
}

fn stones_counted(n: u32) -> String {
    format!("{} {}", grouped(n.into()), if n == 1 { "stone" } else { "stones" })
}

/// Weight of a glass stone by its diameter, g: a dome 0.45 d high, two thirds of the cylinder around
/// it, glass of 2.5 g/ml (shape and density from memory; ours where nothing was weighed).
pub fn usual_weight_g(diameter_mm: f64) -> f64 {
    let cylinder_mm3 =
        std::f64::consts::FRAC_PI_4 * diameter_mm * diameter_mm * (0.45 * diameter_mm);
    cylinder_mm3 * 2.0 / 3.0 * 2.5 / 1000.0
}

/// Spread of single stones by weight where nothing is known of it (common practice, no source): 5 %.
pub const USUAL_SPREAD: f64 = 0.05;

/// Samples from which on their own spread is believed instead of the assumed one. Two would give an
/// interval by Student's quantile for one degree of freedom, 12.7 standard errors wide.
const SAMPLES_BELIEVED: usize = 3;

/// Spread of single stones by weight from their spread in diameter: 3 s/d, since the weight of
/// stones of one shape goes with the cube of the diameter (closed form, first order).
pub fn spread_of_weight(spread_mm: f64, reach_mm: f64) -> f64 {
    if reach_mm > 0.0 { 3.0 * spread_mm / reach_mm } else { 0.0 }
}

/// The weight of one stone, from counted samples.
///
/// u = W/n over all samples together, which is the least-squares estimate where the variance of a
/// sample grows with its stones. Its variance has two parts. *Stones*: s²/n, where s² is the
/// residual variance (1/(k−1)) Σ (Wᵢ − nᵢ u)²/nᵢ of k ≥ 3 samples, with Student's quantile, or the
/// assumed (spread · u)² of fewer, with the normal quantile. *Scale*: a reading rounded to steps of
/// d has the variance d²/12; each sample has its own, and all share that of the tare, so that W has
/// (k + k²) d²/12. The residuals of k ≥ 3 samples hold the k of them already, and are never taken
/// to be smaller.
///
/// # Errors
/// No sample, a sample no heavier than its dish or of less than ten steps of the scale, or numbers
/// out of their range.
pub fn unit_weight(weighing: &Weighing) -> Result<UnitWeight, WeighingError> {
    check::check(weighing)?;
    let k = weighing.samples.len() as f64;
    let stones: u32 = weighing.samples.iter().fold(0, |n, s| n.saturating_add(s.stones));
    let n = f64::from(stones);
    let net = |s: &Sample| s.shown_g - weighing.tare_g.value;
    let unit_g = weighing.samples.iter().map(net).sum::<f64>() / n;
    let step = weighing.readability_g.value;
    let reading = step * step / 12.0;
    let confidence = weighing.confidence.value;
    let observed = weighing.samples.len() >= SAMPLES_BELIEVED;
    let (spread, variance, factor) = if observed {
        let residual = |s: &Sample| {
            let off = net(s) - f64::from(s.stones) * unit_g;
            off * off / f64::from(s.stones)
        };
        let s2 = weighing.samples.iter().map(residual).sum::<f64>() / (k - 1.0);
        let own = (s2 / n).max(k * reading / (n * n));
        (s2.sqrt() / unit_g, own + k * k * reading / (n * n), student(confidence, k - 1.0))
    } else {
        let spread = weighing.spread.value;
        let sd = spread * unit_g;
        (spread, sd * sd / n + (k + k * k) * reading / (n * n), normal(confidence))
    };
    let error = variance.sqrt();
    let mut unit = UnitWeight {
        unit_g,
        standard_error_g: error,
        low_g: (unit_g - factor * error).max(0.0),
        high_g: unit_g + factor * error,
        spread,
        confidence,
        factor,
        stones,
        readability_g: step,
        stones_for_1_percent: sample_for(0.01, spread, step / unit_g, confidence),
        reasons: vec![],
    };
    unit.reasons = said::unit_reasons(weighing, &unit, observed);
    Ok(unit)
}

/// How many stones of `kind` lie in a heap that shows `shown_g` on the scale in a dish of `tare_g`.
///
/// n = W/u; by the delta method its variance is n·cv² for the stones themselves, d²/(6u²) for the two
/// readings, and n²·(se/u)² for the unit weight.
///
/// # Errors
/// A weight below that of the dish, or not a number.
pub fn count_heap(
    unit: &UnitWeight,
    kind: &str,
    shown_g: f64,
    tare_g: f64,
) -> Result<HeapCount, WeighingError> {
    let range = |what, value, right: bool, wanted| {
        if right {
            return Ok(());
        }
        Err(WeighingError::Range { what, kind: kind.to_owned(), value, wanted })
    };
    range("weight of the dish", tare_g, (0.0..=MOST_G).contains(&tare_g), "from 0 g to 1 t")?;
    let right = (tare_g..=MOST_G).contains(&shown_g);
    range("weight of the heap", shown_g, right, "at least that of the dish, at most 1 t")?;
    let estimate = (shown_g - tare_g) / unit.unit_g;
    let error = count_error(unit, estimate);
    let (low, high) = (estimate - unit.factor * error, estimate + unit.factor * error);
    let reason = Reason::new(
        format!("count of {kind}"),
        format!("{}, {} to {}", estimate.round(), low.max(0.0).floor(), high.ceil()),
        "(shown − tare) / unit weight ± factor × √(n·spread² + d²/(6u²) + n²·(error/u)²), by the delta method",
    )
    .with("shown", format!("{} g", trimmed(shown_g, 3)), Origin::Document)
    .with("tare", format!("{} g", trimmed(tare_g, 3)), Origin::Document)
    .with("unit weight", format!("{} g", trimmed(unit.unit_g, 5)), Origin::Plan)
    .with("its standard error", format!("{} g", trimmed(unit.standard_error_g, 6)), Origin::Plan)
    .with("spread", format!("{} %", trimmed(unit.spread * 100.0, 2)), Origin::Plan)
    .with("factor", trimmed(unit.factor, 3), Origin::Plan);
    Ok(HeapCount {
        stones: estimate.round() as u64,
        estimate,
        standard_error: error,
        low: low.max(0.0).floor() as u64,
        high: high.ceil() as u64,
        reasons: vec![reason],
    })
}

/// By how many stones a bag that is filled by weight to hold `stones` may be off, at the confidence
/// of the unit weight.
pub fn within_stones(unit: &UnitWeight, stones: u64) -> f64 {
    unit.factor * count_error(unit, stones as f64)
}

/// How many stones a single sample needs so that the unit weight is within `part` of the truth: the
/// smallest n with z²·(spread²/n + d²/(6u²n²)) ≤ part², where `step_in_units` is d/u.
pub fn sample_for(part: f64, spread: f64, step_in_units: f64, confidence: f64) -> u64 {
    let z = normal(confidence);
    let wanted = part * part / (z * z);
    let stones = spread * spread;
    let scale = step_in_units * step_in_units / 6.0;
    let n = (stones + (stones * stones + 4.0 * scale * wanted).sqrt()) / (2.0 * wanted);
    // A whole number that rounding lifted a little is still enough.
    ((n - 1e-9).ceil() as u64).max(1)
}

/// The most that is put on a scale, g: a tonne.
const MOST_G: f64 = 1e6;

fn count_error(unit: &UnitWeight, n: f64) -> f64 {
    let step = unit.readability_g / unit.unit_g;
    let error = unit.standard_error_g / unit.unit_g;
    (n * unit.spread * unit.spread + step * step / 6.0 + n * n * error * error).sqrt()
}

/// Two-sided normal quantile.
fn normal(confidence: f64) -> f64 {
    rounded(Normal::standard().inverse_cdf(0.5 + confidence / 2.0))
}

/// Two-sided quantile of Student's t.
fn student(confidence: f64, freedom: f64) -> f64 {
    // The parameters are valid for every freedom above 0.
    let t = StudentsT::new(0.0, 1.0, freedom).map(|t| t.inverse_cdf(0.5 + confidence / 2.0));
    t.map_or_else(|_| normal(confidence), rounded)
}

/// The library's logarithms may differ in the last bit between machines; a millionth is kept.
fn rounded(quantile: f64) -> f64 {
    (quantile * 1e6).round() / 1e6
}
