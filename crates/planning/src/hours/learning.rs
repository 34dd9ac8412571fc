//! How much faster each further copy goes: the learning curve in unit form.

use super::milli;
use schemars::JsonSchema;
use serde::Serialize;

/// Usual learning rate: each doubling of copies takes 0.95 times as long. Ours, no source.
pub const LEARNING: f64 = 0.95;

/// Most copies of a piece in one order: beyond it a plan by hand means nothing.
pub const COPIES_MAX: u32 = 100_000;

/// The setting time of a piece from its first copy on.
///
/// Unit form (Crawford; from memory): copy n takes the first one's time × n^(log2 b). Wright's form
/// of 1936 has the same law for the *average* of the first n copies; it is not meant here. Only
/// setting is learnt, neither drying nor cure. The time never falls below that at the maker's fast
/// pace. The maker's pace is taken to be that of a first copy, even if the log it comes from holds
/// later ones: an error on the safe side (ours).
///
/// A copy's time is rounded to a thousandth of a minute, so that sums are exact.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Learning {
    /// The first copy, min.
    pub first_min: f64,
    /// No copy takes less, min.
    pub floor_min: f64,
    /// b: what a doubling of copies multiplies the time by.
    pub rate: f64,
}

impl Learning {
    /// A curve from `first_min` down to `floor_min` at the learning rate `rate`, over 0 and at most
    /// 1. A floor above the first copy is drawn down to it.
    pub fn new(first_min: f64, floor_min: f64, rate: f64) -> Learning {
        let first_min = milli(first_min);
        Learning { first_min, floor_min: milli(floor_min).min(first_min), rate }
    }

    /// Copy `n`, counted from 1, min.
    pub fn copy_min(&self, n: u32) -> f64 {
        let exponent = libm::log2(self.rate);
        self.copy_at(n, exponent)
    }

    /// The first `copies` together, min.
    pub fn total_min(&self, copies: u32) -> f64 {
        let exponent = libm::log2(self.rate);
        let mut thousandths = 0.0;
        for n in 1..=copies {
            let copy = self.copy_at(n, exponent);
            // From here on every copy takes the same: the floor, or the first one's time if nothing
            // is learnt.
            if copy <= self.floor_min || self.rate >= 1.0 {
                thousandths += (copy * 1000.0).round() * f64::from(copies - n + 1);
                break;
            }
            thousandths += (copy * 1000.0).round();
        }
        thousandths / 1000.0
    }

    fn copy_at(&self, n: u32, exponent: f64) -> f64 {
        let learnt = self.first_min * libm::pow(f64::from(n.max(1)), exponent);
        milli(learnt).max(self.floor_min)
    }
}
