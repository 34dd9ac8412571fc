//! When the order can ship: day by day, what decides it, what would help.

use super::summary::day;
use super::table::{time, watch, work};
use crate::output::{counted, wrapped};
use app::plan::{Part, Plan};
use planning::calendar::{Activity, Because, Event, Step};

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
    for run in c.critical_path.chunk_by(alike) {
        text += &decides(run);
    }
    text + &watch(plan.findings_of(Part::Calendar))
}

/// Whether two steps of the critical path are one thing to a maker: hands at one piece, batch after
/// batch, or the same wait.
fn alike(a: &Step, b: &Step) -> bool {
    a.piece == b.piece && (a.activity == b.activity || by_hand(a.activity) && by_hand(b.activity))
}

fn by_hand(a: Activity) -> bool {
    !matches!(a, Activity::Drying | Activity::Handling | Activity::Curing)
}

fn decides(run: &[Step]) -> String {
    let (Some(first), Some(last)) = (run.first(), run.last()) else { return String::new() };
    let mut done: Vec<&str> = vec![];
    for step in run {
        if !done.contains(&words(step.activity)) {
            done.push(words(step.activity));
        }
    }
    let side = first.side.filter(|n| *n > 1).map_or(String::new(), |n| format!(", side {n}"));
    let (least, most) =
        run.iter().fold((u32::MAX, 0), |(l, m), s| (l.min(s.batch), m.max(s.batch)));
    let batches =
        if least == most { format!("batch {least}") } else { format!("batches {least}–{most}") };
    let said = format!(
        "{} to {}  {}, {batches}{side}: {} ({})",
        first.starts_at.strftime("%a %-d %b %H:%M"),
        last.ends_at.strftime("%a %-d %b %H:%M"),
        first.piece,
        done.join(" and "),
        because(first.because)
    );
    wrapped(&said, "  ", "    ") + "\n"
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
