//! Stones as a table.

use crate::PageFrame;
use lay::{Gauge, Kind, Piece, PieceLay, Shape, Stone};

/// The columns.
const HEADER: [&str; 14] = [
    "piece",
    "zone",
    "place_no",
    "row",
    "kind",
    "shape",
    "x_mm",
    "y_mm",
    "drawn_mm",
    "pitch_mm",
    "length_mm",
    "width_mm",
    "turn_deg",
    "colour_hex",
];

/// Every stone of the laid pieces as one line of a comma-separated table with a header, in the
/// order of setting.
///
/// `x_mm` runs right and `y_mm` **down** from the top left corner of the bounding box of the
/// piece's blank (before any margin). Lengths have nine decimals. `drawn_mm` is the diameter in
/// pictures, `pitch_mm` the one that keeps the distance; `length_mm` and `width_mm` are the stone's
/// own measures, for round stones its drawn diameter. Text that holds a comma, a quote or a line
/// break is quoted after RFC 4180; lines end with LF, which that RFC's readers also take.
///
/// # Panics
/// If a stone names a kind or a zone that its piece does not have: not a lay of this piece.
pub fn csv(laid: &[(&Piece, &PieceLay)]) -> String {
    let mut out = HEADER.join(",");
    out.push('\n');
    for (piece, lay) in laid {
        let frame = PageFrame::of(piece.blank.bounds());
        for (place_no, stone) in (1..).zip(&lay.stones) {
            put_stone(&mut out, piece, frame, place_no, stone);
        }
    }
    out
}

fn put_stone(out: &mut String, piece: &Piece, frame: PageFrame, place_no: u32, stone: &Stone) {
    let kind = &piece.kinds[stone.kind as usize];
    let zone = &piece.zones[stone.zone as usize];
    let at = frame.page_from_drawing(stone.place.point());
    let shape = match kind.shape {
        Shape::Round => "round",
    };
    let drawn = nine(kind.reach_mm);
    let fields = [
        quoted(&piece.name),
        quoted(&zone.name),
        place_no.to_string(),
        stone.row.to_string(),
        quoted(&kind.name),
        shape.to_owned(),
        nine(at.x),
        nine(at.y),
        drawn.clone(),
        nine(pitch_mm(kind, zone.gauge)),
        drawn.clone(),
        drawn,
        nine(stone.place.turn_deg),
        kind.colour.hex(),
    ];
    out.push_str(&fields.join(","));
    out.push('\n');
}

/// The diameter that keeps a stone of `kind` apart from others, mm.
pub(crate) fn pitch_mm(kind: &Kind, gauge: Gauge) -> f64 {
    match gauge {
        Gauge::Fit => kind.fit_mm,
        Gauge::Reach => kind.reach_mm,
    }
}

/// Nine decimals, never −0.
fn nine(value: f64) -> String {
    let text = format!("{value:.9}");
    if text == "-0.000000000" { text[1..].to_owned() } else { text }
}

/// A field, quoted if it has to be.
fn quoted(text: &str) -> String {
    if text.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text.to_owned()
    }
}
