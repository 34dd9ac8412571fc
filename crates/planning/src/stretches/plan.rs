//! From a lay to its stretches.

use super::cut::{self, Row};
use super::line::Bench;
use super::sweep::{self, Spot};
use super::{
    BenchPoint, Limit, Stretch, StretchError, StretchInput, StretchKind, Stretches, findings,
};
use crate::adhesive::{self, Apply, Facts};
use crate::{Origin, Reason};
use geometry::{Disc, Point};
use lay::{Arrangement, Finding, Stone, Zone, rounded};
use units::trimmed;

/// Part of the open time that is kept in reserve.
pub const RESERVE: f64 = 0.2;
/// Where the adhesive sets no limit: how long one works between two breaks, min (ours).
pub const BREAK_MIN: f64 = 45.0;

/// Stones that belong together, before they are cut.
enum Group {
    /// Rows, in their order: (number, stones).
    Rows(Vec<(u32, Vec<usize>)>),
    /// Stones along one way, as round a hole.
    Way(Vec<usize>),
    /// Stones without rows.
    Patch(Vec<usize>),
}

/// One stretch, as stones of the lay by index.
struct Part {
    zone: usize,
    /// In the order in which the glue is put on.
    glued: Vec<usize>,
    /// In the order in which they are set.
    set: Vec<usize>,
}

/// The row of a zone that takes longest, if it takes longer than a stretch may.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct LongRow {
    pub(super) row: u32,
    pub(super) stones: usize,
    pub(super) slow_min: f64,
    /// How many rows of the zone are too long.
    pub(super) n_rows: usize,
}

/// Everything that is looked up stone by stone.
pub(super) struct Work<'a> {
    pub(super) input: &'a StretchInput<'a>,
    pub(super) limit_min: f64,
    /// Minutes of each stone at the usual and at the slow pace.
    usual: Vec<f64>,
    slow: Vec<f64>,
}

/// Cuts a lay into stretches, in bench order, with what is worth knowing about them.
///
/// Every stone is in exactly one stretch. A stretch lies in one zone and fits the open time less a
/// fifth at the slow pace; only a stone that takes longer by itself does not. Zones come by their
/// role, then in the document's order. The fewest stretches are taken that leave rows whole, and of
/// those the most even ones; a row that is too long is cut evenly. Scatters are cut into patches,
/// swept from the top, stones of one kind after the other; a scatter's rings round holes and all
/// fillers have stretches of their own, unless the zone fits into one.
///
/// # Errors
/// A label or a pace that cannot be, roles or paces that are missing.
pub fn stretches(input: &StretchInput<'_>) -> Result<(Stretches, Vec<Finding>), StretchError> {
    let facts = input.adhesive.facts()?;
    let open_min = adhesive::open_min(&facts, &input.room);
    let limit_min = open_min.map_or(BREAK_MIN, |open| open * (1.0 - RESERVE));
    let work = Work::new(input, limit_min)?;
    let mut zones: Vec<usize> = (0..input.piece.zones.len()).collect();
    zones.sort_by_key(|&z| (input.roles[z], z));
    let mut of_zone: Vec<Vec<usize>> = vec![vec![]; zones.len()];
    for (i, s) in input.lay.stones.iter().enumerate() {
        of_zone[s.zone as usize].push(i);
    }
    let (mut parts, mut found) = (vec![], vec![]);
    for &z in zones.iter().filter(|&&z| !of_zone[z].is_empty()) {
        let long = work.zone(z, &of_zone[z], &mut parts);
        found.extend(long.map(|row| findings::row_too_long(&work, z, row)));
    }
    found.extend(findings::stone_too_slow(&work, work.slow.iter().copied().fold(0.0, f64::max)));
    let list = work.finished(&parts, &of_zone);
    let plan = Stretches {
        open_min,
        limit_min,
        limited_by: if open_min.is_some() { Limit::OpenTime } else { Limit::Break },
        usual_min: list.iter().map(|s| s.usual_min).fold(0.0, |a, b| a + b),
        slow_min: list.iter().map(|s| s.slow_min).fold(0.0, |a, b| a + b),
        reasons: reasons(input, &facts, open_min, limit_min, list.len()),
        stretches: list,
    };
    Ok((plan, found))
}

impl<'a> Work<'a> {
    fn new(input: &'a StretchInput<'a>, limit_min: f64) -> Result<Work<'a>, StretchError> {
        let piece = input.piece;
        let missing = |what, got, wanted| Err(StretchError::Missing { what, got, wanted });
        if input.roles.len() != piece.zones.len() {
            return missing("roles of zones", input.roles.len(), piece.zones.len());
        }
        if input.paces.len() != piece.zones.len() {
            return missing("paces of zones", input.paces.len(), piece.zones.len());
        }
        if let Some(paces) = input.paces.iter().find(|p| p.len() != piece.kinds.len()) {
            return missing("paces of kinds", paces.len(), piece.kinds.len());
        }
        let pace = |s: &Stone| input.paces[s.zone as usize][s.kind as usize];
        for s in &input.lay.stones {
            let p = pace(s);
            let sound = p.slow_per_h > 0.0 && p.usual_per_h.is_finite();
            if !(sound && p.slow_per_h <= p.usual_per_h) {
                let kind = piece.kinds[s.kind as usize].name.clone();
                let (slow_per_h, usual_per_h) = (p.slow_per_h, p.usual_per_h);
                return Err(StretchError::Pace { kind, slow_per_h, usual_per_h });
            }
        }
        let stones = input.lay.stones.iter();
        Ok(Work {
            input,
            limit_min,
            usual: stones.clone().map(|s| 60.0 / pace(s).usual_per_h).collect(),
            slow: stones.map(|s| 60.0 / pace(s).slow_per_h).collect(),
        })
    }

    fn stone(&self, i: usize) -> &Stone {
        &self.input.lay.stones[i]
    }

    fn drawn_mm(&self, i: usize) -> f64 {
        self.input.piece.kinds[self.stone(i).kind as usize].reach_mm
    }

    fn at(&self, i: usize) -> Point {
        self.stone(i).place.point()
    }

    fn slow_min(&self, stones: &[usize]) -> f64 {
        stones.iter().fold(0.0, |sum, &i| sum + self.slow[i])
    }

    /// Adds the stretches of one zone; says if rows had to be cut.
    fn zone(&self, z: usize, stones: &[usize], parts: &mut Vec<Part>) -> Option<LongRow> {
        let groups = self.groups(&self.input.piece.zones[z], stones);
        if cut::n_parts(&stones.iter().map(|&i| self.slow[i]).collect::<Vec<_>>(), self.limit_min)
            == 1
        {
            let mut whole = Part { zone: z, glued: vec![], set: vec![] };
            for group in groups {
                let part = self.whole(z, group);
                whole.glued.extend(part.glued);
                whole.set.extend(part.set);
            }
            parts.push(whole);
            return None;
        }
        let mut long: Option<LongRow> = None;
        for group in groups {
            match group {
                Group::Rows(rows) => long = self.rows(z, &rows, parts),
                Group::Way(way) => parts.extend(self.evenly(z, &way)),
                Group::Patch(stones) => parts.extend(self.patches(z, &stones)),
            }
        }
        long
    }

    /// A zone's stones by how they are worked: round holes, then rows or a scatter, then fillers.
    fn groups(&self, zone: &Zone, stones: &[usize]) -> Vec<Group> {
        let fillers = self.fillers(zone, stones);
        let (own, fillers) = stones.split_at(stones.len() - fillers);
        let mut groups = match zone.arrangement {
            Arrangement::Scatter(options) => {
                let ring = if options.ring_holes { self.round_holes(zone, own) } else { vec![] };
                let mut ringed = ring.clone();
                ringed.sort_unstable();
                let rest = own.iter().copied().filter(|i| ringed.binary_search(i).is_err());
                vec![Group::Way(ring), Group::Patch(rest.collect())]
            }
            _ => {
                let rows = own.chunk_by(|&a, &b| self.stone(a).row == self.stone(b).row);
                vec![Group::Rows(rows.map(|r| (self.stone(r[0]).row, r.to_vec())).collect())]
            }
        };
        groups.push(Group::Patch(fillers.to_vec()));
        groups.retain(|g| match g {
            Group::Rows(rows) => !rows.is_empty(),
            Group::Way(stones) | Group::Patch(stones) => !stones.is_empty(),
        });
        groups
    }

    /// How many stones at the end of a zone are fillers: its last row, if that holds only kinds
    /// that may fill and does not run from neighbour to neighbour.
    fn fillers(&self, zone: &Zone, stones: &[usize]) -> usize {
        let last = stones.last().map_or(0, |&i| self.stone(i).row);
        let row: Vec<usize> =
            stones.iter().rev().copied().take_while(|&i| self.stone(i).row == last).collect();
        let steps: f64 = row.windows(2).map(|w| self.at(w[0]).distance(self.at(w[1]))).sum();
        let largest = row.iter().map(|&i| self.drawn_mm(i)).fold(0.0, f64::max);
        let runs = steps < 2.0 * largest * row.len() as f64 && row.len() > 1;
        let may = |i: &usize| zone.fillers.contains(&(self.stone(*i).kind as usize));
        if row.iter().all(may) && !runs { row.len() } else { 0 }
    }

    /// The stones of a scatter that ring the blank's own holes, hole by hole, each clockwise.
    fn round_holes(&self, zone: &Zone, stones: &[usize]) -> Vec<usize> {
        let mut ring: Vec<usize> = vec![];
        let largest = stones.iter().map(|&i| self.drawn_mm(i)).fold(0.0, f64::max);
        let own =
            |h: &&geometry::Ring| h.is_hole() && h.segments.iter().all(|s| s.tag == lay::EDGE_OWN);
        for hole in zone.region.rings().iter().filter(own) {
            let near = hole.bounds().grown(zone.margin_mm + zone.spacing_mm + largest);
            let beside = |&i: &usize| {
                let p = self.at(i);
                if near.distance(p) > 0.0 || ring.contains(&i) {
                    return false;
                }
                let kept = zone.margin_mm + zone.spacing_mm + 0.3 * self.drawn_mm(i);
                hole.distance(p) - self.drawn_mm(i) / 2.0 <= kept
            };
            let mut found: Vec<usize> = stones.iter().copied().filter(beside).collect();
            let centre = hole.bounds().centre();
            // From the top on.
            let turn = |i: usize| {
                (std::f64::consts::FRAC_PI_2 - (self.at(i) - centre).angle())
                    .rem_euclid(std::f64::consts::TAU)
            };
            found.sort_by(|&a, &b| turn(a).total_cmp(&turn(b)).then(a.cmp(&b)));
            ring.extend(found);
        }
        ring
    }

    /// A group that is one stretch, or part of one.
    fn whole(&self, zone: usize, group: Group) -> Part {
        match group {
            Group::Rows(rows) => {
                self.as_it_runs(zone, rows.into_iter().flat_map(|r| r.1).collect())
            }
            Group::Way(stones) => self.as_it_runs(zone, stones),
            Group::Patch(stones) => self.patch(zone, self.spots(&stones)),
        }
    }

    fn as_it_runs(&self, zone: usize, stones: Vec<usize>) -> Part {
        Part { zone, set: stones.clone(), glued: stones }
    }

    /// Rows put together, and those that are too long cut evenly.
    fn rows(
        &self,
        zone: usize,
        rows: &[(u32, Vec<usize>)],
        parts: &mut Vec<Part>,
    ) -> Option<LongRow> {
        let cut_rows: Vec<Row> = rows
            .iter()
            .map(|(_, stones)| {
                let mut kinds: Vec<u32> = stones.iter().map(|&i| self.stone(i).kind).collect();
                kinds.sort_unstable();
                kinds.dedup();
                Row { slow_min: self.slow_min(stones), kinds }
            })
            .collect();
        let mut long: Option<LongRow> = None;
        for range in cut::row_parts(&cut_rows, self.limit_min) {
            let stones: Vec<usize> = rows[range.clone()].iter().flat_map(|r| r.1.clone()).collect();
            let pieces = self.evenly(zone, &stones);
            if pieces.len() > 1 {
                let n_rows = long.map_or(1, |l| l.n_rows + 1);
                let slow_min = cut_rows[range.start].slow_min;
                let worst = long.filter(|l| l.slow_min >= slow_min);
                let row = rows[range.start].0;
                let this = LongRow { row, stones: stones.len(), slow_min, n_rows };
                long = Some(LongRow { n_rows, ..worst.unwrap_or(this) });
            }
            parts.extend(pieces);
        }
        long
    }

    /// Stones along one way, cut evenly.
    fn evenly(&self, zone: usize, stones: &[usize]) -> Vec<Part> {
        let times: Vec<f64> = stones.iter().map(|&i| self.slow[i]).collect();
        let ranges = cut::even_parts(&times, self.limit_min);
        ranges.into_iter().map(|r| self.as_it_runs(zone, stones[r].to_vec())).collect()
    }

    /// Stones without rows, cut into compact patches.
    fn patches(&self, zone: usize, stones: &[usize]) -> Vec<Part> {
        let times: Vec<f64> = stones.iter().map(|&i| self.slow[i]).collect();
        let n = cut::n_parts(&times, self.limit_min);
        let mut spots = self.spots(stones);
        let largest_mm = self.largest_mm(&spots);
        sweep::in_patches(&mut spots, n, largest_mm);
        let times: Vec<f64> = spots.iter().map(|s| self.slow[s.stone]).collect();
        let ranges = cut::even_parts(&times, self.limit_min);
        ranges.into_iter().map(|r| self.patch(zone, spots[r].to_vec())).collect()
    }

    /// One patch: glued back and forth, set kind by kind, the largest stones first.
    fn patch(&self, zone: usize, mut spots: Vec<Spot>) -> Part {
        let largest_mm = self.largest_mm(&spots);
        sweep::back_and_forth(&mut spots, largest_mm);
        let glued: Vec<usize> = spots.iter().map(|s| s.stone).collect();
        let mut set = glued.clone();
        set.sort_by(|&a, &b| {
            let size = self.drawn_mm(b).total_cmp(&self.drawn_mm(a));
            size.then(self.stone(a).kind.cmp(&self.stone(b).kind))
        });
        Part { zone, glued, set }
    }

    fn spots(&self, stones: &[usize]) -> Vec<Spot> {
        stones.iter().map(|&stone| Spot { stone, at: self.at(stone) }).collect()
    }

    fn largest_mm(&self, spots: &[Spot]) -> f64 {
        spots.iter().map(|s| self.drawn_mm(s.stone)).fold(0.0, f64::max)
    }

    /// The stretches with everything that is said about them.
    fn finished(&self, parts: &[Part], of_zone: &[Vec<usize>]) -> Vec<Stretch> {
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

fn reasons(
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
            let mut open = Reason::new(format!("open time of {name}"), min(open), formula)
                .with("stated open time", min(stated.value), stated.origin)
                .with("temperature", format!("{} C", temperature.value), temperature.origin);
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
