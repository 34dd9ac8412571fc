//! Discs, indexed by place.

use crate::{Bounds, Point};

/// A disc, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Disc {
    /// Its centre.
    pub centre: Point,
    /// Its radius.
    pub radius: f64,
}

/// Discs in square cells (compressed rows), for questions about what lies near a place.
#[derive(Clone, Debug)]
pub struct DiscGrid {
    bounds: Bounds,
    side: f64,
    nx: usize,
    ny: usize,
    radius_max: f64,
    start: Vec<u32>,
    items: Vec<u32>,
    discs: Vec<Disc>,
}

impl DiscGrid {
    /// An index of `discs`, about one to a cell.
    pub fn new(discs: Vec<Disc>) -> DiscGrid {
        let bounds = match Bounds::of(discs.iter().map(|d| d.centre)) {
            b if b.is_empty() => Bounds::of([Point::ORIGIN]),
            b => b,
        };
        let n = discs.len().max(1) as f64;
        let side = (bounds.width() * bounds.height() / n)
            .sqrt()
            .max(bounds.width().max(bounds.height()) / n)
            .max(1e-9);
        let nx = (bounds.width() / side) as usize + 1;
        let ny = (bounds.height() / side) as usize + 1;
        let mut grid = DiscGrid {
            bounds,
            side,
            nx,
            ny,
            radius_max: discs.iter().map(|d| d.radius).fold(0.0, f64::max),
            start: vec![0; nx * ny + 1],
            items: vec![0; discs.len()],
            discs,
        };
        let cells: Vec<usize> = grid.discs.iter().map(|d| grid.cell(d.centre)).collect();
        for c in &cells {
            grid.start[c + 1] += 1;
        }
        for c in 0..nx * ny {
            grid.start[c + 1] += grid.start[c];
        }
        let mut next = grid.start.clone();
        for (i, c) in cells.into_iter().enumerate() {
            grid.items[next[c] as usize] = i as u32;
            next[c] += 1;
        }
        grid
    }

    /// The discs, in the order in which they were given.
    pub fn discs(&self) -> &[Disc] {
        &self.discs
    }

    /// The largest radius, mm; 0 if there is no disc.
    pub fn radius_max(&self) -> f64 {
        self.radius_max
    }

    /// Indices of all discs, in the order of the cells.
    pub(crate) fn in_cells(&self) -> impl Iterator<Item = usize> + '_ {
        self.items.iter().map(|&i| i as usize)
    }

    /// Indices of the discs whose centre may lie within `reach` of `p`: all that do, and a few
    /// more. In the order of the cells.
    pub fn around(&self, p: Point, reach: f64) -> impl Iterator<Item = usize> + '_ {
        let corner = Point::new(reach, reach);
        let (x0, y0) = self.column_row(p - corner);
        let (x1, y1) = self.column_row(p + corner);
        (y0..=y1).flat_map(move |y| {
            let (a, b) = (self.start[y * self.nx + x0], self.start[y * self.nx + x1 + 1]);
            self.items[a as usize..b as usize].iter().map(|&i| i as usize)
        })
    }

    /// Distance from `p` to the edge of the nearest disc, if one is nearer than `reach`; negative
    /// within a disc.
    pub fn gap(&self, p: Point, reach: f64) -> Option<f64> {
        self.around(p, reach + self.radius_max)
            .map(|i| self.discs[i].centre.distance(p) - self.discs[i].radius)
            .filter(|&g| g < reach)
            .min_by(f64::total_cmp)
    }

    fn column_row(&self, p: Point) -> (usize, usize) {
        let q = (p - self.bounds.min) / self.side;
        ((q.x as usize).min(self.nx - 1), (q.y as usize).min(self.ny - 1))
    }

    fn cell(&self, p: Point) -> usize {
        let (x, y) = self.column_row(p);
        y * self.nx + x
    }
}
