//! The order document as values: what a maker asked for, checked one key at a time.
//!
//! Lengths are millimetres. Places (`at`, `centre`, corners of a polygon) are as the maker writes
//! them: to the right and down from the top left corner of a box that the item names.

use super::terms::{Bench, Terms};
use lay::{Colour, Colouring, Finish, Gauge};
use std::ops::Range;

/// Where in the document something was written.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Spot {
    /// The way to it: `piece 2 "sign" › zone 1 › spacing`.
    pub place: String,
    /// Its bytes.
    pub span: Range<usize>,
}

/// A whole document.
#[derive(Clone, Debug, PartialEq)]
pub struct Document {
    /// Name of the order.
    pub order: String,
    /// Seed of everything random.
    pub seed: u64,
    /// The shelf, in the document's order.
    pub kinds: Vec<Kind>,
    /// The pieces, in the document's order.
    pub pieces: Vec<Piece>,
    /// What a plan needs beside them.
    pub terms: Terms,
}

/// A kind of stone.
#[derive(Clone, Debug, PartialEq)]
pub struct Kind {
    /// Its name, unique among kinds and mixes.
    pub name: String,
    /// Its size.
    pub size: Size,
    /// Colour in pictures.
    pub colour: Colour,
    /// Finish in pictures.
    pub finish: Finish,
    /// Stones in a pack.
    pub pack: Option<u32>,
    /// Mass of one stone, g.
    pub weight_g: Option<f64>,
    /// How many stones that mass was weighed from, if it was.
    pub weighed: Option<u32>,
    /// From its back to its top, mm.
    pub height_mm: Option<f64>,
    /// Kinds that may take its place, by index.
    pub stand_ins: Vec<usize>,
}

/// How large the stones of a kind are.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Size {
    /// A size of the trade's chart, one of [`lay::sizes::ROUND`].
    Ss(u32),
    /// A diameter from the bag, and by how much stones may differ from it, mm.
    Mm {
        /// Diameter, mm.
        diameter: f64,
        /// Largest difference, mm; 0 if nothing is said.
        tolerance: f64,
    },
    /// Measured by the maker.
    Measured {
        /// Mean diameter, mm.
        mean: f64,
        /// Standard deviation, mm.
        spread: f64,
        /// How many stones were measured.
        count: u32,
    },
}

/// A piece and how often it is made.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Its name, unique among pieces.
    pub name: String,
    /// How many are made.
    pub quantity: u32,
    /// Whose each copy is, from the first on; copies beyond them are nobody's yet.
    pub names: Vec<String>,
    /// The bare thing.
    pub blank: Blank,
    /// Distance to keep from the blank's own edges, mm.
    pub margin: f64,
    /// Its zones, at least one.
    pub zones: Vec<Zone>,
    /// What is changed by hand, in this order.
    pub changes: Vec<Change>,
    /// How it is glued and what it costs beside its stones.
    pub bench: Bench,
}

/// A change by hand; its place counts from the box of the blank.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Change {
    /// A stone is set here.
    Set {
        /// Where its middle comes: to the right and down, mm.
        at: (f64, f64),
        /// Its kind, by index into [`Document::kinds`].
        kind: usize,
        /// How far it is turned, degrees counter-clockwise.
        turn_deg: f64,
    },
    /// The stone that covers this spot is taken away.
    Clear {
        /// The spot: to the right and down, mm.
        at: (f64, f64),
    },
    /// The stone that covers this spot becomes one of another kind.
    Recolour {
        /// The spot: to the right and down, mm.
        at: (f64, f64),
        /// The kind, by index into [`Document::kinds`].
        kind: usize,
    },
}

impl Change {
    /// The kind that it asks for.
    pub fn kind(&self) -> Option<usize> {
        match *self {
            Change::Set { kind, .. } | Change::Recolour { kind, .. } => Some(kind),
            Change::Clear { .. } => None,
        }
    }
}

/// The bare thing.
#[derive(Clone, Debug, PartialEq)]
pub struct Blank {
    /// Its outline.
    pub outline: Outline,
    /// What is cut out of it; `at` counts from the box of the outline.
    pub holes: Vec<Placed>,
    /// Its colour in pictures.
    pub colour: Colour,
}

/// A closed outline, and where it was written.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    /// Its form.
    pub form: Form,
    /// Where it was written.
    pub spot: Spot,
}

/// The form of an outline, lengths in mm.
#[derive(Clone, Debug, PartialEq)]
pub enum Form {
    /// `rectangle`.
    Rectangle {
        /// Width.
        width: f64,
        /// Height.
        height: f64,
    },
    /// `rounded rectangle`.
    RoundedRectangle {
        /// Width.
        width: f64,
        /// Height.
        height: f64,
        /// Radius of the corners.
        corner: f64,
    },
    /// `circle`.
    Circle {
        /// Diameter.
        diameter: f64,
    },
    /// `ellipse`.
    Ellipse {
        /// Width.
        width: f64,
        /// Height.
        height: f64,
    },
    /// `regular polygon`, a corner on top.
    RegularPolygon {
        /// Number of corners.
        corners: u32,
        /// Diameter of the circle through the corners.
        across: f64,
    },
    /// `polygon`: corners to the right and down; its own box is the smallest around them.
    Polygon {
        /// The corners, either way round, not crossing.
        points: Vec<(f64, f64)>,
    },
    /// `star`, a tip on top.
    Star {
        /// Number of tips.
        tips: u32,
        /// Diameter of the circle through the tips.
        across: f64,
        /// Inner circle by outer circle, 0..1.
        inner: f64,
    },
    /// `heart`.
    Heart {
        /// Width.
        width: f64,
        /// Height.
        height: f64,
    },
    /// An SVG file, scaled.
    File {
        /// Its path, as written; relative ones start at the document's folder.
        file: String,
        /// The length it is scaled to.
        scale: FileScale,
        /// Where its path was written.
        spot: Spot,
    },
}

/// To what a file's outline is scaled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FileScale {
    /// To this width, mm.
    Width(f64),
    /// To this height, mm.
    Height(f64),
    /// Not at all: the file's own units count.
    AsDrawn,
}

/// An outline at a place.
#[derive(Clone, Debug, PartialEq)]
pub struct Placed {
    /// The outline.
    pub outline: Outline,
    /// Where the middle of its box comes: to the right and down, mm.
    pub at: (f64, f64),
    /// How far it is turned about that middle, degrees counter-clockwise.
    pub turn_deg: f64,
}

/// A part of the blank.
#[derive(Clone, Debug, PartialEq)]
pub struct Zone {
    /// Its name, unique in the piece.
    pub name: String,
    /// Where it is.
    pub place: ZonePlace,
    /// Where stones go; lengths and places as the maker writes them.
    pub arrangement: Arrangement,
    /// Which kind goes to which place.
    pub colouring: Colouring,
    /// The kinds and their shares, which add up to 1; kinds by index into [`Document::kinds`].
    pub mix: Vec<lay::MixPart>,
    /// Kinds that may be set into bare spots, by index.
    pub fillers: Vec<usize>,
    /// Wanted distance edge to edge, mm.
    pub spacing: f64,
    /// Which diameter keeps the distance.
    pub gauge: Gauge,
    /// A seed of its own, in place of the one derived from the document's.
    pub seed: Option<u64>,
    /// Where it was written.
    pub spot: Spot,
}

/// Which part of the blank a zone is.
#[derive(Clone, Debug, PartialEq)]
pub enum ZonePlace {
    /// What the other zones leave over; all of it if there are no others.
    Rest,
    /// A band along the blank's edges, mm.
    Band(BandWidth, BandEdge),
    /// What lies within an outline; `at` counts from the box of the blank.
    Outline(Placed),
}

/// How wide a band is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BandWidth {
    /// So many millimetres.
    Mm(f64),
    /// As wide as so many rows need.
    Rows(u32),
}

/// Along which edges a band runs.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum BandEdge {
    /// The outer edge.
    #[default]
    Outside,
    /// The edges of the holes.
    Holes,
    /// All of them.
    Every,
}

/// Where stones go.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Arrangement {
    /// Rows that interlock.
    Honeycomb(lay::Rows),
    /// Rows and columns.
    Square(lay::Rows),
    /// Concentric circles; the centre counts to the right and down from the box of the blank.
    Rings {
        /// The centre, mm; the middle of the largest circle that fits in if not given.
        centre: Option<(f64, f64)>,
        /// Whether each ring starts half a stone on.
        staggered: bool,
        /// Whether neighbouring rings may nest.
        nested: bool,
        /// Whether holes get rings of their own.
        around_holes: bool,
    },
    /// At random, close.
    Scatter {
        /// Whether holes are ringed first.
        ring_holes: bool,
    },
}
