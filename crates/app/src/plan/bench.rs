//! The work at the bench: stretches, adhesive, hours.

use super::PlanError;
use crate::document::terms::Way;
use crate::laying::{LaidOrder, LaidPiece};
use lay::{Finding, Severity};
use planning::adhesive::{
    Adhesive, AdhesiveSort, Apply, Label, Room, Section, USUAL_FILM_MM, usual_bead_mm,
};
use planning::glue::{GlueInput, GluePlan, GluedPiece};
use planning::hours::{
    Hours, LEARNING, Level, Maker, ORDER_SET_UP_MIN, OrderWork, PACKING_MIN, PIECE_SET_UP_MIN,
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

/// With what, how and in which air the order is glued: found once, asked by every part.
pub(super) struct Gluing {
    /// The adhesives of the document, and the usual one behind them if a piece names none.
    adhesives: Vec<Adhesive>,
    /// The adhesive of each piece, and how it is put on.
    pieces: Vec<(usize, Given<Apply>)>,
    /// The air of the workshop.
    room: Room,
}

impl Gluing {
    /// Of a laid order.
    pub(super) fn of(laid: &LaidOrder) -> Gluing {
        let mut adhesives = laid.terms.adhesives.clone();
        let usual = adhesives.len();
        if laid.pieces.iter().any(|p| p.asked.bench.adhesive.is_none()) {
            adhesives.push(Adhesive {
                name: "solvent gel (usual)".to_owned(),
                sort: AdhesiveSort::SolventGel,
                label: Label::default(),
            });
        }
        let of_piece = |p: &LaidPiece| {
            let adhesive = p.asked.bench.adhesive.unwrap_or(usual);
            (adhesive, apply(&adhesives[adhesive], p))
        };
        let workshop = &laid.terms.workshop;
        Gluing {
            pieces: laid.pieces.iter().map(of_piece).collect(),
            adhesives,
            room: Room {
                temperature_c: Given::or_usual(workshop.temperature_c, TEMPERATURE_C),
                humidity: Given::or_usual(workshop.humidity, HUMIDITY),
            },
        }
    }

    /// The adhesive of a piece, by its index.
    pub(super) fn adhesive(&self, piece: usize) -> &Adhesive {
        &self.adhesives[self.pieces[piece].0]
    }

    /// How it is put on.
    pub(super) fn apply(&self, piece: usize) -> Given<Apply> {
        self.pieces[piece].1
    }
}

/// Who sets the stones.
pub(super) fn maker(laid: &LaidOrder) -> Maker {
    let sessions = laid.terms.log.iter().filter_map(|e| {
        Some(Session {
            stones: e.stones,
            minutes: e.time_min?,
            work: e.work,
            diameter_mm: e.kind.map(|k| laid.kinds[k].kind.reach_mm),
        })
    });
    Maker {
        base_per_h: Given::or_usual(laid.terms.workshop.rate_per_h, Level::Practised.base_per_h()),
        sessions: sessions.collect(),
    }
}

/// How the adhesive of a piece is put on.
fn apply(adhesive: &Adhesive, p: &LaidPiece) -> Given<Apply> {
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
    gluing: &Gluing,
    maker: &Maker,
    found: &mut Vec<Finding>,
) -> Result<Vec<PieceStretches>, PlanError> {
    let mut all = vec![];
    for (i, p) in laid.pieces.iter().enumerate() {
        let piece = &p.asked.piece;
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
            adhesive: gluing.adhesive(i),
            apply: gluing.apply(i).value,
            room: gluing.room,
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
    gluing: &Gluing,
    stretches: &[PieceStretches],
    found: &mut Vec<Finding>,
) -> Result<GluePlan, PlanError> {
    let pieces = laid.pieces.iter().zip(stretches).zip(&gluing.pieces);
    let pieces = pieces.map(|((p, s), &(adhesive, apply))| {
        let bench = &p.asked.bench;
        GluedPiece {
            piece: &p.asked.piece,
            stretches: &s.stretches,
            copies: p.asked.quantity,
            adhesive,
            apply,
            base: bench.base,
            heights_mm: p.asked.piece.kinds.iter().map(|k| height_mm(laid, &k.name)).collect(),
            stressed: bench.stressed,
            flexible: bench.flexible,
        }
    });
    let pieces = pieces.collect();
    let input = GlueInput { adhesives: &gluing.adhesives, room: gluing.room, pieces };
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

/// How high a stone of this kind is, mm, if the document says so.
fn height_mm(laid: &LaidOrder, kind: &str) -> Option<f64> {
    laid.kinds.iter().find(|k| k.kind.name == kind)?.height_mm
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
