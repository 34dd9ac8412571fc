//! When the order can ship: day by day, what decides it, what would help.

use super::summary::day;
use super::table::{time, watch, work};
use crate::output::{counted, wrapped};
use app::plan::{Part, Plan};
use planning::calendar::{Activity, Because, Event};

/// The calendar of the order.
pub(super) fn text(plan: &Plan) -> String {
    let c = &plan.calendar;
    let due = match (c.due, c.due_met) {
        (Some(due), Some(true)) => format!(", in time for {}", day(due)),
        (Some(due), _) => {
            format!(", {} late for {}", counted(c.late_days as usize, "day"), day(due))
        }
        _ => String::new(),
    };
    let mut text = format!("ready {}{due}\n", day(c.ship_on));
    let head = format!(
        "{} at the bench on {}, up to {} side by side",
        work(c.hands_on_min as f64),
        counted(c.days.len(), "day"),
        counted(c.bench_copies as usize, "blank")
    );
    text += &(wrapped(&head, "", "  ") + "\n");
    for d in &c.days {
        text += &format!("\n{}, {}\n", day(d.date), time(d.hands_on_min as f64));
        for e in c.events.iter().filter(|e| e.hands.is_some() && e.starts_at.date() == d.date) {
            text += &line(e);
        }
    }
    text += "\nWhat decides the day\n";
    for s in &c.critical_path {
        let side = s.side.map_or(String::new(), |n| format!(", side {n}"));
        let said = format!(
            "{} to {}  {} {}, batch {}{side} ({})",
            s.starts_at.strftime("%a %-d %b %H:%M"),
            s.ends_at.strftime("%a %-d %b %H:%M"),
            words(s.activity),
            s.piece,
            s.batch,
            because(s.because)
        );
        text += &(wrapped(&said, "  ", "    ") + "\n");
    }
    text + &watch(plan.findings_of(Part::Calendar))
}

fn line(e: &Event) -> String {
    let copies = if e.first_copy == e.last_copy {
        format!("{}", e.first_copy)
    } else {
        format!("{}–{}", e.first_copy, e.last_copy)
    };
    let more = if e.part > 1 { ", going on" } else { "" };
    format!(
        "  {}–{}  {} {} {copies}{more}\n",
        e.starts_at.strftime("%H:%M"),
        e.ends_at.strftime("%H:%M"),
        words(e.activity),
        e.piece,
    )
}

/// An activity in a maker's words.
pub(super) fn words(a: Activity) -> &'static str {
    match a {
        Activity::SettingUp => "setting up",
        Activity::Preparing => "preparing",
        Activity::Drying => "drying",
        Activity::Setting => "setting",
        Activity::Handling => "waiting until it can be handled",
        Activity::Turning => "turning",
        Activity::Curing => "curing",
        Activity::Packing => "packing",
    }
}

fn because(b: Because) -> &'static str {
    match b {
        Because::Start => "work begins",
        Because::Delivery => "its stones arrive",
        Because::Batch => "after what came before",
        Because::Hands => "hands were elsewhere",
        Because::Bench => "the bench was full",
    }
}
