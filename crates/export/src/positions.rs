//! Stones as a list: to be read on paper, and by a spreadsheet.

use crate::PageFrame;
use drawing::mark;
use lay::{Piece, PieceLay};
use std::fmt::Write;

/// Tabs stand eight columns apart: a field of this width, or of eight more, ends before one.
const FIELD: usize = 7;

/// Where each stone lies, one a line, in the order of setting: its number, zone, row, place and
/// diameter, and the mark of its kind.
///
/// What the numbers mean stands above the list: the unit, the frame, the kinds by their marks and
/// the zones by their numbers. Lengths are millimetres to three decimals; x runs right and y
/// **down** from the top left corner of the blank's box. The list begins below the blank line that
/// follows the zones, with its column names; fields are right-aligned and separated by one tab.
///
/// # Panics
/// If a stone names a kind or a zone that its piece does not have: not a lay of this piece.
pub fn positions(piece: &Piece, lay: &PieceLay) -> String {
    let mut out = String::with_capacity(1024 + 56 * lay.stones.len());
    put_head(&mut out, piece, lay);
    let page = piece.blank.bounds();
    let frame = PageFrame::of(page);
    let longest = mm(page.width()).len().max(mm(page.height()).len());
    let place = if longest > FIELD { FIELD + 8 } else { FIELD };
    let widths = [FIELD, FIELD, FIELD, place, place, FIELD];
    put_line(&mut out, &widths, ["no", "zone", "row", "x_mm", "y_mm", "wide_mm"], "kind");
    for (no, stone) in (1_usize..).zip(&lay.stones) {
        let at = frame.page_from_drawing(stone.place.point());
        let kind = &piece.kinds[stone.kind as usize];
        let numbers = [
            no.to_string(),
            (stone.zone + 1).to_string(),
            stone.row.to_string(),
            mm(at.x),
            mm(at.y),
            mm(kind.reach_mm),
        ];
        put_line(
            &mut out,
            &widths,
            numbers.each_ref().map(String::as_str),
            &mark(stone.kind as usize),
        );
    }
    out
}

/// What the numbers mean.
fn put_head(out: &mut String, piece: &Piece, lay: &PieceLay) {
    let page = piece.blank.bounds();
    let (mut by_kind, mut by_zone) = (vec![0; piece.kinds.len()], vec![0; piece.zones.len()]);
    for stone in &lay.stones {
        by_kind[stone.kind as usize] += 1;
        by_zone[stone.zone as usize] += 1;
    }
    put(out, format_args!("{}\n", one_line(&piece.name)));
    put(out, format_args!("{}, one a line, in the order of setting\n", stones(lay.stones.len())));
    out.push_str("unit: millimetre; x runs right and y down from the top left corner of the\n");
    let (width, height) = (mm(page.width()), mm(page.height()));
    put(out, format_args!("blank's box, which is {width} wide and {height} high\n\n"));
    for (no, (kind, n)) in piece.kinds.iter().zip(by_kind).enumerate() {
        let (name, size) = (one_line(&kind.name), one_line(&kind.size));
        put(out, format_args!("kind {}: {}, {}, {name}\n", mark(no), size, stones(n)));
    }
    for (no, (zone, n)) in (1..).zip(piece.zones.iter().zip(by_zone)) {
        put(out, format_args!("zone {no}: {}, {}\n", stones(n), one_line(&zone.name)));
    }
    out.push('\n');
}

fn put_line(out: &mut String, widths: &[usize; 6], numbers: [&str; 6], mark: &str) {
    for (number, width) in numbers.iter().zip(widths) {
        put(out, format_args!("{number:>width$}\t"));
    }
    put(out, format_args!("{mark}\n"));
}

fn stones(n: usize) -> String {
    if n == 1 { "1 stone".to_owned() } else { format!("{n} stones") }
}

/// Three decimals, never −0.
fn mm(value: f64) -> String {
    let text = format!("{value:.3}");
    if text == "-0.000" { text[1..].to_owned() } else { text }
}

/// A name without line breaks and other signs that would break the list.
fn one_line(name: &str) -> String {
    name.chars().map(|c| if c.is_control() { ' ' } else { c }).collect()
}

/// Writing to a `String` cannot fail.
fn put(out: &mut String, text: std::fmt::Arguments<'_>) {
    let _ = out.write_fmt(text);
}
