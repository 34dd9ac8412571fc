//! From a lay to its stretches.

use super::cut::{self, Row};
use super::groups::Group;
use super::sweep::{self, Spot};
use super::{Limit, StretchError, StretchInput, Stretches, findings, said};
use crate::{Origin, adhesive};
use geometry::Point;
use lay::{Finding, Stone};

/// Part of the open time that is kept in reserve.
pub const RESERVE: f64 = 0.2;
/// Where the adhesive sets no limit: how long one works between two breaks, min (ours).
pub const BREAK_MIN: f64 = 45.0;

/// One stretch, as stones of the lay by index.
pub(super) struct Part {
    pub(super) zone: usize,
    /// In the order in which the glue is put on.
    pub(super) glued: Vec<usize>,
    /// In the order in which they are set.
    pub(super) set: Vec<usize>,
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
    pub(super) usual: Vec<f64>,
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
    let stated = facts.open_min.filter(|s| s.origin == Origin::Document);
    let list = work.finished(&parts, &of_zone);
    let plan = Stretches {
        open_min,
        open_at_c: input.room.temperature_c.value,
        label_open_min: stated.map(|s| s.value),
        limit_min,
        limited_by: if open_min.is_some() { Limit::OpenTime } else { Limit::Break },
        usual_min: list.iter().map(|s| s.usual_min).fold(0.0, |a, b| a + b),
        slow_min: list.iter().map(|s| s.slow_min).fold(0.0, |a, b| a + b),
        reasons: said::reasons(input, &facts, open_min, limit_min, list.len()),
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

    pub(super) fn stone(&self, i: usize) -> &Stone {
        &self.input.lay.stones[i]
    }

    pub(super) fn drawn_mm(&self, i: usize) -> f64 {
        self.input.piece.kinds[self.stone(i).kind as usize].reach_mm
    }

    pub(super) fn at(&self, i: usize) -> Point {
        self.stone(i).place.point()
    }

    pub(super) fn slow_min(&self, stones: &[usize]) -> f64 {
        stones.iter().fold(0.0, |sum, &i| sum + self.slow[i])
    }

    /// Adds the stretches of one zone; says if rows had to be cut.
    fn zone(&self, z: usize, stones: &[usize], parts: &mut Vec<Part>) -> Option<LongRow> {
        let groups = self.groups(z, stones);
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
}
