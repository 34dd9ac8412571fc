//! What papers are made of that are cut into cells of one size.

use serde::Serialize;

/// A paper of cells.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Cells {
    /// Its pages.
    pub(super) pages: Vec<CellPage>,
    /// Lines to cut along, on every page: x and y of both ends, mm from the top left corner.
    pub(super) cuts: Vec<[f64; 4]>,
    /// A small heading on the first page; none where a sheet has no room for it.
    pub(super) heading: Option<Small>,
    /// A line at the foot of every page; none where a sheet has no room for it.
    pub(super) foot: Option<Foot>,
}

/// The heading.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Small {
    pub(super) text: String,
    pub(super) left_mm: f64,
    pub(super) top_mm: f64,
}

/// Where the line at the foot stands; what it says is known when the paper is finished.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Foot {
    pub(super) left_mm: f64,
    pub(super) up_mm: f64,
}

/// One page.
#[derive(Clone, Debug, Default, Serialize)]
pub(super) struct CellPage {
    pub(super) cells: Vec<Cell>,
}

/// What stands in one cell. Lengths are mm to the right and down from the top left corner.
#[derive(Clone, Debug, Serialize)]
#[serde(tag = "is", rename_all = "snake_case")]
pub(super) enum Cell {
    /// A label: lines that never run over its edges.
    Label { left_mm: f64, top_mm: f64, width_mm: f64, height_mm: f64, lines: Vec<Line> },
    /// A card: a title and what it says.
    Card {
        left_mm: f64,
        top_mm: f64,
        width_mm: f64,
        height_mm: f64,
        title: &'static str,
        parts: Vec<Part>,
        foot: String,
    },
}

/// A line of a label.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Line {
    pub(super) text: String,
    pub(super) size_pt: f64,
    pub(super) high_mm: f64,
    pub(super) bold: bool,
}

/// A part of a card.
#[derive(Clone, Copy, Debug, Serialize)]
pub(super) struct Part {
    pub(super) head: &'static str,
    pub(super) text: &'static str,
}
