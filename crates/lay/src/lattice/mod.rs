//! Honeycomb and square rows: lattices in a zone, row by row, in closed form.
//!
//! The zone is turned so that rows run along x; each row is cut to the stretches where a stone has
//! room ([`Walls::spans_on_line`]), and stones follow at the pitch. No stone is tested singly.

mod even;
mod most;

use crate::seat::Seat;
use crate::{Along, Rows, Stopped, Watch};
use geometry::{Curve, Point, Region, Segment, Walls};
use std::f64::consts::{FRAC_PI_2, PI};

/// Which lattice.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Lattice {
    /// Every other row shifted by half a pitch, rows √3/2 of a pitch apart.
    Honeycomb,
    /// Rows and columns.
    Square,
}

/// What is laid where, as the arrangements see it: discs that may touch.
#[derive(Clone, Copy)]
pub(crate) struct Ground<'a> {
    /// The zone.
    pub(crate) region: &'a Region,
    /// Distance a disc keeps from an edge, mm: from an own edge, a shared one, any other.
    pub(crate) keep: [f64; 3],
    /// Radius of a disc: half the pitch, mm.
    pub(crate) radius: f64,
}

/// A lattice in its zone.
#[derive(Clone, Debug)]
pub(crate) struct Rowed {
    /// Its seats, row by row.
    pub(crate) seats: Vec<Seat>,
    /// By how much stones stand further apart than they had to, mm: (along the row, between rows).
    pub(crate) opened: (f64, f64),
    /// What is left at the far edges although the spacing was opened, mm; 0 unless asked to even
    /// out.
    pub(crate) left_over: f64,
    /// Angle of the rows, degrees counter-clockwise from x.
    pub(crate) turn_deg: f64,
    /// How many combinations of turn and shift were tried.
    pub(crate) tried: usize,
}

/// Lays a lattice as `rows` says.
pub(crate) fn lattice(
    ground: Ground<'_>,
    which: Lattice,
    rows: Rows,
    watch: &dyn Watch,
) -> Result<Rowed, Stopped> {
    if watch.stopped() {
        return Err(Stopped);
    }
    Ok(match rows {
        Rows::Locked(along) => locked(ground, which, along),
        Rows::Even { along, open_mm } => even::even(ground, which, along, open_mm),
        Rows::Most { steps } => most::most(ground, which, steps as usize, watch)?,
    })
}

/// What the choice of rows gained or cost, in a sentence.
pub(crate) fn note(ground: Ground<'_>, which: Lattice, rows: Rows, laid: &Rowed) -> String {
    let n = laid.seats.len() as i64;
    let turned = format!("{:.1}°", laid.turn_deg);
    match rows {
        Rows::Locked(_) => format!("rows at {turned}, locked to their edge"),
        Rows::Most { .. } => {
            let gain = n - locked(ground, which, Along::Bottom).seats.len() as i64;
            let tried = laid.tried;
            format!("rows at {turned}, {gain:+} against rows along the bottom; {tried} ways tried")
        }
        Rows::Even { along, .. } => {
            let gain = n - locked(ground, which, along).seats.len() as i64;
            let (row, between) = laid.opened;
            format!(
                "rows at {turned}, opened by {row:.2} mm in the row and {between:.2} mm between rows, {gain:+} stones"
            )
        }
    }
}

/// Rounding allowed where a stone just fits, mm; far below the promise of 1e-6.
const JUST: f64 = 1e-9;

impl Ground<'_> {
    /// The distance to keep from an edge with this tag, mm.
    pub(crate) fn keep(&self, tag: u8) -> f64 {
        self.keep[usize::from(tag).min(2)]
    }

    /// The zone's walls, turned by `turn` radians.
    pub(crate) fn walls(&self, turn: f64) -> Walls {
        Walls::new(&self.region.turned(turn), |tag| self.keep(tag))
    }
}

impl Lattice {
    /// Distance between rows for stones `pitch` apart.
    fn row_pitch(self, pitch: f64) -> f64 {
        match self {
            Lattice::Honeycomb => pitch * HALF_SQRT_3,
            Lattice::Square => pitch,
        }
    }

    /// By how much row `k` is shifted, as a part of the pitch.
    fn shift(self, k: i64) -> f64 {
        if self == Lattice::Honeycomb && k.rem_euclid(2) == 1 { 0.5 } else { 0.0 }
    }

    /// The column by which colours alternate: in square rows it moves on by one each row, so that
    /// two colours make a chequer.
    fn column(self, j: i64, k: i64) -> i64 {
        match self {
            Lattice::Honeycomb => j,
            Lattice::Square => j + k,
        }
    }

    /// After which turn the lattice looks the same, radians.
    fn period(self) -> f64 {
        match self {
            Lattice::Honeycomb => PI / 3.0,
            Lattice::Square => FRAC_PI_2,
        }
    }
}

const HALF_SQRT_3: f64 = 0.866_025_403_784_438_6;

/// A lattice in a turned frame: row `k` at height `y0 + k·rise`, its stones at
/// `x0 + (j + shift(k))·pitch`.
#[derive(Clone, Copy, Debug)]
struct Grid {
    which: Lattice,
    x0: f64,
    y0: f64,
    pitch: f64,
    rise: f64,
}

impl Grid {
    /// The stones of row `k` within the stretch: (first column, count).
    fn stones(&self, k: i64, (lo, hi): (f64, f64)) -> (i64, usize) {
        let origin = self.x0 + self.which.shift(k) * self.pitch;
        let first = ((lo - JUST - origin) / self.pitch).ceil();
        let last = ((hi + JUST - origin) / self.pitch).floor();
        (first as i64, (last - first + 1.0).max(0.0) as usize)
    }

    /// The rows that may meet a box from `low` to `high`.
    fn rows(&self, low: f64, high: f64) -> std::ops::RangeInclusive<i64> {
        let first = ((low - JUST - self.y0) / self.rise).ceil() as i64;
        let last = ((high + JUST - self.y0) / self.rise).floor() as i64;
        first..=last
    }

    /// Every stone, row by row from the lowest, turned back by `turn`.
    fn seats(&self, walls: &Walls, radius: f64, turn: f64) -> Vec<Seat> {
        let back = Point::unit(-turn);
        let b = walls.bounds();
        // As many as the box would hold, since growing the list costs more than laying the stones;
        // within reason, since most of a large box may be empty.
        let most = (b.width() / self.pitch + 1.0) * (b.height() / self.rise + 1.0);
        let mut seats = Vec::with_capacity((most as usize).min(2_000_000));
        let mut row = 0;
        for k in self.rows(b.min.y, b.max.y) {
            let y = self.y0 + k as f64 * self.rise;
            let before = seats.len();
            for span in walls.spans_on_line(y, radius - JUST) {
                let (first, n) = self.stones(k, span);
                let origin = self.x0 + self.which.shift(k) * self.pitch;
                seats.extend((0..n as i64).map(|j| {
                    let at = Point::new(origin + (first + j) as f64 * self.pitch, y);
                    let column = self.which.column(first + j, k);
                    Seat { centre: at.turned(back), size: 0, column, row: row + 1 }
                }));
            }
            row += u32::from(seats.len() > before);
        }
        seats
    }
}

/// Rows along an edge, the first stone in its corner.
fn locked(ground: Ground<'_>, which: Lattice, along: Along) -> Rowed {
    let pitch = 2.0 * ground.radius;
    let frame = Frame::new(ground, along);
    let seats = frame.corner(ground.radius).map_or_else(Vec::new, |corner| {
        let rise = which.row_pitch(pitch);
        let grid = Grid { which, x0: corner.x, y0: corner.y, pitch, rise };
        grid.seats(&frame.walls, ground.radius, frame.turn)
    });
    Rowed { seats, opened: (0.0, 0.0), left_over: 0.0, turn_deg: frame.turn_deg(), tried: 1 }
}

/// The zone turned so that the chosen edge is at the bottom.
struct Frame {
    walls: Walls,
    turn: f64,
    /// Height of the chosen edge, if it is a straight one rather than a side of the box.
    edge: Option<(f64, f64)>,
}

impl Frame {
    fn new(ground: Ground<'_>, along: Along) -> Frame {
        let (turn, segment) = match along {
            Along::Bottom => (0.0, None),
            Along::Top => (PI, None),
            Along::Left => (FRAC_PI_2, None),
            Along::Right => (-FRAC_PI_2, None),
            Along::Angle(degrees) => (-degrees.to_radians(), None),
            Along::Longest => match longest_line(ground.region) {
                Some(s) => (-(s.to - s.from).angle(), Some(s)),
                None => (0.0, None),
            },
        };
        let unit = Point::unit(turn);
        let edge = segment.map(|s| {
            let keep = ground.keep(s.tag);
            let from = s.from.turned(unit);
            (from.y + keep, (from.x + s.to.turned(unit).x) / 2.0)
        });
        Frame { walls: ground.walls(turn), turn, edge }
    }

    /// Rows' angle in the zone, degrees in −90..=90.
    fn turn_deg(&self) -> f64 {
        normal_degrees(-self.turn)
    }

    /// Where the first stone of the first row goes.
    fn corner(&self, radius: f64) -> Option<Point> {
        if let Some((edge_y, middle)) = self.edge {
            let y = edge_y + radius;
            let spans = self.walls.spans_on_line(y, radius - JUST);
            let off = |s: &(f64, f64)| (s.0 - middle).max(middle - s.1).max(0.0);
            if let Some(span) = spans.into_iter().min_by(|a, b| off(a).total_cmp(&off(b))) {
                return Some(Point::new(span.0, y));
            }
        }
        let y = lowest_row(&self.walls, radius)?;
        self.walls.spans_on_line(y, radius - JUST).first().map(|s| Point::new(s.0, y))
    }
}

/// An angle of rows as degrees in (−90, 90].
fn normal_degrees(angle: f64) -> f64 {
    let d = angle.to_degrees().rem_euclid(180.0);
    let d = if d > 90.0 { d - 180.0 } else { d };
    if d.abs() < 1e-9 { 0.0 } else { d }
}

fn longest_line(region: &Region) -> Option<Segment> {
    let lines = region.segments().filter(|s| s.curve == Curve::Line);
    // The first of equals: `max_by` would take the last.
    lines.fold(None, |best: Option<Segment>, s| match best {
        Some(b) if b.length() >= s.length() - JUST => Some(b),
        _ => Some(*s),
    })
}

/// The lowest height at which a disc has room, to 1e-10 mm.
///
/// Looks in steps of an eighth of the radius, so that a pocket lower than that may be missed: the
/// rows then start above it.
fn lowest_row(walls: &Walls, radius: f64) -> Option<f64> {
    let b = walls.bounds();
    let fits = |y: f64| !walls.spans_on_line(y, radius - JUST).is_empty();
    let start = (0..walls.segments().len()).map(|i| walls.keep(i)).fold(f64::INFINITY, f64::min);
    let (low, high) = (b.min.y + radius + start, b.max.y - radius - start);
    if low > high + JUST {
        return None;
    }
    if fits(low) {
        return Some(low);
    }
    // A box no higher than one stone leaves a single height, which rounding may have missed.
    let step = (radius / 8.0).min((high - low) / 4.0).max(1e-6);
    let mut below = low;
    let mut k = 1.0;
    while below < high {
        let y = (low + k * step).min(high);
        if fits(y) {
            return Some(bisect(below, y, fits));
        }
        below = y;
        k += 1.0;
    }
    None
}

/// The lowest height known to fit between one that does not and one that does.
fn bisect(mut out: f64, mut fit: f64, fits: impl Fn(f64) -> bool) -> f64 {
    while fit - out > 1e-10 {
        let mid = (out + fit) / 2.0;
        if mid <= out || mid >= fit {
            break;
        }
        if fits(mid) { fit = mid } else { out = mid }
    }
    fit
}

#[cfg(test)]
mod tests;
