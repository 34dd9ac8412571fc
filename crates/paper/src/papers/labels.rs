//! Labels for the bags of kits, and for the copies of every piece.

use super::Papers;
use super::cells::{Cell, Line};
use super::label_sheet::LabelBox;
use crate::{MOST_PAGES, PaperError};

/// Kept free within a label, mm: a printer may be a millimetre off (common practice, no source).
const INSET_MM: f64 = 2.5;
/// Kept free along the edges of the sheet, mm: nearly every office printer reaches within 5 mm
/// (common practice, no source).
const EDGE_MM: f64 = 5.0;
/// Letters of the first line and of the others, points.
const SIZES_PT: (f64, f64) = (10.0, 8.0);
/// A line is so many times as high as its letters.
const LEADING: f64 = 1.3;
/// Lines are set smaller down to this part before some are left out.
const SMALLEST: f64 = 0.6;
/// Millimetres in a point, 1/72 in.
const MM_PER_PT: f64 = 25.4 / 72.0;

/// Every label with its place.
pub(super) fn labels(papers: &Papers<'_>) -> Result<Vec<(LabelBox, Cell)>, PaperError> {
    let sheet = papers.options.labels;
    let all: Vec<Vec<String>> = kits(papers).chain(copies(papers)).collect();
    let pages = all.len().div_ceil(sheet.per_page());
    if pages > MOST_PAGES {
        return Err(PaperError::TooManyPages { pages, most: MOST_PAGES });
    }
    let placed = all.into_iter().enumerate().map(|(i, lines)| {
        let at = sheet.label(i);
        (at, label(at, sheet.page_mm(), &lines))
    });
    Ok(placed.collect())
}

fn kits<'a>(papers: &'a Papers<'_>) -> impl Iterator<Item = Vec<String>> + 'a {
    papers.plan.kits.iter().flat_map(|k| &k.labels).map(|l| l.lines.clone())
}

/// One for each copy: whose it is, or which; the piece; the order.
fn copies<'a>(papers: &'a Papers<'_>) -> impl Iterator<Item = Vec<String>> + 'a {
    papers.laid.pieces.iter().flat_map(move |p| {
        let stones = papers.options.notation.count(p.lay.stones.len() as u64);
        let name = p.asked.piece.name.clone();
        papers.copies(p).into_iter().map(move |copy| {
            vec![copy, format!("{name} · {stones} stones"), papers.laid.name.clone()]
        })
    })
}

/// The lines, in a label at `at`. Where there are too many they become smaller, and then the last
/// ones are left out with a mark.
fn label(at: LabelBox, page_mm: (f64, f64), lines: &[String]) -> Cell {
    let left_mm = (at.left_mm + INSET_MM).max(EDGE_MM);
    let top_mm = (at.top_mm + INSET_MM).max(EDGE_MM);
    let right_mm = (at.left_mm + at.width_mm - INSET_MM).min(page_mm.0 - EDGE_MM);
    let bottom_mm = (at.top_mm + at.height_mm - INSET_MM).min(page_mm.1 - EDGE_MM);
    // A label that lies all at the edge still gets a little room.
    let room = ((right_mm - left_mm).max(1.0), (bottom_mm - top_mm).max(1.0));
    let high = |i: usize| (if i == 0 { SIZES_PT.0 } else { SIZES_PT.1 }) * LEADING * MM_PER_PT;
    let wanted: f64 = (0..lines.len()).map(high).sum();
    let scale = (room.1 / wanted).clamp(SMALLEST, 1.0);
    let mut left = room.1 + 1e-9;
    let fit = (0..lines.len()).take_while(|i| {
        left -= high(*i) * scale;
        left >= 0.0
    });
    let fit = fit.count();
    let line = |i: usize| {
        let cut = if i + 1 == fit && fit < lines.len() { " …" } else { "" };
        let size_pt = if i == 0 { SIZES_PT.0 } else { SIZES_PT.1 };
        Line {
            text: format!("{}{cut}", lines[i]),
            size_pt: size_pt * scale,
            high_mm: high(i) * scale,
            bold: i == 0,
        }
    };
    Cell::Label {
        left_mm,
        top_mm,
        width_mm: room.0,
        height_mm: room.1,
        lines: (0..fit).map(line).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::LabelSheet;
    use super::*;

    fn set(n: usize) -> Vec<Line> {
        let lines: Vec<String> = (0..n).map(|i| format!("line {i}")).collect();
        let sheet = LabelSheet::LETTER_3X10;
        let Cell::Label { lines, height_mm, .. } = label(sheet.label(0), sheet.page_mm(), &lines)
        else {
            return vec![];
        };
        let high: f64 = lines.iter().map(|l| l.high_mm).sum();
        assert!(high <= height_mm + 1e-6, "{n} lines are {high} mm high");
        lines
    }

    #[test]
    fn lines_never_run_over_a_label_and_what_is_cut_is_marked() {
        assert_eq!(set(3).len(), 3);
        assert!(set(3).iter().all(|l| !l.text.contains('…')));
        let many = set(40);
        assert!(many.len() < 40 && many.last().unwrap().text.ends_with('…'), "{many:?}");
    }
}
