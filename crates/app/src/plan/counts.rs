//! How many stones of each kind every piece takes, and how many to have.

use super::PlanError;
use super::hand::{self, HandCount};
use crate::laying::LaidOrder;
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

/// Counts every piece.
pub(super) fn pieces(laid: &LaidOrder, watch: &dyn Watch) -> Result<Vec<PieceCount>, PlanError> {
    (0..laid.pieces.len()).map(|i| piece(laid, i, watch)).collect()
}

fn piece(laid: &LaidOrder, index: usize, watch: &dyn Watch) -> Result<PieceCount, PlanError> {
    let p = &laid.pieces[index];
    let kinds = p.kinds_used().map(|(kind, stones)| KindCount { kind: kind.name.clone(), stones });
    Ok(PieceCount {
        piece: p.asked.piece.name.clone(),
        copies: p.asked.quantity,
        stones: p.lay.stones.len() as u64,
        kinds: kinds.collect(),
        by_hand: hand::count(laid, index, watch)?,
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
        let need = need(pieces, name)?;
        Some(KindNeed { kind: name.clone(), need, losses: losses(laid, i) })
    });
    let workshop = &laid.terms.workshop;
    let asked = SpareInput { sure: Given::or_usual(workshop.sure, SURE), kinds: needs.collect() };
    let (spare, findings) = planning::spare::spare(&asked)?;
    found.extend(findings);
    Ok(spare)
}

/// Stones of a kind in the whole order; `None` if it has none. Whose hand sets a scatter is the same
/// over all its copies, so that they are added up hand by hand.
fn need(pieces: &[PieceCount], kind: &str) -> Option<Counts> {
    let (mut certain, mut by_hand) = (0, vec![]);
    for p in pieces {
        if let Some(counts) = p.by_hand.as_ref().and_then(|h| h.by_hand(kind, p.copies)) {
            by_hand.push(counts);
        } else if p.by_hand.is_none() {
            let own = p.kinds.iter().find(|k| k.kind == kind).map_or(0, |k| k.stones);
            certain += own * u64::from(p.copies);
        }
    }
    let certain = Counts::exactly(certain);
    if by_hand.is_empty() {
        return (certain.most() > 0).then_some(certain);
    }
    let of_hand = |h: usize| by_hand.iter().fold(certain.clone(), |sum, c| sum.plus(&c[h]));
    Counts::one_of(&(0..lay::HANDS).map(of_hand).collect::<Vec<_>>())
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
