//! The letter that stands for a kind, as text and as strokes that need no font.

use crate::Path;
use geometry::{Point, Segment};

/// The mark of the kind of this index: `A` to `Z`, then `AA` and on. All are different.
pub fn mark(index: usize) -> String {
    let letter = char::from(b'A' + (index % 26) as u8);
    match index / 26 {
        0 => letter.to_string(),
        n => format!("{}{letter}", mark(n - 1)),
    }
}

/// Each letter's strokes on a grid of 4 by 6, y up: two digits a point, x before y; a blank lifts
/// the pen. Drawn by ourselves.
const LETTERS: [&str; 26] = [
    "002640 1333",
    "00063645443303 3342413000",
    "4536160501103041",
    "00062644422000",
    "46060040 0333",
    "460600 0333",
    "45361605011030414323",
    "0600 4640 0343",
    "2620 1636 1030",
    "4641301001",
    "0600 4602 1340",
    "060040",
    "0006234640",
    "00064046",
    "163645413010010516",
    "00063645443303",
    "163645413010010516 2240",
    "00063645443303 2340",
    "453616050413334241301001",
    "0646 2620",
    "060110304146",
    "062046",
    "0610233046",
    "0640 4600",
    "062346 2320",
    "06460040",
];
/// Width and height of a letter, and the gap between two, in squares of the grid.
const GRID: (f64, f64, f64) = (4.0, 6.0, 1.5);

/// A mark as strokes about the origin, in the circle of this radius; mirrored left to right if
/// `mirrored`. Signs other than `A` to `Z` are left out.
pub(crate) fn strokes(mark: &str, radius: f64, mirrored: bool) -> Path {
    let letters: Vec<&str> = mark
        .bytes()
        .filter_map(|b| LETTERS.get(usize::from(b.wrapping_sub(b'A'))).copied())
        .collect();
    let (wide, high, gap) = GRID;
    let width = letters.len() as f64 * (wide + gap) - gap;
    let unit = 2.0 * radius / Point::new(width, high).norm();
    let side = if mirrored { -1.0 } else { 1.0 };
    let mut lines = vec![];
    for (no, letter) in letters.iter().enumerate() {
        let left = no as f64 * (wide + gap) - width / 2.0;
        let at = |xy: &[u8]| {
            let (x, y) = (f64::from(xy[0] - b'0'), f64::from(xy[1] - b'0'));
            Point::new((left + x) * side, y - high / 2.0) * unit
        };
        for stroke in letter.split(' ') {
            let points: Vec<Point> = stroke.as_bytes().chunks_exact(2).map(at).collect();
            lines.push(points.windows(2).map(|p| Segment::line(p[0], p[1])).collect());
        }
    }
    Path { rings: vec![], lines }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn marks_are_all_different() {
        assert_eq!([0, 25, 26, 701, 702].map(mark), ["A", "Z", "AA", "ZZ", "AAA"]);
        assert_eq!((0..20_000).map(mark).collect::<BTreeSet<_>>().len(), 20_000);
    }

    #[test]
    fn strokes_stay_in_their_circle_and_no_two_letters_are_alike() {
        let mut seen = vec![];
        for i in 0..60 {
            let path = strokes(&mark(i), 0.6, false);
            let points = path.lines.iter().flatten().flat_map(|s| [s.from, s.to]);
            assert!(points.map(Point::norm).fold(0.0, f64::max) <= 0.6 + 1e-12, "{}", mark(i));
            assert!(!path.lines.is_empty() && !seen.contains(&path), "{}", mark(i));
            seen.push(path);
        }
    }

    #[test]
    fn a_mirrored_mark_is_the_mark_seen_from_behind() {
        let ends = |mirrored: bool| -> Vec<Point> {
            strokes("F", 1.0, mirrored).lines.iter().flatten().map(|s| s.to).collect()
        };
        let flipped: Vec<Point> = ends(true).iter().map(|p| Point::new(-p.x, p.y)).collect();
        assert_eq!(ends(false), flipped);
    }
}
