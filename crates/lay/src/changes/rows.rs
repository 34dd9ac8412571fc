//! Stones set by hand take their place in the rows.

use crate::Stone;

/// The stones of an arrangement, in their rows, with those `set` put between them: each where it
/// lengthens the way along its row least. Rows are numbered anew, so that none is empty.
pub(super) fn joined(stones: &[Stone], set: &[Stone]) -> Vec<Stone> {
    let n_rows = stones.iter().chain(set).map(|s| s.row).max().unwrap_or(0);
    let mut rows: Vec<Vec<Stone>> = vec![vec![]; n_rows as usize];
    let row_of = |s: &Stone| s.row.saturating_sub(1) as usize;
    stones.iter().for_each(|s| rows[row_of(s)].push(*s));
    for s in set {
        let row = &mut rows[row_of(s)];
        row.insert(best_place(row, s), *s);
    }
    let filled = rows.into_iter().filter(|r| !r.is_empty());
    (1..)
        .zip(filled)
        .flat_map(|(no, r)| r.into_iter().map(move |s| Stone { row: no, ..s }))
        .collect()
}

/// Where `s` comes in a row; of places that are equally good, the first.
fn best_place(row: &[Stone], s: &Stone) -> usize {
    let at = |i: usize| row[i].place.point();
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

    fn xs(stones: &[Stone]) -> Vec<(f64, u32)> {
        stones.iter().map(|s| (s.place.u, s.row)).collect()
    }

    #[test]
    fn a_stone_comes_between_its_neighbours_or_at_an_end() {
        let row = [stone(0.0, 0.0, 1), stone(4.0, 0.0, 1), stone(8.0, 0.0, 1)];
        for (x, expect) in [(-1.0, 0), (1.0, 1), (6.5, 2), (9.0, 3)] {
            assert_eq!(best_place(&row, &stone(x, 0.5, 1)), expect, "{x}");
        }
        assert_eq!(best_place(&[], &stone(1.0, 1.0, 1)), 0);
    }

    #[test]
    fn rows_left_empty_are_not_counted() {
        let all = joined(&[stone(0.0, 0.0, 1), stone(1.0, 8.0, 3)], &[stone(5.0, 8.0, 3)]);
        assert_eq!(xs(&all), [(0.0, 1), (1.0, 2), (5.0, 2)]);
        assert_eq!(xs(&joined(&[], &[stone(7.0, 0.0, 1)])), [(7.0, 1)]);
        assert!(joined(&[], &[]).is_empty());
    }
}
