//! How many stones of a kind are needed: a number, or a number for each chance.

use super::convolve::convolve;

/// Chance that is left out at either end of a sum of counts. Sums of a thousand copies then still
/// hold to 1e-13.
const NEGLIGIBLE: f64 = 1e-15;

/// The most counts that are told apart; see [`Counts::plus`].
const WIDTH_MAX: usize = 1 << 20;

/// Chances this close are one: sums of fractions such as 1/50 miss a round chance by rounding.
const TIE: f64 = 1e-12;

/// A count of stones, certain or with a chance for each number.
#[derive(Clone, Debug, PartialEq)]
pub struct Counts {
    least: u64,
    /// Chance of `least` + index; never empty, adds up to 1, none at either end is 0.
    chance: Vec<f64>,
}

impl Counts {
    /// A certain count.
    pub fn exactly(n: u64) -> Counts {
        Counts { least: n, chance: vec![1.0] }
    }

    /// Each of the sampled counts with the same chance; one that comes up twice has twice the
    /// chance. `None` if there is no sample.
    ///
    /// Samples more than a million stones apart count as if the lower ones were higher.
    pub fn from_samples(samples: &[u64]) -> Option<Counts> {
        let (least, most) = (*samples.iter().min()?, *samples.iter().max()?);
        let least = least.max(most.saturating_sub(WIDTH_MAX as u64 - 1));
        let mut times = vec![0_u64; (most - least) as usize + 1];
        for &n in samples {
            times[n.saturating_sub(least) as usize] += 1;
        }
        let chance = times.iter().map(|&t| t as f64 / samples.len() as f64).collect();
        Some(Counts { least, chance })
    }

    /// One of several counts, each with the same chance. `None` if there is none.
    ///
    /// Of stones set by hand, add up all pieces and copies for each hand first
    /// ([`lay::HandCounts::of_hand`]), then take one of the hands: whose hand it is does not change
    /// from copy to copy.
    pub fn one_of(cases: &[Counts]) -> Option<Counts> {
        let least = cases.iter().map(Counts::least).min()?;
        let most = cases.iter().map(Counts::most).max()?;
        let least = least.max(most.saturating_sub(WIDTH_MAX as u64 - 1));
        let mut chance = vec![0.0; (most - least) as usize + 1];
        for case in cases {
            for (n, p) in (case.least..).zip(&case.chance) {
                chance[n.saturating_sub(least) as usize] += p / cases.len() as f64;
            }
        }
        Some(Counts { least, chance })
    }

    /// The count of this and of another, independent of it, together.
    ///
    /// Exact, but for a chance of 1e-15 at either end that is left out. Where more than a million
    /// counts would have to be told apart, the lowest are taken for higher ones: that asks for
    /// more stones, never for fewer.
    #[must_use]
    pub fn plus(&self, other: &Counts) -> Counts {
        let chance = convolve(&self.chance, &other.chance);
        Counts { least: self.least.saturating_add(other.least), chance }.trimmed()
    }

    /// The count of `n` copies together, each independent of the others: the sum of `n` such
    /// counts, by repeated doubling.
    #[must_use]
    pub fn copies(&self, mut n: u64) -> Counts {
        if self.is_certain() {
            return Counts::exactly(self.least.saturating_mul(n));
        }
        let mut sum = Counts::exactly(0);
        let mut doubled = self.clone();
        while n > 0 {
            if n % 2 == 1 {
                sum = sum.plus(&doubled);
            }
            n /= 2;
            if n > 0 {
                doubled = doubled.plus(&doubled);
            }
        }
        sum
    }

    /// Whether only one count is possible.
    pub fn is_certain(&self) -> bool {
        self.chance.len() == 1
    }

    /// The least count possible.
    pub fn least(&self) -> u64 {
        self.least
    }

    /// The greatest count possible.
    pub fn most(&self) -> u64 {
        self.least.saturating_add(self.chance.len() as u64 - 1)
    }

    /// Chance of each count from [`Counts::least`] on.
    pub fn chances(&self) -> &[f64] {
        &self.chance
    }

    /// The least count that is not exceeded with this chance: the nearest-rank quantile.
    pub fn within(&self, chance: f64) -> u64 {
        let mut sum = 0.0;
        let reached = |p: &f64| {
            sum += p;
            sum >= chance - TIE
        };
        let i = self.chance.iter().position(reached).unwrap_or(self.chance.len() - 1);
        self.least.saturating_add(i as u64)
    }

    /// Its mean and its variance.
    pub(crate) fn moments(&self) -> (f64, f64) {
        let sum = |f: &dyn Fn(f64) -> f64| -> f64 {
            self.chance.iter().enumerate().map(|(i, p)| p * f(i as f64)).sum()
        };
        let mean = sum(&|i| i);
        (self.least as f64 + mean, sum(&|i| (i - mean) * (i - mean)))
    }

    /// Without what is negligible at either end, and no wider than is told apart.
    fn trimmed(mut self) -> Counts {
        let (mut above, mut end) = (0.0, self.chance.len());
        while end > 1 && above + self.chance[end - 1] <= NEGLIGIBLE {
            end -= 1;
            above += self.chance[end];
        }
        self.chance.truncate(end);
        self.chance[end - 1] += above;
        let (mut below, mut start) = (0.0, 0);
        while start + 1 < end
            && (below + self.chance[start] <= NEGLIGIBLE || end - start > WIDTH_MAX)
        {
            below += self.chance[start];
            start += 1;
        }
        self.chance.drain(..start);
        self.chance[0] += below;
        self.least = self.least.saturating_add(start as u64);
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The slow twin of `copies`: add one copy after the other, by the definition.
    fn copies_one_by_one(counts: &Counts, n: u64) -> Vec<f64> {
        let mut sum = vec![1.0];
        for _ in 0..n {
            let mut next = vec![0.0; sum.len() + counts.chance.len() - 1];
            for (i, p) in sum.iter().enumerate() {
                for (j, q) in counts.chance.iter().enumerate() {
                    next[i + j] += p * q;
                }
            }
            sum = next;
        }
        sum
    }

    proptest! {
        #![proptest_config(ProptestConfig {
            cases: 60,
            failure_persistence: None,
            rng_seed: proptest::test_runner::RngSeed::Fixed(31),
            ..ProptestConfig::default()
        })]

        #[test]
        fn copies_are_the_sum_of_single_ones(
            samples in prop::collection::vec(100_u64..140, 1..50),
            n in 0_u64..60,
        ) {
            let one = Counts::from_samples(&samples).unwrap();
            let fast = one.copies(n);
            let slow = copies_one_by_one(&one, n);
            let from = one.least * n;
            prop_assert!(fast.least >= from && fast.most() < from + slow.len() as u64);
            let mut off = 0.0;
            for (i, p) in slow.iter().enumerate() {
                let at = (from + i as u64).checked_sub(fast.least);
                let q = at.and_then(|j| fast.chance.get(j as usize)).copied().unwrap_or(0.0);
                off += (p - q).abs();
            }
            prop_assert!(off < 1e-12, "{off}");
            let (mean, variance) = one.moments();
            let (mean_n, variance_n) = fast.moments();
            prop_assert!((mean_n - n as f64 * mean).abs() < 1e-9 * (1.0 + mean_n));
            prop_assert!((variance_n - n as f64 * variance).abs() < 1e-9 * (1.0 + variance_n));
        }
    }

    #[test]
    fn two_dice_and_five_hundred_of_them() {
        // Two dice: 2 to 12, seven the likeliest with 6 of 36. The mean of a die is 3.5, its
        // variance 35/12.
        let die = Counts::from_samples(&[1, 2, 3, 4, 5, 6]).unwrap();
        let two = die.copies(2);
        assert_eq!((two.least(), two.most(), two.within(0.5)), (2, 12, 7));
        assert!((two.chances()[5] - 6.0 / 36.0).abs() < 1e-15);
        let many = die.copies(500);
        let (mean, variance) = many.moments();
        assert!((mean - 1750.0).abs() < 1e-9 && (variance - 500.0 * 35.0 / 12.0).abs() < 1e-6);
    }

    #[test]
    fn one_of_several_has_the_chance_of_each() {
        let cases = [Counts::exactly(5), Counts::from_samples(&[2, 4]).unwrap()];
        let either = Counts::one_of(&cases).unwrap();
        assert_eq!((either.least(), either.chances()), (2, &[0.25, 0.0, 0.25, 0.5][..]));
        assert_eq!(Counts::one_of(&[]), None);
        // Whose hand it is stays the same over all copies: the spread does not even out.
        let apart = Counts::one_of(&cases.map(|c| c.copies(100))).unwrap();
        assert_eq!(apart.within(0.95), 500);
        assert!(either.copies(100).within(0.95) < 430);
    }

    #[test]
    fn quantiles_are_by_nearest_rank() {
        // Of 20 samples 1 to 20 the middle one by rank is the 10th, the 95 % one the 19th.
        let counts = Counts::from_samples(&(1..=20).collect::<Vec<_>>()).unwrap();
        assert_eq!((counts.within(0.5), counts.within(0.95), counts.within(1.0)), (10, 19, 20));
        assert_eq!(Counts::from_samples(&[]), None);
        assert_eq!(Counts::exactly(7).copies(3), Counts::exactly(21));
    }

    #[test]
    fn what_is_too_wide_to_tell_apart_is_taken_for_more() {
        let apart = Counts::from_samples(&[0, 3_000_000]).unwrap();
        assert_eq!(apart.most(), 3_000_000);
        assert_eq!(apart.chances().len(), WIDTH_MAX);
        let sum = apart.copies(4);
        assert_eq!(sum.most(), 12_000_000);
        assert_eq!(sum.chances().len(), WIDTH_MAX);
        // Each of the four is the higher one with chance 1/2, so that all are with 1/16.
        assert!((sum.chances()[WIDTH_MAX - 1] - 0.0625).abs() < 1e-12);
    }
}
