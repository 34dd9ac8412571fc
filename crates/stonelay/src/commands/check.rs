//! `stonelay check FILE`.

use super::{open, report};
use crate::args::Check;
use crate::exit::Exit;
use crate::output::{self, counted};
use crate::progress::Progress;
use anyhow::Result;
use app::laying::{self, LaidOrder};
use lay::Severity;

/// Reads and lays an order and prints only what is worth knowing about it.
pub(super) fn run(args: &Check) -> Result<Exit> {
    let order = match open::order(&args.file)? {
        Ok(order) => order,
        Err(refused) => {
            open::refuse(&refused);
            return Ok(Exit::Refused);
        }
    };
    let progress = Progress::new();
    let laid = laying::lay_order(order, &progress);
    progress.finish();
    let Ok(laid) = laid else {
        output::message("stopped");
        return Ok(Exit::Stopped);
    };
    output::print(&if args.json { json(&laid)? } else { text(&laid) })?;
    Ok(if of(&laid, Severity::Serious) > 0 { Exit::Serious } else { Exit::Done })
}

fn of(laid: &LaidOrder, severity: Severity) -> usize {
    laid.pieces.iter().flat_map(|p| p.findings()).filter(|f| f.severity == severity).count()
}

fn text(laid: &LaidOrder) -> String {
    let head = match of(laid, Severity::Serious) {
        0 => "nothing serious".to_owned(),
        n => format!("{} to mend first", counted(n, "thing")),
    };
    let mut text = format!(
        "{}: {head}; {} to look at, {}\n",
        laid.name,
        of(laid, Severity::Warning),
        counted(of(laid, Severity::Note), "note")
    );
    for p in laid.pieces.iter().filter(|p| !p.findings().is_empty()) {
        text += &format!("\n{}\n", p.asked.piece.name);
        let height = p.asked.piece.blank.bounds().height();
        p.findings().iter().for_each(|f| text += &report::finding(f, height));
    }
    text
}

/// The findings as the lay's JSON has them, by piece.
fn json(laid: &LaidOrder) -> Result<String> {
    let file = serde_json::to_value(laid.file()?)?;
    let pieces = file["pieces"].as_array().into_iter().flatten();
    let pieces: Vec<_> = pieces
        .map(|p| serde_json::json!({ "name": p["name"], "findings": p["findings"] }))
        .collect();
    let all = serde_json::json!({
        "order": laid.name,
        "serious": of(laid, Severity::Serious),
        "pieces": pieces,
    });
    Ok(serde_json::to_string_pretty(&all)? + "\n")
}
