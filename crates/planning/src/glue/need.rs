//! From pieces and stretches to amounts, containers and costs.

use super::{
    AdhesiveNeed, GlueError, GlueInput, GluePlan, GluedPiece, PieceGlue, batches, cautions,
    findings, reasons,
};
use crate::adhesive::{
    Adhesive, AdhesiveSort, Amount, Apply, Container, Facts, bead_ml, dot_ul, film_ml,
};
use crate::stretches::Stretch;
use lay::{Finding, Piece};
use rust_decimal::Decimal;

/// Rounding allowed where a need just fills its containers, as a part of one.
const JUST: f64 = 1e-9;

/// How much adhesive an order takes, and what is worth knowing about it.
///
/// Amounts add up: what an order needs is what its pieces need, what a piece needs is what its
/// stretches need times its copies. Waste is added as a share of what ends up on the pieces.
///
/// # Errors
/// A label that cannot be, an adhesive that is not there or cannot be put on in that way.
pub fn glue(input: &GlueInput<'_>) -> Result<(GluePlan, Vec<Finding>), GlueError> {
    let facts: Vec<Facts> =
        input.adhesives.iter().map(Adhesive::facts).collect::<Result<_, _>>()?;
    let pieces: Vec<PieceGlue> =
        input.pieces.iter().map(|p| piece(input, &facts, p)).collect::<Result<_, _>>()?;
    let mut adhesives = vec![];
    for (i, adhesive) in input.adhesives.iter().enumerate() {
        let of: Vec<&PieceGlue> =
            pieces.iter().filter(|p| p.adhesive_index as usize == i).collect();
        if !of.is_empty() {
            adhesives.push(need(input, i, adhesive, &facts[i], &of));
        }
    }
    let sum = |total: Option<Decimal>, a: &AdhesiveNeed| total?.checked_add(a.cost?);
    let plan = GluePlan {
        cost: adhesives.iter().fold(Some(Decimal::ZERO), sum),
        reasons: reasons::of(input, &facts, &pieces, &adhesives),
        adhesives,
        pieces,
    };
    let found = findings::of(input, &facts, &plan);
    Ok((plan, found))
}

fn piece(
    input: &GlueInput<'_>,
    facts: &[Facts],
    glued: &GluedPiece<'_>,
) -> Result<PieceGlue, GlueError> {
    let (adhesive, facts) = match (input.adhesives.get(glued.adhesive), facts.get(glued.adhesive)) {
        (Some(adhesive), Some(facts)) => (adhesive, facts),
        _ => {
            return Err(GlueError::NoAdhesive {
                piece: glued.piece.name.clone(),
                number: glued.adhesive + 1,
                n: input.adhesives.len(),
            });
        }
    };
    checked(glued, adhesive.sort)?;
    let stretches = &glued.stretches.stretches;
    let on = |s: &Stretch| on_stretch(facts, glued.piece, glued.apply.value, s);
    let with_waste = 1.0 + facts.waste.value;
    let needs: Vec<Amount> = stretches.iter().map(|s| on(s).times(with_waste)).collect();
    let on_copy = stretches.iter().fold(Amount::default(), |sum, s| sum.plus(on(s)));
    let copy_need = on_copy.times(with_waste);
    let share = contents(adhesive, &copy_need);
    Ok(PieceGlue {
        piece: glued.piece.name.clone(),
        adhesive: adhesive.name.clone(),
        adhesive_index: glued.adhesive as u32,
        copies: glued.copies,
        on_copy,
        copy_need,
        need: copy_need.times(f64::from(glued.copies)),
        copy_cost: share.and_then(|share| part_of(adhesive.label.price?, share)),
        batches: batches::batches(facts, &input.room, stretches, &needs, glued.copies),
    })
}

/// What ends up under the stones of one stretch.
fn on_stretch(facts: &Facts, piece: &Piece, apply: Apply, stretch: &Stretch) -> Amount {
    let ml = match apply {
        Apply::Dot => {
            let kinds = stretch.kinds.iter();
            let dots = kinds
                .map(|k| dot_ul(piece.kinds[k.kind_index as usize].reach_mm) * f64::from(k.stones));
            dots.fold(0.0, |sum, ul| sum + ul) / 1000.0
        }
        Apply::Bead { width_mm, section } => bead_ml(width_mm, section, stretch.glue_line_mm),
        Apply::Film { thickness_mm } => film_ml(stretch.area_cm2 * 100.0, thickness_mm),
        Apply::Sheet => return Amount::of_sheet(stretch.area_cm2),
    };
    Amount::of_ml(facts, ml)
}

fn checked(glued: &GluedPiece<'_>, sort: AdhesiveSort) -> Result<(), GlueError> {
    let piece = glued.piece.name.clone();
    let (apply, width) = match glued.apply.value {
        Apply::Dot => ("dots", None),
        Apply::Bead { width_mm, .. } => ("beads", Some(("width of the bead", width_mm))),
        Apply::Film { thickness_mm } => ("a film", Some(("thickness of the film", thickness_mm))),
        Apply::Sheet => ("a sheet", None),
    };
    if (sort == AdhesiveSort::AdhesiveSheet) != (glued.apply.value == Apply::Sheet) {
        let right = if sort == AdhesiveSort::AdhesiveSheet {
            "say `apply = \"sheet\"` or leave `apply` out, or take a liquid adhesive"
        } else {
            "say `dot`, `bead` or `film`, or take an adhesive of the sort `adhesive sheet`"
        };
        return Err(GlueError::Apply { piece, sort: sort.name(), apply, right });
    }
    match width {
        Some((what, value_mm)) if !(value_mm.is_finite() && value_mm > 0.0) => {
            Err(GlueError::Width { piece, what, value_mm })
        }
        _ => Ok(()),
    }
}

/// One adhesive over all its pieces.
fn need(
    input: &GlueInput<'_>,
    index: usize,
    adhesive: &Adhesive,
    facts: &Facts,
    of: &[&PieceGlue],
) -> AdhesiveNeed {
    let sum = |part: &dyn Fn(&PieceGlue) -> Amount| {
        of.iter().fold(Amount::default(), |sum, p| sum.plus(part(p)))
    };
    let need = sum(&|p| p.need);
    let contents = contents(adhesive, &need);
    let containers = contents.map(|n| (n - JUST).ceil().max(0.0) as u32);
    let price = adhesive.label.price;
    let cost = containers.and_then(|n| price?.checked_mul(Decimal::from(n)));
    let leftover = containers.and_then(|n| left(facts, adhesive, f64::from(n) - contents?));
    AdhesiveNeed {
        adhesive: adhesive.name.clone(),
        adhesive_index: index as u32,
        sort: adhesive.sort,
        on_pieces: sum(&|p| p.on_copy.times(f64::from(p.copies))),
        need,
        batches: of.iter().flat_map(|p| &p.batches).fold(0, |n, b| n.saturating_add(b.times)),
        container: adhesive.label.container,
        containers,
        cost,
        leftover,
        cautions: cautions::of(adhesive.sort, input.pieces.iter().filter(|p| p.adhesive == index)),
    }
}

/// How many containers an amount fills; `None` if what one holds is not known.
fn contents(adhesive: &Adhesive, amount: &Amount) -> Option<f64> {
    Some(match adhesive.label.container? {
        Container::Ml(ml) => amount.ml / ml,
        Container::G(g) => amount.g / g,
        Container::Cm2(cm2) => amount.cm2 / cm2,
    })
}

/// So many containers, a part of one as a rule, as an amount.
fn left(facts: &Facts, adhesive: &Adhesive, n: f64) -> Option<Amount> {
    let n = n.max(0.0);
    Some(match adhesive.label.container? {
        Container::Ml(ml) => Amount::of_ml(facts, n * ml),
        Container::G(g) => Amount::of_ml(facts, n * g / facts.density_g_per_ml?.value),
        Container::Cm2(cm2) => Amount::of_sheet(n * cm2),
    })
}

/// A share of a price, to a hundredth of a cent.
fn part_of(price: Decimal, share: f64) -> Option<Decimal> {
    let share = Decimal::from_f64_retain(share)?.round_dp(9);
    Some(price.checked_mul(share)?.round_dp(4))
}
