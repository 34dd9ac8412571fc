//! The colour to put under the stones of each piece, so that bare places vanish.

use super::PlanError;
use super::bench::Gluing;
use crate::laying::{LaidOrder, LaidPiece};
use lay::Finding;
use planning::Given;
use planning::adhesive::Apply;
use planning::glue::GluePlan;
use planning::tint::{Tint, TintKind, TintWork, USUAL_PIGMENT};
use schemars::JsonSchema;
use serde::Serialize;

/// The base tint of one piece.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PieceTint {
    /// Name of the piece.
    pub piece: String,
    /// Its base tint.
    #[serde(flatten)]
    pub tint: Tint,
}

/// The base tint of every piece whose stones are set into a film.
pub(super) fn tints(
    laid: &LaidOrder,
    gluing: &Gluing,
    glue: &GluePlan,
    found: &mut Vec<Finding>,
) -> Result<Vec<PieceTint>, PlanError> {
    let mut all = vec![];
    for (i, (p, g)) in laid.pieces.iter().zip(&glue.pieces).enumerate() {
        let film = matches!(gluing.apply(i).value, Apply::Film { .. });
        if !film || p.lay.stones.is_empty() {
            continue;
        }
        let work = TintWork {
            piece: p.asked.piece.name.clone(),
            adhesive: g.adhesive.clone(),
            kinds: kinds(p),
            adhesive_g: g.need.g,
            pigment: Given::usual(USUAL_PIGMENT),
            pigment_limit: gluing.adhesive(i).label.pigment_limit,
        };
        let (tint, findings) = planning::tint::tint(&work)?;
        found.extend(findings);
        all.push(PieceTint { piece: p.asked.piece.name.clone(), tint });
    }
    Ok(all)
}

fn kinds(p: &LaidPiece) -> Vec<TintKind> {
    let area = |d: f64| std::f64::consts::FRAC_PI_4 * d * d;
    p.kinds_used()
        .map(|(kind, n)| TintKind {
            kind: kind.name.clone(),
            colour: kind.colour,
            covered_mm2: n as f64 * area(kind.reach_mm),
        })
        .collect()
}
