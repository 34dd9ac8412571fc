//! When the order can ship.

use super::bench::{Gluing, PieceStretches};
use super::{PlanError, market};
use crate::laying::{LaidOrder, LaidPiece};
use jiff::civil::Date;
use lay::{Finding, Severity};
use planning::adhesive::{Adhesive, AdhesiveSort, Label};
use planning::buying::Purchase;
use planning::calendar::{
    PieceWork, Schedule, USUAL_DAYS, USUAL_HOURS, Waits, Week, Work, WorkError, schedule,
};
use planning::glue::GlueError;
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
    let hours = workshop.hours.as_deref().unwrap_or(&USUAL_HOURS);
    let days = workshop.days.as_deref().unwrap_or(&USUAL_DAYS);
    Ok(Week::same(days, hours, &workshop.closed).map_err(WorkError::from)?)
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
    let finding = Finding::new("plan.start-past", Severity::Note, text, hint);
    Some(finding.with(start.to_string(), format!("{today} or later")))
}

/// What a calendar is made of, but for the day on which stones arrive.
#[derive(Clone, Copy)]
pub(super) struct Job<'a> {
    /// The order.
    pub(super) laid: &'a LaidOrder,
    /// What it is glued with.
    pub(super) gluing: &'a Gluing,
    /// The bench order of each piece.
    pub(super) stretches: &'a [PieceStretches],
    /// The hours of each piece.
    pub(super) hours: &'a Hours,
    /// The maker's working week.
    pub(super) week: &'a Week,
    /// The day of the plan: stones are ordered on it.
    pub(super) today: Date,
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
pub(super) fn arrival(job: Job<'_>) -> Result<Arrival, PlanError> {
    let terms = &job.laid.terms;
    if terms.due.is_none() {
        return Ok(Arrival::default());
    }
    let mut leads: Vec<u32> = terms.suppliers.iter().map(|s| s.lead_days).collect();
    leads.sort_unstable();
    leads.dedup();
    let mut least_late: Option<(Date, u32)> = None;
    for &days in leads.iter().rev() {
        let on = |_: &LaidPiece| job.week.working_day_after(job.today, days);
        let (soonest, _) = schedule(&work(job, &on)?)?;
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
    job: Job<'_>,
    purchase: &Purchase,
    found: &mut Vec<Finding>,
) -> Result<Schedule, PlanError> {
    let arrival = |p: &LaidPiece| {
        let days = market::lead_days(purchase, p)?;
        job.week.working_day_after(job.today, days)
    };
    let (schedule, findings) = schedule(&work(job, &arrival)?)?;
    found.extend(past_start(job.laid.terms.workshop.start, job.today));
    found.extend(findings);
    Ok(schedule)
}

fn work(job: Job<'_>, arrival: &dyn Fn(&LaidPiece) -> Option<Date>) -> Result<Work, PlanError> {
    let Job { laid, gluing, stretches, hours, week, today } = job;
    let workshop = &laid.terms.workshop;
    let start = begins_on(workshop.start, today);
    let pieces = laid.pieces.iter().zip(stretches).zip(&hours.pieces).enumerate();
    let pieces = pieces.map(|(i, ((p, s), h))| {
        let bench = &p.asked.bench;
        let copy = |n: u32| h.setting.copy_min(n) + h.mixing_min;
        let stretches = s.stretches.stretches.iter().map(|x| x.usual_min);
        // A few stones are set in less than the minute by which a calendar counts.
        let longest = stretches.reduce(f64::max).map(|min| min.max(1.0));
        Ok(PieceWork {
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
            waits: waits(gluing.adhesive(i))?,
            sides: bench.sides.unwrap_or(1),
            turn_min: Given::usual(TURN_MIN),
            cure_before_turn: false,
            pack_min: Given::or_usual(bench.pack_min, PACKING_MIN),
            stones_on: arrival(p),
        })
    });
    Ok(Work {
        week: week.clone(),
        start: Given { value: start.value.at(0, 0, 0, 0), origin: start.origin },
        due: laid.terms.due,
        bench: Given::or_usual(workshop.bench, BENCH),
        hands: Given::usual(1),
        set_up_min: Given {
            value: hours.set_up_min,
            origin: Given::or_usual(workshop.set_up_min, 0.0).origin,
        },
        pieces: pieces.collect::<Result<_, PlanError>>()?,
        other_adhesives: others()?,
    })
}

/// How long an adhesive makes one wait.
fn waits(adhesive: &Adhesive) -> Result<Waits, PlanError> {
    let facts = adhesive.facts().map_err(GlueError::from)?;
    Ok(Waits {
        adhesive: adhesive.name.clone(),
        handle_min: facts.handle_min,
        cure_min: facts.cure_min,
    })
}

/// Sorts to try if the order would be late, the quickest to cure last.
fn others() -> Result<Vec<Waits>, PlanError> {
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
