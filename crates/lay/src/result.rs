//! What comes out: every stone, and what is still bare.

use crate::{Chart, Finding, Piece, Place};
use geometry::Point;

/// One stone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stone {
    /// Where it lies.
    pub place: Place,
    /// Its kind, an index into the piece's kinds.
    pub kind: u32,
    /// Its zone, an index into the piece's zones.
    pub zone: u32,
    /// Its row in the zone, from 1; fillers come in the row after the last.
    pub row: u32,
    /// Whether it is set by hand, in place of what the arrangement would do.
    pub by_hand: bool,
}

impl Stone {
    /// How deep `p` lies under the stone as drawn, mm; `None` if it is not covered.
    pub(crate) fn depth_mm(&self, piece: &Piece, p: Point) -> Option<f64> {
        let radius = piece.kinds[self.kind as usize].reach_mm / 2.0;
        let depth = radius - self.place.point().distance(p);
        (depth >= 0.0).then_some(depth)
    }
}

/// A place without stone: a circle inside the zone, or the blank, that touches no stone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BareSpot {
    /// Its centre.
    pub place: Place,
    /// Its diameter, mm.
    pub diameter_mm: f64,
    /// The largest kind of the piece that would go in with spacing and margin kept, by index.
    pub takes: Option<usize>,
}

/// What came out of one zone.
#[derive(Clone, Debug)]
pub struct ZoneLay {
    /// Number of rows; 0 if there is no stone.
    pub n_rows: u32,
    /// How many of its stones are fillers; they are its last ones.
    pub n_fillers: usize,
    /// Area of its stones, as drawn, divided by the area of the zone.
    pub coverage: f64,
    /// Its largest bare spots, largest first.
    pub bare_spots: Vec<BareSpot>,
    /// The share of the zone's edge along which a stone of its smallest kind would find room.
    pub bare_edge: f64,
    /// What was given up to what was gained: a plain sentence on the choice of rows, for
    /// honeycomb and square rows.
    pub note: Option<String>,
}

/// A piece with every stone in its place. Stones are in the order of setting: zone by zone, row by
/// row; a stone's `place_no` is its index + 1.
#[derive(Clone, Debug)]
pub struct PieceLay {
    /// The surface.
    pub chart: Chart,
    /// Every stone.
    pub stones: Vec<Stone>,
    /// One entry for each zone of the piece.
    pub zones: Vec<ZoneLay>,
    /// Area of all stones, as drawn, divided by the area of the blank.
    pub coverage: f64,
    /// The largest bare spots of the whole blank, across the borders of zones, largest first.
    pub bare_spots: Vec<BareSpot>,
    /// What is worth knowing about it.
    pub findings: Vec<Finding>,
}

impl PieceLay {
    /// Index of the stone that covers the point (u, v) of the piece's chart, as drawn; of two that
    /// touch there, the one it lies deeper under. `piece` is the one that was laid.
    pub fn stone_at(&self, piece: &Piece, u: f64, v: f64) -> Option<usize> {
        let p = Point::new(u, v);
        let covering = |(i, s): (usize, &Stone)| Some((i, s.depth_mm(piece, p)?));
        let deepest = self.stones.iter().enumerate().filter_map(covering);
        deepest.reduce(|a, b| if b.1 > a.1 { b } else { a }).map(|found| found.0)
    }
}
