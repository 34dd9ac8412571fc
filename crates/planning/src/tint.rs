//! The colour to put under stones so that bare places vanish.

use crate::{Given, Reason};
use lay::Colour;
use schemars::JsonSchema;
use serde::Serialize;

/// Stones and the adhesive that is to be tinted under them.
#[derive(Clone, Debug, PartialEq)]
pub struct TintWork {
    /// The kinds that lie on it.
    pub kinds: Vec<TintKind>,
    /// Adhesive to tint, mixed weight, g.
    pub adhesive_g: f64,
    /// Pigment as a part of the weight of adhesive. See [`USUAL_PIGMENT`].
    pub pigment: Given<f64>,
    /// The most pigment that the adhesive's label allows, as a part of its weight.
    pub pigment_limit: Option<f64>,
}

/// One kind on a tinted base.
#[derive(Clone, Debug, PartialEq)]
pub struct TintKind {
    /// The kind.
    pub kind: String,
    /// Its colour.
    pub colour: Colour,
    /// The area that its stones cover, mm².
    pub covered_mm2: f64,
}

/// A base tint.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Tint {
    /// The tint, sRGB as `#rrggbb`.
    pub shown: String,
    /// The tint in Lab (D65): L, a, b.
    pub shown_lab: [f64; 3],
    /// Mean of the stones' colours in Lab (D65), by covered area.
    pub mean_lab: [f64; 3],
    /// Difference between tint and mean, CIEDE2000.
    pub shown_difference: f64,
    /// Whether the mean is a colour that sRGB can show; else the tint is the nearest by channel.
    pub in_gamut: bool,
    /// The kind that stands out most against the tint.
    pub furthest_kind: String,
    /// By how much, CIEDE2000.
    pub furthest_difference: f64,
    /// Pigment to stir in, g: as asked for, or the label's limit if that is less.
    pub pigment_g: f64,
    /// The same as a part of the weight of adhesive.
    pub pigment: f64,
    /// How the figures came about.
    pub reasons: Vec<Reason>,
}

/// Why no tint can be named.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum TintError {
    /// No stone covers any area.
    #[error("no stone lies on the base that is to be tinted")]
    Bare,
    /// A number out of its range.
    #[error("{what} must be {wanted}: {value}")]
    Range {
        /// Which number.
        what: String,
        /// The value given.
        value: f64,
        /// What it must be.
        wanted: &'static str,
    },
}
