//! The way of working that ships first: how large the batches, and how many in play at once.
//!
//! Every way is a fixed order of work, and a larger bench only adds ways: so more room, earlier
//! stones, longer hours or an earlier start never ship later.

use super::batches::{Batch, batches};
use super::clock::Clock;
use super::network::{Node, Ran, Setting, Turn, run};
use super::week::DAY_MIN;
use super::{Work, WorkError};
use jiff::civil::Time;

/// Above this many copies only few ways are tried, so that a large order is planned in a fraction of
/// a second.
const MANY_COPIES: u32 = 200;

/// The best way that was found.
pub(super) struct Found {
    pub(super) clock: Clock,
    pub(super) start: i64,
    /// Minute at which all is packed.
    pub(super) end: i64,
    /// Number of ways that were tried.
    pub(super) tried: u32,
    way: Way,
    stones_at: Vec<i64>,
    bench: u64,
    hands: usize,
    longest_min: u32,
}

/// One way of working.
#[derive(Clone, Debug)]
struct Way {
    order: Vec<usize>,
    most: u32,
    rhythm: Rhythm,
}

/// In which order the stages of batches go through hands.
#[derive(Clone, Copy, Debug)]
enum Rhythm {
    /// So many batches side by side, stage by stage, then the next ones.
    Rounds(usize),
    /// Batch after batch, each stage so many batches behind the one before.
    Behind(usize),
}

/// Tries every way and returns one that ships on the earliest day: of all that do, the one with the
/// fewest batches; of those the one that is done first, then the one that leaves the most float.
pub(super) fn best(work: &Work) -> Result<Found, WorkError> {
    let clock = Clock::new(&work.week, work.start.value.date());
    let start = clock.minute(work.start.value);
    let stones_at: Vec<i64> = work
        .pieces
        .iter()
        .map(|p| p.stones_on.map_or(i64::MIN, |d| clock.minute(d.to_datetime(Time::midnight()))))
        .collect();
    let longest_min = work.week.longest_min();
    let setting = Setting {
        clock: &clock,
        start,
        bench: u64::from(work.bench.value),
        hands: work.hands.value as usize,
        stones_at: &stones_at,
    };
    let total: u32 = work.pieces.iter().map(|p| p.copies).sum();
    let mut found: Option<((i64, usize, i64, i64), Way)> = None;
    let mut tried = 0;
    for order in orders(work, total) {
        for most in batch_sizes(work, total) {
            let list = batches(work, &order, most, longest_min);
            for rhythm in rhythms(list.len(), total) {
                let ran = run(&list, &turns(&list, rhythm), &setting, None);
                let Ran::Done { end, hands_ends } = ran else { continue };
                tried += 1;
                let key = (end.div_euclid(DAY_MIN), list.len(), end, hands_ends);
                if found.as_ref().is_none_or(|f| key < f.0) {
                    found = Some((key, Way { order: order.clone(), most, rhythm }));
                }
            }
        }
    }
    let Some(((_, _, end, _), way)) = found else {
        return Err(WorkError::TooLong { years: super::clock::HORIZON_YEARS });
    };
    let bench = setting.bench;
    let hands = setting.hands;
    Ok(Found { clock, start, end, tried, way, stones_at, bench, hands, longest_min })
}

impl Found {
    /// Its batches and every activity of them.
    pub(super) fn replay(&self, work: &Work) -> (Vec<Batch>, Vec<Node>) {
        let list = batches(work, &self.way.order, self.way.most, self.longest_min);
        let mut nodes = vec![];
        run(&list, &self.turns(&list), &self.setting(), Some(&mut nodes));
        (list, nodes)
    }

    /// The order in which stages of its batches go through hands.
    pub(super) fn turns(&self, list: &[Batch]) -> Vec<Turn> {
        turns(list, self.way.rhythm)
    }

    /// What it ran in.
    pub(super) fn setting(&self) -> Setting<'_> {
        Setting {
            clock: &self.clock,
            start: self.start,
            bench: self.bench,
            hands: self.hands,
            stones_at: &self.stones_at,
        }
    }
}

/// Orders of the pieces: as they stand, those whose stones come first, those that wait longest
/// after setting. None twice, and none that depends on bench or start.
fn orders(work: &Work, total: u32) -> Vec<Vec<usize>> {
    let written: Vec<usize> =
        (0..work.pieces.len()).filter(|i| work.pieces[*i].copies > 0).collect();
    let mut by_stones = written.clone();
    by_stones.sort_by_key(|i| work.pieces[*i].stones_on);
    let mut by_wait = written.clone();
    by_wait.sort_by(|a, b| {
        let wait = |i: &usize| {
            let waits = &work.pieces[*i].waits;
            waits.cure_min.value.max(waits.handle_min.value)
        };
        wait(b).total_cmp(&wait(a))
    });
    let mut all = vec![written, by_stones];
    if total <= MANY_COPIES {
        all.push(by_wait);
    }
    for i in (1..all.len()).rev() {
        if all[..i].contains(&all[i]) {
            all.remove(i);
        }
    }
    all
}

/// Sizes of batches to try: all that fit the bench, or a thinner list where there are many copies.
fn batch_sizes(work: &Work, total: u32) -> Vec<u32> {
    let most_copies = work.pieces.iter().map(|p| p.copies).max().unwrap_or(1);
    let limit = work.bench.value.min(most_copies);
    (1..=limit).filter(|b| total <= MANY_COPIES || few(u64::from(*b))).collect()
}

fn rhythms(n_batches: usize, total: u32) -> Vec<Rhythm> {
    let mut all: Vec<Rhythm> = (1..=n_batches)
        .filter(|w| if total <= MANY_COPIES { *w <= 8 || few(*w as u64) } else { *w <= 4 })
        .map(Rhythm::Rounds)
        .collect();
    all.push(Rhythm::Behind(1));
    all.push(Rhythm::Behind(2));
    all
}

/// 1, 2, 3, 4, 6, 8, 12, 16, 24 …
fn few(n: u64) -> bool {
    n.is_power_of_two() || (n.is_multiple_of(3) && (n / 3).is_power_of_two())
}

/// The order of work of a rhythm.
fn turns(batches: &[Batch], rhythm: Rhythm) -> Vec<Turn> {
    let mut all: Vec<Turn> = batches
        .iter()
        .enumerate()
        .flat_map(|(b, batch)| (0..batch.stages.len()).map(move |stage| (b, stage)))
        .collect();
    match rhythm {
        Rhythm::Rounds(width) => all.sort_by_key(|(b, stage)| (b / width, *stage, *b)),
        Rhythm::Behind(by) => all.sort_by_key(|(b, stage)| (b + by * stage, *stage, *b)),
    }
    all
}
