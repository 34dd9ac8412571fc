//! The least number of stones of which, with a given chance, enough are left.
//!
//! The number lost of n handled is binomial or beta-binomial. Both have chances whose ratio from
//! one number to the next is a short fraction, so that we start from 1 at the likeliest number, go
//! both ways, and divide by the sum. That needs no gamma function (whose logarithm at a million
//! has lost nine digits before one is taken from the other), has the same bytes on every machine,
//! and takes in an uncertain need on the way.

use super::{Counts, Losses, QUANTITY_LIMIT};
use crate::Origin;

/// Chances this close are one: a quantity that misses the chance asked for by rounding is enough.
const TIE: f64 = 1e-12;

/// Terms that are smaller than this part of the sum are left out, and all beyond them.
const NOTHING: f64 = 1e-22;

/// A smaller chance is none to begin counting from.
const FAINT: f64 = 1e-200;

/// How often the search follows the slope before it halves what is left.
const STEPS: u32 = 6;

/// The chance of losing a stone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Loss {
    /// Known: the number lost is binomial.
    Rate(f64),
    /// Beta-distributed, so that the number lost is beta-binomial: `lost` and `kept` stones of
    /// experience, assumed and logged.
    Beta { lost: f64, kept: f64 },
}

impl Loss {
    /// The assumption alone, or, where there is a log or the maker said how many stones the
    /// assumption is worth, the assumption for so many stones and the log.
    pub(super) fn of(losses: &Losses) -> Loss {
        let rate = losses.assumed.value;
        if losses.handled == 0 && losses.trust.origin != Origin::Document {
            return Loss::Rate(rate);
        }
        let trust = losses.trust.value;
        let (handled, lost) = (losses.handled as f64, losses.lost as f64);
        Loss::Beta { lost: rate * trust + lost, kept: (1.0 - rate) * trust + (handled - lost) }
    }

    /// The expected part of stones that is lost.
    pub(super) fn mean(self) -> f64 {
        match self {
            Loss::Rate(rate) => rate,
            Loss::Beta { lost, kept } => lost / (lost + kept),
        }
    }

    /// Variance of the number lost of `n`.
    fn variance(self, n: f64) -> f64 {
        let binomial = n * self.mean() * (1.0 - self.mean());
        match self {
            Loss::Rate(_) => binomial,
            Loss::Beta { lost, kept } => binomial * (1.0 + (n - 1.0) / (lost + kept + 1.0)),
        }
    }

    /// About the likeliest number lost of `n`.
    fn mode(self, n: u64) -> u64 {
        let at = match self {
            Loss::Rate(rate) => (n as f64 + 1.0) * rate,
            Loss::Beta { lost, .. } if lost <= 1.0 => 0.0,
            Loss::Beta { kept, .. } if kept <= 1.0 => n as f64,
            Loss::Beta { lost, kept } => (n as f64 + 1.0) * (lost - 1.0) / (lost + kept - 2.0),
        };
        (at as u64).min(n)
    }

    /// Chance of l + 1 lost of n over that of l.
    fn ratio(self, n: f64, l: f64) -> f64 {
        match self {
            Loss::Rate(rate) => (n - l) * rate / ((l + 1.0) * (1.0 - rate)),
            Loss::Beta { lost, kept } => {
                (n - l) * (lost + l) / ((l + 1.0) * (kept + (n - l - 1.0)))
            }
        }
    }

    /// Chance that t + 1 stones are lost before `need` are good over that of t.
    fn ratio_before(self, need: f64, t: f64) -> f64 {
        let draws = (need + t) / (t + 1.0);
        match self {
            Loss::Rate(rate) => draws * rate,
            Loss::Beta { lost, kept } => draws * (lost + t) / (lost + kept + need + t),
        }
    }

    /// Chance that the next stone is good when l of n were lost.
    fn next_good(self, n: f64, l: f64) -> f64 {
        match self {
            Loss::Rate(rate) => 1.0 - rate,
            Loss::Beta { lost, kept } => (kept + (n - l)) / (lost + kept + n),
        }
    }
}

/// A need with its chances added up.
struct Need<'a> {
    counts: &'a Counts,
    /// Chance of at most [`Counts::least`] + index.
    up_to: Vec<f64>,
}

impl Need<'_> {
    fn new(counts: &Counts) -> Need<'_> {
        let mut sum = 0.0;
        let mut add = |p: &f64| {
            sum += p;
            sum
        };
        let mut up_to: Vec<f64> = counts.chances().iter().map(&mut add).collect();
        if let Some(last) = up_to.last_mut() {
            *last = 1.0;
        }
        Need { counts, up_to }
    }

    /// Chance that at most `n` stones are needed.
    fn at_most(&self, n: u64) -> f64 {
        n.checked_sub(self.counts.least())
            .map_or(0.0, |i| self.up_to[(i as usize).min(self.up_to.len() - 1)])
    }

    /// Chance that just `n` stones are needed.
    fn just(&self, n: u64) -> f64 {
        let i = n.checked_sub(self.counts.least());
        i.and_then(|i| self.counts.chances().get(i as usize)).copied().unwrap_or(0.0)
    }

    /// Chance that of `n` stones enough are left, and how much one more stone adds to it.
    fn at(&self, n: u64, loss: Loss) -> Enough {
        let mut sums = Sums::default();
        let of = n as f64;
        let mode = loss.mode(n);
        let mut add = |l: u64, p: f64| {
            sums.all += p;
            sums.met += p * self.at_most(n - l);
            let next = self.just(n - l + 1);
            if next > 0.0 {
                sums.next += p * next * loss.next_good(of, l as f64);
            }
            p > NOTHING * sums.all
        };
        let (mut l, mut p) = (mode, 1.0);
        while add(l, p) && l < n {
            p *= loss.ratio(of, l as f64);
            l += 1;
        }
        (l, p) = (mode, 1.0);
        while l > 0 {
            l -= 1;
            p /= loss.ratio(of, l as f64);
            if !add(l, p) {
                break;
            }
        }
        Enough { n, chance: sums.met / sums.all, more: sums.next / sums.all }
    }
}

#[derive(Default)]
struct Sums {
    all: f64,
    met: f64,
    next: f64,
}

/// A number of stones to have ready.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Enough {
    /// The number.
    pub(super) n: u64,
    /// Chance that enough of them are left.
    pub(super) chance: f64,
    /// How much one more stone would add to it.
    more: f64,
}

/// The least number of stones that meets `need` with the chance `sure`, and the chance that it
/// gives. `None` if that takes more than [`QUANTITY_LIMIT`] stones. The search may begin at what
/// was found for another chance.
///
/// `sure` counts as reached from 1e-12 below it on.
pub(super) fn quantity(
    need: &Counts,
    loss: Loss,
    sure: f64,
    begin: Option<Enough>,
) -> Option<Enough> {
    let of = Need::new(need);
    // All below `fewest` is too few; `enough` is enough.
    let mut fewest = need.least();
    let mut enough: Option<Enough> = None;
    let mut at = begin
        .unwrap_or_else(|| of.at(guess(need, loss, sure).min(QUANTITY_LIMIT).max(fewest), loss));
    for step in 1.. {
        if need.is_certain() && at.more > FAINT {
            return walk(fewest, loss, sure, at);
        }
        let Enough { n, chance, more } = at;
        if chance >= sure - TIE {
            enough = Some(at);
        } else if chance + more >= sure - TIE {
            return Some(of.at(n + 1, loss));
        } else {
            fewest = n + 2;
        }
        if enough.is_some_and(|e| e.n <= fewest) {
            return enough;
        }
        if fewest > QUANTITY_LIMIT {
            return None;
        }
        let last = enough.map_or(QUANTITY_LIMIT, |e| e.n - 1);
        let halved = enough.map_or(fewest.saturating_mul(2), |e| fewest + (e.n - fewest) / 2);
        // In the tail the logarithm of the missing chance is nearly straight: follow its slope.
        let missing = 1.0 - chance;
        let way = missing / more * libm::log(missing / (1.0 - sure));
        let next = if way.is_finite() && step % STEPS != 0 {
            (n as f64 + way).floor().max(0.0) as u64
        } else {
            halved
        };
        at = of.at(next.clamp(fewest.min(last), last), loss);
    }
    enough
}

/// The same for a certain `need`, stone by stone from `at`. What one more stone adds is the chance
/// that so many are lost before the need is met, which is negative binomial: its ratio from one
/// number to the next is a short fraction as well, so that a step costs next to nothing.
fn walk(need: u64, loss: Loss, sure: f64, mut at: Enough) -> Option<Enough> {
    let ratio = |n: u64| loss.ratio_before(need as f64, (n + 1 - need) as f64);
    while at.chance < sure - TIE {
        if at.n >= QUANTITY_LIMIT {
            return None;
        }
        at = Enough { n: at.n + 1, chance: at.chance + at.more, more: at.more * ratio(at.n) };
    }
    while at.n > need {
        let added = at.more / ratio(at.n - 1);
        if at.chance - added < sure - TIE {
            break;
        }
        at = Enough { n: at.n - 1, chance: at.chance - added, more: added };
    }
    (at.n <= QUANTITY_LIMIT).then_some(at)
}

/// The chance of a log that is as far from the assumed loss as this one or further, on the same
/// side, if the assumption counts for as much as it is said to.
pub(super) fn of_log(losses: &Losses) -> f64 {
    let (rate, trust) = (losses.assumed.value, losses.trust.value);
    let assumed = Loss::Beta { lost: rate * trust, kept: (1.0 - rate) * trust };
    let Losses { handled, lost, .. } = *losses;
    let at_most = |lost| Need::new(&Counts::exactly(handled - lost)).at(handled, assumed).chance;
    if lost as f64 <= rate * handled as f64 { at_most(lost) } else { 1.0 - at_most(lost - 1) }
}

/// About the quantity, by the normal distribution.
fn guess(need: &Counts, loss: Loss, sure: f64) -> u64 {
    let (mean, variance) = need.moments();
    let z = normal_quantile(sure);
    let kept = 1.0 - loss.mean();
    let mut n = mean / kept;
    for _ in 0..3 {
        n = ((mean + z * (variance + loss.variance(n)).sqrt()) / kept).max(0.0);
    }
    n as u64
}

/// The standard normal quantile to 0.0005 (Hastings 1955, in Abramowitz and Stegun 26.2.23, from
/// memory): only where a search begins.
fn normal_quantile(p: f64) -> f64 {
    let tail = p.min(1.0 - p);
    let t = (-2.0 * libm::log(tail)).sqrt();
    let over = 2.515_517 + t * (0.802_853 + t * 0.010_328);
    let under = 1.0 + t * (1.432_788 + t * (0.189_269 + t * 0.001_308));
    let z = t - over / under;
    if p < 0.5 { -z } else { z }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The slow twin: draw stone after stone and keep the chance of every number lost so far. The
    /// beta-binomial is Pólya's urn: each lost stone makes the next loss likelier.
    fn met_stone_by_stone(need: &Counts, n: u64, loss: Loss) -> f64 {
        let mut lost = vec![1.0];
        for drawn in 0..n {
            let mut next = vec![0.0; lost.len() + 1];
            for (l, p) in lost.iter().enumerate() {
                let bad = match loss {
                    Loss::Rate(rate) => rate,
                    Loss::Beta { lost, kept } => (lost + l as f64) / (lost + kept + drawn as f64),
                };
                next[l + 1] += p * bad;
                next[l] += p * (1.0 - bad);
            }
            lost = next;
        }
        let met = |l: usize| -> f64 {
            let left = n - l as u64;
            let chances = need.chances().iter().zip(need.least()..);
            chances.filter(|c| c.1 <= left).map(|c| c.0).sum()
        };
        lost.iter().enumerate().map(|(l, p)| p * met(l)).sum()
    }

    fn loss() -> impl Strategy<Value = Loss> {
        prop_oneof![
            Just(Loss::Rate(0.0)),
            (0.0..0.6_f64).prop_map(Loss::Rate),
            (0.001..30.0_f64, 1.0..300.0_f64).prop_map(|(lost, kept)| Loss::Beta { lost, kept }),
        ]
    }

    fn need() -> impl Strategy<Value = Counts> {
        prop_oneof![
            (0_u64..60).prop_map(Counts::exactly),
            prop::collection::vec(0_u64..60, 2..20)
                .prop_map(|samples| Counts::from_samples(&samples).unwrap()),
        ]
    }

    proptest! {
        #![proptest_config(ProptestConfig {
            cases: 300,
            failure_persistence: None,
            rng_seed: proptest::test_runner::RngSeed::Fixed(33),
            ..ProptestConfig::default()
        })]

        #[test]
        fn the_chance_is_that_of_drawing_stone_by_stone(
            need in need(), loss in loss(), n in 0_u64..120,
        ) {
            let Enough { chance: met, more, .. } = Need::new(&need).at(n, loss);
            prop_assert!((met - met_stone_by_stone(&need, n, loss)).abs() < 1e-13);
            let next = met_stone_by_stone(&need, n + 1, loss);
            prop_assert!((met + more - next).abs() < 1e-13);
        }

        #[test]
        fn the_quantity_is_enough_and_one_less_is_not(
            need in need(), loss in loss(), sure in 0.001..0.9999_f64, from in 0_u64..200,
        ) {
            let of = Need::new(&need);
            for begin in [None, Some(of.at(from.max(need.least()), loss))] {
                let Enough { n, chance, .. } = quantity(&need, loss, sure, begin).unwrap();
                let met = of.at(n, loss).chance;
                prop_assert!((met - chance).abs() < 1e-13 && met >= sure - TIE - 1e-13);
                if n > 0 {
                    prop_assert!(of.at(n - 1, loss).chance < sure);
                }
            }
        }
    }

    #[test]
    fn one_stone_at_one_in_ten_lost() {
        // One is enough with 0.9, two with 0.99, three with 0.999: ties are reached.
        let one = Counts::exactly(1);
        for (n, sure) in [(1, 0.9), (2, 0.99), (3, 0.999), (6, 0.999_999)] {
            let got = quantity(&one, Loss::Rate(0.1), sure, None).unwrap();
            assert_eq!(got.n, n);
            assert!((got.chance - sure).abs() < 1e-12);
        }
    }

    #[test]
    fn no_sensible_quantity_is_none() {
        // Uniform between all lost and none: half a million of two million, and so on.
        let loss = Loss::Beta { lost: 9.0, kept: 1.0 };
        assert_eq!(quantity(&Counts::exactly(1_000_000), loss, 0.999_999, None), None);
    }
}
