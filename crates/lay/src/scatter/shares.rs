//! Shares by count: the price that holds them, and how far a lay is off.

use super::ScatterSize;
use geometry::{Disc, DiscGrid, Point};

/// The largest [`Shares::miss`] of a lay that holds its shares.
pub(crate) const HELD: f64 = 1.0;

/// How far a share may be off: 2 points.
const POINTS: f64 = 0.02;

/// By how many stones a share may be off in a lay of `n`: 2 points or one stone, whichever is wider.
pub(crate) fn off_by(n: f64) -> f64 {
    (POINTS * n).max(1.0)
}

/// Shares by count, adding up to 1.
#[derive(Clone, Debug)]
pub(crate) struct Shares(Vec<f64>);

/// How many stones of each size there are.
pub(crate) fn count(sizes: impl Iterator<Item = usize>, n_sizes: usize) -> Vec<usize> {
    let mut count = vec![0; n_sizes];
    sizes.for_each(|s| count[s] += 1);
    count
}

impl Shares {
    /// The wanted shares, made to add up to 1.
    pub(crate) fn new(sizes: &[ScatterSize]) -> Shares {
        let mut shares = Shares(sizes.iter().map(|s| s.share.max(0.0)).collect());
        shares.normalise();
        shares
    }

    /// The share of each size.
    pub(crate) fn of(&self, size: usize) -> f64 {
        self.0[size]
    }

    /// The shares that are left when only the sizes for which `keep` is true take part.
    pub(crate) fn among(&self, keep: impl Fn(usize) -> bool) -> Shares {
        let kept = self.0.iter().enumerate().map(|(i, &s)| if keep(i) { s } else { 0.0 });
        let mut shares = Shares(kept.collect());
        shares.normalise();
        shares
    }

    /// How far the worst share is off, in tolerances: 2 points or one stone, whichever is wider.
    pub(crate) fn miss(&self, count: &[usize]) -> f64 {
        let n: usize = count.iter().sum();
        let tolerance = off_by(n as f64);
        let off = |(share, &c): (&f64, &usize)| (c as f64 - share * n as f64).abs();
        // One stone off is within one stone, whatever the last bit says.
        self.0.iter().zip(count).map(off).fold(0.0, f64::max) / tolerance - 1e-9
    }

    /// Moves the aim against what came out wrong.
    pub(crate) fn correct(&mut self, wanted: &Shares, count: &[usize]) {
        let n = count.iter().sum::<usize>().max(1) as f64;
        for (i, aim) in self.0.iter_mut().enumerate() {
            *aim = (*aim + wanted.0[i] - count[i] as f64 / n).max(0.0);
        }
        self.normalise();
    }

    /// Takes out stones of sizes that came out too many, as far as each sits alone in a pocket
    /// between larger ones and none of its neighbours was taken: that leaves no bare place larger
    /// than a pocket. Last placed first.
    pub(crate) fn thin_out(&self, stones: &mut Vec<(Point, usize)>, radii: &[f64]) {
        let mut count = count(stones.iter().map(|s| s.1), radii.len());
        if self.miss(&count) <= HELD {
            return;
        }
        let disc = |&(centre, size): &(Point, usize)| Disc { centre, radius: radii[size] };
        let grid = DiscGrid::new(stones.iter().map(disc).collect());
        let mut gone = vec![false; stones.len()];
        for i in (0..stones.len()).rev() {
            let (p, size) = stones[i];
            let n: usize = count.iter().sum();
            let over = count[size] as f64 - self.0[size] * n as f64;
            if over <= 0.0 || self.miss(&count) <= HELD {
                continue;
            }
            let close = 0.5 * radii[size];
            let neighbours = grid.around(p, radii[size] + close + grid.radius_max()).filter(|&j| {
                let d = grid.discs()[j];
                j != i && d.centre.distance(p) < radii[size] + close + d.radius
            });
            let (mut larger, mut bare) = (0, false);
            for j in neighbours {
                larger += usize::from(radii[stones[j].1] > radii[size]);
                bare |= gone[j];
            }
            if larger >= 3 && !bare {
                gone[i] = true;
                count[size] -= 1;
            }
        }
        let mut i = 0;
        stones.retain(|_| {
            i += 1;
            !gone[i - 1]
        });
    }

    fn normalise(&mut self) {
        let sum: f64 = self.0.iter().sum();
        if sum > 0.0 {
            self.0.iter_mut().for_each(|s| *s /= sum);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shares(of: &[f64]) -> Shares {
        let size = |&share: &f64| ScatterSize { radius: 1.0, share };
        Shares::new(&of.iter().map(size).collect::<Vec<_>>())
    }

    #[test]
    fn a_miss_is_counted_in_two_points_or_one_stone() {
        let half = shares(&[0.5, 0.5]);
        assert!(half.miss(&[52, 48]) <= HELD && half.miss(&[53, 47]) > HELD);
        // Of ten stones one off is allowed, though it is ten points.
        assert!(half.miss(&[6, 4]) <= HELD && half.miss(&[7, 3]) > HELD);
        assert!(half.miss(&[0, 0]) <= HELD);
    }

    #[test]
    fn an_aim_moves_against_what_came_out_wrong() {
        let wanted = shares(&[1.0, 1.0]);
        let mut aim = wanted.clone();
        aim.correct(&wanted, &[60, 40]);
        assert!((aim.of(0) - 0.4).abs() < 1e-12 && (aim.of(1) - 0.6).abs() < 1e-12);
        let only = wanted.among(|size| size == 1);
        assert_eq!((only.of(0), only.of(1)), (0.0, 1.0));
    }

    #[test]
    fn only_stones_in_pockets_between_larger_ones_are_taken_out() {
        // Four of radius 2 in squares with one of 0.8 in each pocket, and a row of small ones off
        // to the side, which must stay.
        let mut stones = vec![];
        for x in 0..6 {
            for y in 0..6 {
                stones.push((Point::new(4.0 * f64::from(x), 4.0 * f64::from(y)), 0));
            }
        }
        for x in 0..5 {
            for y in 0..5 {
                stones.push((Point::new(4.0 * f64::from(x) + 2.0, 4.0 * f64::from(y) + 2.0), 1));
            }
        }
        let aside: Vec<_> = (0..8).map(|i| (Point::new(1.6 * f64::from(i), -40.0), 1)).collect();
        stones.extend(&aside);
        let wanted = Shares(vec![0.7, 0.3]);
        let radii = [2.0, 0.8];
        wanted.thin_out(&mut stones, &radii);
        assert!(aside.iter().all(|s| stones.contains(s)));
        let n = count(stones.iter().map(|s| s.1), 2);
        assert_eq!(n[0], 36);
        assert!(wanted.miss(&n) <= HELD && n[1] < 33, "{n:?}");
    }
}
