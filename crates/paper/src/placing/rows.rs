//! The rows of a piece.

use geometry::{Point, Region};
use lay::{Arrangement, Piece, PieceLay};
use std::collections::BTreeMap;

/// A row.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Row {
    /// Its number, with the letter of its zone before it where more than one zone has rows.
    pub(super) label: String,
    /// Its stones by index, one after the other along it.
    pub(super) stones: Vec<usize>,
}

/// The rows of every zone that has any, as the lay has them: zone by zone, each row along its way. A
/// scatter has none, and fillers are in none.
pub(super) fn rows(piece: &Piece, lay: &PieceLay) -> Vec<Row> {
    let lettered = (0..piece.zones.len()).filter(|z| !scattered(piece, *z)).count() > 1;
    let filler = fillers(lay);
    let mut rows: Vec<Row> = vec![];
    let mut known: BTreeMap<(u32, u32), usize> = BTreeMap::new();
    for (i, stone) in lay.stones.iter().enumerate() {
        let zone = stone.zone as usize;
        if filler[i] || scattered(piece, zone) {
            continue;
        }
        let at = *known.entry((stone.zone, stone.row)).or_insert_with(|| {
            let letter = if lettered { zone_letter(zone) } else { String::new() };
            rows.push(Row { label: format!("{letter}{}", stone.row), stones: vec![] });
            rows.len() - 1
        });
        rows[at].stones.push(i);
    }
    rows
}

/// Whether a zone is a scatter.
pub(super) fn scattered(piece: &Piece, zone: usize) -> bool {
    matches!(piece.zones[zone].arrangement, Arrangement::Scatter(_))
}

/// The letter that stands before the numbers of a zone's rows.
pub(super) fn zone_letter(zone: usize) -> String {
    drawing::mark(zone).to_lowercase()
}

/// Which stones are fillers: the last ones of their zones.
fn fillers(lay: &PieceLay) -> Vec<bool> {
    let mut left: Vec<usize> = lay.zones.iter().map(|z| z.n_fillers).collect();
    let mut filler = vec![false; lay.stones.len()];
    for (i, stone) in lay.stones.iter().enumerate().rev() {
        if let Some(n) = left.get_mut(stone.zone as usize).filter(|n| **n > 0) {
            *n -= 1;
            filler[i] = true;
        }
    }
    filler
}

impl Row {
    /// The way that leads to its first stone from outside: against the direction of the row, or,
    /// for a ring, away from its middle.
    pub(super) fn approach(&self, lay: &PieceLay) -> Option<(Point, Point)> {
        let at = |i: usize| lay.stones[i].place.point();
        let first = at(*self.stones.first()?);
        let Some(second) = self.stones.get(1).map(|i| at(*i)) else {
            return Some((first, Point::new(-1.0, 0.0)));
        };
        let back = (first - second).normalised();
        if !self.closed(lay) {
            return Some((first, back));
        }
        let sum = self.stones.iter().fold(Point::ORIGIN, |s, i| s + at(*i));
        let out = (first - sum / self.stones.len() as f64).normalised();
        Some((first, if out.norm() > 0.0 { out } else { back }))
    }

    /// Whether it goes all the way round: its ends are neighbours.
    pub(super) fn closed(&self, lay: &PieceLay) -> bool {
        let at = |i: usize| lay.stones[i].place.point();
        let [first, second, .., last] = self.stones[..] else { return false };
        self.stones.len() > 4 && at(first).distance(at(last)) < 1.6 * at(first).distance(at(second))
    }
}

/// Where the number of a row goes: the nearest spot along its approach that is off the piece, with
/// `room` mm kept from its edge and from the other numbers.
pub(super) fn number_spot(
    from: Point,
    towards: Point,
    blank: &Region,
    taken: &[Point],
    room: f64,
) -> Point {
    let reach = blank.bounds().grown(60.0);
    let step = 0.5;
    let mut t = room;
    loop {
        let p = from + towards * t;
        let outside = blank.clearance(p) <= -room * 0.75;
        let free = || taken.iter().all(|q| p.distance(*q) >= 1.9 * room);
        if outside && free() || reach.distance(p) > 0.0 {
            return p;
        }
        t += step;
    }
}
