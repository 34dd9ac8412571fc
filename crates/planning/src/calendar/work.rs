//! What a calendar is made from.

use super::{Week, WeekError};
use crate::Given;
use jiff::civil::{Date, DateTime};

/// Everything that decides when an order can ship.
#[derive(Clone, Debug, PartialEq)]
pub struct Work {
    /// When the maker is at the bench.
    pub week: Week,
    /// When work may begin.
    pub start: Given<DateTime>,
    /// The day on which it has to ship at the latest.
    pub due: Option<Date>,
    /// Blanks that lie side by side on the bench. A blank keeps its place from the beginning of its
    /// preparation until it can be handled after its last side; it cures on a shelf.
    pub bench: Given<u32>,
    /// Pairs of hands, 1 or 2. One pair does the whole of an activity of a batch.
    pub hands: Given<u32>,
    /// Beginning the order, min, hands-on: once, before anything else.
    pub set_up_min: Given<f64>,
    /// The pieces, in the document's order. No batch holds copies of two pieces.
    pub pieces: Vec<PieceWork>,
    /// Other sorts of adhesive to try if the order would be late, the dearest change last.
    pub other_adhesives: Vec<Waits>,
}

/// What one piece asks for. Minutes are for each copy unless said.
#[derive(Clone, Debug, PartialEq)]
pub struct PieceWork {
    /// Its name.
    pub name: String,
    /// Number of copies.
    pub copies: u32,
    /// Beginning the piece, min, hands-on: once, whatever its copies, before any is prepared.
    pub set_up_min: Given<f64>,
    /// Preparing the blank, min, hands-on.
    pub prepare_min: Given<f64>,
    /// Drying after preparation, min on the clock.
    pub dry_min: Given<f64>,
    /// Setting, min, hands-on: one entry for each copy, all its sides together, what is learnt over
    /// copies already in. It is shared evenly among the sides.
    pub setting_min: Vec<f64>,
    /// The longest stretch for which adhesive stays open, min: no stretch is cut by a break or by
    /// the end of a day. Rounded up to whole minutes, at least 1. None where work may be put down at any stone.
    pub stretch_min: Option<Given<f64>>,
    /// The adhesive's waits after each side or coat.
    pub waits: Waits,
    /// Sides or coats, at least 1.
    pub sides: u32,
    /// Turning or handling between two sides or coats, min, hands-on.
    pub turn_min: Given<f64>,
    /// Whether a side has to cure before it is turned, instead of being turned as soon as it can be
    /// handled.
    pub cure_before_turn: bool,
    /// Packing, min, hands-on.
    pub pack_min: Given<f64>,
    /// The day on which its stones arrive, if they are not here: setting does not begin before.
    pub stones_on: Option<Date>,
}

/// How long an adhesive makes one wait, on the clock. Both run from the end of setting.
#[derive(Clone, Debug, PartialEq)]
pub struct Waits {
    /// The adhesive.
    pub adhesive: String,
    /// Until the piece can be handled, min.
    pub handle_min: Given<f64>,
    /// Until full cure, min.
    pub cure_min: Given<f64>,
}

/// Why no calendar could be made.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum WorkError {
    /// The working week cannot be used.
    #[error(transparent)]
    Week(#[from] WeekError),
    /// Nothing to do.
    #[error("there is no copy of any piece to plan for")]
    Nothing,
    /// A count outside its range.
    #[error("{what} must be from {least} to {most}: {value}")]
    Count {
        /// What is counted.
        what: String,
        /// The value given.
        value: u64,
        /// The least allowed.
        least: u64,
        /// The most allowed.
        most: u64,
    },
    /// A duration that is negative, not a number or longer than a year.
    #[error("{what} of `{piece}` must be from 0 min to a year: {minutes} min")]
    Minutes {
        /// Which duration.
        what: &'static str,
        /// The piece.
        piece: String,
        /// The value given.
        minutes: f64,
    },
    /// Not one setting time for each copy.
    #[error("`{piece}` has {copies} copies but {times} setting times")]
    SettingTimes {
        /// The piece.
        piece: String,
        /// Its copies.
        copies: u32,
        /// The times given.
        times: usize,
    },
    /// The work does not end within what is searched.
    #[error("the work is not done within {years} years of its start")]
    TooLong {
        /// The limit.
        years: i64,
    },
}
