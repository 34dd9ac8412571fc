//! What is worth knowing about a calendar.

use super::{Remedy, Schedule, Work};
use lay::finding::Page;
use lay::{Finding, Severity};
use units::trimmed;

pub(crate) const PAGES: &[Page] = &[
    Page {
        code: "plan.late",
        what: "The whole order cannot ship by the day it is due.",
        why: "A promise is broken weeks before anybody notices at the bench.",
        example: "12 badges with a cure of three days, begun on Monday, due on Wednesday.",
        remedy: "Each change under `remedies` meets the day by itself; it was tried, not guessed.",
    },
    Page {
        code: "plan.long-stretch",
        what: "A stretch for which adhesive stays open is longer than the longest working time without a break.",
        why: "The calendar has to cut it, and adhesive would skin over during the break.",
        example: "Stretches of four hours of slow resin, working from 09:00 to 12:30 and 13:30 to 17:00.",
        remedy: "Work one longer stretch of hours, or set in shorter stretches.",
    },
];

/// By how much an order is late, and what would help.
pub(super) fn late(plan: &Schedule) -> Option<Finding> {
    let due = plan.due.filter(|_| plan.due_met == Some(false))?;
    let days = if plan.late_days == 1 { "day" } else { "days" };
    let ways: Vec<String> = plan.remedies.iter().map(shown).collect();
    Some(Finding {
        code: "plan.late",
        severity: Severity::Serious,
        zone: None,
        place: None,
        measured: Some(format!("ships on {}", plan.ship_on)),
        wanted: Some(format!("ships by {due}")),
        text: format!("the order ships {} {days} after it is due", plan.late_days),
        hint: if ways.is_empty() {
            "nothing that was tried meets the day by itself: start, hours, adhesive, bench, number of copies; ask for a later day".into()
        } else {
            ways.join(", or ")
        },
    })
}

fn shown(remedy: &Remedy) -> String {
    match remedy {
        Remedy::EarlierStart { start, .. } => {
            format!("begin by {} {}", start.date(), start.strftime("%H:%M"))
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

/// Stretches that a break would cut.
pub(super) fn stretches(work: &Work) -> Vec<Finding> {
    let longest = f64::from(work.week.longest_min());
    let mut all = vec![];
    for piece in &work.pieces {
        let Some(stretch) = piece.stretch_min else { continue };
        let most = piece.setting_min.iter().copied().fold(0.0, f64::max) / f64::from(piece.sides);
        if stretch.value.min(most) <= longest {
            continue;
        }
        all.push(Finding {
            code: "plan.long-stretch",
            severity: Severity::Warning,
            zone: None,
            place: None,
            measured: Some(format!("{} min", trimmed(stretch.value.min(most), 0))),
            wanted: Some(format!(
                "at most {} min, the longest time without a break",
                trimmed(longest, 0)
            )),
            text: format!(
                "a stretch of `{}` does not fit between two breaks, and is cut",
                piece.name
            ),
            hint: "work longer hours in one go, or set in shorter stretches".into(),
        });
    }
    all
}
