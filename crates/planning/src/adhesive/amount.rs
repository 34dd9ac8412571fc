//! How much adhesive: dots, beads, films, and the two parts of a mix.

use super::label::Facts;
use super::sort::AdhesiveSort;
use schemars::JsonSchema;
use serde::Serialize;
use std::f64::consts::PI;

/// How an adhesive is put on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Apply {
    /// A dot under each stone: half a sphere of half the stone's diameter.
    Dot,
    /// A bead along each row.
    Bead {
        /// Its width, mm.
        width_mm: f64,
        /// Its section.
        section: Section,
    },
    /// A film over the zones, which stones are set into.
    Film {
        /// Its thickness, mm.
        thickness_mm: f64,
    },
    /// A sheet over the zones.
    Sheet,
}

/// Thickness of a film where nothing is said, mm (ours): it takes up what a flat back lacks on a
/// base that is not quite flat.
pub const USUAL_FILM_MM: f64 = 0.3;

/// Width of a bead where nothing is said, mm: half the smallest stone, as a dot is wide (ours).
pub fn usual_bead_mm(smallest_stone_mm: f64) -> f64 {
    smallest_stone_mm / 2.0
}

impl Apply {
    /// How adhesives of a sort are put on where nothing is said (common practice, no source).
    pub fn usual(sort: AdhesiveSort) -> Apply {
        match sort {
            AdhesiveSort::CoatingEpoxy | AdhesiveSort::SlowResin => {
                Apply::Film { thickness_mm: USUAL_FILM_MM }
            }
            AdhesiveSort::AdhesiveSheet => Apply::Sheet,
            _ => Apply::Dot,
        }
    }
}

/// The section of a bead.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Section {
    /// Half round: it lies flat.
    #[default]
    Half,
    /// Round.
    Round,
}

/// Volume of the dot under a stone of `diameter_mm`, µl: half a sphere of half the stone's
/// diameter, ⅔π(d/4)³ = πd³/96 = 0.0327 d³ (closed form).
pub fn dot_ul(diameter_mm: f64) -> f64 {
    PI * diameter_mm * diameter_mm * diameter_mm / 96.0
}

/// Volume of a bead, ml: section times length; half round πw²/8, round πw²/4 (closed form).
pub fn bead_ml(width_mm: f64, section: Section, length_mm: f64) -> f64 {
    let part = match section {
        Section::Half => 8.0,
        Section::Round => 4.0,
    };
    PI * width_mm * width_mm / part * length_mm / 1000.0
}

/// Volume of a film, ml: 0.1 ml for each cm² and mm (closed form).
pub fn film_ml(area_mm2: f64, thickness_mm: f64) -> f64 {
    area_mm2 * thickness_mm / 1000.0
}

/// An amount of adhesive.
///
/// For two parts, by volume and by weight are one mix: each part weighs its volume times its
/// density, and each column adds up to the whole (no change of volume in mixing).
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, JsonSchema)]
pub struct Amount {
    /// Volume, ml; 0 for a sheet.
    pub ml: f64,
    /// Mass, g; 0 for a sheet.
    pub g: f64,
    /// Area of a sheet, cm²; 0 for all else.
    pub cm2: f64,
    /// Its two parts, if it is mixed.
    pub parts: Option<Parts>,
}

/// The two parts of a mix.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Parts {
    /// Part A by volume, ml.
    pub a_ml: f64,
    /// Part B by volume, ml.
    pub b_ml: f64,
    /// Part A by weight, g.
    pub a_g: f64,
    /// Part B by weight, g.
    pub b_g: f64,
}

impl Amount {
    /// So many ml of an adhesive.
    pub fn of_ml(facts: &Facts, ml: f64) -> Amount {
        let parts = facts.two_part.map(|two| {
            let v = two.by_volume();
            let a_ml = ml * v.a / (v.a + v.b);
            let b_ml = ml - a_ml;
            let a_g = a_ml * two.density_a_g_per_ml.value;
            Parts { a_ml, b_ml, a_g, b_g: b_ml * two.density_b_g_per_ml.value }
        });
        let of_whole = ml * facts.density_g_per_ml.map_or(0.0, |d| d.value);
        Amount { ml, g: parts.map_or(of_whole, |p| p.a_g + p.b_g), cm2: 0.0, parts }
    }

    /// A sheet of so many cm².
    pub fn of_sheet(cm2: f64) -> Amount {
        Amount { ml: 0.0, g: 0.0, cm2, parts: None }
    }

    /// So many times as much.
    #[must_use]
    pub fn times(self, n: f64) -> Amount {
        let parts = self.parts.map(|p| Parts {
            a_ml: p.a_ml * n,
            b_ml: p.b_ml * n,
            a_g: p.a_g * n,
            b_g: p.b_g * n,
        });
        Amount { ml: self.ml * n, g: self.g * n, cm2: self.cm2 * n, parts }
    }

    /// Both together.
    #[must_use]
    pub fn plus(self, other: Amount) -> Amount {
        let parts = match (self.parts, other.parts) {
            (Some(p), Some(q)) => Some(Parts {
                a_ml: p.a_ml + q.a_ml,
                b_ml: p.b_ml + q.b_ml,
                a_g: p.a_g + q.a_g,
                b_g: p.b_g + q.b_g,
            }),
            (p, q) => p.or(q),
        };
        Amount { ml: self.ml + other.ml, g: self.g + other.g, cm2: self.cm2 + other.cm2, parts }
    }
}
