//! What is said about each stretch, and why it is as long as it is.

use super::line::Bench;
use super::plan::{BREAK_MIN, Part, RESERVE, Work};
use super::{BenchPoint, Stretch, StretchInput, StretchKind};
use crate::adhesive::{Apply, Facts};
use crate::{Origin, Reason};
use geometry::Disc;
use lay::{Arrangement, rounded};
use units::trimmed;

impl Work<'_> {
    /// The stretches with everything that is said about them.
    pub(super) fn finished(&self, parts: &[Part], of_zone: &[Vec<usize>]) -> Vec<Stretch> {
        let mut number = vec![0; self.input.lay.stones.len()];
        for (n, part) in (1..).zip(parts) {
            part.set.iter().for_each(|&i| number[i] = n);
        }
        let disc = |i| Disc { centre: self.at(i), radius: self.drawn_mm(i) / 2.0 };
        let bench = Bench::new((0..number.len()).map(disc).collect(), number);
        let covered = |stones: &[usize]| {
            stones.iter().fold(0.0, |sum, &i| sum + self.drawn_mm(i) * self.drawn_mm(i))
        };
        let zone_covered: Vec<f64> = of_zone.iter().map(|s| covered(s)).collect();
        let area = |p: &Part| {
            let zone = &self.input.piece.zones[p.zone];
            zone.region.area() / 100.0 * covered(&p.set) / zone_covered[p.zone]
        };
        (1..).zip(parts).map(|(n, p)| self.stretch(n, p, &bench, area(p))).collect()
    }

    fn stretch(&self, number: u32, part: &Part, bench: &Bench, area_cm2: f64) -> Stretch {
        let zone = &self.input.piece.zones[part.zone];
        let scatter = matches!(zone.arrangement, Arrangement::Scatter(_));
        let glue_width_mm = match self.input.apply {
            Apply::Dot => {
                let smallest = part.set.iter().map(|&i| self.drawn_mm(i));
                Some(smallest.fold(f64::INFINITY, f64::min) / 2.0)
            }
            Apply::Bead { width_mm, .. } => Some(width_mm),
            Apply::Film { .. } | Apply::Sheet => None,
        };
        let new_row = |a: usize, b: usize| !scatter && self.stone(a).row != self.stone(b).row;
        let line = bench.line(&part.glued, glue_width_mm.unwrap_or(0.0), new_row);
        let rows = part.set.iter().map(|&i| self.stone(i).row);
        let (first, last) = (part.glued[0], part.glued[part.glued.len() - 1]);
        let kind = |i: &usize| self.stone(*i).kind;
        Stretch {
            number,
            zone: zone.name.clone(),
            zone_index: part.zone as u32,
            first_row: rows.clone().min().unwrap_or(0),
            last_row: rows.max().unwrap_or(0),
            first_place_no: first as u32 + 1,
            last_place_no: last as u32 + 1,
            start: self.bench_point(first),
            stop: self.bench_point(last),
            stones: part.set.len() as u32,
            kinds: self.kinds(&part.set),
            order: part.set.iter().map(|&i| i as u32 + 1).collect(),
            kind_changes: part.set.windows(2).filter(|w| kind(&w[0]) != kind(&w[1])).count() as u32,
            glue_line_mm: line.length_mm,
            glue_lines: line.pieces,
            glue_width_mm,
            area_cm2,
            usual_min: part.set.iter().fold(0.0, |sum, &i| sum + self.usual[i]),
            slow_min: self.slow_min(&part.set),
        }
    }

    fn kinds(&self, stones: &[usize]) -> Vec<StretchKind> {
        let mut counts = vec![0; self.input.piece.kinds.len()];
        stones.iter().for_each(|&i| counts[self.stone(i).kind as usize] += 1);
        let kinds = self.input.piece.kinds.iter().zip(counts).enumerate();
        let kinds = kinds.filter(|(_, (_, n))| *n > 0);
        kinds
            .map(|(i, (k, stones))| StretchKind {
                kind: k.name.clone(),
                kind_index: i as u32,
                stones,
            })
            .collect()
    }

    /// From inside (y up) to the maker's frame: right and down from the blank's top left corner.
    fn bench_point(&self, i: usize) -> BenchPoint {
        let (b, p) = (self.input.piece.blank.bounds(), self.at(i));
        BenchPoint { right_mm: rounded(p.x - b.min.x), down_mm: rounded(b.max.y - p.y) }
    }
}

/// Why stretches are as long as they are.
pub(super) fn reasons(
    input: &StretchInput<'_>,
    facts: &Facts,
    open_min: Option<f64>,
    limit_min: f64,
    n: usize,
) -> Vec<Reason> {
    let min = |x: f64| format!("{} min", trimmed(x, 1));
    let name = &input.adhesive.name;
    let mut reasons = vec![];
    let temperature = input.room.temperature_c;
    let limit = match (open_min, facts.open_min) {
        (Some(open), Some(stated)) => {
            let formula = "stated open time × 1.3 for each 10 °C below 25 °C (÷ above); of two \
                parts no longer than the pot life of 100 g × 2 for each 10 °C (one source)";
            let usual =
                input.adhesive.sort.values().open_min.filter(|_| stated.origin == Origin::Usual);
            let at_c = format!("{} °C", trimmed(temperature.value, 1));
            let value = format!("{} at {at_c}", min(open));
            let stated_open =
                min(stated.value) + &usual.map_or(String::new(), |u| format!(" ({})", u.words()));
            let mut open = Reason::new(format!("open time of {name}"), value, formula)
                .with("stated open time", stated_open, stated.origin)
                .with("temperature", at_c, temperature.origin);
            if let Some(pot) = facts.pot_min {
                open = open.with("stated pot life", min(pot.value), pot.origin);
            }
            reasons.push(open);
            Reason::new(
                "longest stretch",
                min(limit_min),
                "open time less a fifth in reserve (our choice), at the pace that is kept or \
                beaten nine times in ten",
            )
            .with("open time", min(open_min.unwrap_or(0.0)), Origin::Plan)
            .with(
                "reserve",
                format!("{} %", trimmed(RESERVE * 100.0, 0)),
                Origin::Usual,
            )
        }
        _ => Reason::new(
            "longest stretch",
            min(limit_min),
            "the adhesive sets no limit: the time between two breaks (our choice)",
        )
        .with("between breaks", min(BREAK_MIN), Origin::Usual),
    };
    reasons.push(limit);
    let formula = "the fewest that fit, zone by zone, cut at row ends where rows fit, then evenly";
    reasons.push(
        Reason::new(format!("stretches of {}", input.piece.name), n.to_string(), formula)
            .with("stones", input.lay.stones.len().to_string(), Origin::Lay)
            .with("longest stretch", min(limit_min), Origin::Plan),
    );
    reasons
}
