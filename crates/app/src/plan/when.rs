//! When the order can ship.

use super::bench::{PieceStretches, adhesive_of, adhesives};
use super::{PlanError, market};
use crate::laying::{LaidOrder, LaidPiece};
use jiff::civil::{Date, Time, Weekday};
use lay::{Finding, Severity};
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

/// The day on which work begins: that of the document, but never a day before the plan is made.
fn begins_on(start: Option<Date>, today: Date) -> Given<Date> {
    Given::or_usual(start.filter(|day| *day >= today), today)
}

/// Says so if the document lets work begin on a day that is past.
fn past_start(start: Option<Date>, today: Date) -> Option<Finding> {
    let start = start.filter(|day| *day < today)?;
    let text = format!("`start` is {start}, before the day of the plan: work begins on {today}");
    let hint = format!("correct `start`, or plan for that day with `--on {start}`");
    let mut finding = Finding::new("plan.start-past", Severity::Note, text, hint);
    finding.measured = Some(start.to_string());
    finding.wanted = Some(format!("{today} or later"));
    Some(finding)
}

/// By when stones have to arrive.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Arrival {
    /// The working days that they may take; none if no day is asked for.
    pub(super) within_days: Option<u32>,
    /// Whether the order is late all the same.
    pub(super) late: bool,
}

/// By when stones have to arrive, as far as suppliers differ: the longest lead with which all of the
/// order ships in time; if there is none, the longest of those with which it is least late.
pub(super) fn arrival(
    laid: &LaidOrder,
    week: &Week,
    stretches: &[PieceStretches],
    hours: &Hours,
    today: Date,
) -> Result<Arrival, PlanError> {
    if laid.terms.due.is_none() {
        return Ok(Arrival::default());
    }
    let mut leads: Vec<u32> = laid.terms.suppliers.iter().map(|s| s.lead_days).collect();
    leads.sort_unstable();
    leads.dedup();
    let mut least_late: Option<(Date, u32)> = None;
    for &days in leads.iter().rev() {
        let on = |_: &LaidPiece| week.working_day_after(today, days);
        let (soonest, _) = schedule(&work(laid, week, stretches, hours, &on, today))?;
        if soonest.due_met == Some(true) {
            return Ok(Arrival { within_days: Some(days), late: false });
        }
        if least_late.is_none_or(|(day, _)| soonest.ship_on < day) {
            least_late = Some((soonest.ship_on, days));
        }
    }
    Ok(Arrival { within_days: least_late.map(|l| l.1), late: true })
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
        week.working_day_after(today, days)
    };
    let (schedule, findings) = schedule(&work(laid, week, stretches, hours, &arrival, today))?;
    found.extend(past_start(laid.terms.workshop.start, today));
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
    let start = begins_on(workshop.start, today);
    let pieces = laid.pieces.iter().zip(stretches).zip(&hours.pieces).map(|((p, s), h)| {
        let bench = &p.asked.bench;
        let copy = |n: u32| h.setting.copy_min(n) + h.mixing_min;
        let stretches = s.stretches.stretches.iter().map(|x| x.usual_min);
        // A few stones are set in less than the minute by which a calendar counts.
        let longest = stretches.reduce(f64::max).map(|min| min.max(1.0));
        PieceWork {
            name: p.asked.piece.name.clone(),
            copies: p.asked.quantity,
            set_up_min: Given::usual(h.set_up_min),
            prepare_min: Given::or_usual(bench.prepare_min, PREPARE_MIN),
            dry_min: Given::or_usual(bench.dry_min, DRY_MIN),
            setting_min: (1..=p.asked.quantity).map(copy).collect(),
            // Where no stone lies there is no stretch.
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
        set_up_min: Given {
            value: hours.set_up_min,
            origin: Given::or_usual(workshop.set_up_min, 0.0).origin,
        },
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

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn work_never_begins_before_the_day_of_the_plan() {
        let (start, later) = (date(2026, 12, 1), date(2026, 12, 7));
        assert_eq!(begins_on(Some(start), later), Given::usual(later));
        let finding = past_start(Some(start), later).unwrap();
        assert_eq!((finding.code, finding.severity), ("plan.start-past", Severity::Note));
        assert!(finding.text.contains("2026-12-01") && finding.text.contains("2026-12-07"));
        for on in [start, date(2026, 11, 25)] {
            assert_eq!(begins_on(Some(start), on), Given::document(start));
            assert_eq!(past_start(Some(start), on), None);
        }
        assert_eq!(begins_on(None, later), Given::usual(later));
        assert_eq!(past_start(None, later), None);
    }
}
