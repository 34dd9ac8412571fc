//! Shares by count: the price that holds them, and how far a lay is off.

use super::ScatterSize;
use geometry::{Disc, DiscGrid, Point};

/// The largest [`Shares::miss`] of a lay that holds its shares.
pub(crate) const HELD: f64 = 1.0;

/// How far a share may be off: 2 points, less a little for the corrections that follow.
const POINTS: f64 = 0.02;

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
        let tolerance = (POINTS * n as f64).max(1.0);
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
