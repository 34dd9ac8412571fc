//! How a two-part adhesive is mixed: what one batch serves before it goes off.

use super::Batch;
use crate::adhesive::{Amount, Facts, Room, pot_min};
use crate::stretches::{RESERVE, Stretch};

/// The batches of one piece, `needs` being what each stretch takes with its waste.
///
/// A batch serves as many stretches as are set, at the slow pace, within the pot life of its mass
/// less the reserve: several whole copies, one, or a part of one. A stretch that takes more than
/// one batch may hold is divided evenly.
pub(super) fn batches(
    facts: &Facts,
    room: &Room,
    stretches: &[Stretch],
    needs: &[Amount],
    copies: u32,
) -> Vec<Batch> {
    if facts.two_part.is_none() || stretches.is_empty() || copies == 0 {
        return vec![];
    }
    let pot = |g: f64| pot_min(facts, room, g).unwrap_or(f64::INFINITY);
    let of = |from: usize, to: usize| Load::of(&stretches[from..to], &needs[from..to]);
    let n = stretches.len();
    let whole = of(0, n);
    if whole.fits(1, pot) {
        return whole_copies(whole, n, copies, pot);
    }
    let mut batches = vec![];
    let mut from = 0;
    while from < n {
        let mut to = from + 1;
        while to < n && of(from, to + 1).fits(1, pot) {
            to += 1;
        }
        let load = of(from, to);
        let divided = load.divided(pot);
        let part = load.part(divided);
        batches.push(part.batch(copies.saturating_mul(divided), 1, (from, to), divided, pot));
        from = to;
    }
    batches
}

/// As many whole copies to a batch as fit, spread evenly.
fn whole_copies(whole: Load, n: usize, copies: u32, pot: impl Fn(f64) -> f64) -> Vec<Batch> {
    // More copies take longer and heat more: the most that fit are found by halving.
    let (mut fit, mut over) = (1, copies.saturating_add(1));
    while over - fit > 1 {
        let middle = fit + (over - fit) / 2;
        if whole.fits(middle, &pot) { fit = middle } else { over = middle }
    }
    let n_batches = copies.div_ceil(fit);
    let (each, more) = (copies / n_batches, copies % n_batches);
    [(each + 1, more), (each, n_batches - more)]
        .into_iter()
        .filter(|&(_, times)| times > 0)
        .map(|(copies, times)| whole.copies(copies).batch(times, copies, (0, n), 1, &pot))
        .collect()
}

/// What one batch has to serve.
#[derive(Clone, Copy)]
struct Load {
    stones: u32,
    usual_min: f64,
    slow_min: f64,
    amount: Amount,
}

impl Load {
    fn of(stretches: &[Stretch], needs: &[Amount]) -> Load {
        let sum = |f: &dyn Fn(&Stretch) -> f64| stretches.iter().fold(0.0, |sum, s| sum + f(s));
        Load {
            stones: stretches.iter().map(|s| s.stones).sum(),
            usual_min: sum(&|s| s.usual_min),
            slow_min: sum(&|s| s.slow_min),
            amount: needs.iter().fold(Amount::default(), |sum, a| sum.plus(*a)),
        }
    }

    fn fits(self, copies: u32, pot: impl Fn(f64) -> f64) -> bool {
        let n = f64::from(copies);
        self.slow_min * n <= pot(self.amount.g * n) * (1.0 - RESERVE) + 1e-9
    }

    /// Into how many batches it is divided, so that each is used in time.
    fn divided(self, pot: impl Fn(f64) -> f64) -> u32 {
        let in_time = |k: u32| {
            let n = f64::from(k);
            self.slow_min / n <= pot(self.amount.g / n) * (1.0 - RESERVE) + 1e-9
        };
        (1..self.stones).find(|&k| in_time(k)).unwrap_or(self.stones.max(1))
    }

    fn copies(self, n: u32) -> Load {
        let times = f64::from(n);
        Load {
            stones: self.stones.saturating_mul(n),
            usual_min: self.usual_min * times,
            slow_min: self.slow_min * times,
            amount: self.amount.times(times),
        }
    }

    fn part(self, n: u32) -> Load {
        let times = f64::from(n);
        Load {
            stones: self.stones.div_ceil(n),
            usual_min: self.usual_min / times,
            slow_min: self.slow_min / times,
            amount: self.amount.times(1.0 / times),
        }
    }

    fn batch(
        self,
        times: u32,
        copies: u32,
        (from, to): (usize, usize),
        divided: u32,
        pot: impl Fn(f64) -> f64,
    ) -> Batch {
        Batch {
            times,
            copies,
            first_stretch: from as u32 + 1,
            last_stretch: to as u32,
            divided,
            stones: self.stones,
            usual_min: self.usual_min,
            slow_min: self.slow_min,
            pot_min: pot(self.amount.g),
            amount: self.amount,
        }
    }
}
