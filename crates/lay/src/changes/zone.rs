//! The stones of one zone while they are changed by hand.

use super::cells::Cells;
use super::{Changed, JUST_MM, rows, said};
use crate::zone_lay::{disc_radius, keep};
use crate::{Change, Finding, Piece, Place, Stone, Zone};
use geometry::{Disc, DiscGrid, Point, Walls};

/// A zone at work: its stones as they were, those set since, and which of them are gone.
pub(super) struct Worked<'a> {
    piece: &'a Piece,
    zone: &'a Zone,
    zone_idx: usize,
    walls: Walls,
    stones: Vec<Stone>,
    gone: Vec<bool>,
    /// The stones that were there before, by their centres.
    grid: DiscGrid,
    /// Those set since.
    set: Cells,
    /// Stones before this one are not taken away or recoloured.
    first: usize,
    /// Radius of the largest disc of any kind, mm: with the spacing, or as drawn.
    radius_max: f64,
}

impl<'a> Worked<'a> {
    /// Begins with `stones`; only those from `first` on are taken away or recoloured.
    pub(super) fn new(
        piece: &'a Piece,
        zone_idx: usize,
        stones: Vec<Stone>,
        first: usize,
    ) -> Worked<'a> {
        let zone = &piece.zones[zone_idx];
        let keep = keep(zone);
        let radius = |k: &crate::Kind| disc_radius(k, zone).max(k.reach_mm / 2.0);
        let radius_max = piece.kinds.iter().map(radius).fold(0.0, f64::max);
        let centre = |s: &Stone| Disc { centre: s.place.point(), radius: 0.0 };
        Worked {
            piece,
            zone,
            zone_idx,
            walls: Walls::new(&zone.region, |tag| keep[usize::from(tag).min(2)]),
            gone: vec![false; stones.len()],
            grid: DiscGrid::new(stones.iter().map(centre).collect()),
            stones,
            set: Cells::new(2.0 * radius_max),
            first,
            radius_max,
        }
    }

    /// Makes change `no` of the piece. One that finds no stone stays open.
    pub(super) fn make(&mut self, no: usize, changed: &mut Changed) {
        let change = self.piece.changes[no];
        let found = match (change, self.covering(change.point())) {
            (Change::Set { place, kind }, _) => self.set(no, place, kind),
            (Change::Recolour { kind, .. }, Some(i)) => self.recolour(no, i, kind),
            (Change::Clear { .. }, Some(i)) => {
                let stone = self.stones[i];
                self.gone[i] = true;
                changed.cleared.push(self.disc(stone.place.point(), stone.kind as usize));
                None
            }
            (Change::Clear { .. } | Change::Recolour { .. }, None) => {
                changed.open.push(no);
                None
            }
        };
        changed.found.extend(found.map(|f| (no, f)));
    }

    /// Sets a stone, and takes away those of the arrangement that are in its way.
    fn set(&mut self, no: usize, place: Place, kind: usize) -> Option<Finding> {
        let disc = self.disc(place.point(), kind);
        let missing = disc.radius - self.walls.room(disc.centre);
        if missing > JUST_MM {
            return Some(said::outside(self.piece, self.zone, no, kind, missing));
        }
        let in_the_way = self.in_the_way(disc, None);
        let by_hand = in_the_way.iter().filter(|w| self.stones[w.0].by_hand);
        if let Some(missing) = by_hand.map(|w| w.1).reduce(f64::max) {
            return Some(said::too_close(self.piece, self.zone, no, kind, missing));
        }
        for (i, _) in in_the_way {
            self.gone[i] = true;
        }
        let row = self.nearest_row(disc.centre);
        self.set.add(self.stones.len(), disc.centre);
        let zone = self.zone_idx as u32;
        self.stones.push(Stone { place, kind: kind as u32, zone, row, by_hand: true });
        self.gone.push(false);
        None
    }

    /// Makes stone `i` one of another kind, if there is room.
    fn recolour(&mut self, no: usize, i: usize, kind: usize) -> Option<Finding> {
        let stone = self.stones[i];
        let before = self.disc(stone.place.point(), stone.kind as usize);
        let disc = self.disc(before.centre, kind);
        // What is no larger has room where the other had it.
        if disc.radius > before.radius {
            let at_edge = disc.radius - self.walls.room(disc.centre);
            let beside = self.in_the_way(disc, Some(i)).into_iter().map(|w| w.1);
            let missing = beside.fold(at_edge, f64::max);
            if missing > JUST_MM {
                let kinds = (stone.kind as usize, kind);
                return Some(said::no_room(self.piece, self.zone, no, kinds, missing));
            }
        }
        self.stones[i].kind = kind as u32;
        None
    }

    /// Stones closer to `disc` than the spacing, but for stone `own`: which, and what is missing,
    /// mm.
    fn in_the_way(&self, disc: Disc, own: Option<usize>) -> Vec<(usize, f64)> {
        let missing = |i: usize| {
            let d = self.disc(self.stones[i].place.point(), self.stones[i].kind as usize);
            (i, d.radius + disc.radius - d.centre.distance(disc.centre))
        };
        let near = self.near(disc.centre).filter(|&i| Some(i) != own);
        near.map(missing).filter(|w| w.1 > JUST_MM).collect()
    }

    /// The stone that covers `p` as drawn.
    fn covering(&self, p: Point) -> Option<usize> {
        let of_those = self.near(p).filter(|&i| i >= self.first);
        let depths = of_those.filter_map(|i| Some((i, self.stones[i].depth_mm(self.piece, p)?)));
        // Of two that touch there, the one it lies deeper under; of equals, the first.
        let deeper = |a: (usize, f64), b: (usize, f64)| {
            if b.1 > a.1 || (b.1 == a.1 && b.0 < a.0) { b } else { a }
        };
        depths.reduce(deeper).map(|found| found.0)
    }

    /// Stones that are there and may reach as far as a disc at `p`.
    fn near(&self, p: Point) -> impl Iterator<Item = usize> + '_ {
        let all = self.grid.around(p, 2.0 * self.radius_max).chain(self.set.near(p));
        all.filter(|&i| !self.gone[i])
    }

    fn disc(&self, centre: Point, kind: usize) -> Disc {
        Disc { centre, radius: disc_radius(&self.piece.kinds[kind], self.zone) }
    }

    /// The row of the stone that was nearest to `p` before; 1 if there was none.
    fn nearest_row(&self, p: Point) -> u32 {
        let discs = self.grid.discs();
        let mut reach = 2.0 * self.radius_max;
        while !discs.is_empty() {
            let near = self.grid.around(p, reach).map(|i| (discs[i].centre.distance(p), i));
            match near
                .filter(|n| n.0 <= reach)
                .min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)))
            {
                Some((_, i)) => return self.stones[i].row,
                None => reach *= 2.0,
            }
        }
        1
    }

    /// The stones that are left, those set in their rows.
    pub(super) fn in_bench_order(self) -> Vec<Stone> {
        rows::in_rows(&self.stones, &self.gone, self.grid.discs().len())
    }

    /// The stones that are left, in the order in which they came.
    pub(super) fn left(self) -> Vec<Stone> {
        let all = self.stones.into_iter().zip(self.gone);
        all.filter(|s| !s.1).map(|s| s.0).collect()
    }
}
