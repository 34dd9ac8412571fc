//! What the board of the page draws: a laid piece in columns of numbers.

use crate::{Desk, DeskError};
use app::laying::LaidPiece;
use drawing::mark;
use export::{PageFrame, region_path};
use lay::{BareSpot, Finish, Unwatched};
use schemars::JsonSchema;
use serde::Serialize;
use shop::DocumentId;

/// A laid piece for the board. Places are millimetres to the right and down from the top left
/// corner of the blank's box.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Board {
    /// The revision of the order that it shows.
    pub revision: i64,
    /// Name of the piece.
    pub piece: String,
    /// Width of the blank's box.
    pub width_mm: f64,
    /// Height of the blank's box.
    pub height_mm: f64,
    /// The bare thing.
    pub blank: Bare,
    /// Its zones.
    pub zones: Vec<Part>,
    /// The kinds of the piece.
    pub kinds: Vec<KindShown>,
    /// Its stones, in bench order.
    pub stones: Columns,
    /// Its largest bare spots, across the borders of zones.
    pub bare_spots: Vec<Spot>,
    /// Where a stone can be added: bare spots within one zone that take a stone with spacing and
    /// margin kept, the largest first. A stone lies within one zone, so that a spot across a border
    /// may take none.
    pub zone_spots: Vec<Spot>,
    /// What is glued and set in one go; empty until the order was planned.
    pub stretches: Vec<StretchShown>,
}

/// The bare thing.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Bare {
    /// Its colour, `#rrggbb`.
    pub colour: String,
    /// Its outline, as the `d` of an SVG path.
    pub path: String,
}

/// A zone.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Part {
    /// Its name.
    pub name: String,
    /// Its outline, as the `d` of an SVG path.
    pub path: String,
}

/// A kind as it is drawn.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct KindShown {
    /// Its name.
    pub name: String,
    /// Its size, as the maker wrote it.
    pub size: String,
    /// Its mean diameter.
    pub drawn_mm: f64,
    /// Its colour, `#rrggbb`.
    pub colour: String,
    /// Its finish.
    pub finish: Finish,
    /// The letter that stands for it beside its colour.
    pub mark: String,
}

/// Stones as columns; the same index in each is the same stone, and one more is its place number.
#[derive(Clone, Debug, Default, PartialEq, Serialize, JsonSchema)]
pub struct Columns {
    /// To the right, mm.
    pub x: Vec<f64>,
    /// Down, mm.
    pub y: Vec<f64>,
    /// Turned by, degrees.
    pub turn_deg: Vec<f64>,
    /// Index of its kind.
    pub kind: Vec<u32>,
    /// Index of its zone.
    pub zone: Vec<u32>,
    /// Row in its zone, from 1.
    pub row: Vec<u32>,
    /// 1 if it was set by hand, 0 if not.
    pub by_hand: Vec<u8>,
}

/// A bare spot.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Spot {
    /// Its middle: to the right, mm.
    pub x: f64,
    /// Its middle: down, mm.
    pub y: f64,
    /// Its diameter, mm.
    pub diameter_mm: f64,
}

/// A stretch.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct StretchShown {
    /// Its number, from 1.
    pub number: u32,
    /// Its zone.
    pub zone: String,
    /// Its stones by place number, in the order of setting.
    pub order: Vec<u32>,
}

impl Desk {
    /// The board of a piece, given by its number from 1, with the stretches that are at hand.
    ///
    /// # Errors
    /// There is no such piece; the shop's.
    pub fn board(&self, id: DocumentId, number: usize) -> Result<Board, DeskError> {
        let opened = self.open(id)?;
        let laid = self.lay(opened.piece(number)?, &Unwatched)?;
        let stretches = self.stretches_at_hand(&opened, number)?;
        Ok(Board::of(opened.revision.id.0, &laid, stretches))
    }
}

impl Board {
    /// Of a laid piece.
    pub fn of(revision: i64, laid: &LaidPiece, stretches: Vec<StretchShown>) -> Board {
        let (piece, lay) = (&laid.asked.piece, &laid.lay);
        let page = piece.blank.bounds();
        let frame = PageFrame::of(page);
        let mut stones = Columns::default();
        for stone in &lay.stones {
            let p = frame.page_from_drawing(stone.place.point());
            stones.x.push(rounded(p.x));
            stones.y.push(rounded(p.y));
            stones.turn_deg.push(rounded(stone.place.turn_deg));
            stones.kind.push(stone.kind);
            stones.zone.push(stone.zone);
            stones.row.push(stone.row);
            stones.by_hand.push(u8::from(stone.by_hand));
        }
        let within = lay.zones.iter().flat_map(|z| &z.bare_spots).filter(|s| s.takes.is_some());
        let mut within: Vec<&BareSpot> = within.collect();
        within.sort_by(|a, b| b.diameter_mm.total_cmp(&a.diameter_mm));
        let spot = |s: &BareSpot| {
            let p = frame.page_from_drawing(s.place.point());
            Spot { x: rounded(p.x), y: rounded(p.y), diameter_mm: rounded(s.diameter_mm) }
        };
        Board {
            revision,
            piece: piece.name.clone(),
            width_mm: page.width(),
            height_mm: page.height(),
            blank: Bare { colour: piece.blank_colour.hex(), path: region_path(&piece.blank, page) },
            zones: piece
                .zones
                .iter()
                .map(|z| Part { name: z.name.clone(), path: region_path(&z.region, page) })
                .collect(),
            kinds: piece.kinds.iter().enumerate().map(|(i, k)| kind_shown(i, k)).collect(),
            stones,
            bare_spots: lay.bare_spots.iter().map(spot).collect(),
            zone_spots: within.into_iter().map(spot).collect(),
            stretches,
        }
    }
}

/// A kind as it is drawn.
pub fn kind_shown(index: usize, kind: &lay::Kind) -> KindShown {
    KindShown {
        name: kind.name.clone(),
        size: kind.size.clone(),
        drawn_mm: kind.reach_mm,
        colour: kind.colour.hex(),
        finish: kind.finish,
        mark: mark(index),
    }
}

/// As lays are rounded, so that a stone pinned where it is shown moves none that touches it.
fn rounded(mm: f64) -> f64 {
    (mm * 1e9).round() / 1e9
}
