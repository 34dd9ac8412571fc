//! The glue line of a stretch: along its stones, and never under one that is set already.

use geometry::{Disc, DiscGrid, Point};

/// All stones of a lay, and the stretch of each.
pub(super) struct Bench {
    grid: DiscGrid,
    stretch: Vec<u32>,
}

/// A glue line: its length, and in how many pieces it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct GlueLine {
    pub(super) length_mm: f64,
    pub(super) pieces: u32,
}

impl Bench {
    /// Stones as drawn, in the lay's order, and the number of the stretch of each.
    pub(super) fn new(discs: Vec<Disc>, stretch: Vec<u32>) -> Bench {
        Bench { grid: DiscGrid::new(discs), stretch }
    }

    /// The glue line along `stones`, in their order; a new piece begins where `breaks` says so.
    ///
    /// It reaches a quarter of a stone beyond the middles of its ends, so that a stone by itself
    /// gets half its diameter.
    pub(super) fn line(
        &self,
        stones: &[usize],
        width_mm: f64,
        breaks: impl Fn(usize, usize) -> bool,
    ) -> GlueLine {
        let discs = self.grid.discs();
        let quarter = |i: usize| discs[i].radius / 2.0;
        let mut line = GlueLine { length_mm: 0.0, pieces: 0 };
        for (k, &b) in stones.iter().enumerate() {
            let before = k.checked_sub(1).map(|k| stones[k]);
            match before.filter(|&a| !breaks(a, b) && self.joined(a, b, width_mm)) {
                Some(a) => line.length_mm += discs[a].centre.distance(discs[b].centre),
                None => {
                    line.length_mm += before.map_or(0.0, quarter) + quarter(b);
                    line.pieces += 1;
                }
            }
        }
        line.length_mm += stones.last().map_or(0.0, |&i| quarter(i));
        line
    }

    /// Whether the line runs on from stone `a` to stone `b`: no stone is missing between them, and
    /// none that was set in an earlier stretch lies over it.
    pub(super) fn joined(&self, a: usize, b: usize, width_mm: f64) -> bool {
        let (from, to) = (self.grid.discs()[a], self.grid.discs()[b]);
        let length = from.centre.distance(to.centre);
        let room = length - from.radius - to.radius;
        if room > 2.0 * from.radius.min(to.radius) {
            return false;
        }
        let middle = from.centre.lerp(to.centre, 0.5);
        let reach = length / 2.0 + self.grid.radius_max() + width_mm / 2.0;
        let covers = |i: usize| {
            // Most neighbours are set in the same stretch, or later.
            if self.stretch[i] >= self.stretch[b] {
                return false;
            }
            let d = self.grid.discs()[i];
            to_line(d.centre, from.centre, to.centre) < d.radius + width_mm / 2.0
        };
        !self.grid.around(middle, reach).any(covers)
    }
}

/// Distance from `p` to the straight line from `a` to `b`.
fn to_line(p: Point, a: Point, b: Point) -> f64 {
    let (along, n2) = (b - a, (b - a).norm2());
    let t = if n2 > 0.0 { ((p - a).dot(along) / n2).clamp(0.0, 1.0) } else { 0.0 };
    p.distance(a.lerp(b, t))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn disc(x: f64, y: f64) -> Disc {
        Disc { centre: Point::new(x, y), radius: 2.0 }
    }

    #[test]
    fn a_row_of_touching_stones_is_one_line() {
        let bench = Bench::new((0..5).map(|i| disc(4.0 * f64::from(i), 0.0)).collect(), vec![1; 5]);
        let line = bench.line(&[0, 1, 2, 3, 4], 1.0, |_, _| false);
        assert_eq!(line, GlueLine { length_mm: 18.0, pieces: 1 });
    }

    #[test]
    fn a_missing_stone_breaks_the_line() {
        let bench = Bench::new([0.0, 4.0, 13.0].map(|x| disc(x, 0.0)).to_vec(), vec![1; 3]);
        let line = bench.line(&[0, 1, 2], 1.0, |_, _| false);
        assert_eq!(line, GlueLine { length_mm: 6.0 + 2.0, pieces: 2 });
    }

    #[test]
    fn no_line_runs_under_a_stone_that_is_set() {
        // One stone, set earlier, touches two others and lies over what would be the bead.
        let discs = vec![disc(0.0, 0.0), disc(7.0, 0.0), disc(3.5, 1.94)];
        let line = |stretch| Bench::new(discs.clone(), stretch).line(&[0, 1], 1.0, |_, _| false);
        assert_eq!(line(vec![2, 2, 1]).pieces, 2);
        assert_eq!(line(vec![1, 1, 2]).pieces, 1);
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, rng_seed: proptest::test_runner::RngSeed::Fixed(3), ..ProptestConfig::default() })]

        /// The slow twin: points all over the band between two stones, against every stone.
        #[test]
        fn the_line_is_clear_of_what_was_set_earlier(
            spots in prop::collection::vec((0.0..20.0_f64, 0.0..20.0_f64, 0.8..2.2_f64, 1..3_u32), 2..12),
            width in 0.2..2.0_f64,
        ) {
            let disc = |&(x, y, radius, _): &(f64, f64, f64, u32)| Disc { centre: Point::new(x, y), radius };
            let discs: Vec<Disc> = spots.iter().map(disc).collect();
            let stretch: Vec<u32> = spots.iter().map(|s| s.3).collect();
            let bench = Bench::new(discs.clone(), stretch.clone());
            let (a, b) = (discs[0], discs[1]);
            let across = (b.centre - a.centre).normalised().left();
            let under = |e: &Disc| (0..=40).any(|i| (-10..=10).any(|j| {
                let on = a.centre.lerp(b.centre, f64::from(i) / 40.0);
                let p = on + across * (width / 2.0 * f64::from(j) / 10.0);
                p.distance(e.centre) < e.radius
            }));
            let covered = discs.iter().zip(&stretch).any(|(e, n)| *n < stretch[1] && under(e));
            prop_assert!(!(covered && bench.joined(0, 1, width)));
        }
    }
}
