//! `stonelay count SIZE STONE ARRANGEMENT`.

use super::report::{indented, right_aligned};
use crate::args::{Count, Form};
use crate::exit::Exit;
use crate::output::{self, WIDTH, number};
use crate::progress::Progress;
use anyhow::{Result, anyhow};
use app::counting::{self, Answer, Blank, Question};
use comfy_table::{Table, presets};
use lay::Gauge;
use units::{Length, ReadError, trimmed};

/// Counts and prints.
pub(super) fn run(args: &Count) -> Result<Exit> {
    let question = match question(args) {
        Ok(q) => q,
        Err(trouble) => {
            output::message(&format!("error: {trouble:#}"));
            return Ok(Exit::Usage);
        }
    };
    let progress = Progress::new();
    let answer = counting::count(&question, &progress);
    progress.finish();
    let Ok(answer) = answer else {
        output::message("stopped");
        return Ok(Exit::Stopped);
    };
    if args.json {
        output::print(&(serde_json::to_string_pretty(&answer)? + "\n"))?;
    } else {
        output::print(&text(&answer, &question))?;
    }
    Ok(Exit::Done)
}

/// Blanks of 1 mm to 5 m and no more stones than a hand would ever set.
const MOST_MM: f64 = 5000.0;
const MOST_STONES: f64 = 5e6;

fn question(args: &Count) -> Result<Question> {
    let said = |what: &str, e: &ReadError| anyhow!("{what}: {e}; {}", e.hint());
    let length = |what: &str, text: &str| -> Result<f64> {
        Ok(text.parse::<Length>().map_err(|e| said(what, &e))?.mm())
    };
    let blank: Blank = args.size.parse().map_err(|e| said("the size of the blank", &e))?;
    let (w, h) = match blank {
        Blank::Rectangle(s) => (s.width.mm(), s.height.mm()),
        Blank::Round(d) => (d.mm(), d.mm()),
    };
    for side in [w, h] {
        if !(1.0..=MOST_MM).contains(&side) {
            return Err(anyhow!("the size of the blank: {side} mm is not between 1 mm and 5 m"));
        }
    }
    let kind = counting::kind_of_size(&args.stone)?;
    let spacing_mm = length("the spacing", &args.spacing)?;
    let margin_mm = length("the margin", &args.margin)?;
    for (what, mm) in [("the spacing", spacing_mm), ("the margin", margin_mm)] {
        if !(0.0..=1000.0).contains(&mm) {
            return Err(anyhow!("{what}: {mm} mm is not between 0 mm and 1 m"));
        }
    }
    let gauge = if args.touch { Gauge::Reach } else { Gauge::Fit };
    let pitch = lay::pitch_mm(&kind, gauge) + spacing_mm;
    if w * h / (pitch * pitch) > MOST_STONES {
        return Err(anyhow!("that would be millions of stones: check both sizes"));
    }
    let arrangement = match args.arrangement {
        Form::Honeycomb => counting::Form::Honeycomb,
        Form::Square => counting::Form::Square,
        Form::Rings => counting::Form::Rings,
        Form::Scatter => counting::Form::Scatter,
    };
    Ok(Question { blank, kind, arrangement, spacing_mm, margin_mm, gauge, pack: args.pack })
}

fn text(a: &Answer, q: &Question) -> String {
    let best = &a.ways[a.best];
    let pack = if a.pack == 144 {
        "gross".to_owned()
    } else {
        format!("pack of {}", number(a.pack as usize))
    };
    let packs = match (best.packs, a.pack) {
        (1, _) => format!("1 {pack}"),
        (n, 144) => format!("{} gross", number(n)),
        (n, p) => format!("{} packs of {}", number(n), number(p as usize)),
    };
    let mut text = format!(
        "{} {} · {packs} · {:.1} % covered\n",
        number(best.way.stones),
        a.size,
        best.way.coverage * 100.0
    );
    let blank = match q.blank {
        Blank::Round(_) => format!("{} mm round", trimmed(a.width_mm, 2)),
        Blank::Rectangle(_) => {
            format!("{} × {} mm", trimmed(a.width_mm, 2), trimmed(a.height_mm, 2))
        }
    };
    let by = match q.gauge {
        Gauge::Fit => "kept apart by the largest of the bag",
        Gauge::Reach => "set by touch, by their mean",
    };
    let line = format!(
        "{blank}, stones {} mm across, {by}: {} mm; spacing {} mm, margin {} mm. No spare is \
         counted in.",
        trimmed(a.drawn_mm, 3),
        trimmed(a.pitch_mm, 3),
        trimmed(q.spacing_mm, 3),
        trimmed(q.margin_mm, 3)
    );
    text += &(output::wrapped(&line, "", "") + "\n\n");
    let mut table = Table::new();
    table.load_style(presets::NOTHING).set_width(WIDTH as u16 - 2);
    table.set_header(["way", "stones", "packs", "covered", "bare spot"]);
    for (i, w) in a.ways.iter().enumerate() {
        let name = if i == a.best { format!("{} (most)", w.way.way) } else { w.way.way.clone() };
        table.add_row([
            name,
            number(w.way.stones),
            number(w.packs),
            format!("{:.1} %", w.way.coverage * 100.0),
            format!("{:.2} mm", w.way.bare_spot_mm),
        ]);
    }
    right_aligned(&mut table, 1..=4);
    text += &indented(&table, " ");
    if best.way.stones == 0 {
        text += "\nNot one stone has room: take a smaller one, or less margin.\n";
    } else {
        let notes = a.ways.iter().filter_map(|w| w.way.note.as_ref().map(|n| (&w.way.way, n)));
        for (way, note) in notes.filter(|n| n.0.starts_with("turned") || n.0.starts_with("evened"))
        {
            text += &(output::wrapped(&format!("{way}: {note}"), "\n  ", "  ") + "\n");
        }
    }
    text
}
