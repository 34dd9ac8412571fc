//! A calendar file: iCalendar, RFC 5545.
//!
//! Written here and not by a library, since those bring clocks and random identities, and a plan has
//! the same bytes whenever it is made. Times are floating (form 1 of section 3.3.5): the wall clock
//! wherever it is read.

use super::{Activity, Event, Schedule};
use jiff::civil::DateTime;
use sha2::{Digest, Sha256};

/// What a calendar file is called, and when it was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct IcalNames {
    /// The order's name. With piece, batch and activity it makes the identity of each event, so that
    /// a later plan of the same order moves events instead of doubling them.
    pub order: String,
    /// When the file is written, UTC.
    pub stamp_utc: DateTime,
}

/// The schedule as the text of an iCalendar file. Hands-on work shows as busy, waits as free; the
/// ship date is an event of a whole day.
pub fn ical(schedule: &Schedule, names: &IcalNames) -> String {
    let mut out = Lines::default();
    out.line("BEGIN:VCALENDAR");
    out.line("VERSION:2.0");
    out.line("PRODID:-//stonelay//plan of an order//EN");
    out.line("CALSCALE:GREGORIAN");
    // The name by RFC 7986, and where most programs look for it.
    out.text("NAME", &names.order);
    out.text("X-WR-CALNAME", &names.order);
    for event in &schedule.events {
        out.line("BEGIN:VEVENT");
        out.line(&format!("UID:{}", uid(&names.order, &identity(event))));
        out.line(&format!("DTSTAMP:{}Z", stamp(names.stamp_utc)));
        out.line(&format!("DTSTART:{}", stamp(event.starts_at)));
        out.line(&format!("DTEND:{}", stamp(event.ends_at)));
        out.text("SUMMARY", &summary(event));
        out.text("DESCRIPTION", &description(event, &names.order));
        let busy = event.hands.is_some();
        out.line(if busy { "CATEGORIES:hands-on" } else { "CATEGORIES:waiting" });
        out.line(if busy { "TRANSP:OPAQUE" } else { "TRANSP:TRANSPARENT" });
        out.line("END:VEVENT");
    }
    out.line("BEGIN:VEVENT");
    out.line(&format!("UID:{}", uid(&names.order, "ship")));
    out.line(&format!("DTSTAMP:{}Z", stamp(names.stamp_utc)));
    out.line(&format!("DTSTART;VALUE=DATE:{}", schedule.ship_on.strftime("%Y%m%d")));
    out.text("SUMMARY", &format!("{} can ship", names.order));
    out.line("TRANSP:TRANSPARENT");
    out.line("END:VEVENT");
    out.line("END:VCALENDAR");
    out.0
}

/// `set badge, copies 1 to 6`.
pub(super) fn summary(event: &Event) -> String {
    let does = match event.activity {
        Activity::SettingUp => return format!("set up {}", event.piece),
        Activity::Preparing => "prepare",
        Activity::Drying => "drying:",
        Activity::Setting => "set",
        Activity::Handling => "do not touch:",
        Activity::Turning => "turn",
        Activity::Curing => "curing:",
        Activity::Packing => "pack",
    };
    let copies = if event.first_copy == event.last_copy {
        format!("copy {}", event.first_copy)
    } else {
        format!("copies {} to {}", event.first_copy, event.last_copy)
    };
    let side = event.side.map_or(String::new(), |s| format!(", side {s}"));
    format!("{does} {}, {copies}{side}", event.piece)
}

fn description(event: &Event, order: &str) -> String {
    let float = if event.critical {
        "it decides when the order ships".to_owned()
    } else {
        format!("it could begin {} min later", event.float_min)
    };
    format!("order: {order}\nbatch {}, part {}\n{float}", event.batch, event.part)
}

/// What an event is, whenever it happens.
fn identity(e: &Event) -> String {
    let side = e.side.unwrap_or(0);
    format!("{}\u{1f}{}\u{1f}{:?}\u{1f}{side}\u{1f}{}", e.piece, e.batch, e.activity, e.part)
}

/// The same for the same order and event, and no other (128 bits of SHA-256).
fn uid(order: &str, event: &str) -> String {
    let hash = Sha256::digest(format!("{order}\u{1e}{event}"));
    let hex: String = hash.iter().take(16).map(|b| format!("{b:02x}")).collect();
    format!("{hex}@stonelay")
}

fn stamp(at: DateTime) -> String {
    at.strftime("%Y%m%dT%H%M%S").to_string()
}

/// Content lines, folded and ended as section 3.1 asks.
#[derive(Default)]
struct Lines(String);

impl Lines {
    /// One content line: no part of it longer than 75 octets, no character cut.
    fn line(&mut self, line: &str) {
        let mut octets = 0;
        for c in line.chars() {
            if octets + c.len_utf8() > 75 {
                self.0.push_str("\r\n ");
                octets = 1;
            }
            self.0.push(c);
            octets += c.len_utf8();
        }
        self.0.push_str("\r\n");
    }

    /// A property whose value is text, escaped as section 3.3.11 asks. Control characters, which it
    /// forbids, become spaces.
    fn text(&mut self, property: &str, value: &str) {
        let mut line = format!("{property}:");
        for c in value.replace("\r\n", "\n").chars() {
            match c {
                '\n' | '\r' => line.push_str("\\n"),
                '\\' | ';' | ',' => line.extend(['\\', c]),
                c if c.is_control() && c != '\t' => line.push(' '),
                c => line.push(c),
            }
        }
        self.line(&line);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_lines_are_folded_between_characters() {
        let mut out = Lines::default();
        out.text("SUMMARY", &"φανάρι, ".repeat(20));
        for line in out.0.split("\r\n") {
            assert!(line.len() <= 75, "{} octets", line.len());
        }
        let unfolded = out.0.replace("\r\n ", "");
        assert_eq!(unfolded, format!("SUMMARY:{}\r\n", "φανάρι\\, ".repeat(20)));
    }

    #[test]
    fn text_is_escaped_and_cannot_begin_a_property() {
        let mut out = Lines::default();
        out.text("SUMMARY", "a;b,c\\d\r\nEND:VEVENT\u{0}\rx");
        assert_eq!(out.0, "SUMMARY:a\\;b\\,c\\\\d\\nEND:VEVENT \\nx\r\n");
    }
}
