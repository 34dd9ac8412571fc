//! What is to be laid.

use crate::{Change, Chart, Colour, Kind};
use geometry::{Point, Region};

/// Tag of a zone's edge that is an edge of the blank: the margin is kept from it.
pub const EDGE_OWN: u8 = 0;
/// Tag of a zone's edge that borders on another zone: half the spacing is kept from it.
pub const EDGE_SHARED: u8 = 1;

/// One blank and the zones on it.
#[derive(Clone, Debug)]
pub struct Piece {
    /// Its name.
    pub name: String,
    /// The surface its coordinates are on.
    pub chart: Chart,
    /// The bare thing.
    pub blank: Region,
    /// Colour of the bare thing, for pictures.
    pub blank_colour: Colour,
    /// The kinds that may be used; zones refer to them by index.
    pub kinds: Vec<Kind>,
    /// Its zones, in the document's order. They do not overlap.
    pub zones: Vec<Zone>,
    /// What the maker changes by hand, in this order.
    pub changes: Vec<Change>,
}

/// A part of the blank with one arrangement and one colouring.
#[derive(Clone, Debug)]
pub struct Zone {
    /// Its name.
    pub name: String,
    /// Where it is. Its segments carry [`EDGE_OWN`] or [`EDGE_SHARED`].
    pub region: Region,
    /// Where stones go.
    pub arrangement: Arrangement,
    /// Which kind goes to which place.
    pub colouring: Colouring,
    /// The kinds and their shares by count. At least one.
    pub mix: Vec<MixPart>,
    /// Kinds that may be set into the bare spots afterwards, by index; largest that goes in first.
    pub fillers: Vec<usize>,
    /// Wanted distance edge to edge, mm.
    pub spacing_mm: f64,
    /// Distance to keep from the blank's own edges, mm.
    pub margin_mm: f64,
    /// Which diameter keeps the distance.
    pub gauge: Gauge,
    /// Seed of everything random in this zone.
    pub seed: u64,
}

/// One kind of a mix.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MixPart {
    /// Index into [`Piece::kinds`].
    pub kind: usize,
    /// Share by count, 0..=1; the shares of a mix add up to 1.
    pub share: f64,
    /// Width of its stripe in rows, for [`Colouring::Striped`].
    pub rows: u32,
}

/// Which of a kind's two diameters keeps stones apart.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Gauge {
    /// [`Kind::fit_mm`]: every stone of the bag goes into its place. For work set by a sheet.
    #[default]
    Fit,
    /// [`Kind::reach_mm`]: rows that touch, set by hand against each other.
    Reach,
}

/// Where stones go.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Arrangement {
    /// Rows that interlock, each shifted by half a pitch.
    Honeycomb(Rows),
    /// Rows and columns.
    Square(Rows),
    /// Concentric circles.
    Rings(Rings),
    /// At random, close.
    Scatter(Scatter),
}

/// How the rows of a honeycomb or a square grid lie in their zone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Rows {
    /// The first row along an edge, the first stone in its corner.
    Locked(Along),
    /// Turned and shifted for the most stones; never fewer than any `Locked` gives. `steps` bounds
    /// how many turns and shifts are tried.
    Most {
        /// How many combinations of turn and shift are tried.
        steps: u32,
    },
    /// Locked, and the spacing opened, by at most `open_mm`, until the last row and the last stone
    /// meet the far edges.
    Even {
        /// The edge of the first row.
        along: Along,
        /// By how much the spacing may be opened, mm.
        open_mm: f64,
    },
}

/// The edge along which the first row lies.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Along {
    /// The lowest edge.
    #[default]
    Bottom,
    /// The highest edge.
    Top,
    /// The leftmost edge.
    Left,
    /// The rightmost edge.
    Right,
    /// The longest straight edge.
    Longest,
    /// Rows at this angle, degrees counter-clockwise from x, starting from the lowest side.
    Angle(f64),
}

/// Options of concentric rings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rings {
    /// Their centre. `None` is the middle of the hole in which the middle of the zone's box lies,
    /// or, if it lies in none, the middle of the largest circle that fits into the zone.
    pub centre: Option<Point>,
    /// Whether each ring starts half a stone on from the one before, instead of in line.
    pub staggered: bool,
    /// Whether neighbouring rings of equal count may nest into each other.
    pub nested: bool,
    /// Whether holes get rings of their own.
    pub around_holes: bool,
}

/// Options of a scatter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Scatter {
    /// Whether holes are ringed with stones first.
    pub ring_holes: bool,
}

/// Which kind goes to which place. Independent of the arrangement.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Colouring {
    /// The first kind of each size everywhere.
    #[default]
    Plain,
    /// Rows of one kind, each as wide as its part of the mix says, in the mix's order.
    Striped,
    /// One after the other along each row, in the mix's order.
    Alternating,
    /// At random by share, without clumps.
    Random,
}
