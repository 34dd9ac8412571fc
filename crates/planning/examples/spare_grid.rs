//! Spare over a grid of needs, losses, logs, chances and numbers of kinds, as JSON for the outside
//! check `checks/spare.py`.

use planning::spare::{Counts, KindNeed, Losses, Spare, SpareError, SpareInput, spare};
use planning::{Given, Origin};
use serde_json::{Value, json};

const NEEDS: [u64; 9] = [0, 1, 2, 5, 17, 100, 1240, 10_000, 100_000];
const LOSSES: [f64; 9] = [0.0, 1e-6, 0.001, 0.01, 0.03, 0.1, 0.3, 0.6, 0.89];
/// Trust, handled and lost; without a log the first trust is the usual one, the others are said.
const LOGS: [(f64, u64, u64); 8] = [
    (500.0, 0, 0),
    (500.0, 120, 4),
    (20.0, 50, 0),
    (500.0, 3000, 85),
    (2000.0, 40_000, 9000),
    (500.0, 3, 3),
    (400.0, 0, 0),
    (2000.0, 0, 0),
];
const USUAL_TRUST: f64 = 500.0;
const SURE: [f64; 6] = [0.05, 0.5, 0.8, 0.95, 0.9999, 0.999_999];
const KINDS: [usize; 3] = [1, 7, 100];
const COPIES: [u64; 4] = [1, 2, 24, 500];

/// A need as the check can work it out by itself: samples of one copy for each hand, and how many
/// copies.
struct Need {
    hands: Vec<Vec<u64>>,
    copies: u64,
}

impl Need {
    fn counts(&self) -> Option<Counts> {
        let of_hand = |s: &Vec<u64>| Counts::from_samples(s).map(|c| c.copies(self.copies));
        Counts::one_of(&self.hands.iter().map(of_hand).collect::<Option<Vec<_>>>()?)
    }
}

struct Case {
    need: Need,
    losses: Losses,
}

fn losses(loss: f64, (trust, handled, lost): (f64, u64, u64)) -> Losses {
    let usual = handled == 0 && trust == USUAL_TRUST;
    let trust = if usual { Given::usual(trust) } else { Given::document(trust) };
    Losses { assumed: Given::document(loss), trust, handled, lost }
}

fn certain() -> Vec<Case> {
    let mut cases = vec![];
    for need in NEEDS {
        for loss in LOSSES {
            for log in LOGS {
                let need = Need { hands: vec![vec![need]], copies: 1 };
                cases.push(Case { need, losses: losses(loss, log) });
            }
        }
    }
    cases
}

/// Counts that scatter about `middle`, by a fixed rule: sums of three linear congruences.
fn samples(middle: u64, width: u64, n: u64, turn: u64) -> Vec<u64> {
    let at = |i: u64, a: u64| (i * a + turn * 17 + 5) % width;
    (0..n).map(|i| middle + (at(i, 7919) + at(i, 104_729) + at(i, 1_299_709)) / 3).collect()
}

fn uncertain() -> Vec<Case> {
    let mut cases = vec![];
    for copies in COPIES {
        for (loss, log) in [(0.0, 0), (0.03, 0), (0.03, 1), (0.03, 6), (0.1, 3), (0.3, 5)] {
            let one_hand = vec![samples(40, 23, 50, 0)];
            let ten_hands = (0..10).map(|h| samples(400 - 4 * h, 31, 5, h)).collect();
            let few = vec![vec![3, 9, 3, 0]];
            for hands in [one_hand, ten_hands, few] {
                cases.push(Case { need: Need { hands, copies }, losses: losses(loss, LOGS[log]) });
            }
        }
    }
    cases
}

fn order(cases: &[Case], sure: f64) -> Result<Value, SpareError> {
    let kind = |c: &Case| {
        let need = c.need.counts()?;
        Some(KindNeed { kind: "sea glass".into(), need, losses: c.losses })
    };
    let kinds = cases.iter().filter_map(kind).collect();
    let (got, _) = spare(&SpareInput { sure: Given::document(sure), kinds })?;
    Ok(told(cases, &got))
}

fn told(cases: &[Case], got: &Spare) -> Value {
    let kind = |(asked, got): (&Case, &planning::spare::KindSpare)| {
        json!({
            "hands": asked.need.hands,
            "copies": asked.need.copies,
            "assumed": asked.losses.assumed.value,
            "trust": asked.losses.trust.value,
            "trusted": asked.losses.trust.origin == Origin::Document,
            "handled": asked.losses.handled,
            "lost": asked.losses.lost,
            "got": got,
        })
    };
    json!({
        "sure": got.sure,
        "n_kinds": got.n_kinds,
        "sure_each": got.sure_each,
        "chance": got.chance,
        "kinds": cases.iter().zip(&got.kinds).map(kind).collect::<Vec<_>>(),
    })
}

fn main() -> Result<(), SpareError> {
    let (certain, uncertain) = (certain(), uncertain());
    let mut orders = vec![];
    for sure in SURE {
        for k in KINDS {
            for cases in certain.chunks(k).chain(uncertain.chunks(k)) {
                orders.push(order(cases, sure)?);
            }
        }
    }
    println!("{}", json!({ "orders": orders }));
    Ok(())
}
