//! How the hours came about, and which log entries look wrong.

use super::{ActivityTime, Maker, OrderWork, PaceOf, PieceHours, Rate};
use crate::{Given, Origin, Reason};
use lay::finding::Page;
use lay::{Finding, Severity};
use units::{grouped, trimmed};

/// Paces that published accounts of hand work come near, 80 to 430 stones/h, with room to both
/// sides (ours).
const LIKELY_PER_H: (f64, f64) = (25.0, 1200.0);

/// The findings of this module.
pub(crate) const PAGES: &[Page] = &[Page {
    code: "plan.log-pace",
    what: "An entry of the log says a pace below 25 or above 1,200 stones an hour.",
    why: "Published accounts of setting by hand lie between 80 and 430 stones an hour. One slip of the pen there spoils hours, stretches and price of every order.",
    example: "3,000 stones in 9 min 40 s instead of 9 h 40 min: 18,621 stones an hour.",
    remedy: "Look at the entry's count and time; leave the time out if it is not known.",
}];

/// A finding for each entry of the log with a pace that hands hardly have.
pub(super) fn odd_sessions(maker: &Maker) -> Vec<Finding> {
    let odd = |per_h: f64| !(LIKELY_PER_H.0..=LIKELY_PER_H.1).contains(&per_h);
    let entries = maker.sessions.iter().enumerate();
    entries
        .filter(|(_, s)| odd(s.per_h()))
        .map(|(i, s)| {
            let text = format!(
                "timed entry {} of the log, {} stones in {}, says a pace that hands hardly have",
                i + 1,
                grouped(s.stones),
                clock(s.minutes)
            );
            let hint = "look at its count and time, or leave the time out";
            let per_h = |n: f64| grouped(n.round() as u64);
            Finding::new("plan.log-pace", Severity::Warning, text, hint).with(
                format!("{} stones/h", per_h(s.per_h())),
                format!("{} to {} stones/h", per_h(LIKELY_PER_H.0), per_h(LIKELY_PER_H.1)),
            )
        })
        .collect()
}

/// The reasons of an order's hours: paces, each piece's setting, the total.
pub(super) fn reasons(
    rates: &[(PaceOf, Rate)],
    pieces: &[PieceHours],
    order: &OrderWork,
    activities: &[ActivityTime],
    total_min: f64,
) -> Vec<Reason> {
    let paces = rates.iter().map(|(_, rate)| rate.reason.clone());
    let setting = pieces.iter().map(|p| setting_reason(p, order.learning));
    let total = activities.iter().fold(
        Reason::new("hours of the order", clock(total_min), "set-up of the order and of each piece + copies × (preparing + mixing + packing) + setting of all copies"),
        |reason, a| reason.with(a.activity.words(), clock(a.total_min), Origin::Plan),
    );
    paces.chain(setting).chain([total]).collect()
}

fn setting_reason(piece: &PieceHours, learning: Given<f64>) -> Reason {
    Reason::new(
        format!("setting of {}", piece.piece),
        format!("{}, the last copy {}", clock(piece.setting_min), clock(piece.last_setting_min)),
        "sum over copies n of first copy × n^(log2 b), none below the fast pace (learning curve in \
         unit form, Crawford, from memory; not Wright's cumulative average of 1936; the pace is \
         taken as that of a first copy)",
    )
    .with("stones on one copy", grouped(piece.stones), Origin::Lay)
    .with("first copy", clock(piece.setting.first_min), Origin::Plan)
    .with("at the fast pace", clock(piece.setting.floor_min), Origin::Plan)
    .with("b", trimmed(learning.value, 3), learning.origin)
    .with("copies", grouped(u64::from(piece.copies)), Origin::Document)
}

/// Minutes as a maker reads them: `5 h 20 min`, `3.5 min`.
pub(crate) fn clock(minutes: f64) -> String {
    if minutes < 10.0 {
        return format!("{} min", trimmed(minutes, 1));
    }
    let whole = minutes.round() as u64;
    if whole < 60 {
        return format!("{whole} min");
    }
    format!("{} h {:02} min", grouped(whole / 60), whole % 60)
}
