//! The sorts of adhesive, with the values that are usual for each and where they come from.

use schemars::JsonSchema;
use serde::Serialize;

/// A sort of adhesive. What the label of the product in hand says wins over all that is usual for
/// its sort.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum AdhesiveSort {
    /// A gel that skins as its solvent leaves.
    SolventGel,
    /// Two parts, gels in about five minutes.
    FiveMinuteEpoxy,
    /// Two parts, for coats and for setting stones into.
    CoatingEpoxy,
    /// Two parts, slow, for castings and large areas.
    SlowResin,
    /// Stays liquid until it is lit.
    LightCured,
    /// A dispersion that dries.
    WaterBased,
    /// A double-sided sheet, or heat-set backs: nothing that skins.
    AdhesiveSheet,
}

/// How well a value is founded.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Grade {
    /// Published, and confirmed by a second source.
    Published,
    /// One decent source.
    OneSource,
    /// Common practice, no source.
    CommonPractice,
    /// From memory.
    FromMemory,
    /// Our own choice.
    Ours,
}

impl Grade {
    /// In words, as a page or a reason shows it.
    pub fn words(self) -> &'static str {
        match self {
            Grade::Published => "published",
            Grade::OneSource => "one source",
            Grade::CommonPractice => "common practice, no source",
            Grade::FromMemory => "from memory",
            Grade::Ours => "our choice",
        }
    }
}

/// What products of a sort state, and what is taken where nothing is said.
///
/// Where it is a time to work in, the lower half of the range is taken; where it is a time to wait,
/// its long end; for densities the middle (our choice).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Usual {
    /// The least that products state.
    pub low: f64,
    /// The most that products state.
    pub high: f64,
    /// What is taken.
    pub taken: f64,
    /// How well the range is founded.
    pub grade: Grade,
}

impl Usual {
    /// What a reason shows of it: the range and how well it is founded.
    pub(crate) fn words(&self) -> String {
        let (low, high) = (units::trimmed(self.low, 3), units::trimmed(self.high, 3));
        let range = if low == high { low } else { format!("{low} to {high}") };
        format!("products state {range}, {}", self.grade.words())
    }
}

/// The usual values of one sort. Minutes, g/ml, and shares of 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SortValues {
    /// How long it may lie open before a stone is set into it, at 25 °C, min; for two parts also
    /// how long 100 g of it may be used. `None`: no limit.
    pub open_min: Option<Usual>,
    /// Until the piece may be handled, min.
    pub handle_min: Usual,
    /// Until it has its full strength, min.
    pub cure_min: Usual,
    /// Until the next coat may go on, min.
    pub recoat_min: Option<Usual>,
    /// Density, mixed if it is mixed, g/ml. `None` for a sheet.
    pub density_g_per_ml: Option<Usual>,
    /// What is lost in cup, nozzle and offcuts, as a share of what is needed.
    pub waste: Usual,
}

/// Density of part A, the resin, g/ml (from memory, and not consistent with every mixed density).
pub const DENSITY_A: Usual = usual(1.15, 1.17, 1.16, Grade::FromMemory);
/// Density of part B, the hardener, g/ml (from memory, and not consistent with every mixed
/// density).
pub const DENSITY_B: Usual = usual(0.95, 1.02, 0.985, Grade::FromMemory);
/// Pigment in the mix, share by weight (common practice, no source).
pub const PIGMENT: Usual = usual(0.01, 0.05, 0.05, Grade::CommonPractice);

const HOUR: f64 = 60.0;
const DAY: f64 = 24.0 * HOUR;

const fn usual(low: f64, high: f64, taken: f64, grade: Grade) -> Usual {
    Usual { low, high, taken, grade }
}

/// What stays in the tube, the nozzle and on the tip of one-part adhesives.
const WASTE_ONE_PART: Usual = usual(0.05, 0.15, 0.10, Grade::CommonPractice);
/// What stays in the cup and on the stick of mixed epoxies: 15–20 % (published).
const WASTE_MIXED: Usual = usual(0.15, 0.20, 0.20, Grade::Published);

const SOLVENT_GEL: SortValues = SortValues {
    open_min: Some(usual(2.0, 10.0, 5.0, Grade::OneSource)),
    handle_min: usual(2.0 * HOUR, DAY, DAY, Grade::OneSource),
    cure_min: usual(DAY, 3.0 * DAY, 3.0 * DAY, Grade::Published),
    recoat_min: None,
    density_g_per_ml: Some(usual(0.9, 1.35, 1.125, Grade::FromMemory)),
    waste: WASTE_ONE_PART,
};
const FIVE_MINUTE_EPOXY: SortValues = SortValues {
    // It gels at 5 min (published); what is used later than this draws strings.
    open_min: Some(usual(3.0, 4.0, 3.5, Grade::CommonPractice)),
    handle_min: usual(15.0, HOUR, HOUR, Grade::FromMemory),
    cure_min: usual(DAY, 3.0 * DAY, 3.0 * DAY, Grade::Published),
    recoat_min: None,
    density_g_per_ml: Some(usual(1.10, 1.18, 1.14, Grade::FromMemory)),
    waste: WASTE_MIXED,
};
const COATING_EPOXY: SortValues = SortValues {
    open_min: Some(usual(20.0, 45.0, 30.0, Grade::OneSource)),
    handle_min: usual(12.0 * HOUR, DAY, DAY, Grade::OneSource),
    cure_min: usual(3.0 * DAY, 7.0 * DAY, 7.0 * DAY, Grade::Published),
    recoat_min: Some(usual(4.0 * HOUR, 10.0 * HOUR, 10.0 * HOUR, Grade::OneSource)),
    density_g_per_ml: Some(usual(1.108, 1.108, 1.108, Grade::OneSource)),
    waste: WASTE_MIXED,
};
const SLOW_RESIN: SortValues = SortValues {
    open_min: Some(usual(30.0, 100.0, 45.0, Grade::OneSource)),
    handle_min: usual(DAY, 2.0 * DAY, 2.0 * DAY, Grade::OneSource),
    cure_min: usual(5.0 * DAY, 14.0 * DAY, 14.0 * DAY, Grade::OneSource),
    recoat_min: None,
    density_g_per_ml: Some(usual(1.05, 1.12, 1.085, Grade::FromMemory)),
    waste: WASTE_MIXED,
};
const LIGHT_CURED: SortValues = SortValues {
    open_min: None,
    // "Minutes", where the light reaches (published); how many is our choice.
    handle_min: usual(1.0, 10.0, 10.0, Grade::Ours),
    cure_min: usual(1.0, 10.0, 10.0, Grade::Ours),
    recoat_min: None,
    density_g_per_ml: Some(usual(1.1, 1.2, 1.15, Grade::FromMemory)),
    waste: WASTE_ONE_PART,
};
const WATER_BASED: SortValues = SortValues {
    open_min: Some(usual(5.0, 15.0, 8.0, Grade::FromMemory)),
    handle_min: usual(HOUR, DAY, DAY, Grade::FromMemory),
    // 72 h before washing, from a weak source.
    cure_min: usual(3.0 * DAY, 3.0 * DAY, 3.0 * DAY, Grade::CommonPractice),
    recoat_min: None,
    density_g_per_ml: Some(usual(1.0, 1.1, 1.05, Grade::FromMemory)),
    waste: WASTE_ONE_PART,
};
const ADHESIVE_SHEET: SortValues = SortValues {
    open_min: None,
    handle_min: usual(0.0, 5.0, 5.0, Grade::CommonPractice),
    // Pressure-sensitive adhesives grow stronger for about a day.
    cure_min: usual(0.0, DAY, DAY, Grade::FromMemory),
    recoat_min: None,
    density_g_per_ml: None,
    waste: WASTE_ONE_PART,
};

impl AdhesiveSort {
    /// Every sort, quickest to skin first, those without limit last.
    pub const ALL: [AdhesiveSort; 7] = [
        AdhesiveSort::FiveMinuteEpoxy,
        AdhesiveSort::SolventGel,
        AdhesiveSort::WaterBased,
        AdhesiveSort::CoatingEpoxy,
        AdhesiveSort::SlowResin,
        AdhesiveSort::LightCured,
        AdhesiveSort::AdhesiveSheet,
    ];

    /// As makers and the order document call it.
    pub fn name(self) -> &'static str {
        match self {
            AdhesiveSort::SolventGel => "solvent gel",
            AdhesiveSort::FiveMinuteEpoxy => "5-minute epoxy",
            AdhesiveSort::CoatingEpoxy => "coating epoxy",
            AdhesiveSort::SlowResin => "slow resin",
            AdhesiveSort::LightCured => "light-cured",
            AdhesiveSort::WaterBased => "water-based",
            AdhesiveSort::AdhesiveSheet => "adhesive sheet",
        }
    }

    /// Whether it is mixed from two parts.
    pub fn two_part(self) -> bool {
        self.epoxy()
    }

    /// Whether it is an epoxy: it sensitises, and sets hard and brittle.
    pub fn epoxy(self) -> bool {
        matches!(
            self,
            AdhesiveSort::FiveMinuteEpoxy | AdhesiveSort::CoatingEpoxy | AdhesiveSort::SlowResin
        )
    }

    /// What is usual for it.
    pub fn values(self) -> &'static SortValues {
        match self {
            AdhesiveSort::SolventGel => &SOLVENT_GEL,
            AdhesiveSort::FiveMinuteEpoxy => &FIVE_MINUTE_EPOXY,
            AdhesiveSort::CoatingEpoxy => &COATING_EPOXY,
            AdhesiveSort::SlowResin => &SLOW_RESIN,
            AdhesiveSort::LightCured => &LIGHT_CURED,
            AdhesiveSort::WaterBased => &WATER_BASED,
            AdhesiveSort::AdhesiveSheet => &ADHESIVE_SHEET,
        }
    }
}
