//! What goes onto one page, and what is cut into tiles.

use geometry::{Bounds, Point};

/// Width and height, mm.
pub(super) type Extent = (f64, f64);

/// Puts boxes side by side from the top left, shelf under shelf, with `gap` between; gives their top
/// left corners, right and down from that of the room. Nothing if they do not all go in.
pub(super) fn shelves(boxes: &[Extent], room: Extent, gap: f64) -> Option<Vec<Extent>> {
    let (mut x, mut y, mut shelf) = (0.0, 0.0, 0.0_f64);
    let mut corners = vec![];
    for &(width, height) in boxes {
        if x > 0.0 && x + width > room.0 {
            y += shelf + gap;
            (x, shelf) = (0.0, 0.0);
        }
        if x + width > room.0 + ROUNDING_MM || y + height > room.1 + ROUNDING_MM {
            return None;
        }
        corners.push((x, y));
        x += width + gap;
        shelf = shelf.max(height);
    }
    Some(corners)
}

/// A box that is larger than its room by this much still goes in: rounding, far below printing.
const ROUNDING_MM: f64 = 1e-6;

/// One part of a piece that is too large for a page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Tile {
    /// From the top, from 0.
    pub(super) row: u32,
    /// From the left, from 0.
    pub(super) column: u32,
    /// What of the piece it shows, in the frame of the piece.
    pub(super) window: Bounds,
}

/// A piece in tiles.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Tiling {
    /// How many rows.
    pub(super) rows: u32,
    /// How many columns.
    pub(super) columns: u32,
    /// All of them, row by row.
    pub(super) tiles: Vec<Tile>,
}

impl Tile {
    /// Its name: a letter for its row (two beyond 26), a number for its column.
    pub(super) fn name(&self) -> String {
        format!("{}{}", drawing::mark(self.row as usize), self.column + 1)
    }
}

/// Cuts `piece` into tiles of the size of `room`, each lapping over its neighbours by `overlap` mm;
/// what is left over lies outside on all sides alike.
pub(super) fn tiling(piece: Bounds, room: Extent, overlap: f64) -> Tiling {
    let count = |length: f64, room: f64| {
        (((length - overlap) / (room - overlap) - ROUNDING_MM).ceil()).max(1.0) as u32
    };
    let (columns, rows) = (count(piece.width(), room.0), count(piece.height(), room.1));
    let covered = |n: u32, room: f64| room + f64::from(n - 1) * (room - overlap);
    let half = Point::new(covered(columns, room.0), covered(rows, room.1)) / 2.0;
    let corner = Point::new(piece.centre().x - half.x, piece.centre().y + half.y);
    let tile = |row: u32, column: u32| {
        let left = corner.x + f64::from(column) * (room.0 - overlap);
        let top = corner.y - f64::from(row) * (room.1 - overlap);
        let window =
            Bounds { min: Point::new(left, top - room.1), max: Point::new(left + room.0, top) };
        Tile { row, column, window }
    };
    let tiles = (0..rows).flat_map(|r| (0..columns).map(move |c| (r, c)));
    Tiling { rows, columns, tiles: tiles.map(|(r, c)| tile(r, c)).collect() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shelves_fill_from_the_top_left_and_never_leave_the_room() {
        let corners = shelves(&[(40.0, 20.0), (40.0, 30.0), (40.0, 10.0)], (90.0, 60.0), 5.0);
        assert_eq!(corners, Some(vec![(0.0, 0.0), (45.0, 0.0), (0.0, 35.0)]));
        assert_eq!(shelves(&[(40.0, 20.0), (91.0, 5.0)], (90.0, 60.0), 5.0), None);
        assert_eq!(shelves(&[(90.0, 40.0), (90.0, 20.0)], (90.0, 60.0), 5.0), None);
    }

    #[test]
    fn tiles_cover_the_piece_and_lap_over() {
        for (width, height) in [(10.0, 10.0), (190.0, 20.0), (2000.0, 3.0), (300.0, 700.5)] {
            let min = Point::new(-7.0, 4.0);
            let piece = Bounds { min, max: min + Point::new(width, height) };
            let t = tiling(piece, (180.0, 240.0), 10.0);
            assert_eq!(t.tiles.len() as u32, t.rows * t.columns);
            let all = t.tiles.iter().fold(Bounds::EMPTY, |b, t| b.union(t.window));
            assert!(all.min.x <= piece.min.x + 1e-9 && all.max.x >= piece.max.x - 1e-9);
            assert!(all.min.y <= piece.min.y + 1e-9 && all.max.y >= piece.max.y - 1e-9);
            for pair in t.tiles.windows(2).filter(|p| p[0].row == p[1].row) {
                let lap = pair[0].window.max.x - pair[1].window.min.x;
                assert!((lap - 10.0).abs() < 1e-9, "{lap}");
            }
        }
    }

    #[test]
    fn a_tile_is_named_by_letter_and_number() {
        let window = Bounds::EMPTY;
        assert_eq!(Tile { row: 1, column: 2, window }.name(), "B3");
        assert_eq!(Tile { row: 26, column: 0, window }.name(), "AA1");
    }
}
