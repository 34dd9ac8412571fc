//! What is worth knowing about stretches.

use super::plan::{LongRow, RESERVE, Work};
use crate::adhesive::{self, Adhesive, AdhesiveSort, Label};
use lay::finding::Page;
use lay::{Finding, Severity};
use units::trimmed;

/// Every finding about stretches.
pub(crate) const PAGES: &[Page] = &[
    Page {
        code: "plan.stone-slow",
        what: "Setting a single stone takes longer than the adhesive stays open, less a fifth.",
        why: "The adhesive has skinned before the stone is on it.",
        example: "An open time of 30 seconds at 60 stones an hour.",
        remedy: "Take an adhesive that stays open longer, or check the pace and the open time.",
    },
    Page {
        code: "plan.stretch-short",
        what: "A row takes longer to set than the adhesive stays open, less a fifth, at the pace that is kept nine times in ten. It is cut into equal parts.",
        why: "A row that is begun anew shows a step if the first part has already set.",
        example: "A ring of 210 stones at 270 an hour takes 47 minutes; a coating epoxy leaves 24.",
        remedy: "Take an adhesive that stays open longer, or light-cured or sheet adhesive that does not skin; work in a cooler room within the label's range; or mark where the row is cut. How times change with temperature: one source. The label and the safety sheet come first.",
    },
];

/// A zone has rows that are longer than a stretch.
pub(super) fn row_too_long(work: &Work<'_>, zone: usize, row: LongRow) -> Finding {
    let zone = &work.input.piece.zones[zone];
    let min = |x: f64| format!("{} min", trimmed(x, 1));
    let open = format!("longer to set than `{}` stays open", work.input.adhesive.name);
    let piece = &work.input.piece.name;
    // One row is named in the text, the worst of several by its measure.
    let (text, which) = match row.n_rows {
        1 => (format!("`{piece}`: row {} takes {open}, and is cut", row.row), String::new()),
        n => {
            (format!("`{piece}`: {n} rows take {open}, and are cut"), format!("row {}: ", row.row))
        }
    };
    let hint =
        format!("a whole row at once would do with: {}", sorts_that_do(work, row).join(", "));
    Finding::new("plan.stretch-short", Severity::Warning, text, hint).in_zone(&zone.name).with(
        format!("{which}{} stones, {}", row.stones, min(row.slow_min)),
        format!("at most {}", min(work.limit_min)),
    )
}

/// The sorts whose usual open time would take the row, in this room; what is lit only where light
/// reaches is left out for stones that shade it.
fn sorts_that_do(work: &Work<'_>, row: LongRow) -> Vec<String> {
    let input = work.input;
    let shaded = input
        .lay
        .stones
        .iter()
        .any(|s| input.piece.kinds[s.kind as usize].finish != lay::Finish::Clear);
    let does = |sort: AdhesiveSort| -> Option<String> {
        let usual = Adhesive { name: String::new(), sort, label: Label::default() };
        let facts = usual.facts().ok()?;
        match adhesive::open_min(&facts, &input.room) {
            None if sort == AdhesiveSort::LightCured && shaded => None,
            None => Some(sort.name().to_owned()),
            Some(open) if open * (1.0 - RESERVE) >= row.slow_min => {
                Some(format!("{} ({} min open)", sort.name(), trimmed(open, 0)))
            }
            Some(_) => None,
        }
    };
    AdhesiveSort::ALL.into_iter().filter_map(does).collect()
}

/// A stone by itself takes too long.
pub(super) fn stone_too_slow(work: &Work<'_>, slowest_min: f64) -> Option<Finding> {
    (slowest_min > work.limit_min).then(|| {
        let (piece, adhesive) = (&work.input.piece.name, &work.input.adhesive.name);
        let text = format!("`{piece}`: `{adhesive}` skins before a single stone is set");
        let hint = "take an adhesive that stays open longer, or check the pace";
        Finding::new("plan.stone-slow", Severity::Serious, text, hint).with(
            format!("{} min for a stone", trimmed(slowest_min, 2)),
            format!("at most {} min", trimmed(work.limit_min, 2)),
        )
    })
}
