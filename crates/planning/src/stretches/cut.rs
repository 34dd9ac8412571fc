//! Where a sequence of stones or rows is cut, so that every part fits its time.

use std::ops::Range;

/// Rounding allowed where a part just fits, min.
const JUST: f64 = 1e-9;
/// What a change of kinds at the join of two rows weighs, against the square of a stretch's part
/// of its limit: enough to move a cut to the end of a stripe, too little to make a sliver (ours).
const CHANGE: f64 = 0.1;

/// One row, as far as cutting needs to know it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Row {
    /// How long it takes at the slow pace, min.
    pub(super) slow_min: f64,
    /// The kinds in it, sorted.
    pub(super) kinds: Vec<u32>,
}

/// How many parts a group of stones is cut into: each takes at most `limit`, whatever the order of
/// the stones.
///
/// With T the whole, t the slowest stone and N stones: any N/n stones fit if they take t each, and
/// any part of T/n fits if it may run over by one stone. The better of the two is taken.
pub(super) fn n_parts(times: &[f64], limit: f64) -> usize {
    let total: f64 = times.iter().sum();
    let slowest = times.iter().copied().fold(0.0, f64::max);
    if times.is_empty() || total <= limit + JUST {
        return times.len().min(1);
    }
    let each = ((limit + JUST) / slowest).floor() as usize;
    let by_count = if each == 0 { times.len() } else { times.len().div_ceil(each) };
    let by_time = if limit > slowest { (total / (limit - slowest)).ceil() } else { f64::INFINITY };
    by_count.min(if by_time < times.len() as f64 { by_time as usize } else { times.len() })
}

/// The parts of a group of stones in their order: none is empty, each fits `limit` unless it is a
/// single stone, and they are about equally long.
pub(super) fn even_parts(times: &[f64], limit: f64) -> Vec<Range<usize>> {
    let n = n_parts(times, limit);
    let by_time = parts_at(times, n, true);
    let fits =
        |r: &Range<usize>| r.len() == 1 || times[r.clone()].iter().sum::<f64>() <= limit + JUST;
    if by_time.iter().all(fits) { by_time } else { parts_at(times, n, false) }
}

/// Cuts nearest to equal shares of the time, or of the number of stones.
fn parts_at(times: &[f64], n: usize, by_time: bool) -> Vec<Range<usize>> {
    let weight = |i: usize| if by_time { times[i] } else { 1.0 };
    let total: f64 = (0..times.len()).map(weight).sum();
    let (mut parts, mut from, mut i, mut before) = (Vec::with_capacity(n), 0, 0, 0.0);
    for k in 1..=n {
        let target = total * k as f64 / n as f64;
        // Each later part needs one stone at least.
        let last = times.len() - (n - k);
        while i < last && (i == from || k == n || before + weight(i) / 2.0 < target) {
            before += weight(i);
            i += 1;
        }
        parts.push(from..i);
        from = i;
    }
    parts
}

/// Rows put together: the fewest parts that fit `limit`, and of those the most even ones whose cuts
/// lie where kinds change. A row that is too long stands alone.
///
/// The cheapest way to the end of each row, from that to all rows before it: exact, since the cost
/// is a sum over parts.
pub(super) fn row_parts(rows: &[Row], limit: f64) -> Vec<Range<usize>> {
    let mut best: Vec<(usize, f64, usize)> = vec![(0, 0.0, 0)];
    for end in 1..=rows.len() {
        let (mut slow_min, mut changes) = (0.0, 0.0);
        let mut least = (usize::MAX, f64::INFINITY, end - 1);
        for from in (0..end).rev() {
            slow_min += rows[from].slow_min;
            if from + 1 < end && slow_min > limit + JUST {
                break;
            }
            if from + 1 < end && rows[from].kinds != rows[from + 1].kinds {
                changes += 1.0;
            }
            let part = slow_min / limit;
            let (n, cost, _) = best[from];
            let way = (n + 1, cost + part * part + CHANGE * changes, from);
            if (way.0, way.1) < (least.0, least.1) {
                least = way;
            }
        }
        best.push(least);
    }
    let mut parts = vec![];
    let mut end = rows.len();
    while end > 0 {
        let from = best[end].2;
        parts.push(from..end);
        end = from;
    }
    parts.reverse();
    parts
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn row(slow_min: f64, kind: u32) -> Row {
        Row { slow_min, kinds: vec![kind] }
    }

    #[test]
    fn ten_equal_rows_at_four_to_a_stretch_leave_no_sliver() {
        let rows = vec![row(1.0, 0); 10];
        let lens: Vec<usize> = row_parts(&rows, 4.0).iter().map(Range::len).collect();
        assert_eq!(lens.len(), 3);
        assert!(lens.iter().all(|&n| n == 3 || n == 4), "{lens:?}");
    }

    #[test]
    fn cuts_lie_where_stripes_end() {
        // Stripes of 3, 3 and 3 rows; four would fit.
        let rows: Vec<Row> = (0..9).map(|i| row(1.0, i / 3)).collect();
        assert_eq!(row_parts(&rows, 4.0), [0..3, 3..6, 6..9]);
    }

    #[test]
    fn a_row_that_is_too_long_stands_alone() {
        let rows = [row(1.0, 0), row(9.0, 0), row(1.0, 0), row(1.0, 0)];
        assert_eq!(row_parts(&rows, 4.0), [0..1, 1..2, 2..4]);
    }

    #[test]
    fn stones_of_one_pace_are_cut_into_as_few_parts_as_can_be() {
        // 0.3 min each, nine to 2.8 min.
        let lens: Vec<usize> = even_parts(&[0.3; 20], 2.8).iter().map(Range::len).collect();
        assert_eq!(lens.iter().sum::<usize>(), 20);
        assert_eq!(lens.len(), 3);
        assert!(lens.iter().all(|&n| n >= 6), "{lens:?}");
    }

    /// The slow twin: the fewest parts by trying every cut.
    fn fewest(rows: &[Row], limit: f64) -> usize {
        let Some(_) = rows.first() else { return 0 };
        let fits = |n: usize| n == 1 || rows[..n].iter().map(|r| r.slow_min).sum::<f64>() <= limit;
        let ways = (1..=rows.len()).filter(|&n| fits(n)).map(|n| 1 + fewest(&rows[n..], limit));
        ways.min().unwrap_or(0)
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, rng_seed: proptest::test_runner::RngSeed::Fixed(5), ..ProptestConfig::default() })]

        #[test]
        fn rows_are_cut_into_the_fewest_parts(
            times in prop::collection::vec(0.3..5.0_f64, 0..10),
            limit in 1.0..9.0_f64,
        ) {
            let rows: Vec<Row> = times.iter().map(|&t| row(t, 0)).collect();
            let parts = row_parts(&rows, limit);
            prop_assert_eq!(parts.len(), fewest(&rows, limit));
            prop_assert_eq!(parts.into_iter().flatten().collect::<Vec<_>>(), (0..rows.len()).collect::<Vec<_>>());
        }

        #[test]
        fn every_part_fits_and_none_is_empty(
            times in prop::collection::vec(prop_oneof![Just(0.2), Just(0.31), Just(0.5)], 1..80),
            limit in 0.1..6.0_f64,
        ) {
            let parts = even_parts(&times, limit);
            prop_assert_eq!(parts.len(), n_parts(&times, limit));
            prop_assert_eq!(parts.iter().cloned().flatten().collect::<Vec<_>>(), (0..times.len()).collect::<Vec<_>>());
            for part in parts {
                let slow_min: f64 = times[part.clone()].iter().sum();
                prop_assert!(part.len() == 1 || slow_min <= limit + 1e-6, "{slow_min} over {limit}");
            }
        }

        #[test]
        fn slower_stones_are_never_cut_into_fewer_parts(
            times in prop::collection::vec((0.1..0.5_f64, 1.0..2.0_f64), 1..80),
            limit in 0.1..6.0_f64,
        ) {
            let quick: Vec<f64> = times.iter().map(|t| t.0).collect();
            let slow: Vec<f64> = times.iter().map(|t| t.0 * t.1).collect();
            prop_assert!(n_parts(&slow, limit) >= n_parts(&quick, limit));
        }
    }
}
