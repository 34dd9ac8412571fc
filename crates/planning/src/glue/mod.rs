//! How much adhesive an order takes: for each piece, in batches, in containers, and what it costs.
//!
//! Every amount defers to the label and the safety sheet of the product in hand.

mod batches;
mod cautions;
mod findings;
mod need;
mod pages;
mod reasons;
#[cfg(test)]
mod tests;

pub use need::glue;
pub(crate) use pages::PAGES;

use crate::adhesive::{Adhesive, AdhesiveSort, Amount, Apply, Container, LabelError, Room};
use crate::stretches::Stretches;
use crate::{Given, Reason};
use lay::Piece;
use rust_decimal::Decimal;
use schemars::JsonSchema;
use serde::Serialize;

/// What an order is glued with.
#[derive(Clone, Debug)]
pub struct GlueInput<'a> {
    /// The adhesives of the workshop.
    pub adhesives: &'a [Adhesive],
    /// The air of the workshop.
    pub room: Room,
    /// The pieces of the order.
    pub pieces: Vec<GluedPiece<'a>>,
}

/// One piece, and how it is glued.
#[derive(Clone, Debug)]
pub struct GluedPiece<'a> {
    /// The piece: its name, its zones and its kinds.
    pub piece: &'a Piece,
    /// How one copy is worked.
    pub stretches: &'a Stretches,
    /// How many copies.
    pub copies: u32,
    /// Its adhesive, an index into the adhesives.
    pub adhesive: usize,
    /// How it is put on.
    pub apply: Given<Apply>,
    /// What it is put on, if known.
    pub base: Option<Base>,
    /// How high a stone of each kind of the piece is, mm, where the maker says so.
    pub heights_mm: Vec<Option<f64>>,
    /// Whether the base is under stress: bent, drilled, cut by laser.
    pub stressed: bool,
    /// Whether the finished thing bends in use.
    pub flexible: bool,
}

/// What a blank is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Base {
    /// Acrylic sheet.
    Acrylic,
    /// Polycarbonate.
    Polycarbonate,
    /// Wood.
    Wood,
    /// Metal, coated or not.
    Metal,
    /// Glass.
    Glass,
    /// Leather.
    Leather,
    /// Cloth.
    Fabric,
    /// Card and paper.
    Card,
    /// Cast resin.
    Resin,
    /// The shell of a helmet that is worn for protection.
    ProtectiveHelmet,
}

/// Why the adhesive of an order could not be reckoned.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum GlueError {
    /// A label says what cannot be.
    #[error(transparent)]
    Label(#[from] LabelError),
    /// A piece names an adhesive that is not there.
    #[error("piece `{piece}`: there is no adhesive number {number}, only {n}")]
    NoAdhesive {
        /// Name of the piece.
        piece: String,
        /// What it asks for, from 1.
        number: usize,
        /// How many there are.
        n: usize,
    },
    /// A sheet put on as dots, beads or a film, or something liquid put on as a sheet.
    #[error("piece `{piece}`: {sort} cannot be put on as {apply}: {right}")]
    Apply {
        /// Name of the piece.
        piece: String,
        /// The adhesive's sort.
        sort: &'static str,
        /// How it was to be put on.
        apply: &'static str,
        /// What would be right.
        right: &'static str,
    },
    /// A bead's width or a film's thickness is no number over 0.
    #[error("piece `{piece}`: the {what} must be a number over 0 mm: {value_mm}")]
    Width {
        /// Name of the piece.
        piece: String,
        /// Of what.
        what: &'static str,
        /// What it was, mm.
        value_mm: f64,
    },
}

/// The adhesive of a whole order.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct GluePlan {
    /// Each adhesive that is used, in the workshop's order.
    pub adhesives: Vec<AdhesiveNeed>,
    /// Each piece, in the order's order.
    pub pieces: Vec<PieceGlue>,
    /// What the containers to buy cost together; nothing if a price or a container is not known.
    #[schemars(with = "Option<String>")]
    pub cost: Option<Decimal>,
    /// How the figures came about.
    pub reasons: Vec<Reason>,
}

/// One adhesive over the whole order.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct AdhesiveNeed {
    /// Its name.
    pub adhesive: String,
    /// Its index among the workshop's adhesives, from 0.
    pub adhesive_index: u32,
    /// Its sort.
    pub sort: AdhesiveSort,
    /// What ends up on the pieces.
    pub on_pieces: Amount,
    /// What has to be there: with waste.
    pub need: Amount,
    /// How often a batch is mixed; 0 if nothing is mixed.
    pub batches: u32,
    /// What one container holds, by the label; it also says in which measure it is sold.
    pub container: Option<Container>,
    /// How many containers that is; nothing if the label's content is not known.
    pub containers: Option<u32>,
    /// What they cost; nothing if price or content is not known.
    #[schemars(with = "Option<String>")]
    pub cost: Option<Decimal>,
    /// What is left over of them.
    pub leftover: Option<Amount>,
    /// What to take care of: short, and deferring to label and safety sheet.
    pub cautions: Vec<String>,
}

/// The adhesive of one piece.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PieceGlue {
    /// Its name.
    pub piece: String,
    /// Name of its adhesive.
    pub adhesive: String,
    /// Index of that among the workshop's adhesives, from 0.
    pub adhesive_index: u32,
    /// How many copies.
    pub copies: u32,
    /// What ends up on one copy.
    pub on_copy: Amount,
    /// What has to be there for one copy: with waste.
    pub copy_need: Amount,
    /// The same for all copies.
    pub need: Amount,
    /// What one copy uses up of a container's price; nothing if price or content is not known.
    #[schemars(with = "Option<String>")]
    pub copy_cost: Option<Decimal>,
    /// How it is mixed: batch by batch; empty if nothing is mixed.
    pub batches: Vec<Batch>,
}

/// One batch of a mix.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Batch {
    /// How often it is mixed for the order.
    pub times: u32,
    /// How many whole copies it serves; 1 if it serves a copy or a part of one.
    pub copies: u32,
    /// The first stretch of a copy that it serves, from 1.
    pub first_stretch: u32,
    /// The last stretch of a copy that it serves.
    pub last_stretch: u32,
    /// Into how many batches of this size such a stretch is divided; 1 unless one stretch takes
    /// more than a batch may hold.
    pub divided: u32,
    /// How many stones it sets; if divided, at most.
    pub stones: u32,
    /// How long it is used at the usual pace, min.
    pub usual_min: f64,
    /// How long it is used at the slow pace, min.
    pub slow_min: f64,
    /// How long it stays usable: pot life at this mass in this room, min.
    pub pot_min: f64,
    /// How much is mixed, with waste.
    pub amount: Amount,
}
