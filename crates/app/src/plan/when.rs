//! When the order can ship.

use super::bench::{PieceStretches, adhesive_of, adhesives};
use super::{PlanError, market};
use crate::laying::{LaidOrder, LaidPiece};
use jiff::civil::{Date, Time, Weekday};
use lay::Finding;
use planning::adhesive::{Adhesive, AdhesiveSort, Label};
use planning::buying::Purchase;
use planning::calendar::{
    Hours as DayHours, PieceWork, Schedule, Waits, Week, Work, WorkError, schedule,
};
use planning::hours::{Hours, PACKING_MIN, PREPARE_MIN};
use planning::{Given, Origin};

/// Blanks side by side where nothing is said. Ours, no source.
const BENCH: u32 = 4;
/// Until a washed or primed blank is dry, min. Ours, no source.
const DRY_MIN: f64 = 60.0;
/// Turning a piece to its next side, min. Ours, no source.
const TURN_MIN: f64 = 2.0;

/// The maker's working week.
pub(super) fn week(laid: &LaidOrder) -> Result<Week, PlanError> {
    let workshop = &laid.terms.workshop;
    let usual = || {
        let clock = |h: i8, m: i8| Time::constant(h, m, 0, 0);
        vec![(clock(9, 0), clock(12, 30)), (clock(13, 30), clock(17, 0))]
    };
    let hours: Vec<DayHours> = workshop
        .hours
        .clone()
        .unwrap_or_else(usual)
        .into_iter()
        .map(|(from, to)| DayHours { from_min: minute(from), to_min: minute(to) })
        .collect();
    let days = workshop.days.clone().unwrap_or_else(|| {
        use Weekday::{Friday, Monday, Thursday, Tuesday, Wednesday};
        vec![Monday, Tuesday, Wednesday, Thursday, Friday]
    });
    Ok(Week::same(&days, &hours, &workshop.closed).map_err(WorkError::from)?)
}

/// Minutes after midnight; the last instant of a day is its end.
fn minute(time: Time) -> u32 {
    if time == Time::MAX { 1440 } else { time.hour() as u32 * 60 + time.minute() as u32 }
}

/// The day on which stones are ordered: that of the plan, or the day on which work begins if that is
/// past.
fn ordered_on(laid: &LaidOrder, today: Date) -> Date {
    laid.terms.workshop.start.map_or(today, |start| start.min(today))
}

/// The working days that stones may take to arrive without the order being late, as far as suppliers
/// differ: the longest lead with which all of it ships in time. None if no day is asked for, or if
/// it would be late with any.
pub(super) fn slack_days(
    laid: &LaidOrder,
    week: &Week,
    stretches: &[PieceStretches],
    hours: &Hours,
    today: Date,
) -> Result<Option<u32>, PlanError> {
    if laid.terms.due.is_none() {
        return Ok(None);
    }
    let mut leads: Vec<u32> = laid.terms.suppliers.iter().map(|s| s.lead_days).collect();
    leads.sort_unstable();
    leads.dedup();
    for &days in leads.iter().rev() {
        let arrival = |_: &LaidPiece| week.working_day_after(ordered_on(laid, today), days);
        let (soonest, _) = schedule(&work(laid, week, stretches, hours, &arrival, today))?;
        if soonest.due_met == Some(true) {
            return Ok(Some(days));
        }
    }
    Ok(None)
}

/// The calendar, with the deliveries in it.
pub(super) fn calendar(
    laid: &LaidOrder,
    week: &Week,
    stretches: &[PieceStretches],
    hours: &Hours,
    purchase: &Purchase,
    today: Date,
    found: &mut Vec<Finding>,
) -> Result<Schedule, PlanError> {
    let arrival = |p: &LaidPiece| {
        let days = market::lead_days(purchase, p)?;
        week.working_day_after(ordered_on(laid, today), days)
    };
    let (schedule, findings) = schedule(&work(laid, week, stretches, hours, &arrival, today))?;
    found.extend(findings);
    Ok(schedule)
}

fn work(
    laid: &LaidOrder,
    week: &Week,
    stretches: &[PieceStretches],
    hours: &Hours,
    arrival: &dyn Fn(&LaidPiece) -> Option<Date>,
    today: Date,
) -> Work {
    let workshop = &laid.terms.workshop;
    let adhesives = adhesives(laid);
    let start = Given::or_usual(workshop.start, today);
    let pieces = laid.pieces.iter().zip(stretches).zip(&hours.pieces).map(|((p, s), h)| {
        let bench = &p.asked.bench;
        let copy = |n: u32| h.setting.copy_min(n) + h.mixing_min;
        let stretches = s.stretches.stretches.iter().map(|x| x.usual_min);
        // A few stones are set in less than the minute by which a calendar counts.
        let longest = stretches.reduce(f64::max).map(|min| min.max(1.0));
        PieceWork {
            name: p.asked.piece.name.clone(),
            copies: p.asked.quantity,
            prepare_min: Given::or_usual(bench.prepare_min, PREPARE_MIN),
            dry_min: Given::or_usual(bench.dry_min, DRY_MIN),
            setting_min: (1..=p.asked.quantity).map(copy).collect(),
            stretch_min: s
                .stretches
                .open_min
                .and(longest)
                .map(|value| Given { value, origin: Origin::Plan }),
            waits: waits(&adhesives[adhesive_of(laid, bench)]),
            sides: bench.sides.unwrap_or(1),
            turn_min: Given::usual(TURN_MIN),
            cure_before_turn: false,
            pack_min: Given::or_usual(bench.pack_min, PACKING_MIN),
            stones_on: arrival(p),
        }
    });
    Work {
        week: week.clone(),
        start: Given { value: start.value.at(0, 0, 0, 0), origin: start.origin },
        due: laid.terms.due,
        bench: Given::or_usual(workshop.bench, BENCH),
        hands: Given::usual(1),
        pieces: pieces.collect(),
        other_adhesives: others(),
    }
}

/// How long an adhesive makes one wait: its label, or the usual of its sort. A label that says what
/// cannot be was refused when stretches were cut.
fn waits(adhesive: &Adhesive) -> Waits {
    let usual = adhesive.sort.values();
    Waits {
        adhesive: adhesive.name.clone(),
        handle_min: Given::or_usual(adhesive.label.handle_min, usual.handle_min.taken),
        cure_min: Given::or_usual(adhesive.label.cure_min, usual.cure_min.taken),
    }
}

/// Sorts to try if the order would be late, the quickest to cure last.
fn others() -> Vec<Waits> {
    let sorts =
        [AdhesiveSort::SolventGel, AdhesiveSort::FiveMinuteEpoxy, AdhesiveSort::AdhesiveSheet];
    let usual = |sort: AdhesiveSort| Adhesive {
        name: sort.name().to_owned(),
        sort,
        label: Label::default(),
    };
    sorts.map(usual).iter().map(waits).collect()
}
