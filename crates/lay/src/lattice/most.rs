//! Rows turned and shifted for the most stones.

use super::{Grid, Ground, JUST, Lattice, Rowed, locked, normal_degrees};
use crate::{Along, Stopped, Watch};
use geometry::{Curve, Point, Walls};
use rayon::prelude::*;

/// A lattice in its frame, and how many stones it holds.
#[derive(Clone, Copy, Debug)]
struct Trial {
    turn: f64,
    x0: f64,
    y0: f64,
    count: usize,
}

/// Heights tried for the first row at each turn.
const SHIFTS: usize = EVENLY + CENTRED.len();
/// Heights spread over one row: half of them up from the lowest edge, half down from the highest.
const EVENLY: usize = 12;
/// How many times as many are tried along the zone's own edges.
const DENSER: usize = 8;
/// Heights of the zone's middle above a row, in rows: on a stone, between two rows, and in the
/// middle of a triangle that points up or down. Small round zones hold most when so centred.
const CENTRED: [f64; 4] = [0.0, 0.5, 1.0 / 3.0, 2.0 / 3.0];

/// The most stones found in about `steps` combinations of turn and height; the shift along the
/// rows is the best one exactly. Never fewer than rows locked to any side or to the longest edge.
pub(super) fn most(
    ground: Ground<'_>,
    which: Lattice,
    steps: usize,
    watch: &dyn Watch,
) -> Result<Rowed, Stopped> {
    let mut best_locked = locked(ground, which, Along::Bottom);
    for along in [Along::Top, Along::Left, Along::Right, Along::Longest] {
        let other = locked(ground, which, along);
        if other.seats.len() > best_locked.seats.len() {
            best_locked = other;
        }
    }

    // Half of the budget looks along the zone's own edges, at many heights; a third looks
    // everywhere, and the rest closer round the best.
    let dense = DENSER * EVENLY;
    let mut plain = plain_turns(ground, which);
    plain.truncate((steps / 2 / dense).max(1));
    let mut tried = plain.len() * dense;
    let mut trials = try_all(ground, which, dense, &plain, watch)?;
    let even = even_turns(which, (steps / 3 / SHIFTS).max(4));
    tried += even.len() * SHIFTS;
    trials.extend(try_all(ground, which, EVENLY, &even, watch)?);
    trials.sort_by_key(|t| std::cmp::Reverse(t.count));
    let wide = which.period() / even.len() as f64;
    let close = close_turns(&trials, wide, steps.saturating_sub(tried) / SHIFTS);
    tried += close.len() * SHIFTS;
    trials.extend(try_all(ground, which, EVENLY, &close, watch)?);
    // The first of equals, so that the plainest turn wins.
    let best = trials.iter().fold(None, |best: Option<&Trial>, t| match best {
        Some(b) if b.count >= t.count => Some(b),
        _ => Some(t),
    });

    Ok(match best {
        Some(t) if t.count > best_locked.seats.len() => {
            let pitch = 2.0 * ground.radius;
            // The same stones, as rows along a side of the box where the lattice has such.
            let stone = Point::new(t.x0, t.y0).turned(Point::unit(-t.turn));
            let turn = plainest(t.turn, which.period());
            let first = stone.turned(Point::unit(turn));
            let rise = which.row_pitch(pitch);
            let grid = Grid { which, x0: first.x, y0: first.y, pitch, rise };
            let seats = grid.seats(&ground.walls(turn), ground.radius, turn);
            let turn_deg = normal_degrees(-turn);
            Rowed { seats, opened: (0.0, 0.0), left_over: 0.0, turn_deg, tried }
        }
        _ => Rowed { tried, ..best_locked },
    })
}

/// The best trial of every turn, in the order of the turns.
fn try_all(
    ground: Ground<'_>,
    which: Lattice,
    heights: usize,
    turns: &[f64],
    watch: &dyn Watch,
) -> Result<Vec<Trial>, Stopped> {
    let done = std::sync::atomic::AtomicUsize::new(0);
    turns
        .par_iter()
        .map(|&turn| {
            if watch.stopped() {
                return Err(Stopped);
            }
            let trial = best_shift(ground, which, heights, turn);
            let n = done.fetch_add(1, std::sync::atomic::Ordering::Relaxed) + 1;
            watch.step("turning the rows", n, turns.len());
            Ok(trial)
        })
        .collect()
}

/// Turns that put rows along the sides of the box and along the longest straight edges.
fn plain_turns(ground: Ground<'_>, which: Lattice) -> Vec<f64> {
    let period = which.period();
    let mut lines: Vec<_> = ground.region.segments().filter(|s| s.curve == Curve::Line).collect();
    lines.sort_by(|a, b| b.length().total_cmp(&a.length()));
    let along = lines.into_iter().take(8).map(|s| -(s.to - s.from).angle());
    let mut turns: Vec<f64> = vec![];
    for turn in [0.0, std::f64::consts::FRAC_PI_2].into_iter().chain(along) {
        let turn = turn.rem_euclid(period);
        let known = |o: &f64| {
            let d = (turn - o).abs();
            d.min(period - d) < 1e-6
        };
        if !turns.iter().any(known) {
            turns.push(turn);
        }
    }
    turns
}

/// `n` turns, evenly over the period.
fn even_turns(which: Lattice, n: usize) -> Vec<f64> {
    (0..n).map(|i| which.period() * i as f64 / n as f64).collect()
}

/// Turns close to the best ones, `n` in all, each half as far away as the one before.
fn close_turns(trials: &[Trial], wide: f64, n: usize) -> Vec<f64> {
    let heads = 4.min(trials.len());
    (0..n)
        .filter_map(|i| {
            let head = trials.get(i % heads.max(1))?;
            let k = i / heads.max(1);
            let sign = if k.is_multiple_of(2) { 1.0 } else { -1.0 };
            let away = wide * 0.75 / (1 + k / 2) as f64;
            Some(head.turn + sign * away)
        })
        .collect()
}

/// Of the turns that give the same lattice, the one whose rows are nearest to level, or else to
/// upright.
fn plainest(turn: f64, period: f64) -> f64 {
    let off = |t: f64| {
        let d = normal_degrees(-t).abs();
        // Level first where both are as near.
        d.min(90.0 - d + 1e-6)
    };
    let same = (0..3).map(|i| turn + f64::from(i) * period);
    same.min_by(|a, b| off(*a).total_cmp(&off(*b))).unwrap_or(turn)
}

/// The best of so many heights at one turn, and its best shift.
fn best_shift(ground: Ground<'_>, which: Lattice, heights: usize, turn: f64) -> Trial {
    let walls = ground.walls(turn);
    let pitch = 2.0 * ground.radius;
    let rise = which.row_pitch(pitch);
    let b = walls.bounds();
    let edge = ground.radius + ground.keep[0];
    let low = b.min.y + edge;
    let mut best = Trial { turn, x0: 0.0, y0: low, count: 0 };
    let span = b.height() - 2.0 * edge;
    let top = low + span.rem_euclid(rise);
    let evenly = (0..heights).map(|i| {
        let part = (i / 2) as f64 / (heights / 2) as f64 * rise;
        if i % 2 == 0 { low + part } else { top - part }
    });
    let centred = CENTRED.iter().map(|part| b.centre().y - part * rise);
    for y0 in evenly.chain(centred) {
        let grid = Grid { which, x0: 0.0, y0, pitch, rise };
        let (x0, count) = best_along(&grid, &walls, ground.radius);
        if count > best.count {
            best = Trial { turn, x0, y0, count };
        }
    }
    best
}

/// The shift along the rows that holds the most stones, exactly, and how many.
///
/// A stretch of length L holds ⌊L/pitch⌋ stones, and one more while the shift lies in a window as
/// wide as the remainder: the best shift is where most windows overlap.
pub(super) fn best_along(grid: &Grid, walls: &Walls, radius: f64) -> (f64, usize) {
    let (pitch, b) = (grid.pitch, walls.bounds());
    let mut sure = 0;
    // (where, +1 opens / −1 closes), windows that run over the end split in two.
    let mut events: Vec<(f64, i32)> = vec![];
    for k in grid.rows(b.min.y, b.max.y) {
        let y = grid.y0 + k as f64 * grid.rise;
        for (lo, hi) in walls.spans_on_line(y, radius - JUST) {
            let length = hi - lo + JUST;
            let whole = (length / pitch).floor();
            sure += whole as usize;
            let open = (lo - grid.which.shift(k) * pitch).rem_euclid(pitch);
            let close = open + (length - whole * pitch);
            events.push((open, 1));
            if close < pitch {
                events.push((close, -1));
            } else {
                events.push((0.0, 1));
                events.push((close - pitch, -1));
            }
        }
    }
    // At the same place openings come first: a window includes both of its ends.
    events.sort_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(&a.1)));
    let (mut depth, mut best, mut at) = (0, 0, 0.0);
    for (x, change) in events {
        depth += change;
        if depth > best {
            (best, at) = (depth, x);
        }
    }
    (at, sure + best as usize)
}
