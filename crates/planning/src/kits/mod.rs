//! A piece sold as a kit, or taught to a class: what goes into each bag.

mod check;
mod said;
mod shelf;
#[cfg(test)]
mod tests;

pub(crate) use said::PAGES;
pub use shelf::{FreeStones, kits_on_shelf};

use crate::spare::{Counts, KindNeed, Losses, SpareError, SpareInput, spare};
use crate::weighing::within_stones;
use crate::{Given, Reason};
use lay::Finding;
use rust_decimal::{Decimal, RoundingStrategy};
use schemars::JsonSchema;
use serde::Serialize;
use units::{grouped, trimmed};

/// A piece to be packed as kits.
#[derive(Clone, Debug, PartialEq)]
pub struct KitWork {
    /// Name of the kit, on its labels.
    pub kit: String,
    /// The piece.
    pub piece: String,
    /// Number of kits: to sell, or heads in the class.
    pub kits: u32,
    /// How sure each kit has to be enough, all its kinds together, above 0 and below 1.
    pub sure: Given<f64>,
    /// Share of the stones that a person handles and loses, breaks or cannot use, 0 to below 1.
    pub loss: Given<f64>,
    /// Decimal digits of the order's currency.
    pub digits: u32,
    /// The stones of one copy, by kind.
    pub kinds: Vec<KitKind>,
}

/// One kind of a kit. It has a bag of its own in every kit.
#[derive(Clone, Debug, PartialEq)]
pub struct KitKind {
    /// The kind.
    pub kind: String,
    /// Its size as the maker wrote it.
    pub size: String,
    /// Its diameter, mm.
    pub diameter_mm: f64,
    /// Stones that one copy takes.
    pub stones: u32,
    /// Weight of the empty bag, g.
    pub bag_g: Given<f64>,
    /// What was weighed, if anything: then bags can be filled on a scale.
    pub unit: Option<crate::weighing::UnitWeight>,
    /// Price of one stone, if known.
    pub stone_price: Option<Decimal>,
}

/// What goes into every kit, and what the whole class takes.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Kit {
    /// Name of the kit.
    pub kit: String,
    /// The piece.
    pub piece: String,
    /// Number of kits.
    pub kits: u32,
    /// The gathering list: one line for each kind.
    pub gathering: Vec<GatheringLine>,
    /// Stones in one kit.
    pub stones_per_kit: u64,
    /// Stones in all kits.
    pub stones: u64,
    /// Grams in all kits, without bags; none where a kind was not weighed.
    pub grams: Option<f64>,
    /// What the stones of all kits cost; none where a price is missing.
    #[schemars(with = "Option<String>")]
    pub stones_cost: Option<Decimal>,
    /// Stones that would do if the spare lay in one dish for all instead of in each bag.
    pub stones_with_shared_spare: u64,
    /// Labels: kit by kit, kind by kind.
    pub labels: Vec<Label>,
    /// How the figures came about.
    pub reasons: Vec<Reason>,
}

/// One kind of a kit.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct GatheringLine {
    /// The kind.
    pub kind: String,
    /// Its size.
    pub size: String,
    /// Stones that one copy takes.
    pub stones: u32,
    /// Stones more, for what gets lost.
    pub spare: u32,
    /// Stones to put into each bag.
    pub put_in: u32,
    /// Their weight, g.
    pub grams: Option<f64>,
    /// What the scale shows with the bag when it is full, g.
    pub gross_g: Option<f64>,
    /// By how many stones a bag filled by weight may be off, at the confidence of the weighing.
    pub within_stones: Option<f64>,
    /// Stones in all kits.
    pub all_stones: u64,
    /// Grams in all kits, without bags.
    pub all_grams: Option<f64>,
}

/// What stands on one bag, line by line.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Label {
    /// The lines.
    pub lines: Vec<String>,
}

/// Why kits cannot be packed.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum KitError {
    /// No stone at all.
    #[error("kit `{kit}` holds no stone")]
    Empty {
        /// The kit.
        kit: String,
    },
    /// A number out of its range.
    #[error("{what} of kit `{kit}` must be {wanted}: {value}")]
    Range {
        /// Which number.
        what: String,
        /// The kit.
        kit: String,
        /// The value given.
        value: String,
        /// What it must be.
        wanted: &'static str,
    },
    /// Spare cannot be found.
    #[error(transparent)]
    Spare(#[from] SpareError),
}

/// Diameter of the small-parts cylinder, mm: 16 CFR 1501.4. A loose stone that is no wider fits it,
/// since none is longer than the cylinder's slant.
pub const SMALL_PARTS_MM: f64 = 31.7;

/// What goes into every bag of every kit, its labels, and what all kits take.
///
/// Spare is for each kit by itself: with the chance asked for, whoever opens it can finish the
/// piece. Stones are lost independently (binomial); see [`spare`](mod@crate::spare).
///
/// # Errors
/// Kits without stones, numbers out of their range, or a loss that no spare can meet.
pub fn kit(work: &KitWork) -> Result<(Kit, Vec<Finding>), KitError> {
    check::check(work)?;
    let whole = |n: u64| u32::try_from(n).unwrap_or(u32::MAX);
    let put_in = quantities(work, 1)?.into_iter().map(whole);
    let gathering: Vec<GatheringLine> =
        work.kinds.iter().zip(put_in).map(|(k, n)| gathering_line(work, k, n)).collect();
    let stones_per_kit = gathering.iter().map(|l| u64::from(l.put_in)).sum();
    let shared = quantities(work, u64::from(work.kits))?;
    let mut kit = Kit {
        kit: work.kit.clone(),
        piece: work.piece.clone(),
        kits: work.kits,
        stones_per_kit,
        stones: stones_per_kit * u64::from(work.kits),
        grams: gathering.iter().map(|l| l.all_grams).sum(),
        stones_cost: stones_cost(work, &gathering),
        stones_with_shared_spare: shared.iter().sum(),
        labels: labels(work, &gathering),
        gathering,
        reasons: vec![],
    };
    let findings = said::findings(&kit);
    kit.reasons = said::reasons(work, &kit);
    Ok((kit, findings))
}

/// Stones of each kind, spare included, for `times` pieces from one dish.
fn quantities(work: &KitWork, times: u64) -> Result<Vec<u64>, KitError> {
    let losses = Losses { assumed: work.loss, trust: Given::usual(500.0), handled: 0, lost: 0 };
    let need = |k: &KitKind| KindNeed {
        kind: k.kind.clone(),
        need: Counts::exactly(u64::from(k.stones) * times),
        losses,
    };
    let kinds = work.kinds.iter().map(need).collect();
    let (found, _) = spare(&SpareInput { sure: work.sure, kinds })?;
    Ok(found.kinds.iter().map(|k| k.quantity).collect())
}

fn gathering_line(work: &KitWork, k: &KitKind, put_in: u32) -> GatheringLine {
    let grams = k.unit.as_ref().map(|u| u.unit_g * f64::from(put_in));
    GatheringLine {
        kind: k.kind.clone(),
        size: k.size.clone(),
        stones: k.stones,
        spare: put_in.saturating_sub(k.stones),
        put_in,
        grams,
        gross_g: grams.map(|g| g + k.bag_g.value),
        within_stones: k.unit.as_ref().map(|u| within_stones(u, u64::from(put_in))),
        all_stones: u64::from(put_in) * u64::from(work.kits),
        all_grams: grams.map(|g| g * f64::from(work.kits)),
    }
}

fn stones_cost(work: &KitWork, gathering: &[GatheringLine]) -> Option<Decimal> {
    let cost = |(k, l): (&KitKind, &GatheringLine)| match k.stone_price {
        Some(price) => Some(price * Decimal::from(l.all_stones)),
        None => (l.all_stones == 0).then_some(Decimal::ZERO),
    };
    let mut sum = work
        .kinds
        .iter()
        .zip(gathering)
        .map(cost)
        .sum::<Option<Decimal>>()?
        .round_dp_with_strategy(work.digits, RoundingStrategy::MidpointAwayFromZero);
    sum.rescale(work.digits);
    Some(sum)
}

/// Labels of the kinds of which a bag holds some, kit by kit.
fn labels(work: &KitWork, gathering: &[GatheringLine]) -> Vec<Label> {
    let bags: Vec<(&KitKind, &GatheringLine)> =
        work.kinds.iter().zip(gathering).filter(|(_, l)| l.put_in > 0).collect();
    let mut all = vec![];
    for copy in 1..=work.kits {
        for (i, (kind, line)) in bags.iter().enumerate() {
            let mut lines = vec![
                work.kit.clone(),
                format!("for {}", work.piece),
                format!("{}, {}", line.kind, line.size),
                format!(
                    "{} {}, {} of them spare",
                    grouped(line.put_in.into()),
                    if line.put_in == 1 { "stone" } else { "stones" },
                    line.spare
                ),
            ];
            lines.extend(line.grams.map(|g| format!("{} g", trimmed(g, 1))));
            lines.push(format!("bag {copy} of {}, kind {} of {}", work.kits, i + 1, bags.len()));
            if kind.diameter_mm <= SMALL_PARTS_MM {
                lines.push("small parts: not for children under 3 years".into());
            }
            all.push(Label { lines });
        }
    }
    all
}
