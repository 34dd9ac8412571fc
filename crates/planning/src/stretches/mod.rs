//! The bench order of a lay, cut into what can be glued and set in one go.
//!
//! A stretch fits into the adhesive's open time less a fifth, at the pace that this maker keeps or
//! beats nine times in ten. Holes and borders come first, then the other zones; rows are kept whole
//! where they can be, and where a zone needs several stretches they are about equally long.

mod cut;
mod findings;
mod groups;
mod line;
mod plan;
mod said;
mod sweep;
#[cfg(test)]
pub(crate) mod tests;

pub(crate) use findings::PAGES;
pub use plan::{BREAK_MIN, RESERVE, stretches};

use crate::adhesive::{Adhesive, Apply, LabelError, Room};
use crate::{Pace, Reason};
use lay::{Piece, PieceLay};
use schemars::JsonSchema;
use serde::Serialize;

/// What is cut into stretches.
#[derive(Clone, Debug)]
pub struct StretchInput<'a> {
    /// The piece.
    pub piece: &'a Piece,
    /// Its lay.
    pub lay: &'a PieceLay,
    /// What each zone of the piece is, by which it comes earlier or later.
    pub roles: &'a [ZoneRole],
    /// The pace in each zone for each kind of the piece: `paces[zone][kind]`.
    pub paces: &'a [Vec<Pace>],
    /// The adhesive.
    pub adhesive: &'a Adhesive,
    /// How it is put on.
    pub apply: Apply,
    /// The air of the workshop.
    pub room: Room,
}

/// What a zone is to the bench order; earlier roles are set first.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum ZoneRole {
    /// A band round holes.
    AroundHoles,
    /// A band along the blank's edge.
    Border,
    /// Anything else.
    #[default]
    Inner,
}

/// Why a lay could not be cut into stretches.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum StretchError {
    /// The label says what cannot be.
    #[error(transparent)]
    Label(#[from] LabelError),
    /// A pace is no number over 0, or the slow one is above the usual one.
    #[error(
        "the pace for `{kind}` must be over 0, the slow one at most the usual: {slow_per_h} and {usual_per_h} stones/h"
    )]
    Pace {
        /// Name of the kind.
        kind: String,
        /// The slow pace, stones/h.
        slow_per_h: f64,
        /// The usual pace, stones/h.
        usual_per_h: f64,
    },
    /// Roles or paces are missing for some zone or kind.
    #[error("{what} must be {wanted}: {got}")]
    Missing {
        /// Of what.
        what: &'static str,
        /// How many there are.
        got: usize,
        /// How many there must be.
        wanted: usize,
    },
}

/// A lay as it is worked at the bench.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Stretches {
    /// How long the adhesive may lie open in this room, min; nothing if there is no limit.
    pub open_min: Option<f64>,
    /// The temperature at which it does, that of the room, °C.
    pub open_at_c: f64,
    /// How long by the label, at 25 °C, min; nothing if the label does not say.
    pub label_open_min: Option<f64>,
    /// What a stretch may take at the slow pace, min.
    pub limit_min: f64,
    /// What that limit comes from.
    pub limited_by: Limit,
    /// Minutes for all of them at the usual pace.
    pub usual_min: f64,
    /// Minutes for all of them at the slow pace.
    pub slow_min: f64,
    /// The stretches of one copy, in bench order.
    pub stretches: Vec<Stretch>,
    /// Why they are as long as they are.
    pub reasons: Vec<Reason>,
}

/// What limits a stretch.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Limit {
    /// The open time less a fifth.
    OpenTime,
    /// The time between two breaks: the adhesive sets no limit.
    Break,
}

/// What is glued and set in one go.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Stretch {
    /// Its number in bench order, from 1.
    pub number: u32,
    /// Name of its zone.
    pub zone: String,
    /// Index of its zone, from 0.
    pub zone_index: u32,
    /// The first row of the zone that it has a part in, from 1.
    pub first_row: u32,
    /// The last row of the zone that it has a part in.
    pub last_row: u32,
    /// The stone where its glue begins.
    pub first_place_no: u32,
    /// The stone where its glue ends.
    pub last_place_no: u32,
    /// Where its glue begins, from the top left corner of the blank's box.
    pub start: BenchPoint,
    /// Where its glue ends.
    pub stop: BenchPoint,
    /// Number of its stones.
    pub stones: u32,
    /// Its stones by kind, in the piece's order of kinds; only kinds it has.
    pub kinds: Vec<StretchKind>,
    /// Its stones by `place_no`, in the order in which they are set.
    pub order: Vec<u32>,
    /// How often the next stone is of another kind than the one before.
    pub kind_changes: u32,
    /// Length of its glue line, mm: along its rows, broken where a stone is missing or where it
    /// would run under a stone that is set already.
    pub glue_line_mm: f64,
    /// In how many pieces that line is.
    pub glue_lines: u32,
    /// Width of its glue line, mm: of the bead, or of the dots under its smallest stones; nothing
    /// for films and sheets.
    pub glue_width_mm: Option<f64>,
    /// Its part of the zone's area, by the area of its stones, cm²: for films and sheets.
    pub area_cm2: f64,
    /// Minutes at the usual pace.
    pub usual_min: f64,
    /// Minutes at the slow pace.
    pub slow_min: f64,
}

/// How many stones of one kind.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct StretchKind {
    /// Its name.
    pub kind: String,
    /// Its index among the kinds of the piece, from 0.
    pub kind_index: u32,
    /// How many.
    pub stones: u32,
}

/// A place as a maker measures it: from the top left corner of the blank's box.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct BenchPoint {
    /// To the right, mm.
    pub right_mm: f64,
    /// Down, mm.
    pub down_mm: f64,
}
