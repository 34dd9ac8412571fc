//! Small tables for terminals, and amounts as a maker reads them.

use super::super::report::{indented, right_aligned};
use crate::output::WIDTH;
use app::plan::PlanFinding;
use comfy_table::{ContentArrangement, Table, presets};
use lay::Severity;
use units::{Span, trimmed};

/// A table: its head, its rows, the columns that are numbers.
pub(in crate::commands) fn table<const N: usize>(
    head: [&str; N],
    rows: Vec<[String; N]>,
    numbers: std::ops::RangeInclusive<usize>,
) -> String {
    let mut table = Table::new();
    table.load_style(presets::NOTHING).set_width(WIDTH as u16 - 2);
    table.set_content_arrangement(ContentArrangement::Dynamic);
    table.set_header(head);
    for row in rows {
        table.add_row(row);
    }
    right_aligned(&mut table, numbers);
    indented(&table, " ")
}

/// Minutes as hours and minutes.
pub(in crate::commands) fn time(minutes: f64) -> String {
    Span::from_minutes(minutes).map_or_else(|| "-".to_owned(), |s| s.to_string())
}

/// Minutes at the bench: hours even where there are many.
pub(in crate::commands) fn work(minutes: f64) -> String {
    let hours = minutes / 60.0;
    if hours >= 10.0 { format!("{} h", trimmed(hours, 0)) } else { time(minutes) }
}

/// One thing to watch, in one or two lines; its hint below if asked for.
pub(in crate::commands) fn finding(f: &PlanFinding, hint: bool) -> String {
    let mark = match f.severity {
        Severity::Note => "note",
        Severity::Warning => "look",
        Severity::Serious => "STOP",
    };
    let mut line = format!("{mark}  {}", f.text);
    let figures = [("", &f.measured), ("wanted ", &f.wanted)];
    let figures: Vec<String> =
        figures.iter().filter_map(|(w, v)| v.as_ref().map(|v| format!("{w}{v}"))).collect();
    if !figures.is_empty() {
        line += &format!(" ({})", figures.join("; "));
    }
    let mut text = crate::output::wrapped(&line, "  ", "        ") + "\n";
    if hint {
        text +=
            &(crate::output::wrapped(&format!("hint: {}", f.hint), "        ", "        ") + "\n");
    }
    text
}

/// What to watch, each with its hint, below a line that says so; nothing if there is nothing.
pub(in crate::commands) fn watch<'f>(found: impl Iterator<Item = &'f PlanFinding>) -> String {
    let all: String = found.map(|f| finding(f, true)).collect();
    if all.is_empty() { all } else { format!("\nWhat to watch\n{all}") }
}
