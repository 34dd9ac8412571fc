//! Pictures of the pieces, as the customer and the maker see them.

use crate::PaperError;
use app::laying::LaidPiece;
use export::Pixels;
use geometry::Bounds;
use serde::Serialize;
use typst::foundations::Bytes;

/// Pixels in an inch of the largest picture; in the smaller ones of a quote that is some 300, which
/// is common practice for photographs, no source. More makes files too large to be sent.
const PER_INCH: f64 = 170.0;
/// The largest a picture is printed, mm: it is drawn once, for all papers.
const LARGEST_MM: (f64, f64) = (64.0, 60.0);

/// A picture at its place on a paper.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Shown {
    no: usize,
    alt: String,
    width_mm: f64,
    height_mm: f64,
}

impl Shown {
    /// The picture of the piece with this index, as large as fits into `room_mm`.
    pub(super) fn new(no: usize, piece: &LaidPiece, room_mm: (f64, f64)) -> Shown {
        let asked = &piece.asked.piece;
        let (width_mm, height_mm) = fitted(asked.blank.bounds(), room_mm);
        Shown { no, alt: format!("picture of {}", asked.name), width_mm, height_mm }
    }

    /// As large as a picture is at most.
    pub(super) fn large(no: usize, piece: &LaidPiece) -> Shown {
        Shown::new(no, piece, LARGEST_MM)
    }
}

fn fitted(b: Bounds, room_mm: (f64, f64)) -> (f64, f64) {
    let scale = (room_mm.0 / b.width()).min(room_mm.1 / b.height());
    // A thin strip is still seen.
    ((b.width() * scale).max(0.3), (b.height() * scale).max(0.3))
}

/// The picture of a piece as PNG.
pub(super) fn png(piece: &LaidPiece) -> Result<Bytes, PaperError> {
    let (width_mm, _) = fitted(piece.asked.piece.blank.bounds(), LARGEST_MM);
    let across = (width_mm / 25.4 * PER_INCH).ceil().max(8.0);
    let picture = drawing::picture(&piece.asked.piece, &piece.lay);
    let png = export::png(&picture, Pixels::Across(across as u32));
    png.map(Bytes::new).map_err(|e| PaperError::Set(e.to_string()))
}
