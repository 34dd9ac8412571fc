//! The hand model: how many stones a person sets who follows no sheet.
//!
//! A person takes a stone from a shuffled heap (shares by count) and sets it at the nearest place
//! it fits beside what is there: nearest to the stone set before, touching two things. When a size
//! fits nowhere any more, its stones stay in the heap and the others go on, so that in the end the
//! small ones go round in what is left. Fillers come last, the largest first.
//!
//! No hand sets perfectly, and no two alike: each stone is set off its place by up to a part of its
//! diameter, which is another for each of [`HANDS`] hands, from next to nothing to [`SLOPPY`]. From
//! the first hand to the last the number of stones falls by about a tenth. Whose hand it is stays
//! the same over all copies of an order, so that copies have to be added up hand by hand: else
//! chance would seem to even out what it does not.
//!
//! It is a model, ours, held between what is known of discs set at random: random sequential
//! addition at a coverage of 0.547 (J. Stat. Phys. 166 (2017) 39) and random close packing at 0.840
//! (arXiv 2404.02316), for moderate mixes. A mix of very small and very large stones covers more.

mod places;
mod trial;

use crate::scatter::edge::Edges;
use crate::scatter::field::Field;
use crate::scatter::first::{self, Takes};
use crate::scatter::ring::fraction;
use crate::zone_lay::keep;
use crate::{Kind, Piece, Stone, Stopped, Watch, Zone};
use geometry::{Bounds, Disc, Point, Walls};
use places::Places;
use rand::{Rng, SeedableRng};
use rand_chacha::ChaCha8Rng;
use rayon::prelude::*;
use std::sync::atomic::{AtomicUsize, Ordering};

/// The number of hands, from the most exact to the most sloppy. Ten trials show each of
/// them once.
pub const HANDS: usize = 10;

/// How far the most sloppy hand sets a stone off the place where it would touch, at most, as a part
/// of the stone's diameter: any distance up to it, in any direction in which there is room. Ours, no
/// source: two thirds of a millimetre with a 4 mm stone.
pub const SLOPPY: f64 = 0.16;

/// What one person set in one trial.
#[derive(Clone, Debug, PartialEq)]
pub struct HandTrial {
    /// Whose hand it was: 0 the most exact, [`HANDS`] − 1 the most sloppy.
    pub hand: usize,
    /// Stones of each kind, by index into [`Piece::kinds`]; 0 for kinds that the zone does not use.
    pub counts: Vec<u64>,
    /// Area of the stones, as drawn, divided by the area of the zone.
    pub coverage: f64,
}

/// What comes out when a zone is set by hand, over many trials.
#[derive(Clone, Debug, PartialEq)]
pub struct HandCounts {
    /// Each trial.
    pub trials: Vec<HandTrial>,
}

impl HandCounts {
    /// The number of stones of `kind` in each trial.
    pub fn of_kind(&self, kind: usize) -> Vec<u64> {
        self.trials.iter().map(|t| t.counts.get(kind).copied().unwrap_or(0)).collect()
    }

    /// The number of stones of `kind` in each trial by `hand`.
    pub fn of_hand(&self, hand: usize, kind: usize) -> Vec<u64> {
        let by = self.trials.iter().filter(|t| t.hand == hand);
        by.map(|t| t.counts.get(kind).copied().unwrap_or(0)).collect()
    }

    /// The number of stones of `kind` that this part (0 to 1) of the trials stays within: the
    /// nearest-rank quantile, the ⌈part · n⌉-th count from below. 0 without a trial.
    pub fn within(&self, kind: usize, part: f64) -> u64 {
        let mut counts = self.of_kind(kind);
        counts.sort_unstable();
        // Less a rounding error, so that 0.95 of 20 is the 19th.
        let rank = (part * counts.len() as f64 - 1e-9).ceil().max(1.0) as usize;
        counts.get(rank - 1).or(counts.last()).copied().unwrap_or(0)
    }

    /// The least and the greatest coverage of all trials; `None` without a trial.
    pub fn coverage(&self) -> Option<(f64, f64)> {
        let all = || self.trials.iter().map(|t| t.coverage);
        Some((all().min_by(f64::total_cmp)?, all().max_by(f64::total_cmp)?))
    }
}

/// Sets zone `zone_idx` of `piece` by hand, `n_trials` times, whatever its arrangement, beside the
/// stones in `given`: those of the zone that have their place in the document. They are counted too.
///
/// Stones keep the zone's spacing and margin by their mean diameter ([`Kind::reach_mm`]): a hand
/// feels the stones that are there, not the largest of the bag. The same arguments give the same
/// counts, on any number of threads; a trial is the same however many follow it. A trial takes some
/// 4 µs a stone.
pub fn by_hand(
    piece: &Piece,
    zone_idx: usize,
    given: &[Stone],
    n_trials: usize,
    seed: u64,
    watch: &dyn Watch,
) -> Result<HandCounts, Stopped> {
    let zone = &piece.zones[zone_idx];
    let keep = keep(zone);
    let walls = Walls::new(&zone.region, |tag| keep[usize::from(tag).min(2)]);
    let edges = Edges::new(&zone.region, &walls);
    let disc = |s: &Stone| {
        let radius = (piece.kinds[s.kind as usize].reach_mm + zone.spacing_mm) / 2.0;
        Disc { centre: s.place.point(), radius }
    };
    let discs: Vec<Disc> = given.iter().map(disc).collect();
    let table = Table::new(zone, &piece.kinds, discs, &walls, &edges, seed, watch)?;
    let area = zone.region.area();
    let done = AtomicUsize::new(0);
    let trial = |i: usize| {
        // By threes, so that the first few trials already show both exact and sloppy hands.
        let hand = (HANDS / 2 + 3 * i) % HANDS;
        let set = table.trial(seed, i as u64, sloppiness(hand), watch)?;
        let mut trial = HandTrial { hand, counts: vec![0; piece.kinds.len()], coverage: 0.0 };
        let mut covered = 0.0;
        let given = given.iter().map(|s| s.kind as usize);
        for kind in set.iter().map(|s| s.1).chain(given) {
            trial.counts[kind] += 1;
            let drawn = piece.kinds[kind].reach_mm;
            covered += std::f64::consts::FRAC_PI_4 * drawn * drawn;
        }
        trial.coverage = covered / area;
        watch.step("by hand", done.fetch_add(1, Ordering::Relaxed) + 1, n_trials);
        Ok(trial)
    };
    let trials = (0..n_trials).into_par_iter().map(trial).collect::<Result<_, Stopped>>()?;
    Ok(HandCounts { trials })
}

/// How far off its place a hand sets a stone, at most, as a part of its diameter.
fn sloppiness(hand: usize) -> f64 {
    SLOPPY * (hand as f64 + 0.5) / HANDS as f64
}

/// One kind in the heap.
#[derive(Clone, Copy)]
struct Heaped {
    /// Index into the piece's kinds.
    kind: usize,
    /// Index into the table's radii.
    form: usize,
    /// Share by count.
    share: f64,
}

/// The zone before the first stone, and the heap: what all trials begin with.
struct Table<'a> {
    edges: &'a Edges,
    bounds: Bounds,
    /// Radius of each size, with half the spacing, mm.
    radii: Vec<f64>,
    heap: Vec<Heaped>,
    /// Kinds to go round with afterwards, in this order.
    fillers: Vec<Heaped>,
    field: Field<'a>,
    /// Stones that lie there before, with half the spacing.
    set: Vec<Disc>,
    places: Vec<Places>,
}

impl<'a> Table<'a> {
    fn new(
        zone: &Zone,
        kinds: &[Kind],
        set: Vec<Disc>,
        walls: &'a Walls,
        edges: &'a Edges,
        seed: u64,
        watch: &dyn Watch,
    ) -> Result<Table<'a>, Stopped> {
        let radius = |kind: usize| (kinds[kind].reach_mm + zone.spacing_mm) / 2.0;
        let mixed = zone.mix.iter().map(|m| (m.kind, m.share)).filter(|m| m.1 > 0.0);
        let fillers = zone.fillers.iter().map(|&kind| (kind, 0.0));
        let all: Vec<(usize, f64)> = mixed.chain(fillers).filter(|m| radius(m.0) > 0.0).collect();
        let mut radii: Vec<f64> = all.iter().map(|m| radius(m.0)).collect();
        radii.sort_by(|a, b| b.total_cmp(a));
        radii.dedup();
        let heaped = |&(kind, share): &(usize, f64)| {
            let form = radii.iter().position(|&r| r == radius(kind)).unwrap_or(0);
            Heaped { kind, form, share }
        };
        let (heap, mut fillers): (Vec<Heaped>, Vec<Heaped>) =
            all.iter().map(heaped).partition(|h| h.share > 0.0);
        fillers.sort_by_key(|f| (f.form, f.kind));
        let share: f64 = heap.iter().map(|h| h.share).sum();
        let mean = heap.iter().map(|h| h.share * radii[h.form]).sum::<f64>() / share.max(1e-12);
        // Without a heap nothing is set beside anything, and the cells do not matter.
        let side = if mean > 0.0 { 2.0 * mean } else { 1.0 };
        let largest =
            set.iter().map(|d| d.radius).chain(radii.first().copied()).fold(0.0, f64::max);
        let field = Field::new(walls, side, largest);
        let bounds = walls.bounds();
        let places = radii.iter().map(|&r| Places::new(bounds, side, r)).collect();
        let mut table = Table { edges, bounds, radii, heap, fillers, field, set, places };
        let mut rng = ChaCha8Rng::seed_from_u64(seed);
        first::places(walls, edges, watch, &mut FirstPlaces { table: &mut table, rng: &mut rng })?;
        Ok(table)
    }
}

struct FirstPlaces<'t, 'a> {
    table: &'t mut Table<'a>,
    rng: &'t mut ChaCha8Rng,
}

impl Takes for FirstPlaces<'_, '_> {
    fn radii(&self) -> &[f64] {
        &self.table.radii
    }

    fn fraction(&mut self) -> f64 {
        fraction(self.rng)
    }

    fn offer(&mut self, form: usize, centre: Point) {
        if self.table.field.inside(centre, self.table.radii[form]) {
            self.table.places[form].add(centre, self.rng.next_u32(), 0);
        }
    }
}

#[cfg(test)]
mod tests;
