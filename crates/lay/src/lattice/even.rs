//! Rows evened out: the spacing opened until the last row and stone meet the far edges.

use super::{Frame, Grid, Ground, JUST, Lattice, Rowed, lowest_row};
use crate::Along;
use geometry::{Region, Walls};

/// Rows along an edge, opened by at most `open_mm` until they reach across.
///
/// Along the row the pitch grows until the widest stretch ends on a stone. A honeycomb whose rows
/// were opened lets its rows move closer (neighbours in two rows keep the pitch), which may make
/// room for one more; then the rows are opened until the last meets the far edge.
pub(super) fn even(ground: Ground<'_>, which: Lattice, along: Along, open_mm: f64) -> Rowed {
    let frame = Frame::new(ground, along);
    let r = ground.radius;
    let Some(corner) = frame.corner(r) else {
        return empty(frame.turn_deg());
    };
    let touching = 2.0 * r;
    let (low, high) = (corner.y, highest_row(ground, &frame, r).unwrap_or(corner.y));
    let rise_first = which.row_pitch(touching);
    let (left, right) = across(&frame.walls, r, low, high, rise_first);

    let along_row = Opening::new(right - left, touching, touching + open_mm);
    let pitch = along_row.pitch;
    // In a honeycomb, neighbours in two rows are pitch/2 apart sideways.
    let rise_least = match which {
        Lattice::Honeycomb => (touching * touching - pitch * pitch / 4.0).max(0.0).sqrt(),
        Lattice::Square => touching,
    };
    let rise_most = match which {
        Lattice::Honeycomb => {
            let most = touching + open_mm;
            (most * most - pitch * pitch / 4.0).max(0.0).sqrt()
        }
        Lattice::Square => touching + open_mm,
    };
    let between = Opening::new(high - low, rise_least, rise_most);

    let grid = Grid { which, x0: left, y0: low, pitch, rise: between.pitch };
    let seats = grid.seats(&frame.walls, r, frame.turn);
    let slant = match which {
        Lattice::Honeycomb => {
            (pitch * pitch / 4.0 + between.pitch * between.pitch).sqrt() - touching
        }
        Lattice::Square => between.pitch - touching,
    };
    Rowed {
        seats,
        opened: (pitch - touching, slant.max(0.0)),
        left_over: along_row.left_over.max(between.left_over),
        turn_deg: frame.turn_deg(),
        tried: 1,
    }
}

/// A length divided into equal steps.
struct Opening {
    pitch: f64,
    /// What the steps do not cover because they may not be opened that far, mm.
    left_over: f64,
}

impl Opening {
    /// As many steps as fit at `least`, opened to at most `most`.
    fn new(length: f64, least: f64, most: f64) -> Opening {
        let steps = ((length + JUST) / least).floor();
        if steps < 1.0 {
            return Opening { pitch: least, left_over: length.max(0.0) };
        }
        let pitch = (length / steps).min(most).max(least);
        let left_over = length - steps * pitch;
        Opening { pitch, left_over: if left_over > JUST { left_over } else { 0.0 } }
    }
}

fn empty(turn_deg: f64) -> Rowed {
    Rowed { seats: vec![], opened: (0.0, 0.0), left_over: 0.0, turn_deg, tried: 1 }
}

/// The highest height at which a disc has room.
fn highest_row(ground: Ground<'_>, frame: &Frame, radius: f64) -> Option<f64> {
    let upside_down: Region = ground.region.turned(frame.turn + std::f64::consts::PI);
    let walls = Walls::new(&upside_down, |tag| ground.keep(tag));
    lowest_row(&walls, radius).map(|y| -y)
}

/// The leftmost and rightmost place in any row.
fn across(walls: &Walls, radius: f64, low: f64, high: f64, rise: f64) -> (f64, f64) {
    let n = ((high - low + JUST) / rise).floor() as i64;
    let rows = (0..=n).map(|k| low + k as f64 * rise).chain([high]);
    rows.flat_map(|y| walls.spans_on_line(y, radius - JUST))
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), s| (a.min(s.0), b.max(s.1)))
}
