//! What would let a late order ship in time: one change after another, each tried.

use super::search::best;
use super::{Remedy, Work};
use crate::Given;
use jiff::ToSpan;
use jiff::civil::Date;

/// Days by which an earlier start is tried.
const MOST_DAYS_EARLIER: u32 = 366;
/// Half hours by which a day is made longer.
const MOST_HALF_HOURS: u32 = 12;

/// Blanks side by side that are tried at most.
const MOST_BENCH: u32 = 10_000;

/// All changes that meet the day asked for; none if no day was.
pub(super) fn tried(work: &Work) -> Vec<Remedy> {
    let Some(due) = work.due else { return vec![] };
    let mut all = vec![];
    all.extend(earlier_start(work, due));
    all.extend(more_hours(work, due));
    all.extend(earlier_stones(work, due));
    all.extend(other_adhesives(work, due));
    all.extend(larger_bench(work, due));
    all.extend(fewer_copies(work, due));
    all
}

/// When `work` ships, if it is in time.
fn in_time(work: &Work, due: Date) -> Option<Date> {
    let found = best(work).ok()?;
    let ship_on = found.clock.datetime(found.end)?.date();
    (ship_on <= due).then_some(ship_on)
}

/// The least of `from..=to` with which it ships in time, by halving, and when. It is right where
/// more never ships later; what it returns was tried in any case.
fn least(from: u32, to: u32, ships: impl Fn(u32) -> Option<Date>) -> Option<(u32, Date)> {
    if from > to {
        return None;
    }
    let (mut low, mut high) = (from, to);
    let mut best = (to, ships(to)?);
    while low < high {
        let middle = low + (high - low) / 2;
        match ships(middle) {
            Some(on) => {
                best = (middle, on);
                high = middle;
            }
            None => low = middle + 1,
        }
    }
    Some(best)
}

fn earlier_start(work: &Work, due: Date) -> Option<Remedy> {
    let begun = |days: u32| work.start.value.checked_sub(i64::from(days).days()).ok();
    let (days, ship_on) = least(1, MOST_DAYS_EARLIER, |days| {
        let start = Given { value: begun(days)?, origin: work.start.origin };
        in_time(&Work { start, ..work.clone() }, due)
    })?;
    Some(Remedy::EarlierStart { start: begun(days)?, ship_on })
}

fn more_hours(work: &Work, due: Date) -> Option<Remedy> {
    let (half_hours, ship_on) = least(1, MOST_HALF_HOURS, |n| {
        in_time(&Work { week: work.week.longer(30 * n), ..work.clone() }, due)
    })?;
    Some(Remedy::MoreHours { more_min: 30 * half_hours, ship_on })
}

fn earlier_stones(work: &Work, due: Date) -> Option<Remedy> {
    let last = last_stones(work)?;
    let most = (1..=MOST_DAYS_EARLIER).take_while(|n| {
        let before = work.week.working_day_before(last, *n - 1);
        before.is_some_and(|day| day > work.start.value.date())
    });
    let (working_days, ship_on) =
        least(1, most.last()?, |n| in_time(&stones_earlier(work, n), due))?;
    let last_on = last_stones(&stones_earlier(work, working_days))?;
    Some(Remedy::EarlierStones { working_days, last_on, ship_on })
}

/// The day on which the last stones arrive; none if all are here.
fn last_stones(work: &Work) -> Option<Date> {
    work.pieces.iter().filter(|p| p.copies > 0).filter_map(|p| p.stones_on).max()
}

/// The same work with every delivery so many working days earlier.
pub(super) fn stones_earlier(work: &Work, working_days: u32) -> Work {
    let mut earlier = work.clone();
    for piece in &mut earlier.pieces {
        piece.stones_on =
            piece.stones_on.and_then(|on| work.week.working_day_before(on, working_days));
    }
    earlier
}

fn other_adhesives(work: &Work, due: Date) -> Vec<Remedy> {
    let with = |waits: &super::Waits| {
        let mut other = work.clone();
        for piece in &mut other.pieces {
            piece.waits = waits.clone();
        }
        let ship_on = in_time(&other, due)?;
        Some(Remedy::OtherAdhesive { adhesive: waits.adhesive.clone(), ship_on })
    };
    work.other_adhesives.iter().filter_map(with).collect()
}

fn larger_bench(work: &Work, due: Date) -> Option<Remedy> {
    let all: u32 = work.pieces.iter().map(|p| p.copies).sum();
    let most = all.min(MOST_BENCH);
    let (bench, ship_on) = least(work.bench.value + 1, most, |n| {
        let bench = Given { value: n, origin: work.bench.origin };
        in_time(&Work { bench, ..work.clone() }, due)
    })?;
    Some(Remedy::LargerBench { bench, ship_on })
}

/// Copies are left off from the document's end.
fn fewer_copies(work: &Work, due: Date) -> Option<Remedy> {
    let all: u32 = work.pieces.iter().map(|p| p.copies).sum();
    let (left_off, ship_on) =
        least(1, all.saturating_sub(1), |less| in_time(&first_copies(work, all - less), due))?;
    Some(Remedy::FewerCopies { copies: all - left_off, of: all, ship_on })
}

fn first_copies(work: &Work, copies: u32) -> Work {
    let mut less = work.clone();
    let mut left = copies;
    for piece in &mut less.pieces {
        piece.copies = piece.copies.min(left);
        piece.setting_min.truncate(piece.copies as usize);
        left -= piece.copies;
    }
    less
}
