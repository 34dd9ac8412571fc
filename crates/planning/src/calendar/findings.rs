//! What is worth knowing about a calendar.

use super::batches::whole_stretch;
use super::{Because, Remedy, Schedule, Work};
use lay::finding::Page;
use lay::{Finding, Severity};
use units::trimmed;

pub(crate) const PAGES: &[Page] = &[
    Page {
        code: "plan.hours-short",
        what: "No working time without a break is long enough for a stretch for which adhesive stays open.",
        why: "The calendar has to cut the stretch, and adhesive that is spread would skin over during the break or over night.",
        example: "Stretches of four hours of slow resin, working from 09:00 to 12:30 and 13:30 to 17:00.",
        remedy: "Work one longer stretch of hours, or set in shorter stretches.",
    },
    Page {
        code: "plan.late",
        what: "The whole order cannot ship by the day it is due.",
        why: "A promise is broken weeks before anybody notices at the bench.",
        example: "12 badges with a cure of three days, begun on Monday, due on Wednesday.",
        remedy: "Each change under `remedies` meets the day by itself; it was tried, not guessed.",
    },
    Page {
        code: "plan.start-past",
        what: "The document lets work begin on a day that is past when the plan is made.",
        why: "Nobody works on a day that is over: work begins on the day of the plan instead.",
        example: "`start = \"2026-12-01\"`, planned on 2026-12-07.",
        remedy: "Correct `start`, or leave it out; plan with the day itself to see the plan as it was.",
    },
];

/// By how much an order is late, and what would help.
pub(super) fn late(plan: &Schedule) -> Option<Finding> {
    let due = plan.due.filter(|_| plan.due_met == Some(false))?;
    let days = if plan.late_days == 1 { "day" } else { "days" };
    let ways: Vec<String> = plan.remedies.iter().map(shown).collect();
    let text =
        format!("the order ships {} {days} after it is due{}", plan.late_days, decides(plan));
    let hint = if ways.is_empty() {
        "nothing that was tried meets the day by itself: start, hours, stones, adhesive, bench, \
         number of copies; ask for a later day"
            .to_owned()
    } else {
        ways.join(", or ")
    };
    let finding = Finding::new("plan.late", Severity::Serious, text, hint);
    Some(finding.with(format!("ships on {}", plan.ship_on), format!("ships by {due}")))
}

/// What holds the order up from outside the work itself.
fn decides(plan: &Schedule) -> &'static str {
    let by = |because| plan.critical_path.iter().any(|s| s.because == because);
    match (by(Because::Bench), by(Because::Delivery)) {
        (true, true) => "; the room on the bench and the delivery of stones hold it up",
        (true, false) => "; the room on the bench holds it up",
        (false, true) => "; the delivery of stones holds it up",
        (false, false) => "",
    }
}

fn shown(remedy: &Remedy) -> String {
    match remedy {
        Remedy::EarlierStart { start, .. } => format!("begin by {}", start.date()),
        Remedy::EarlierStones { working_days, last_on, .. } => {
            let days = if *working_days == 1 { "day" } else { "days" };
            format!("have all stones {working_days} working {days} earlier, by {last_on}")
        }
        Remedy::MoreHours { more_min, .. } => {
            format!("work {} h longer every day", trimmed(f64::from(*more_min) / 60.0, 1))
        }
        Remedy::OtherAdhesive { adhesive, .. } => format!("set with {adhesive}"),
        Remedy::LargerBench { bench, .. } => {
            format!("make room for {bench} blanks side by side")
        }
        Remedy::FewerCopies { copies, of, .. } => {
            format!("send the first {copies} of {of} copies in time")
        }
    }
}

/// Stretches that no working time holds.
pub(super) fn stretches(work: &Work) -> Vec<Finding> {
    let longest = f64::from(work.week.longest_min());
    let mut all = vec![];
    for piece in &work.pieces {
        let Some(stretch) = piece.stretch_min else { continue };
        let most = piece.setting_min.iter().copied().fold(0.0, f64::max) / f64::from(piece.sides);
        let stretch_min = whole_stretch(stretch.value.min(most));
        if stretch_min <= longest {
            continue;
        }
        let (stretch_min, longest) = (trimmed(stretch_min, 0), trimmed(longest, 0));
        let text = format!(
            "a stretch of `{}` takes {stretch_min} min and the longest working time without a break is {longest} min: adhesive lies open over a break or a night",
            piece.name
        );
        let hint = "work longer hours in one go, or set in shorter stretches";
        all.push(
            Finding::new("plan.hours-short", Severity::Serious, text, hint).with(
                format!("{longest} min"),
                format!("at least {stretch_min} min without a break"),
            ),
        );
    }
    all
}
