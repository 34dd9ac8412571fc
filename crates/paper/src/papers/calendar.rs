//! The calendar: day by day what is done, what dries and what is posted.

use super::Papers;
use super::bench::range;
use super::blocks::{Block, Blocks, Cell, Table, fact, fixed, wide};
use crate::PaperError;
use jiff::civil::{Date, DateTime};
use planning::calendar::{Activity, Event};

/// The calendar of an order.
pub(super) fn calendar(papers: &Papers<'_>) -> Result<Blocks, PaperError> {
    let n = papers.options.notation;
    let c = &papers.plan.calendar;
    let mut facts = papers.dated();
    facts.push(fact("At the bench", n.span(c.hands_on_min as f64)));
    facts.push(fact("Ships on", n.weekday(c.ship_on)));
    if let Some(due) = c.due {
        let late = if c.due_met == Some(false) { ", late" } else { "" };
        facts.push(fact("Asked for", format!("{}{late}", n.weekday(due))));
    }
    let mut blocks = vec![];
    for (day, lines) in days(papers) {
        let hands = c.days.iter().find(|d| d.date == day).map_or(0, |d| d.hands_on_min);
        let work = if hands > 0 {
            format!(" · {} at the bench", n.span(hands as f64))
        } else {
            String::new()
        };
        blocks.push(Block::heading(format!("{}{work}", n.weekday(day))));
        let mut table = Table::new(vec![
            fixed("Done", 10.0),
            fixed("From", 13.0),
            fixed("To", 38.0),
            wide("What"),
            fixed("Piece", 40.0),
            fixed("Copies", 18.0).figures(),
        ]);
        lines.into_iter().for_each(|l| table.row(l.cells(papers, day)));
        blocks.push(Block::Table(table));
    }
    Ok(Blocks { kind: "Calendar", name: papers.laid.name.clone(), facts, blocks })
}

/// What happens to some copies of a piece on one day.
struct Line {
    what: String,
    /// Whether hands do it, so that it can be ticked off; what dries or cures does so by itself.
    by_hand: bool,
    piece: String,
    copies: Option<(u32, u32)>,
    hours: Option<(DateTime, DateTime)>,
}

impl Line {
    fn cells(self, papers: &Papers<'_>, day: Date) -> Vec<Cell> {
        let n = papers.options.notation;
        let to = |end: DateTime| {
            if end.date() == day {
                n.time(end)
            } else {
                format!("{} {}", n.weekday(end.date()), n.time(end))
            }
        };
        vec![
            if self.by_hand { Cell::Tick } else { Cell::empty() },
            Cell::text(self.hours.map_or(String::new(), |h| n.time(h.0))),
            Cell::text(self.hours.map_or(String::new(), |h| to(h.1))),
            Cell::text(self.what),
            Cell::text(self.piece),
            Cell::text(self.copies.map_or(String::new(), |c| range(c.0, c.1))),
        ]
    }
}

/// Every day on which something is done, begins or comes, in order.
fn days(papers: &Papers<'_>) -> Vec<(Date, Vec<Line>)> {
    let c = &papers.plan.calendar;
    let mut days: Vec<(Date, Vec<Line>)> = vec![];
    for d in &papers.plan.purchase.deliveries {
        let day = app::plan::delivery_day(papers.laid, papers.options.today, d.lead_days);
        if let Some(day) = day {
            on(&mut days, day).push(plain(format!("stones from {} arrive", d.supplier)));
        }
    }
    for e in &c.events {
        join(on(&mut days, e.starts_at.date()), e);
    }
    on(&mut days, c.ship_on).push(plain("post the order".to_owned()));
    days.sort_by_key(|d| d.0);
    days
}

fn on(days: &mut Vec<(Date, Vec<Line>)>, day: Date) -> &mut Vec<Line> {
    let at = days.iter().position(|d| d.0 == day).unwrap_or_else(|| {
        days.push((day, vec![]));
        days.len() - 1
    });
    &mut days[at].1
}

fn plain(what: String) -> Line {
    Line { what, by_hand: true, piece: String::new(), copies: None, hours: None }
}

/// Puts an event to the same thing that is done to the same piece on that day, if there is one.
fn join(lines: &mut Vec<Line>, e: &Event) {
    let what = words(e.activity);
    let same = lines.iter_mut().find(|l| l.what == what && l.piece == e.piece);
    let Some(Line { copies: Some(copies), hours: Some(hours), .. }) = same else {
        lines.push(Line {
            what: what.to_owned(),
            by_hand: e.hands.is_some(),
            piece: e.piece.clone(),
            copies: Some((e.first_copy, e.last_copy)),
            hours: Some((e.starts_at, e.ends_at)),
        });
        return;
    };
    *copies = (copies.0.min(e.first_copy), copies.1.max(e.last_copy));
    *hours = (hours.0.min(e.starts_at), hours.1.max(e.ends_at));
}

fn words(a: Activity) -> &'static str {
    match a {
        Activity::SettingUp => "set up",
        Activity::Preparing => "prepare the blanks",
        Activity::Drying => "blanks dry",
        Activity::Setting => "set stones",
        Activity::Handling => "leave alone until it can be handled",
        Activity::Turning => "turn",
        Activity::Curing => "cures",
        Activity::Packing => "pack",
    }
}
