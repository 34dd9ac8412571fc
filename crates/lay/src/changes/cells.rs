//! Points that are added one by one, in cells.

use geometry::Point;
use std::collections::HashMap;

/// Indices of points by cell; looked up, never walked.
pub(super) struct Cells {
    side: f64,
    cells: HashMap<(i64, i64), Vec<usize>>,
}

impl Cells {
    /// No point yet; [`near`](Cells::near) sees as far as `reach`.
    pub(super) fn new(reach: f64) -> Cells {
        Cells { side: reach.max(1e-3), cells: HashMap::new() }
    }

    /// Adds point `index`, at `p`.
    pub(super) fn add(&mut self, index: usize, p: Point) {
        self.cells.entry(self.cell(p)).or_default().push(index);
    }

    /// All points within reach of `p`, and a few more.
    pub(super) fn near(&self, p: Point) -> impl Iterator<Item = usize> + '_ {
        let (x, y) = self.cell(p);
        let around = (-1..=1).flat_map(move |i| (-1..=1).map(move |j| (x + i, y + j)));
        around.filter_map(|c| self.cells.get(&c)).flatten().copied()
    }

    fn cell(&self, p: Point) -> (i64, i64) {
        ((p.x / self.side).floor() as i64, (p.y / self.side).floor() as i64)
    }
}
