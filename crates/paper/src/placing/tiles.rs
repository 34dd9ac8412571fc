//! Pieces that are larger than a page: a page for each tile, to be cut and taped together.

use super::PrintedPage;
use super::art::Subject;
use super::fit::{Tile, Tiling, tiling};
use super::made::{Made, printed};
use super::page::{GREY, Page};
use drawing::{Dash, Ink, Path, Shape};
use geometry::{Bounds, Point};

/// How far tiles lap over, mm; further if a stone is larger.
const OVERLAP_MM: f64 = 10.0;

impl Made<'_> {
    /// One copy of a large piece, on pages that lie so that there are fewest. Tiles that show
    /// nothing are left out.
    pub(super) fn tiles(&mut self, subject: &Subject<'_>, copy: u32) {
        let largest = subject.laid.asked.piece.kinds.iter().map(|k| k.reach_mm);
        let overlap = largest.fold(OVERLAP_MM, |o, d| o.max(d + 2.0));
        let cut = |wide: bool| {
            let (room, _) = self.room(&[subject], wide);
            // From the lower left corner of the piece as it lies on the paper.
            let max = Point::new(subject.bounds().width(), subject.bounds().height());
            let box_ = Bounds { min: Point::ORIGIN, max };
            let mut tiling = tiling(box_, (room.width(), room.height()), overlap);
            tiling.tiles.retain(|t| self.shows(subject, t.window));
            (room, wide, tiling)
        };
        let (upright, aside) = (cut(false), cut(true));
        let fewer = aside.2.tiles.len() < upright.2.tiles.len();
        let (room, wide, tiling) = if fewer { aside } else { upright };
        for tile in &tiling.tiles {
            self.tile(subject, copy, (&tiling, tile), overlap, (room, wide));
        }
    }

    /// Whether a stone or an edge lies in the window.
    fn shows(&self, subject: &Subject<'_>, window: Bounds) -> bool {
        let (piece, box_) = (&subject.laid.asked.piece, subject.bounds());
        let mirrored = self.position(Point::ORIGIN, None).mirrored;
        let at = |p: Point| {
            let x = if mirrored { box_.max.x - p.x } else { p.x - box_.min.x };
            Point::new(x, p.y - box_.min.y)
        };
        let stone = |s: &lay::Stone| {
            window.distance(at(s.place.point())) < piece.kinds[s.kind as usize].reach_mm / 2.0
        };
        let edge = |s: &geometry::Segment| {
            let n = (s.length() / 2.0).ceil().max(1.0) as u32;
            (0..=n).any(|i| window.distance(at(s.point_at(f64::from(i) / f64::from(n)))) == 0.0)
        };
        subject.laid.lay.stones.iter().any(stone) || piece.blank.segments().any(edge)
    }

    fn tile(
        &mut self,
        subject: &Subject<'_>,
        copy: u32,
        (tiling, tile): (&Tiling, &Tile),
        overlap: f64,
        (room, wide): (Bounds, bool),
    ) {
        let sheet = self.sheet(wide);
        let piece = &subject.laid.asked.piece;
        let title = format!("{} · tile {}", piece.name, tile.name());
        let copies = subject.laid.asked.quantity;
        let of = if copy > 1 { format!(", copy {copy} of {copies}") } else { String::new() };
        let more = format!("{} tiles lap over by {overlap:.0} mm{of}", tiling.tiles.len());
        let mut page = Page::new(sheet, &title, &self.line(&more));
        let all: Vec<(u32, u32)> = tiling.tiles.iter().map(|t| (t.row, t.column)).collect();
        page.map(&all, (tile.row, tile.column));
        let position = self.position(room.min - tile.window.min, Some(room));
        subject.draw(&mut page.drawing, 1, position, self.usage());
        seams(&mut page, tiling, tile, overlap, room);
        self.legend(&mut page, &[subject], wide);
        let piece = printed(subject, copy, Some(tile.name()), position, room, sheet);
        let on_page = PrintedPage { pieces: vec![piece] };
        self.push(page, sheet, on_page, &[subject]);
    }
}

/// Where a tile meets its neighbours: a dashed line in the middle of what laps over, and crosses
/// that lie on those of the neighbour.
fn seams(page: &mut Page, tiling: &Tiling, tile: &Tile, overlap: f64, room: Bounds) {
    let half = overlap / 2.0;
    let mut upright = vec![];
    let mut level = vec![];
    if tile.column > 0 {
        upright.push(room.min.x + half);
    }
    if tile.column + 1 < tiling.columns {
        upright.push(room.max.x - half);
    }
    if tile.row > 0 {
        level.push(room.max.y - half);
    }
    if tile.row + 1 < tiling.rows {
        level.push(room.min.y + half);
    }
    let dash = Dash { on: 2.0, off: 1.2 };
    let mut seam = |from: Point, to: Point| {
        page.line(Shape::dashed(Path::line(from, to), Ink::solid(GREY), 0.12, dash));
        page.cross(from.lerp(to, 0.2));
        page.cross(from.lerp(to, 0.8));
    };
    for x in upright {
        seam(Point::new(x, room.min.y), Point::new(x, room.max.y));
    }
    for y in level {
        seam(Point::new(room.min.x, y), Point::new(room.max.x, y));
    }
}
