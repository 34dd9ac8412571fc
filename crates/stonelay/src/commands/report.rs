//! A laid order in words: the answer first, then each piece and zone.

use crate::output::{self, WIDTH, counted, number};
use app::laying::{LaidOrder, LaidPiece};
use app::ways::Way;
use comfy_table::{CellAlignment, Table, presets};
use lay::{Arrangement, Colouring, Finding, Gauge, PieceLay, Place, Severity};
use units::trimmed;

/// The whole report. `compared` holds the other ways for each piece and zone, or nothing.
pub(super) fn order(laid: &LaidOrder, compared: &[Vec<Vec<Way>>]) -> String {
    let copies: usize = laid.pieces.iter().map(|p| p.asked.quantity as usize).sum();
    let by_kind = laid.by_kind();
    let head = format!(
        "{}: {} of {} for {}",
        laid.name,
        counted(laid.total(), "stone"),
        counted(by_kind.iter().filter(|k| k.1 > 0).count(), "kind"),
        counted(copies, "piece")
    );
    let mut text = output::wrapped(&head, "", "  ") + "\n";
    for (kind, n) in by_kind {
        text += &format!("  {:>9}  {} ({})\n", number(n), kind.name, kind.size);
    }
    for (i, p) in laid.pieces.iter().enumerate() {
        text += "\n";
        text += &piece(p, compared.get(i).map_or(&[][..], Vec::as_slice));
    }
    text
}

fn piece(p: &LaidPiece, compared: &[Vec<Way>]) -> String {
    let b = p.asked.piece.blank.bounds();
    let n = p.lay.stones.len();
    let copies = p.asked.quantity as usize;
    let total =
        if copies > 1 { format!(", {} for {copies}", number(n * copies)) } else { String::new() };
    let head = format!(
        "{} ({} × {} mm): {}{total}",
        p.asked.piece.name,
        trimmed(b.width(), 1),
        trimmed(b.height(), 1),
        counted(n, "stone"),
    );
    let mut text = output::wrapped(&head, "", "  ") + "\n";
    for i in 0..p.asked.piece.zones.len() {
        text += &zone(p, i);
        if let Some(ways) = compared.get(i).filter(|w| w.len() > 1) {
            text += &ways_table(ways);
        }
    }
    text += &whole(p);
    for f in p.findings() {
        text += &finding(f, b.height());
    }
    text
}

fn zone(p: &LaidPiece, i: usize) -> String {
    let (zone, lay) = (&p.asked.piece.zones[i], &p.lay.zones[i]);
    let stones = p.lay.stones.iter().filter(|s| s.zone as usize == i);
    let by_hand = stones.clone().filter(|s| s.by_hand).count();
    let mut counts = vec![0; p.asked.piece.kinds.len()];
    stones.for_each(|s| counts[s.kind as usize] += 1);
    let n: usize = counts.iter().sum();
    let rows = match zone.arrangement {
        Arrangement::Rings(_) => format!(" in {}", counted(lay.n_rows as usize, "ring")),
        Arrangement::Scatter(_) => String::new(),
        _ => format!(" in {}", counted(lay.n_rows as usize, "row")),
    };
    let head = format!(
        "{}: {}, {}; {}{rows}, {:.1} % covered",
        zone.name,
        arrangement(zone.arrangement),
        colouring(zone.colouring),
        counted(n, "stone"),
        lay.coverage * 100.0
    );
    let mut text = output::wrapped(&head, "  ", "    ") + "\n";
    let kept = format!(
        "spacing {} mm, margin {} mm, {}",
        trimmed(zone.spacing_mm, 3),
        trimmed(zone.margin_mm, 3),
        match zone.gauge {
            Gauge::Fit => "set by a sheet",
            Gauge::Reach => "set by touch",
        }
    );
    let kinds = p.asked.piece.kinds.iter().zip(&counts).filter(|k| *k.1 > 0);
    let kinds: Vec<String> = kinds.map(|(k, n)| format!("{} {}", number(*n), k.name)).collect();
    if !kinds.is_empty() {
        text += &(output::wrapped(&kinds.join(" · "), "    ", "    ") + "\n");
    }
    let kept = match by_hand {
        0 => kept,
        n => format!("{kept}; {} set by hand", counted(n, "stone")),
    };
    let said = lay.note.as_ref().map_or_else(|| kept.clone(), |note| format!("{kept}; {note}"));
    text += &(output::wrapped(&said, "    ", "    ") + "\n");
    text + &bare(&p.lay, p, i)
}

/// The whole blank, where it has more than one zone or a zone does not cover it all.
fn whole(p: &LaidPiece) -> String {
    let piece = &p.asked.piece;
    let zoned: f64 = piece.zones.iter().map(|z| z.region.area()).sum();
    let free = 1.0 - zoned / piece.blank.area();
    if piece.zones.len() < 2 && free < 0.005 {
        return String::new();
    }
    let mut line = format!("all of it: {:.1} % covered", p.lay.coverage * 100.0);
    if free >= 0.005 {
        line += &format!(", {:.0} % of the blank is in no zone", free * 100.0);
    }
    if let Some(spot) = p.lay.bare_spots.first() {
        let place = at(spot.place, piece.blank.bounds().height());
        line += &format!("; largest bare spot {:.2} mm, {place}", spot.diameter_mm);
        if let Some(kind) = spot.takes {
            line += &format!("; takes {}", piece.kinds[kind].name);
        }
    }
    output::wrapped(&line, "  ", "    ") + "\n"
}

fn bare(lay: &PieceLay, p: &LaidPiece, i: usize) -> String {
    let zone = &lay.zones[i];
    let Some(spot) = zone.bare_spots.first() else { return String::new() };
    let takes = spot.takes.map_or("no stone of this piece goes in".to_owned(), |k| {
        format!("takes {}", p.asked.piece.kinds[k].name)
    });
    let height = p.asked.piece.blank.bounds().height();
    let line = format!(
        "largest bare spot {:.2} mm, {}; {takes}; {:.0} % of the edge bare",
        spot.diameter_mm,
        at(spot.place, height),
        zone.bare_edge * 100.0
    );
    output::wrapped(&line, "    ", "      ") + "\n"
}

/// A place as a maker measures it: right and down from the top left corner.
///
/// A piece's frame has the lower left corner of its blank at the origin.
fn at(place: Place, height: f64) -> String {
    format!("{:.1} mm right, {:.1} mm down", place.u, height - place.v)
}

/// One finding in two or three lines.
pub(super) fn finding(f: &Finding, height: f64) -> String {
    let mark = match f.severity {
        Severity::Note => "note",
        Severity::Warning => "look",
        Severity::Serious => "STOP",
    };
    let mut line = format!("{mark}  {}: ", f.code);
    if let Some(zone) = &f.zone {
        line += &format!("{zone}: ");
    }
    line += &f.text;
    if let Some(place) = f.place {
        line += &format!(", {}", at(place, height));
    }
    let figures = [("", &f.measured), ("wanted ", &f.wanted)];
    let figures: Vec<String> =
        figures.iter().filter_map(|(w, v)| v.as_ref().map(|v| format!("{w}{v}"))).collect();
    if !figures.is_empty() {
        line += &format!(" ({})", figures.join("; "));
    }
    let mut text = output::wrapped(&line, "  ", "        ") + "\n";
    text += &(output::wrapped(&format!("hint: {}", f.hint), "        ", "        ") + "\n");
    text
}

/// A table of ways to lay one zone.
fn ways_table(ways: &[Way]) -> String {
    let mut table = Table::new();
    table.load_style(presets::NOTHING).set_width(WIDTH as u16 - 4);
    table.set_header(["way, without fillers", "stones", "covered", "bare spot"]);
    for w in ways {
        let covered = format!("{:.1} %", w.coverage * 100.0);
        let spot = format!("{:.2} mm", w.bare_spot_mm);
        table.add_row([w.way.clone(), number(w.stones), covered, spot]);
    }
    right_aligned(&mut table, 1..=3);
    indented(&table, "    ")
}

/// Sets columns flush right.
pub(super) fn right_aligned(table: &mut Table, columns: std::ops::RangeInclusive<usize>) {
    for i in columns {
        if let Some(column) = table.column_mut(i) {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
}

/// The lines of a table without their trailing blanks.
pub(super) fn indented(table: &Table, by: &str) -> String {
    table.to_string().lines().map(|l| format!("{by}{}\n", l.trim_end())).collect()
}

fn arrangement(a: Arrangement) -> &'static str {
    match a {
        Arrangement::Honeycomb(_) => "honeycomb",
        Arrangement::Square(_) => "square rows",
        Arrangement::Rings(_) => "rings",
        Arrangement::Scatter(_) => "scatter",
    }
}

fn colouring(c: Colouring) -> &'static str {
    match c {
        Colouring::Plain => "plain",
        Colouring::Striped => "striped",
        Colouring::Alternating => "alternating",
        Colouring::Random => "random by share",
    }
}
