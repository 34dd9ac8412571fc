//! Pieces whose scatter is set by hand, without a placing sheet: how their counts may come out.

use super::PlanError;
use crate::laying::{LaidOrder, LaidPiece};
use lay::{Arrangement, HANDS, Stone, Watch, by_hand};
use planning::spare::Counts;
use schemars::JsonSchema;
use serde::Serialize;

/// Trials of a piece, each hand the same number of times.
const TRIALS: usize = 50;
/// Stones set in all trials of a piece, above which each hand tries only once: a minute of work.
const MOST_STONES: usize = 400_000;

/// How the stones of a scatter come out that a person sets without a placing sheet.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct HandCount {
    /// How often the setting was tried out.
    pub trials: u32,
    /// Stones of one copy by kind, all its zones together.
    pub kinds: Vec<HandKind>,
    /// The least coverage of a trial in any zone set by hand.
    pub least_coverage: f64,
    /// The most.
    pub most_coverage: f64,
    /// Counts of each trial by kind as in `kinds`, and whose hand it was.
    #[serde(skip)]
    samples: Vec<(usize, Vec<u64>)>,
}

/// How many stones of a kind a copy set by hand takes.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct HandKind {
    /// The kind.
    pub kind: String,
    /// In half of all trials no more (nearest rank).
    pub stones_50: u64,
    /// In 95 of 100 trials no more (nearest rank).
    pub stones_95: u64,
}

/// Tries a piece out; `None` if it is set by a sheet or has no scatter.
pub(super) fn count(
    laid: &LaidOrder,
    index: usize,
    watch: &dyn Watch,
) -> Result<Option<HandCount>, PlanError> {
    let p = &laid.pieces[index];
    let piece = &p.asked.piece;
    let scattered: Vec<usize> = (0..piece.zones.len())
        .filter(|&i| matches!(piece.zones[i].arrangement, Arrangement::Scatter(_)))
        .collect();
    if !p.asked.bench.by_hand || scattered.is_empty() {
        return Ok(None);
    }
    let n = if p.lay.stones.len() * TRIALS > MOST_STONES { HANDS } else { TRIALS };
    let rows = in_rows(p, &scattered);
    let mut samples: Vec<(usize, Vec<u64>)> = vec![(0, rows); n];
    let (mut least, mut most) = (f64::INFINITY, 0.0f64);
    for &zone in &scattered {
        let given = given(p, zone);
        let counts = by_hand(piece, zone, &given, n, piece.zones[zone].seed, watch)?;
        for (sample, trial) in samples.iter_mut().zip(&counts.trials) {
            sample.0 = trial.hand;
            sample.1.iter_mut().zip(&trial.counts).for_each(|(s, c)| *s += c);
            (least, most) = (least.min(trial.coverage), most.max(trial.coverage));
        }
    }
    let used: Vec<usize> =
        (0..piece.kinds.len()).filter(|&k| samples.iter().any(|s| s.1[k] > 0)).collect();
    for sample in &mut samples {
        sample.1 = used.iter().map(|&k| sample.1[k]).collect();
    }
    let kinds = used.iter().enumerate().map(|(column, &k)| {
        let mut all: Vec<u64> = samples.iter().map(|s| s.1[column]).collect();
        all.sort_unstable();
        // The ⌈part · n⌉-th from below; n is a multiple of ten.
        let rank = |tenths: usize| all[(n * tenths).div_ceil(20).saturating_sub(1)];
        HandKind { kind: piece.kinds[k].name.clone(), stones_50: rank(10), stones_95: rank(19) }
    });
    Ok(Some(HandCount {
        trials: n as u32,
        kinds: kinds.collect(),
        least_coverage: least,
        most_coverage: most,
        samples,
    }))
}

/// Stones of a zone that have their place in the document: those set by hand, and those recoloured
/// to a kind that is not in the heap.
fn given(p: &LaidPiece, zone: usize) -> Vec<Stone> {
    let own = &p.asked.piece.zones[zone];
    let in_heap =
        |kind: usize| own.mix.iter().any(|m| m.kind == kind) || own.fillers.contains(&kind);
    let here = p.lay.stones.iter().filter(|s| s.zone as usize == zone);
    here.filter(|s| s.by_hand || !in_heap(s.kind as usize)).copied().collect()
}

/// Stones of the zones that are not scattered, by kind of the piece: they are set as they are laid.
fn in_rows(p: &LaidPiece, scattered: &[usize]) -> Vec<u64> {
    let mut counts = vec![0; p.asked.piece.kinds.len()];
    for s in p.lay.stones.iter().filter(|s| !scattered.contains(&(s.zone as usize))) {
        counts[s.kind as usize] += 1;
    }
    counts
}

impl HandCount {
    /// Stones of `kind` in all `copies` if each of [`HANDS`] hands sets them; `None` if it has none
    /// of it.
    pub(super) fn by_hand(&self, kind: &str, copies: u32) -> Option<Vec<Counts>> {
        let column = self.kinds.iter().position(|k| k.kind == kind)?;
        (0..HANDS)
            .map(|hand| {
                let own = self.samples.iter().filter(|s| s.0 == hand);
                let own: Vec<u64> = own.map(|s| s.1[column]).collect();
                Some(Counts::from_samples(&own)?.copies(u64::from(copies)))
            })
            .collect()
    }
}
