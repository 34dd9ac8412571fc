//! Stones set by hand take their place in the rows.

use crate::Stone;

/// The `stones` of a zone that are not `gone`: the first `n_before` were there before, in their
/// rows; each later one is put into its row where it lengthens the way along it least. Stones that
/// are gone hold their place in the way until all are in, so that what is set in place of a whole
/// row still runs as that did. Rows are numbered anew: none is empty.
pub(super) fn in_rows(stones: &[Stone], gone: &[bool], n_before: usize) -> Vec<Stone> {
    let n_rows = stones.iter().map(|s| s.row).max().unwrap_or(0);
    let mut rows: Vec<Vec<usize>> = vec![vec![]; n_rows as usize];
    for (i, s) in stones.iter().enumerate() {
        let row = &mut rows[s.row.saturating_sub(1) as usize];
        let at = if i < n_before { row.len() } else { best_place(stones, row, s) };
        row.insert(at, i);
    }
    rows.iter_mut().for_each(|r| r.retain(|&i| !gone[i]));
    let filled = rows.iter().filter(|r| !r.is_empty());
    (1..)
        .zip(filled)
        .flat_map(|(no, r)| r.iter().map(move |&i| Stone { row: no, ..stones[i] }))
        .collect()
}

/// Where `s` comes in a row; of places that are equally good, the first.
fn best_place(stones: &[Stone], row: &[usize], s: &Stone) -> usize {
    let at = |i: usize| stones[row[i]].place.point();
    let p = s.place.point();
    let longer = |i: usize| match (i.checked_sub(1), i < row.len()) {
        (None, false) => 0.0,
        (None, true) => p.distance(at(0)),
        (Some(before), false) => p.distance(at(before)),
        (Some(before), true) => {
            at(before).distance(p) + p.distance(at(i)) - at(before).distance(at(i))
        }
    };
    let ways = (0..=row.len()).map(|i| (longer(i), i));
    ways.min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1))).map_or(0, |w| w.1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Place;
    use geometry::Point;

    fn stone(x: f64, y: f64, row: u32) -> Stone {
        let place = Place::on_plane(Point::new(x, y));
        Stone { place, kind: 0, zone: 0, row, by_hand: false }
    }

    fn xs(stones: &[Stone], gone: &[bool], n_before: usize) -> Vec<(f64, u32)> {
        in_rows(stones, gone, n_before).iter().map(|s| (s.place.u, s.row)).collect()
    }

    #[test]
    fn a_stone_comes_between_its_neighbours_or_at_an_end() {
        let row = [stone(0.0, 0.0, 1), stone(4.0, 0.0, 1), stone(8.0, 0.0, 1)];
        for (x, expect) in [(-1.0, 0), (1.0, 1), (6.5, 2), (9.0, 3)] {
            assert_eq!(best_place(&row, &[0, 1, 2], &stone(x, 0.5, 1)), expect, "{x}");
        }
        assert_eq!(best_place(&row, &[], &stone(1.0, 1.0, 1)), 0);
    }

    #[test]
    fn a_row_that_is_replaced_runs_as_it_did() {
        let before = [8.0, 4.0, 0.0].map(|x| stone(x, 0.0, 1));
        let set = [0.5, 4.0, 8.0].map(|x| stone(x, 0.0, 1));
        let all = [before, set].concat();
        let gone = [true, true, true, false, false, false];
        assert_eq!(xs(&all, &gone, 3), [(8.0, 1), (4.0, 1), (0.5, 1)]);
    }

    #[test]
    fn rows_left_empty_are_not_counted() {
        let all = [stone(0.0, 0.0, 1), stone(1.0, 4.0, 2), stone(1.0, 8.0, 3), stone(3.0, 8.0, 3)];
        let gone = [false, true, false, false, false];
        let all = [&all[..], &[stone(5.0, 8.0, 3)]].concat();
        assert_eq!(xs(&all, &gone, 4), [(0.0, 1), (1.0, 2), (3.0, 2), (5.0, 2)]);
        assert_eq!(xs(&[stone(7.0, 0.0, 1)], &[false], 0), [(7.0, 1)]);
        assert!(xs(&[], &[], 0).is_empty());
    }
}
