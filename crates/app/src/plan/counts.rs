//! How many stones of each kind every piece takes, and how many to have.

use super::PlanError;
use crate::laying::{LaidOrder, LaidPiece};
use lay::{Finding, Watch};
use planning::Given;
use planning::spare::{Counts, KindNeed, Losses, Spare, SpareInput};
use schemars::JsonSchema;
use serde::Serialize;

/// How sure an order must be where nothing is said. Ours, no source.
const SURE: f64 = 0.95;
/// Loss where nothing is said. Ours; makers speak of 5 to 20 % of spare (common practice, no
/// source).
const LOSS: f64 = 0.03;
/// How many handled stones an assumed loss is worth. Ours, no source.
const TRUST: f64 = 500.0;

/// The stones of one piece.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PieceCount {
    /// Its name.
    pub piece: String,
    /// How many are made.
    pub copies: u32,
    /// Stones of one copy.
    pub stones: u64,
    /// The same by kind; only kinds it has.
    pub kinds: Vec<KindCount>,
    /// Where its stones are set by hand: how its counts may come out.
    pub by_hand: Option<HandCount>,
}

/// Stones of one kind in one copy.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct KindCount {
    /// The kind.
    pub kind: String,
    /// How many.
    pub stones: u64,
}

/// How the stones of a scatter come out that a person sets without a placing sheet.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct HandCount {
    /// How often the setting was tried out.
    pub trials: u32,
    /// Stones of one copy by kind.
    pub kinds: Vec<HandKind>,
    /// The least coverage of a trial, of the zones set by hand.
    pub least_coverage: f64,
    /// The most.
    pub most_coverage: f64,
    /// Counts of every trial, by kind as in `kinds`; what spare is reckoned from.
    #[serde(skip)]
    pub samples: Vec<Vec<u64>>,
}

/// How many stones of a kind a copy set by hand takes.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct HandKind {
    /// The kind.
    pub kind: String,
    /// In half of all trials no more.
    pub stones_50: u64,
    /// In 95 of 100 trials no more.
    pub stones_95: u64,
}

/// Counts every piece.
pub(super) fn pieces(
    laid: &LaidOrder,
    watch: &dyn Watch,
) -> Result<Vec<PieceCount>, PlanError> {
    laid.pieces.iter().map(|p| piece(laid, p, watch)).collect()
}

fn piece(
    laid: &LaidOrder,
    p: &LaidPiece,
    watch: &dyn Watch,
) -> Result<PieceCount, PlanError> {
    let kinds = p.asked.piece.kinds.iter().zip(p.counts());
    let kinds = kinds.filter(|k| k.1 > 0).map(|(kind, n)| KindCount {
        kind: kind.name.clone(),
        stones: n as u64,
    });
    Ok(PieceCount {
        piece: p.asked.piece.name.clone(),
        copies: p.asked.quantity,
        stones: p.lay.stones.len() as u64,
        kinds: kinds.collect(),
        by_hand: super::hand::count(laid, p, watch)?,
    })
}

/// How many stones to have of every kind that the order uses, in the document's order.
pub(super) fn spare(
    laid: &LaidOrder,
    pieces: &[PieceCount],
    found: &mut Vec<Finding>,
) -> Result<Spare, PlanError> {
    let needs = laid.kinds.iter().enumerate().filter_map(|(i, shelf)| {
        let name = &shelf.kind.name;
        let used = pieces.iter().filter_map(|p| of_piece(p, name)).reduce(|a, b| a.plus(&b))?;
        Some(KindNeed { kind: name.clone(), need: used, losses: losses(laid, i) })
    });
    let workshop = &laid.terms.workshop;
    let asked = SpareInput { sure: Given::or_usual(workshop.sure, SURE), kinds: needs.collect() };
    let (spare, findings) = planning::spare::spare(&asked)?;
    found.extend(findings);
    Ok(spare)
}

/// Stones of a kind in all copies of a piece; nothing if it has none of it.
fn of_piece(p: &PieceCount, kind: &str) -> Option<Counts> {
    if let Some(hand) = &p.by_hand
        && let Some(k) = hand.kinds.iter().position(|k| k.kind == kind)
    {
        let samples: Vec<u64> = hand.samples.iter().map(|s| s[k]).collect();
        return Some(Counts::from_samples(&samples)?.copies(u64::from(p.copies)));
    }
    let stones = p.kinds.iter().find(|k| k.kind == kind)?.stones;
    Some(Counts::exactly(stones * u64::from(p.copies)))
}

/// What the document and the log say of the losses of a kind. Entries that name no kind speak of
/// all of them.
fn losses(laid: &LaidOrder, kind: usize) -> Losses {
    let workshop = &laid.terms.workshop;
    let entries = laid.terms.log.iter().filter(|e| e.kind.is_none_or(|k| k == kind));
    let (mut handled, mut lost) = (0, 0);
    for (entry, gone) in entries.filter_map(|e| Some((e, e.lost?))) {
        handled += entry.stones + gone;
        lost += gone;
    }
    Losses {
        assumed: Given::or_usual(workshop.loss, LOSS),
        trust: Given::or_usual(workshop.trust.map(|n| n as f64), TRUST),
        handled,
        lost,
    }
}
