//! `stonelay weigh`: counting stones on a scale.

use super::plan::why;
use crate::args::Weigh;
use crate::exit::Exit;
use crate::output::{self, counted, wrapped};
use anyhow::{Result, anyhow};
use planning::Given;
use planning::weighing::{self, Sample, USUAL_SPREAD, Weighing};
use units::{Mass, grouped, trimmed};

/// How sure intervals are.
const CONFIDENCE: f64 = 0.95;

/// Weighs and prints.
pub(super) fn run(args: &Weigh) -> Result<Exit> {
    let asked = match question(args) {
        Ok(asked) => asked,
        Err(trouble) => {
            output::message(&format!("error: {trouble:#}"));
            return Ok(Exit::Usage);
        }
    };
    let (weighing, heap_g) = asked;
    let weighed = weighing::unit_weight(&weighing).and_then(|unit| {
        let count = |g| weighing::count_heap(&unit, &weighing.kind, g, weighing.tare_g.value);
        Ok((heap_g.map(count).transpose()?, unit))
    });
    let (heap, unit) = match weighed {
        Ok(all) => all,
        Err(e) => {
            output::message(&format!("error: {e}"));
            return Ok(Exit::Usage);
        }
    };
    if args.json {
        let json = serde_json::json!({ "unit": unit, "heap": heap });
        output::print(&(serde_json::to_string_pretty(&json)? + "\n"))?;
        return Ok(Exit::Done);
    }
    let mut text = String::new();
    if let Some(h) = &heap {
        text += &format!(
            "{}, {} to {} at 95 %\n",
            counted(h.stones as usize, "stone"),
            grouped(h.low),
            grouped(h.high)
        );
    }
    let said = format!(
        "one stone weighs {} g, give or take {} g at 95 %, after {} counted; for 1 % count {}",
        trimmed(unit.unit_g, 5),
        trimmed(unit.high_g - unit.unit_g, 5),
        grouped(u64::from(unit.stones)),
        grouped(unit.stones_for_1_percent)
    );
    text += &(wrapped(&said, "", "  ") + "\n");
    if args.why {
        let heap = heap.iter().flat_map(|h| &h.reasons);
        let reasons: Vec<_> = unit.reasons.iter().chain(heap).collect();
        text += &why::without_document(&reasons);
    }
    output::print(&text)?;
    Ok(Exit::Done)
}

/// What was weighed, and the heap in g.
fn question(args: &Weigh) -> Result<(Weighing, Option<f64>)> {
    let mass = |what: &str, text: &str| -> Result<f64> {
        let mass: Mass =
            text.parse().map_err(|e: units::ReadError| anyhow!("{what}: {e}; {}", e.hint()))?;
        if mass.grams() < 0.0 || mass.grams() > 1e6 {
            return Err(anyhow!("{what}: {mass} is not between 0 g and 1000 kg"));
        }
        Ok(mass.grams())
    };
    let sample = |text: &String| -> Result<Sample> {
        let wrong = || anyhow!("a sample is written like `50=4.10g`: `{text}`");
        let (stones, shown) = text.split_once('=').ok_or_else(wrong)?;
        let stones: u32 = stones.trim().parse().map_err(|_| wrong())?;
        Ok(Sample { stones, shown_g: mass("the sample", shown)? })
    };
    let weighing = Weighing {
        kind: "the heap".to_owned(),
        tare_g: Given::document(mass("the dish", &args.tare)?),
        readability_g: Given::document(mass("the step of the scale", &args.step)?),
        spread: Given::usual(USUAL_SPREAD),
        samples: args.sample.iter().map(sample).collect::<Result<_>>()?,
        confidence: Given::usual(CONFIDENCE),
    };
    let heap = args.heap.as_deref().map(|t| mass("the heap", t)).transpose()?;
    Ok((weighing, heap))
}
