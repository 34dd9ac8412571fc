//! Places where a stone of one size would touch two things, in cells: the nearest to the hand.

use crate::scatter::field::Field;
use geometry::{Bounds, Point};

/// Steps of distance in a millimetre: places whose distances differ by rounding are equally near.
const STEPS: f64 = 1e6;

/// A place.
#[derive(Clone, Copy)]
struct Spot {
    at: Point,
    /// Decides between places equally near.
    lot: u32,
    /// Discs from this one on have not been held against it yet.
    since: u32,
}

/// The places for stones of one radius.
#[derive(Clone)]
pub(super) struct Places {
    radius: f64,
    origin: Point,
    side: f64,
    nx: usize,
    ny: usize,
    cells: Vec<Vec<Spot>>,
    n: usize,
}

impl Places {
    /// No place yet, in cells of about `side` over `bounds`, for stones of `radius`.
    pub(super) fn new(bounds: Bounds, side: f64, radius: f64) -> Places {
        let (w, h) = (bounds.width(), bounds.height());
        // Never more cells than memory bears, as in `Field`.
        let side = side.max((w * h / 3e6).sqrt()).max(w.max(h) / 1e5);
        let (nx, ny) = ((w / side) as usize + 1, (h / side) as usize + 1);
        Places { radius, origin: bounds.min, side, nx, ny, cells: vec![vec![]; nx * ny], n: 0 }
    }

    /// Adds a place that is free of all discs before number `since`.
    pub(super) fn add(&mut self, at: Point, lot: u32, since: u32) {
        let (x, y) = self.column_row(at);
        self.cells[y * self.nx + x].push(Spot { at, lot, since });
        self.n += 1;
    }

    /// The place nearest to `hand` that is still free; places that are not are dropped on the way.
    pub(super) fn nearest(&mut self, hand: Point, field: &Field) -> Option<Point> {
        let (cx, cy) = self.column_row(hand);
        let mut best: Option<((u64, u32), Point)> = None;
        for away in 0..=self.nx.max(self.ny) {
            // What lies `away` cells off is at least that less one cell away.
            let least = ((away as f64 - 1.0) * self.side * STEPS).max(0.0) as u64;
            if self.n == 0 || best.is_some_and(|b| b.0.0 < least) {
                break;
            }
            let (top, bottom) = (cy + away, cy.checked_sub(away));
            for y in cy.saturating_sub(away)..=top.min(self.ny - 1) {
                let step = if y == top || Some(y) == bottom { 1 } else { (2 * away).max(1) };
                // Columns left of the first are stepped over.
                let mut x = cx as i64 - away as i64;
                while x <= (cx + away).min(self.nx - 1) as i64 {
                    if x >= 0 {
                        self.nearest_in(y * self.nx + x as usize, hand, field, &mut best);
                    }
                    x += step as i64;
                }
            }
        }
        best.map(|b| b.1)
    }

    fn nearest_in(
        &mut self,
        cell: usize,
        hand: Point,
        field: &Field,
        best: &mut Option<((u64, u32), Point)>,
    ) {
        let mut i = 0;
        while let Some(&spot) = self.cells[cell].get(i) {
            let key = ((spot.at.distance(hand) * STEPS + 0.5) as u64, spot.lot);
            if best.is_some_and(|b| b.0 <= key) {
                i += 1;
                continue;
            }
            if self.still_free(spot, field) {
                self.cells[cell][i].since = field.count();
                *best = Some((key, spot.at));
                i += 1;
            } else {
                self.cells[cell].swap_remove(i);
                self.n -= 1;
            }
        }
    }

    fn still_free(&self, spot: Spot, field: &Field) -> bool {
        field.free_since(spot.at, self.radius, spot.since)
    }

    fn column_row(&self, p: Point) -> (usize, usize) {
        // A cast saturates: left of the first column is the first column.
        let q = (p - self.origin) / self.side;
        ((q.x as usize).min(self.nx - 1), (q.y as usize).min(self.ny - 1))
    }
}
