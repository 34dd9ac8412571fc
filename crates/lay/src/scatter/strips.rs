//! Rows for a scatter: the bench's strips, from the top down.

use crate::seat::Seat;
use geometry::Point;

/// Gives every stone its row and puts them in the order of setting.
///
/// A strip is as high as the largest stone and the first begins at `top`; strips without stone are
/// not counted. The hand goes back and forth: odd rows from left to right, even rows back.
pub(crate) fn in_strips(stones: &[(Point, usize)], top: f64, height: f64) -> Vec<Seat> {
    let strip = |p: Point| ((top - p.y) / height).floor().max(0.0) as u64;
    let mut ordered: Vec<(u64, Point, usize)> =
        stones.iter().map(|&(p, size)| (strip(p), p, size)).collect();
    let by_place = |a: &(u64, Point, usize), b: &(u64, Point, usize)| {
        a.0.cmp(&b.0).then(a.1.x.total_cmp(&b.1.x)).then(b.1.y.total_cmp(&a.1.y))
    };
    ordered.sort_by(by_place);
    let mut seats = Vec::with_capacity(ordered.len());
    for (row, strip) in (1u32..).zip(ordered.chunk_by(|a, b| a.0 == b.0)) {
        let seat = |&(_, centre, size): &(u64, Point, usize)| Seat { centre, size, column: 0, row };
        if row % 2 == 1 {
            seats.extend(strip.iter().map(seat));
        } else {
            seats.extend(strip.iter().rev().map(seat));
        }
    }
    // Each size is counted for itself: colours alternate among the kinds of one size.
    let n_sizes = stones.iter().map(|s| s.1 + 1).max().unwrap_or(0);
    for strip in seats.chunk_by_mut(|a, b| a.row == b.row) {
        let mut laid = vec![0; n_sizes];
        for seat in strip {
            seat.column = laid[seat.size];
            laid[seat.size] += 1;
        }
    }
    seats
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_go_back_and_forth_and_have_no_gaps() {
        let at = |x: f64, y: f64| (Point::new(x, y), 0);
        // Strips of 2 mm from y = 10: the third is empty.
        let stones =
            [at(3.0, 9.0), at(1.0, 8.5), at(2.0, 7.0), at(5.0, 6.5), at(4.0, 3.0), at(0.0, 3.5)];
        let seats = in_strips(&stones, 10.0, 2.0);
        let got: Vec<(f64, u32)> = seats.iter().map(|s| (s.centre.x, s.row)).collect();
        assert_eq!(got, [(1.0, 1), (3.0, 1), (5.0, 2), (2.0, 2), (0.0, 3), (4.0, 3)]);
    }
}
