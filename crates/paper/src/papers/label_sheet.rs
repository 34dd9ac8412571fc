//! Sheets of labels, by their measures.

use std::str::FromStr;
use units::{Length, MM_PER_INCH, trimmed};

/// A sheet of labels of one size, in columns and rows. Lengths are mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LabelSheet {
    /// Width and height of the sheet.
    page_mm: (f64, f64),
    columns: u32,
    rows: u32,
    /// Width and height of a label.
    label_mm: (f64, f64),
    /// From the left and the top edge of the sheet to the first label.
    first_mm: (f64, f64),
    /// From the left edge of one label to that of the next, and from top to top.
    pitch_mm: (f64, f64),
}

/// Where one label lies: mm to the right and down from the top left corner of the sheet.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct LabelBox {
    /// The page, from 1.
    pub page: usize,
    /// Its left edge.
    pub left_mm: f64,
    /// Its top edge.
    pub top_mm: f64,
    /// Its width.
    pub width_mm: f64,
    /// Its height.
    pub height_mm: f64,
}

/// Why there is no such sheet of labels.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum LabelSheetError {
    /// Not the name of a sheet, nor its measures.
    #[error(
        "a sheet of labels is one of {names}, or its measures: page, columns x rows, label, first label \
         from the left and top edge, step from label to label, all in mm, such as \
         `210x297 3x8 70x37 0x0.5 70x37`: `{0}`",
        names = LabelSheet::names()
    )]
    Unread(String),
    /// A label is too small to be written on, or larger than anybody's sheet.
    #[error("a label measures from {LEAST_MM} to {MOST_MM} mm a side: `{0}` mm")]
    Size(String),
    /// Labels would lie over each other.
    #[error("the step from label to label is less than the label {side}: {step} < {label} mm")]
    Overlap {
        /// Which way.
        side: &'static str,
        /// The step, mm.
        step: String,
        /// The label, mm.
        label: String,
    },
    /// The last label would lie off the sheet.
    #[error("the labels end {over} mm off the sheet {side}: make the step or the first edge less")]
    Off {
        /// Which way.
        side: &'static str,
        /// By how much, mm.
        over: String,
    },
}

/// The smallest side of a label that a word fits on, mm. Ours, no source.
const LEAST_MM: f64 = 8.0;
/// The largest side of a sheet, mm: A3's longer side (ISO 216).
const MOST_MM: f64 = 420.0;
/// Cutting and rounding of measures, mm: a sheet may be so much smaller than its labels say.
const SLACK_MM: f64 = 0.05;

const IN: f64 = MM_PER_INCH;
const A4: (f64, f64) = (210.0, 297.0);
const LETTER: (f64, f64) = (8.5 * IN, 11.0 * IN);

/// Sheets by name. Their measures are common practice, no source: measure your own before a whole
/// sheet is printed. What is left of the sheet lies evenly on both sides.
const KNOWN: [(&str, LabelSheet); 4] = [
    ("a4-3x8", sheet(A4, (3, 8), (70.0, 37.0), (0.0, 0.0))),
    ("a4-3x7", sheet(A4, (3, 7), (63.5, 38.1), (2.5, 0.0))),
    ("letter-3x10", sheet(LETTER, (3, 10), (2.625 * IN, IN), (0.125 * IN, 0.0))),
    ("letter-2x5", sheet(LETTER, (2, 5), (4.0 * IN, 2.0 * IN), (0.1875 * IN, 0.0))),
];

const fn sheet(
    page_mm: (f64, f64),
    n: (u32, u32),
    label_mm: (f64, f64),
    gap_mm: (f64, f64),
) -> LabelSheet {
    let pitch_mm = (label_mm.0 + gap_mm.0, label_mm.1 + gap_mm.1);
    let all = (n.0 as f64 * pitch_mm.0 - gap_mm.0, n.1 as f64 * pitch_mm.1 - gap_mm.1);
    let first_mm = ((page_mm.0 - all.0) / 2.0, (page_mm.1 - all.1) / 2.0);
    LabelSheet { page_mm, columns: n.0, rows: n.1, label_mm, first_mm, pitch_mm }
}

impl LabelSheet {
    /// A4 with 3 × 8 labels of 70 × 37 mm, without gaps.
    pub const A4_3X8: LabelSheet = KNOWN[0].1;
    /// Letter with 3 × 10 labels of 2 5/8 × 1 in, 1/8 in between columns.
    pub const LETTER_3X10: LabelSheet = KNOWN[2].1;

    /// The names of those that have one, for people.
    fn names() -> String {
        KNOWN.map(|k| k.0).join(", ")
    }

    /// Width and height of the sheet, mm.
    pub fn page_mm(self) -> (f64, f64) {
        self.page_mm
    }

    /// Labels on one sheet.
    pub fn per_page(self) -> usize {
        (self.columns * self.rows) as usize
    }

    /// Where label `i` lies, counted from 0, row by row, sheet by sheet.
    pub fn label(self, i: usize) -> LabelBox {
        let on_page = (i % self.per_page()) as u32;
        let (column, row) = (on_page % self.columns, on_page / self.columns);
        LabelBox {
            page: i / self.per_page() + 1,
            left_mm: self.first_mm.0 + f64::from(column) * self.pitch_mm.0,
            top_mm: self.first_mm.1 + f64::from(row) * self.pitch_mm.1,
            width_mm: self.label_mm.0,
            height_mm: self.label_mm.1,
        }
    }

    fn checked(self) -> Result<LabelSheet, LabelSheetError> {
        let mm = |v: f64| trimmed(v, 2);
        let sides = [self.label_mm.0, self.label_mm.1, self.page_mm.0, self.page_mm.1];
        if let Some(side) = sides.into_iter().find(|s| !(LEAST_MM..=MOST_MM).contains(s)) {
            return Err(LabelSheetError::Size(mm(side)));
        }
        let across =
            (self.columns, self.pitch_mm.0, self.label_mm.0, self.first_mm.0, self.page_mm.0);
        let down = (self.rows, self.pitch_mm.1, self.label_mm.1, self.first_mm.1, self.page_mm.1);
        for (side, (n, pitch, label, first, page)) in [("across", across), ("down", down)] {
            if n > 1 && pitch < label - SLACK_MM {
                return Err(LabelSheetError::Overlap { side, step: mm(pitch), label: mm(label) });
            }
            let over = first + f64::from(n - 1) * pitch + label - page;
            if over > SLACK_MM {
                return Err(LabelSheetError::Off { side, over: mm(over) });
            }
        }
        Ok(self)
    }
}

impl FromStr for LabelSheet {
    type Err = LabelSheetError;

    fn from_str(text: &str) -> Result<LabelSheet, LabelSheetError> {
        let text = text.trim();
        if let Some(known) = KNOWN.iter().find(|k| k.0.eq_ignore_ascii_case(text)) {
            return Ok(known.1);
        }
        let unread = || LabelSheetError::Unread(text.to_owned());
        let pair = |part: &str| -> Option<(f64, f64)> {
            let (a, b) = part.split_once(['x', '×'])?;
            let mm = |t: &str| {
                let plain = t.parse().ok().filter(|v: &f64| v.is_finite() && *v >= 0.0);
                plain.or_else(|| t.parse::<Length>().ok().map(Length::mm))
            };
            Some((mm(a)?, mm(b)?))
        };
        let pairs: Option<Vec<(f64, f64)>> = text.split_whitespace().map(pair).collect();
        let Some([page_mm, n, label_mm, first_mm, pitch_mm]) =
            pairs.and_then(|p| <[(f64, f64); 5]>::try_from(p).ok())
        else {
            return Err(unread());
        };
        let whole = |v: f64| (v.fract() == 0.0 && (1.0..=50.0).contains(&v)).then_some(v as u32);
        let columns = whole(n.0).ok_or_else(unread)?;
        let rows = whole(n.1).ok_or_else(unread)?;
        LabelSheet { page_mm, columns, rows, label_mm, first_mm, pitch_mm }.checked()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sheets_by_name_lie_as_their_measures_say() {
        for (name, sheet) in KNOWN {
            assert_eq!(sheet.checked(), Ok(sheet), "{name}");
        }
        // 3/16 in at the side and 1/2 in above; 2 3/4 in from label to label.
        let second = LabelSheet::LETTER_3X10.label(31);
        assert_eq!(second.page, 2);
        assert!((second.left_mm - (0.1875 + 2.75) * 25.4).abs() < 1e-9, "{second:?}");
        assert!((second.top_mm - 12.7).abs() < 1e-9, "{second:?}");
        assert_eq!(LabelSheet::A4_3X8.label(3).top_mm, 37.5, "the second row");
    }

    #[test]
    fn free_measures_are_read_and_impossible_ones_refused() {
        let same: LabelSheet = "210x297 3x8 70x37 0x0.5 70x37".parse().unwrap();
        assert_eq!(same, LabelSheet::A4_3X8);
        let told = |t: &str| t.parse::<LabelSheet>().unwrap_err().to_string();
        assert!(told("210x297 3x8 70x37 0x0.5 60x37").contains("60 < 70 mm"));
        assert!(told("210x297 3x8 70x37 4x0.5 70x37").contains("4 mm off the sheet across"));
        assert!(told("210x297 3x8 3x37 0x0 3x37").contains("`3` mm"));
        for bad in ["", "a4", "210x297", "210x297 0x8 70x37 0x0 70x37", "nanx1 1x1 1x1 1x1 1x1"] {
            assert!(told(bad).contains("a4-3x8"), "{bad}");
        }
    }
}
