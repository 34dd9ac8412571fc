//! An order on the calendar: the best way of working, its events, its critical path.

use super::batches::{Batch, Takes};
use super::clock::days_between;
use super::cpm::{TaskTimes, driving_chain, passes};
use super::network::{Node, OnCalendar};
use super::search::{Found, best};
use super::week::DAY_MIN;
use super::{
    Activity, Because, Day, Event, PieceWork, Remedy, Schedule, Step, Waits, Work, WorkError,
    findings, remedies,
};
use crate::Reason;
use jiff::civil::{DateTime, Time};
use lay::Finding;
use units::{grouped, trimmed};

/// Minutes of a year: no single activity of a copy may last longer.
const YEAR_MIN: f64 = 366.0 * 24.0 * 60.0;
/// Copies that one order may have.
const MOST_COPIES: u64 = 20_000;

/// When an order can ship, and everything that happens until then.
///
/// Copies go in batches over the bench. Many fixed ways of working are tried (sizes of batches, how
/// many in play at once, in which order pieces come), and one that ships on the earliest day is taken,
/// with as few batches as do; it need not be the best of all conceivable ones. Times are whole minutes; a batch's activity is rounded
/// up.
///
/// # Errors
/// Counts and minutes out of their range, setting times that do not match the copies, or work that
/// does not end within twenty years.
pub fn schedule(work: &Work) -> Result<(Schedule, Vec<Finding>), WorkError> {
    check(work)?;
    let found = best(work)?;
    let mut plan = plan(work, &found)?;
    if plan.due_met == Some(false) {
        plan.remedies = remedies::tried(work);
    }
    let mut notes = findings::stretches(work);
    notes.extend(findings::late(&plan));
    Ok((plan, notes))
}

fn check(work: &Work) -> Result<(), WorkError> {
    let count = |what: &str, value: u64, least: u64, most: u64| {
        if (least..=most).contains(&value) {
            return Ok(());
        }
        Err(WorkError::Count { what: what.to_owned(), value, least, most })
    };
    count("room on the bench", u64::from(work.bench.value), 1, 10_000)?;
    count("pairs of hands", u64::from(work.hands.value), 1, 2)?;
    let copies: u64 = work.pieces.iter().map(|p| u64::from(p.copies)).sum();
    if copies == 0 {
        return Err(WorkError::Nothing);
    }
    count("copies of all pieces", copies, 1, MOST_COPIES)?;
    in_range("set-up", "the order", work.set_up_min.value)?;
    for piece in &work.pieces {
        count(&format!("sides of `{}`", piece.name), u64::from(piece.sides), 1, 20)?;
        if piece.setting_min.len() != piece.copies as usize {
            return Err(WorkError::SettingTimes {
                piece: piece.name.clone(),
                copies: piece.copies,
                times: piece.setting_min.len(),
            });
        }
        for (what, minutes) in minutes_of(piece, &piece.waits) {
            in_range(what, &piece.name, minutes)?;
        }
        for waits in &work.other_adhesives {
            for (what, minutes) in minutes_of(piece, waits) {
                in_range(what, &waits.adhesive, minutes)?;
            }
        }
        if let Some(stretch) = piece.stretch_min {
            in_range("the stretch", &piece.name, stretch.value)?;
        }
    }
    Ok(())
}

fn minutes_of(piece: &PieceWork, waits: &Waits) -> Vec<(&'static str, f64)> {
    let mut all = vec![
        ("set-up", piece.set_up_min.value),
        ("preparation", piece.prepare_min.value),
        ("drying", piece.dry_min.value),
        ("turning", piece.turn_min.value),
        ("packing", piece.pack_min.value),
        ("the time until it can be handled", waits.handle_min.value),
        ("cure", waits.cure_min.value),
    ];
    all.extend(piece.setting_min.iter().map(|m| ("setting", *m)));
    all
}

fn in_range(what: &'static str, of: &str, minutes: f64) -> Result<(), WorkError> {
    if (0.0..=YEAR_MIN).contains(&minutes) {
        return Ok(());
    }
    Err(WorkError::Minutes { what, piece: of.to_owned(), minutes })
}

fn plan(work: &Work, found: &Found) -> Result<Schedule, WorkError> {
    let (batches, nodes) = found.replay(work);
    let setting = found.setting();
    let on_calendar = OnCalendar { batches: &batches, setting: &setting, nodes: &nodes };
    let before: Vec<Vec<usize>> = nodes.iter().map(|n| n.before.clone()).collect();
    let times = passes(&before, &on_calendar);
    debug_assert!(
        times.iter().zip(&nodes).all(|(t, n)| t.earliest_end_min == n.end),
        "the forward pass repeats the run"
    );
    let held = |task: usize, ready: i64| on_calendar.stones_at(task) > ready;
    let chain = driving_chain(&before, &times, held);
    let too_long = || WorkError::TooLong { years: super::clock::HORIZON_YEARS };
    let shown = Shown { work, found, batches: &batches, nodes: &nodes, times: &times };
    let events = shown.events(&chain).ok_or_else(too_long)?;
    let critical_path = shown.steps(&chain, &on_calendar).ok_or_else(too_long)?;
    let ready_at = found.clock.datetime(found.end).ok_or_else(too_long)?;
    let ship_on = ready_at.date();
    let late = work.due.map_or(0, |due| days_between(due, ship_on).max(0));
    let days = days(&events);
    let hands_on_min = days.iter().map(|d| d.hands_on_min).sum();
    let mut plan = Schedule {
        ready_at,
        ship_on,
        due: work.due,
        due_met: work.due.map(|due| ship_on <= due),
        late_days: late as u32,
        batch_copies: batches.iter().map(Batch::copies).max().unwrap_or(0),
        bench_copies: shown.bench_copies(),
        hands_on_min,
        days,
        events,
        critical_path,
        remedies: Vec::<Remedy>::new(),
        reasons: vec![],
    };
    plan.reasons = reasons(work, found, &plan);
    Ok(plan)
}

/// What is needed to show nodes as events and steps.
struct Shown<'a> {
    work: &'a Work,
    found: &'a Found,
    batches: &'a [Batch],
    nodes: &'a [Node],
    times: &'a [TaskTimes],
}

impl Shown<'_> {
    /// Every activity, cut where working hours are; by beginning. None beyond the last year.
    fn events(&self, chain: &[usize]) -> Option<Vec<Event>> {
        let mut critical = vec![false; self.nodes.len()];
        for node in chain {
            critical[*node] = true;
        }
        let mut events = vec![];
        for (i, node) in self.nodes.iter().enumerate() {
            let Some(step_idx) = node.step else { continue };
            let batch = &self.batches[node.batch];
            let step = &batch.steps[step_idx];
            let float = self.times[i].float_min().max(0);
            for (part, (from, to)) in self.parts(&step.takes, i)?.into_iter().enumerate() {
                events.push(Event {
                    piece: self.work.pieces[batch.piece].name.clone(),
                    batch: batch.number,
                    first_copy: batch.first,
                    last_copy: batch.last,
                    activity: step.activity,
                    side: step.side,
                    part: part as u32 + 1,
                    hands: node.hands.map(|h| h as u32 + 1),
                    starts_at: self.found.clock.datetime(from)?,
                    ends_at: self.found.clock.datetime(to)?,
                    float_min: float as u64,
                    critical: critical[i],
                });
            }
        }
        // Stable: equal times stay in the order of work.
        events.sort_by_key(|e| (e.starts_at, e.ends_at));
        Some(events)
    }

    /// The most copies that lie on the bench at one time.
    fn bench_copies(&self) -> u32 {
        let mut lies: Vec<Option<(i64, i64)>> = vec![None; self.batches.len()];
        for (node, times) in self.nodes.iter().zip(self.times) {
            let batch = &self.batches[node.batch];
            let Some(step) = node.step.filter(|s| *s < batch.on_bench) else { continue };
            if batch.steps[step].activity != Activity::SettingUp {
                let from = lies[node.batch].map_or(times.earliest_start_min, |l| l.0);
                lies[node.batch] = Some((from, times.earliest_end_min));
            }
        }
        let mut changes: Vec<(i64, i64)> = vec![];
        for (batch, (from, to)) in self.batches.iter().zip(lies).filter_map(|(b, l)| Some((b, l?)))
        {
            let copies = i64::from(batch.copies());
            changes.extend([(from, copies), (to, -copies)]);
        }
        // Of one minute, what leaves comes first.
        changes.sort_unstable();
        let (mut now, mut most) = (0, 0);
        for (_, change) in changes {
            now += change;
            most = most.max(now);
        }
        most as u32
    }

    /// Beginnings and ends of a node's uninterrupted parts.
    fn parts(&self, takes: &Takes, node: usize) -> Option<Vec<(i64, i64)>> {
        let times = self.times[node];
        let Takes::Hands(blocks) = takes else {
            return Some(vec![(times.earliest_start_min, times.earliest_end_min)]);
        };
        let mut parts: Vec<(i64, i64)> = vec![];
        let mut at = times.earliest_start_min;
        for len in blocks {
            let from = self.found.clock.earliest(at, *len)?;
            at = from + len;
            match parts.last_mut() {
                // Cut at midnight, so that every event belongs to one day.
                Some(last) if last.1 == from && from % DAY_MIN != 0 => last.1 = at,
                _ => parts.push((from, at)),
            }
        }
        Some(parts)
    }

    /// The chain without its waits for a place, each step with what it had to wait for.
    fn steps(&self, chain: &[usize], on_calendar: &OnCalendar) -> Option<Vec<Step>> {
        let mut steps = vec![];
        let mut last: Option<usize> = None;
        let mut by_bench = false;
        for node in chain {
            let n = &self.nodes[*node];
            let Some(step) = on_calendar.step(*node) else {
                by_bench = true;
                continue;
            };
            let because = match last {
                None if on_calendar.stones_at(*node) > self.found.start => Because::Delivery,
                None => Because::Start,
                Some(_) if by_bench => Because::Bench,
                Some(before) if self.nodes[before].batch == n.batch => Because::Batch,
                Some(_) => Because::Hands,
            };
            let batch = &self.batches[n.batch];
            steps.push(Step {
                piece: self.work.pieces[batch.piece].name.clone(),
                batch: batch.number,
                activity: step.activity,
                side: step.side,
                starts_at: self.found.clock.datetime(self.times[*node].earliest_start_min)?,
                ends_at: self.found.clock.datetime(self.times[*node].earliest_end_min)?,
                because,
            });
            last = Some(*node);
            by_bench = false;
        }
        Some(steps)
    }
}

/// Hands-on minutes day by day. No hands-on event runs over midnight.
fn days(events: &[Event]) -> Vec<Day> {
    let mut days: Vec<Day> = vec![];
    for event in events.iter().filter(|e| e.hands.is_some()) {
        let minutes = minutes_between(event.starts_at, event.ends_at);
        let date = event.starts_at.date();
        match days.last_mut() {
            Some(day) if day.date == date => day.hands_on_min += minutes,
            _ => days.push(Day { date, hands_on_min: minutes }),
        }
    }
    days
}

/// Whole minutes from `a` to a later `b` of the same day, or its end.
fn minutes_between(a: DateTime, b: DateTime) -> u64 {
    let days = days_between(a.date(), b.date());
    let minute = |t: DateTime| i64::from(t.hour()) * 60 + i64::from(t.minute());
    (days * DAY_MIN + minute(b) - minute(a)).max(0) as u64
}

/// A day, with the time of day unless that is its beginning.
fn moment(at: DateTime) -> String {
    if at.time() == Time::midnight() {
        return at.date().to_string();
    }
    at.strftime("%Y-%m-%d %H:%M").to_string()
}

fn reasons(work: &Work, found: &Found, plan: &Schedule) -> Vec<Reason> {
    let copies: u64 = work.pieces.iter().map(|p| u64::from(p.copies)).sum();
    let mut ship = Reason::new(
        "earliest ship date",
        plan.ship_on.to_string(),
        format!(
            "hands-on work within working hours, waits on the clock, at most a bench full of blanks at once; the earliest of {} ways of working that were tried",
            grouped(u64::from(found.tried))
        ),
    )
    .with("start", moment(work.start.value), work.start.origin)
    .with("bench", format!("{} blanks", work.bench.value), work.bench.origin)
    .with("pairs of hands", work.hands.value.to_string(), work.hands.origin)
    .with("copies", copies.to_string(), crate::Origin::Document)
    .with("copies in a batch", plan.batch_copies.to_string(), crate::Origin::Plan)
    .with("copies on the bench at one time", plan.bench_copies.to_string(), crate::Origin::Plan);
    for piece in &work.pieces {
        let waits = &piece.waits;
        let hours = |min: f64| format!("{} h", trimmed(min / 60.0, 1));
        ship = ship
            .with(
                format!("handling of `{}` with {}", piece.name, waits.adhesive),
                hours(waits.handle_min.value),
                waits.handle_min.origin,
            )
            .with(
                format!("cure of `{}` with {}", piece.name, waits.adhesive),
                hours(waits.cure_min.value),
                waits.cure_min.origin,
            );
    }
    let mut hands = Reason::new(
        "hands-on time",
        format!("{} min", grouped(plan.hands_on_min)),
        "set-up, once, + preparation + setting + turning + packing, over all copies, each batch's activity rounded up to a minute",
    )
    .with(
        "set-up of the order",
        format!("{} min", trimmed(work.set_up_min.value, 1)),
        work.set_up_min.origin,
    );
    for piece in &work.pieces {
        let setting: f64 = piece.setting_min.iter().sum();
        let each = |g: crate::Given<f64>| format!("{} min a copy", trimmed(g.value, 1));
        hands = hands
            .with(
                format!("set-up of `{}`", piece.name),
                format!("{} min", trimmed(piece.set_up_min.value, 1)),
                piece.set_up_min.origin,
            )
            .with(
                format!("preparation of `{}`", piece.name),
                each(piece.prepare_min),
                piece.prepare_min.origin,
            )
            .with(
                format!("setting of `{}`, all copies", piece.name),
                format!("{} min", trimmed(setting, 1)),
                crate::Origin::Plan,
            );
        if piece.sides > 1 {
            let turned = f64::from(piece.sides - 1) * piece.turn_min.value;
            let turned = crate::Given { value: turned, origin: piece.turn_min.origin };
            hands = hands.with(format!("turning of `{}`", piece.name), each(turned), turned.origin);
        }
        hands = hands.with(
            format!("packing of `{}`", piece.name),
            each(piece.pack_min),
            piece.pack_min.origin,
        );
    }
    vec![ship, hands]
}
