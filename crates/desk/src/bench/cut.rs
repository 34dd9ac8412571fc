//! A stretch cut into what is set between two presses.

use super::{FrozenRow, Way};

/// Most stones of a scatter between two presses: what one picks out of a heap at a time. Ours, no
/// source.
const HANDFUL: usize = 20;

/// The rows of a stretch: those of its zone where it has rows; of a scatter handfuls of one kind,
/// about equally large. `order` are its place numbers in the order of setting; `row` and `kind` are
/// those of all stones of the lay.
pub(super) fn rows(order: &[u32], row: &[u32], kind: &[u32], way: Way) -> Vec<FrozenRow> {
    let of = |column: &[u32], place: u32| {
        (place as usize).checked_sub(1).and_then(|i| column.get(i)).copied().unwrap_or_default()
    };
    let joined = |a: &u32, b: &u32| match way {
        Way::Rows => of(row, *a) == of(row, *b),
        Way::Scatter => of(kind, *a) == of(kind, *b),
    };
    let mut rows = vec![];
    for run in order.chunk_by(joined) {
        let most = match way {
            Way::Rows => run.len(),
            Way::Scatter => run.len().div_ceil(run.len().div_ceil(HANDFUL)),
        };
        let cut = run.chunks(most.max(1));
        rows.extend(
            cut.map(|places| FrozenRow { row: of(row, places[0]), places: places.to_vec() }),
        );
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::*;

    fn places(rows: &[FrozenRow]) -> Vec<Vec<u32>> {
        rows.iter().map(|r| r.places.clone()).collect()
    }

    #[test]
    fn rows_are_those_of_the_zone() {
        let cut = rows(&[2, 1, 3, 4], &[1, 1, 2, 2], &[0, 1, 0, 1], Way::Rows);
        assert_eq!(places(&cut), [vec![2, 1], vec![3, 4]]);
        assert_eq!(cut[1].row, 2);
    }

    #[test]
    fn a_scatter_is_set_by_handfuls_of_one_kind() {
        let order: Vec<u32> = (1..=50).collect();
        let kind: Vec<u32> = (0..50).map(|i| u32::from(i >= 41)).collect();
        let cut = rows(&order, &[1; 50], &kind, Way::Scatter);
        let sizes: Vec<usize> = cut.iter().map(|r| r.places.len()).collect();
        assert_eq!(sizes, [14, 14, 13, 9]);
        assert_eq!(cut.iter().flat_map(|r| r.places.clone()).collect::<Vec<_>>(), order);
    }

    #[test]
    fn a_stretch_without_stones_has_no_rows() {
        assert!(rows(&[], &[], &[], Way::Scatter).is_empty());
    }
}
