//! The work at the bench: stretches, adhesive, hours.

use super::PlanError;
use crate::document::terms::{ArrangementName, Bench, Level, Speed, Way};
use crate::laying::{LaidOrder, LaidPiece};
use lay::{Finding, Severity};
use planning::adhesive::{
    Adhesive, AdhesiveSort, Apply, Label, Room, Section, USUAL_FILM_MM, usual_bead_mm,
};
use planning::glue::{GlueInput, GluePlan, GluedPiece};
use planning::hours::{
    Hours, LEARNING, Maker, ORDER_SET_UP_MIN, OrderWork, PACKING_MIN, PIECE_SET_UP_MIN,
    PREPARE_MIN, PieceWork, Session, Work, ZoneWork,
};
use planning::stretches::{StretchInput, Stretches};
use planning::{Given, Pace};
use schemars::JsonSchema;
use serde::Serialize;

/// Mixing one batch: measuring, stirring, letting it rest, min. Ours, no source.
const BATCH_MIN: f64 = 4.0;
/// Air at the bench where nothing is said: the middle of 21–27 °C (one source).
const TEMPERATURE_C: f64 = 24.0;
/// Relative humidity where nothing is said. Ours, no source.
const HUMIDITY: f64 = 0.5;

/// The bench order of one copy of a piece.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PieceStretches {
    /// Name of the piece.
    pub piece: String,
    /// How many copies.
    pub copies: u32,
    /// Its stretches.
    #[serde(flatten)]
    pub stretches: Stretches,
}

/// The adhesives of the order, and the usual one behind them if a piece names none.
pub(super) fn adhesives(laid: &LaidOrder) -> Vec<Adhesive> {
    let mut all = laid.terms.adhesives.clone();
    if laid.pieces.iter().any(|p| p.asked.bench.adhesive.is_none()) {
        all.push(Adhesive {
            name: "solvent gel (usual)".to_owned(),
            sort: AdhesiveSort::SolventGel,
            label: Label::default(),
        });
    }
    all
}

/// Which of [`adhesives`] a piece is glued with.
pub(super) fn adhesive_of(laid: &LaidOrder, bench: &Bench) -> usize {
    bench.adhesive.unwrap_or(laid.terms.adhesives.len())
}

/// The air of the workshop.
pub(super) fn room(laid: &LaidOrder) -> Room {
    let workshop = &laid.terms.workshop;
    Room {
        temperature_c: Given::or_usual(workshop.temperature_c, TEMPERATURE_C),
        humidity: Given::or_usual(workshop.humidity, HUMIDITY),
    }
}

/// Who sets the stones.
pub(super) fn maker(laid: &LaidOrder) -> Maker {
    let level = |level| match level {
        Level::Beginner => planning::hours::Level::Beginner,
        Level::Practised => planning::hours::Level::Practised,
        Level::Fast => planning::hours::Level::Fast,
    };
    let said = laid.terms.workshop.speed.map(|s| match s {
        Speed::Level(l) => level(l).base_per_h(),
        Speed::PerHour(n) => n,
    });
    let sessions = laid.terms.log.iter().filter_map(|e| {
        Some(Session {
            stones: e.stones,
            minutes: e.time_min?,
            work: e.arrangement.map(|a| match a {
                ArrangementName::Scatter => Work::Scatter,
                _ => Work::Rows,
            }),
            diameter_mm: e.kind.map(|k| laid.kinds[k].kind.reach_mm),
        })
    });
    Maker {
        base_per_h: Given::or_usual(said, planning::hours::Level::Practised.base_per_h()),
        sessions: sessions.collect(),
    }
}

/// How the adhesive of a piece is put on.
pub(super) fn apply(adhesive: &Adhesive, p: &LaidPiece) -> Given<Apply> {
    let kinds = &p.asked.piece.kinds;
    let smallest = kinds.iter().map(|k| k.reach_mm).fold(f64::INFINITY, f64::min);
    let said = p.asked.bench.apply.map(|way| match way {
        Way::Dot => Apply::Dot,
        Way::Bead(width) => Apply::Bead {
            width_mm: width.unwrap_or_else(|| usual_bead_mm(smallest)),
            section: Section::default(),
        },
        Way::Film(thickness) => Apply::Film { thickness_mm: thickness.unwrap_or(USUAL_FILM_MM) },
        Way::Sheet => Apply::Sheet,
    });
    Given::or_usual(said, Apply::usual(adhesive.sort))
}

/// The bench order of every piece that has stones.
pub(super) fn stretches(
    laid: &LaidOrder,
    maker: &Maker,
    found: &mut Vec<Finding>,
) -> Result<Vec<PieceStretches>, PlanError> {
    let (adhesives, room) = (adhesives(laid), room(laid));
    let mut all = vec![];
    for p in &laid.pieces {
        let piece = &p.asked.piece;
        let adhesive = &adhesives[adhesive_of(laid, &p.asked.bench)];
        let pace = |zone: &lay::Zone| -> Vec<Pace> {
            let work = Work::from(&zone.arrangement);
            piece.kinds.iter().map(|k| maker.rate(work, k.reach_mm).pace).collect()
        };
        let paces: Vec<Vec<Pace>> = piece.zones.iter().map(pace).collect();
        let input = StretchInput {
            piece,
            lay: &p.lay,
            roles: &p.asked.roles,
            paces: &paces,
            adhesive,
            apply: apply(adhesive, p).value,
            room,
        };
        let (stretches, findings) = planning::stretches::stretches(&input)?;
        found.extend(findings);
        let (name, copies) = (piece.name.clone(), p.asked.quantity);
        all.push(PieceStretches { piece: name, copies, stretches });
    }
    Ok(all)
}

/// The adhesive of the whole order.
pub(super) fn glue(
    laid: &LaidOrder,
    stretches: &[PieceStretches],
    found: &mut Vec<Finding>,
) -> Result<GluePlan, PlanError> {
    let adhesives = adhesives(laid);
    let pieces = laid.pieces.iter().zip(stretches).map(|(p, s)| {
        let bench = &p.asked.bench;
        let adhesive = adhesive_of(laid, bench);
        GluedPiece {
            piece: &p.asked.piece,
            stretches: &s.stretches,
            copies: p.asked.quantity,
            adhesive,
            apply: apply(&adhesives[adhesive], p),
            base: bench.base,
            stressed: bench.stressed,
            flexible: bench.flexible,
        }
    });
    let pieces = pieces.collect();
    let input = GlueInput { adhesives: &adhesives, room: room(laid), pieces };
    let (glue, findings) = planning::glue::glue(&input)?;
    let unsaid: Vec<&str> = laid
        .pieces
        .iter()
        .filter(|p| p.asked.bench.adhesive.is_none())
        .map(|p| p.asked.piece.name.as_str())
        .collect();
    if !unsaid.is_empty() {
        found.push(Finding::new(
            "plan.adhesive-unsaid",
            Severity::Note,
            format!("no adhesive is named, the usual solvent gel was taken: {}", unsaid.join(", ")),
            "add an `[[adhesive]]` with what its label says, and name it in the piece",
        ));
    }
    found.extend(findings);
    Ok(glue)
}

/// The hours of the order.
pub(super) fn hours(
    laid: &LaidOrder,
    maker: &Maker,
    glue: &GluePlan,
    found: &mut Vec<Finding>,
) -> Result<Hours, PlanError> {
    let pieces = laid.pieces.iter().enumerate().map(|(i, p)| {
        let bench = &p.asked.bench;
        let batches: u32 = glue.pieces[i].batches.iter().map(|b| b.times).sum();
        PieceWork {
            piece: p.asked.piece.name.clone(),
            copies: p.asked.quantity,
            zones: zone_work(p),
            set_up_min: Given::usual(PIECE_SET_UP_MIN),
            prepare_min: Given::or_usual(bench.prepare_min, PREPARE_MIN),
            mixing_min: Given {
                value: f64::from(batches) * BATCH_MIN / f64::from(p.asked.quantity.max(1)),
                origin: planning::Origin::Plan,
            },
            packing_min: Given::or_usual(bench.pack_min, PACKING_MIN),
        }
    });
    let order = OrderWork {
        pieces: pieces.collect(),
        set_up_min: Given::or_usual(laid.terms.workshop.set_up_min, ORDER_SET_UP_MIN),
        learning: Given::usual(LEARNING),
    };
    let (hours, findings) = planning::hours::hours(maker, &order)?;
    found.extend(findings);
    Ok(hours)
}

/// Stones of one copy by zone and kind.
fn zone_work(p: &LaidPiece) -> Vec<ZoneWork> {
    let piece = &p.asked.piece;
    let mut counts = vec![vec![0u64; piece.kinds.len()]; piece.zones.len()];
    for s in &p.lay.stones {
        counts[s.zone as usize][s.kind as usize] += 1;
    }
    let mut all = vec![];
    for (zone, counts) in piece.zones.iter().zip(counts) {
        for (kind, stones) in piece.kinds.iter().zip(counts).filter(|c| c.1 > 0) {
            let work = Work::from(&zone.arrangement);
            all.push(ZoneWork { stones, work, diameter_mm: kind.reach_mm });
        }
    }
    all
}
