//! The stones placed so far, in cells, and the walls around them.

use geometry::{Point, Walls};

/// Overlap that counts as touching, mm: far above the rounding of a closed form at the size of a
/// workpiece (about 1e-12), far below the 1e-6 that a lay promises.
pub(crate) const TOUCH: f64 = 1e-9;

const NONE: u32 = u32::MAX;

/// A placed disc.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Laid {
    /// Its centre, mm.
    pub(crate) centre: Point,
    /// The radius by which it keeps others off, mm.
    pub(crate) radius: f64,
    /// Its form, as the front numbers them.
    pub(crate) form: u32,
    /// How far the front had come when it was placed, mm.
    pub(crate) depth: f32,
    /// The disc placed before it in the same cell.
    before: u32,
}

/// Placed discs in square cells, newest first in each, inside the walls.
#[derive(Clone)]
pub(crate) struct Field<'a> {
    /// The walls around it.
    pub(crate) walls: &'a Walls,
    /// The discs, in the order of placing.
    pub(crate) laid: Vec<Laid>,
    origin: Point,
    side: f64,
    nx: usize,
    ny: usize,
    newest: Vec<u32>,
    /// A lower bound of the room anywhere in each cell; NaN until asked for.
    clear: Vec<f32>,
    /// No disc is larger, mm.
    pub(crate) radius_max: f64,
}

impl<'a> Field<'a> {
    /// An empty field for discs of at most `radius_max`, in cells of about `side`.
    pub(crate) fn new(walls: &'a Walls, side: f64, radius_max: f64) -> Field<'a> {
        let b = walls.bounds();
        let (w, h) = (b.width(), b.height());
        // Never more cells than memory bears: a blank of many metres with stones of a millimetre.
        let side = side.max((w * h / 3e7).sqrt()).max(w.max(h) / 1e6);
        // Off the box by odd fractions, so that stones along a straight edge sit on no border.
        let origin = b.min - Point::new(side * 0.377, side * 0.291);
        let nx = ((b.max.x - origin.x) / side) as usize + 1;
        let ny = ((b.max.y - origin.y) / side) as usize + 1;
        Field {
            walls,
            laid: vec![],
            origin,
            side,
            nx,
            ny,
            newest: vec![NONE; nx * ny],
            clear: vec![f32::NAN; nx * ny],
            radius_max,
        }
    }

    /// The number of discs placed.
    pub(crate) fn count(&self) -> u32 {
        self.laid.len() as u32
    }

    /// Adds a disc.
    pub(crate) fn add(&mut self, centre: Point, radius: f64, form: usize, depth: f32) {
        let cell = self.cell(centre);
        let id = self.count();
        let before = std::mem::replace(&mut self.newest[cell], id);
        self.laid.push(Laid { centre, radius, form: form as u32, depth, before });
    }

    /// Calls `f` with every disc, placed at or after `since`, whose centre may lie within `reach`
    /// of `p`, until it returns false. Returns whether it never did.
    pub(crate) fn each(
        &self,
        p: Point,
        reach: f64,
        since: u32,
        mut f: impl FnMut(u32, &Laid) -> bool,
    ) -> bool {
        let corner = Point::new(reach, reach);
        let (x0, y0) = self.column_row(p - corner);
        let (x1, y1) = self.column_row(p + corner);
        for y in y0..=y1 {
            for &newest in &self.newest[y * self.nx + x0..=y * self.nx + x1] {
                let mut id = newest;
                while id != NONE && id >= since {
                    let disc = &self.laid[id as usize];
                    if !f(id, disc) {
                        return false;
                    }
                    id = disc.before;
                }
            }
        }
        true
    }

    /// A lower bound of the room at `p`, cheap where it is asked often.
    pub(crate) fn clear_of_walls(&mut self, p: Point) -> f64 {
        if self.walls.bounds().distance(p) > 0.0 {
            return f64::NEG_INFINITY;
        }
        let (x, y) = self.column_row(p);
        let cell = y * self.nx + x;
        if self.clear[cell].is_nan() {
            let middle = self.origin + Point::new(x as f64 + 0.5, y as f64 + 0.5) * self.side;
            let bound = self.walls.room(middle) - self.side * std::f64::consts::FRAC_1_SQRT_2;
            // Less what the narrower number may have rounded away.
            self.clear[cell] = (bound - 1e-6 * (1.0 + bound.abs())).max(-1e30) as f32;
        }
        f64::from(self.clear[cell])
    }

    /// Whether a disc of `radius` at `p` keeps inside the walls.
    pub(crate) fn inside(&mut self, p: Point, radius: f64) -> bool {
        self.clear_of_walls(p) >= radius || self.walls.room(p) >= radius - TOUCH
    }

    /// Whether a disc of `radius` at `p` overlaps none of the discs.
    pub(crate) fn free(&self, p: Point, radius: f64) -> bool {
        self.free_since(p, radius, 0)
    }

    /// Whether a disc of `radius` at `p` overlaps none of the discs placed at or after `since`.
    pub(crate) fn free_since(&self, p: Point, radius: f64, since: u32) -> bool {
        self.each(p, radius + self.radius_max, since, |_, d| {
            let apart = radius + d.radius - TOUCH;
            (p - d.centre).norm2() >= apart * apart
        })
    }

    fn column_row(&self, p: Point) -> (usize, usize) {
        // A cast saturates: left of the first column is the first column.
        let q = (p - self.origin) / self.side;
        ((q.x as usize).min(self.nx - 1), (q.y as usize).min(self.ny - 1))
    }

    fn cell(&self, p: Point) -> usize {
        let (x, y) = self.column_row(p);
        y * self.nx + x
    }
}
