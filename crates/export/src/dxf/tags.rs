//! DXF text: pairs of a group code and a value, a line each; handles where the edition has them.

use super::DxfEdition;
use geometry::Point;
use std::fmt::{Display, Write};

/// The handle of the block that holds what is drawn; see [`r2018`](super::r2018).
pub(super) const MODEL_SPACE: &str = "28";
/// Handles below this one belong to the fixed parts of a file.
const FIRST_FREE: u64 = 0x100;

/// Text of one edition in the making.
pub(super) struct Tags {
    edition: DxfEdition,
    text: String,
    next_handle: u64,
}

impl Tags {
    pub(super) fn new(edition: DxfEdition) -> Tags {
        Tags { edition, text: String::new(), next_handle: FIRST_FREE }
    }

    pub(super) fn text(&mut self, code: u16, value: &str) {
        self.put(code, value);
    }

    pub(super) fn int(&mut self, code: u16, value: i64) {
        self.put(code, value);
    }

    /// A number as exact as it is, always with a point.
    pub(super) fn real(&mut self, code: u16, value: f64) {
        // Without −0.
        let value = value + 0.0;
        if value.fract() == 0.0 {
            self.put(code, format_args!("{value:.1}"));
        } else {
            self.put(code, value);
        }
    }

    /// A point of the plane, its x under `code`.
    pub(super) fn point(&mut self, code: u16, p: Point) {
        self.real(code, p.x);
        self.real(code + 10, p.y);
        self.real(code + 20, 0.0);
    }

    /// Pairs that are the same in every file: `code value`, with `;` between.
    pub(super) fn fixed(&mut self, pairs: &str) {
        for pair in pairs.split(';') {
            let (code, value) = pair.trim_start().split_once(' ').unwrap_or((pair.trim(), ""));
            self.put(code, value);
        }
    }

    /// A handle that nothing else of this text has.
    pub(super) fn handle(&mut self) -> String {
        self.next_handle += 1;
        format!("{:X}", self.next_handle - 1)
    }

    /// The same handles are not given out again.
    pub(super) fn after(&mut self, other: &Tags) {
        self.next_handle = self.next_handle.max(other.next_handle);
    }

    /// The beginning of a shape on a layer; `class` is what newer editions call it.
    pub(super) fn entity(&mut self, name: &str, class: &str, layer: &str) {
        self.text(0, name);
        if self.edition == DxfEdition::R2018 {
            let handle = self.handle();
            self.text(5, &handle);
            self.text(330, MODEL_SPACE);
            self.text(100, "AcDbEntity");
        }
        self.text(8, layer);
        if self.edition == DxfEdition::R2018 {
            self.text(100, class);
        }
    }

    /// A closed polyline through corners, each with the bulge of the side that begins there.
    pub(super) fn polyline(
        &mut self,
        layer: &str,
        corners: impl ExactSizeIterator<Item = (Point, f64)>,
    ) {
        match self.edition {
            DxfEdition::R12 => {
                self.entity("POLYLINE", "", layer);
                self.fixed("66 1; 10 0.0; 20 0.0; 30 0.0; 70 1");
                for (p, bulge) in corners {
                    self.entity("VERTEX", "", layer);
                    self.point(10, p);
                    self.real(42, bulge);
                }
                self.entity("SEQEND", "", layer);
            }
            DxfEdition::R2018 => {
                self.entity("LWPOLYLINE", "AcDbPolyline", layer);
                self.int(90, corners.len() as i64);
                self.fixed("70 1; 43 0.0");
                for (p, bulge) in corners {
                    self.real(10, p.x);
                    self.real(20, p.y);
                    self.real(42, bulge);
                }
            }
        }
    }

    pub(super) fn append(&mut self, other: &Tags) {
        self.text.push_str(&other.text);
    }

    pub(super) fn finish(self) -> String {
        self.text
    }

    fn put(&mut self, code: impl Display, value: impl Display) {
        // Writing to a `String` cannot fail. Old readers want CR LF.
        let _ = write!(self.text, "{code:>3}\r\n{value}\r\n");
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_exact_and_have_a_point() {
        let mut tags = Tags::new(DxfEdition::R12);
        for value in [5.0, -0.0, 0.1 + 0.2, 1e-9, -2_000.5] {
            tags.real(40, value);
        }
        let text = tags.finish();
        let values: Vec<&str> = text.lines().skip(1).step_by(2).collect();
        assert_eq!(values, ["5.0", "0.0", "0.30000000000000004", "0.000000001", "-2000.5"]);
    }

    #[test]
    fn fixed_pairs_may_have_an_empty_value() {
        let mut tags = Tags::new(DxfEdition::R12);
        tags.fixed("0 LTYPE; 3 ; 2 Solid line");
        assert_eq!(tags.finish(), "  0\r\nLTYPE\r\n  3\r\n\r\n  2\r\nSolid line\r\n");
    }
}
