//! Counting stones on a scale.

use crate::{Desk, DeskError};
use planning::weighing::{self, HeapCount, Sample, USUAL_SPREAD, UnitWeight, Weighing};
use planning::{Given, weighing::spread_of_weight};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use units::Mass;

/// How sure intervals are.
const CONFIDENCE: f64 = 0.95;
/// Most that a kitchen scale of a workshop shows, g.
const MOST_G: f64 = 1e6;

/// What was put on the scale, as it was typed; a weight without a unit is g.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Weighed {
    /// Counted samples: so many stones, and what the scale showed with the dish.
    pub samples: Vec<WeighedSample>,
    /// What it shows with the heap and the dish.
    pub heap: String,
    /// The empty dish; nothing if the scale was set to zero with it.
    #[serde(default)]
    pub dish: String,
    /// The smallest step of the scale; 0.01 g if nothing is said.
    #[serde(default)]
    pub step: String,
}

/// A counted sample.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct WeighedSample {
    /// Stones, counted by hand.
    pub stones: String,
    /// What the scale showed.
    pub shown: String,
}

/// What a weighing came to.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct WeighedCount {
    /// The weight of one stone.
    pub unit: UnitWeight,
    /// The stones of the heap.
    pub heap: HeapCount,
}

impl Desk {
    /// How many stones of one sort lie in a heap. Where the workshop measured them, the spread of
    /// their diameters counts. Nothing is written.
    ///
    /// # Errors
    /// What was typed cannot be read, or such a weighing says nothing; the shop's.
    pub fn weigh(&self, stone: &str, weighed: &Weighed) -> Result<WeighedCount, DeskError> {
        let workshop = self.workshop()?;
        let kind = workshop.order.kinds.iter().find(|k| k.kind.name == stone);
        weigh(stone, weighed, kind.map(|k| (k.kind.spread_mm, k.kind.reach_mm)))
    }
}

/// How many stones lie in a heap of `stone`. `measured` is the spread and the mean of their
/// diameters, mm, where they were measured.
///
/// # Errors
/// What was typed cannot be read, or such a weighing says nothing.
fn weigh(
    stone: &str,
    weighed: &Weighed,
    measured: Option<(f64, f64)>,
) -> Result<WeighedCount, DeskError> {
    let samples = weighed
        .samples
        .iter()
        .filter(|s| !s.stones.trim().is_empty() || !s.shown.trim().is_empty())
        .map(sample)
        .collect::<Result<Vec<_>, _>>()?;
    let spread = match measured {
        Some((spread_mm, mean_mm)) if spread_mm > 0.0 => {
            Given::document(spread_of_weight(spread_mm, mean_mm))
        }
        _ => Given::usual(USUAL_SPREAD),
    };
    let step = if weighed.step.trim().is_empty() { "0.01 g" } else { weighed.step.as_str() };
    let asked = Weighing {
        kind: stone.to_owned(),
        tare_g: Given::document(mass("the empty dish", &weighed.dish)?.unwrap_or(0.0)),
        readability_g: Given::document(mass("the step of the scale", step)?.unwrap_or(0.01)),
        spread,
        samples,
        confidence: Given::usual(CONFIDENCE),
    };
    let heap_g = mass("the heap", &weighed.heap)?.ok_or_else(|| {
        DeskError::unfit(
            "the heap was not weighed",
            "put it into the dish and type what the scale shows",
        )
    })?;
    let wrong = |e: weighing::WeighingError| {
        DeskError::unfit(e.to_string(), "look at the scale and type it again")
    };
    let unit = weighing::unit_weight(&asked).map_err(wrong)?;
    let heap = weighing::count_heap(&unit, stone, heap_g, asked.tare_g.value).map_err(wrong)?;
    Ok(WeighedCount { unit, heap })
}

fn sample(said: &WeighedSample) -> Result<Sample, DeskError> {
    let typed = said.stones.trim();
    let stones = typed.parse().map_err(|_| {
        DeskError::unfit(
            format!("the stones of a sample cannot be read: `{typed}`"),
            "count some by hand and write how many, in digits: 50",
        )
    })?;
    let shown_g = mass("the sample", &said.shown)?.ok_or_else(|| {
        DeskError::unfit("a counted sample was not weighed", "type what the scale shows with it")
    })?;
    Ok(Sample { stones, shown_g })
}

/// A weight, g; `None` for an empty field. Without a unit it is g.
fn mass(what: &str, typed: &str) -> Result<Option<f64>, DeskError> {
    let typed = typed.trim();
    if typed.is_empty() {
        return Ok(None);
    }
    let read = typed.parse::<Mass>().or_else(|_| format!("{typed} g").parse::<Mass>());
    match read.map(|m| m.grams()) {
        Ok(g) if (0.0..=MOST_G).contains(&g) => Ok(Some(g)),
        Ok(_) => Err(DeskError::unfit(
            format!("{what} is not between 0 g and 1000 kg: `{typed}`"),
            "look at the scale and type it again",
        )),
        Err(_) => Err(DeskError::unfit(
            format!("the weight of {what} cannot be read: `{typed}`"),
            "write it like 4.10 g",
        )),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn weighed(samples: &[(&str, &str)], heap: &str, dish: &str) -> Weighed {
        let sample = |s: &(&str, &str)| WeighedSample { stones: s.0.into(), shown: s.1.into() };
        let samples = samples.iter().map(sample).collect();
        Weighed { samples, heap: heap.into(), dish: dish.into(), step: String::new() }
    }

    #[test]
    fn a_heap_is_its_weight_less_the_dish_by_the_weight_of_one() {
        // 50 stones weigh 2 g, one 0.04 g; 40 g without the dish are 1000 stones.
        let all = weighed(&[("50", "12.00 g"), ("", "")], "50", "10 g");
        let count = weigh("dew", &all, None).unwrap();
        assert_eq!(count.heap.stones, 1000);
        assert!(count.heap.low < 1000 && count.heap.high > 1000);
    }

    #[test]
    fn what_cannot_be_read_is_named() {
        let text = |w: &Weighed| weigh("dew", w, None).unwrap_err().to_string();
        assert!(text(&weighed(&[("fifty", "2 g")], "50", "")).contains("`fifty`"));
        assert!(text(&weighed(&[("50", "2 miles")], "50", "")).contains("`2 miles`"));
        assert!(text(&weighed(&[("50", "2 g")], "", "")).contains("heap"));
        assert!(text(&weighed(&[], "50", "")).contains("sample"));
    }
}
