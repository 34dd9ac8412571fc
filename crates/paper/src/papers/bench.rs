//! The bench sheet: one piece after the other, what is on it, how it is glued and set, and a box to
//! tick for each stretch and each copy.

use super::Papers;
use super::blocks::{Block, Blocks, Cell, Fact, Table, fact, figures, left, wide};
use super::picture::Shown;
use crate::PaperError;
use app::laying::LaidPiece;
use app::plan::PieceStretches;
use planning::adhesive::Amount;
use planning::glue::{Batch, PieceGlue};
use planning::hours::PieceHours;

/// Boxes for copies side by side.
const COLUMNS: usize = 4;

/// The bench sheet of an order.
pub(super) fn bench(papers: &Papers<'_>) -> Result<Blocks, PaperError> {
    let n = papers.options.notation;
    let plan = papers.plan;
    let mut facts = papers.dated();
    facts.push(fact("Stones", n.count(plan.answer.stones)));
    facts.push(fact("At the bench", n.span(plan.hours.total_min)));
    facts.push(fact("Ships on", n.weekday(plan.calendar.ship_on)));
    facts.push(fact("Design", papers.design()?));
    let mut blocks = vec![];
    let parts = plan.stretches.iter().zip(&plan.glue.pieces).zip(&plan.hours.pieces);
    for (i, (piece, ((stretches, glue), hours))) in papers.laid.pieces.iter().zip(parts).enumerate()
    {
        if i > 0 {
            blocks.push(Block::Page);
        }
        blocks.extend(of_piece(papers, i, piece, stretches, glue, hours));
    }
    Ok(Blocks { kind: "Bench sheet", name: papers.laid.name.clone(), facts, blocks })
}

fn of_piece(
    papers: &Papers<'_>,
    no: usize,
    piece: &LaidPiece,
    stretches: &PieceStretches,
    glue: &PieceGlue,
    hours: &PieceHours,
) -> Vec<Block> {
    let facts = about(papers, piece, stretches, glue, hours);
    let mut blocks = vec![
        Block::heading(piece.asked.piece.name.clone()),
        Block::Portrait { picture: Shown::large(no, piece), facts },
        Block::Table(kinds(papers, piece)),
    ];
    let adhesive =
        papers.plan.glue.adhesives.iter().find(|a| a.adhesive_index == glue.adhesive_index);
    if let Some(adhesive) = adhesive {
        blocks.push(Block::Caution {
            title: "Before the glue is opened",
            lines: adhesive.cautions.clone(),
        });
    }
    if !glue.batches.is_empty() {
        blocks.extend([Block::subheading("Batches to mix"), Block::Table(batches(papers, glue))]);
    }
    let table = stretch_table(papers, stretches);
    if !table.is_empty() {
        blocks.extend([Block::subheading("Stretches of one copy"), Block::Table(table)]);
    }
    let copies = Block::Ticks { names: papers.copies(piece), columns: COLUMNS };
    blocks.extend([Block::subheading("Copies that are done"), copies]);
    blocks
}

fn about(
    papers: &Papers<'_>,
    piece: &LaidPiece,
    stretches: &PieceStretches,
    glue: &PieceGlue,
    hours: &PieceHours,
) -> Vec<Fact> {
    let n = papers.options.notation;
    let b = piece.asked.piece.blank.bounds();
    let size = format!("{} × {} mm", n.number(b.width(), 1), n.number(b.height(), 1));
    let open = stretches.stretches.open_min.map_or("no limit".to_owned(), |min| {
        format!("{} at {} °C", n.span(min), n.number(stretches.stretches.open_at_c, 1))
    });
    let stones = piece.lay.stones.len() as u64;
    let mut facts = vec![
        fact("Size", size),
        fact("Copies", n.count(glue.copies.into())),
        fact("Stones on one copy", n.count(stones)),
        fact("Stones on all copies", n.count(stones * u64::from(glue.copies))),
        fact("Glue", glue.adhesive.clone()),
        fact("It stays open", open),
        fact("Glue for one copy, with waste", amount(papers, &glue.copy_need)),
        fact("Glue for all copies", amount(papers, &glue.need)),
        fact("One copy takes", n.span(hours.each_min)),
        fact("All copies take", n.span(hours.total_min)),
    ];
    let tint = papers.plan.tints.iter().find(|t| t.piece == piece.asked.piece.name);
    if let Some(tint) = tint {
        facts.push(fact("Tint under the stones", tint.tint.shown.to_string()));
    }
    facts
}

/// `12.5 ml`, or an area of sheet.
pub(super) fn amount(papers: &Papers<'_>, a: &Amount) -> String {
    let n = papers.options.notation;
    if a.cm2 > 0.0 {
        return format!("{} cm²", n.number(a.cm2, 0));
    }
    format!("{} ml", n.number(a.ml, if a.ml < 1.0 { 2 } else { 1 }))
}

fn kinds(papers: &Papers<'_>, piece: &LaidPiece) -> Table {
    let n = papers.options.notation;
    let mut table = Table::new(vec![
        left("Mark"),
        wide("Kind"),
        left("Size"),
        figures("One copy"),
        figures("All copies"),
    ]);
    let counts = piece.counts();
    for (i, kind) in piece.asked.piece.kinds.iter().enumerate().filter(|(i, _)| counts[*i] > 0) {
        let stones = counts[i] as u64;
        table.row(vec![
            Cell::mark(drawing::mark(i), kind.colour),
            Cell::text(kind.name.clone()),
            Cell::text(kind.size.clone()),
            Cell::text(n.count(stones)),
            Cell::text(n.count(stones * u64::from(piece.asked.quantity))),
        ]);
    }
    table
}

fn batches(papers: &Papers<'_>, glue: &PieceGlue) -> Table {
    let n = papers.options.notation;
    let mut table = Table::new(vec![
        figures("Times"),
        wide("For"),
        figures("Each"),
        figures("Part A"),
        figures("Part B"),
        figures("In use"),
        figures("Usable"),
    ]);
    for b in &glue.batches {
        let parts = b.amount.parts;
        let part = |ml: Option<f64>| {
            Cell::text(ml.map_or(String::new(), |ml| format!("{} ml", n.number(ml, 2))))
        };
        table.row(vec![
            Cell::text(n.count(b.times.into())),
            Cell::text(serves(papers, b)),
            Cell::text(amount(papers, &b.amount)),
            part(parts.map(|p| p.a_ml)),
            part(parts.map(|p| p.b_ml)),
            Cell::text(n.span(b.slow_min)),
            Cell::text(n.span(b.pot_min)),
        ]);
    }
    table
}

fn serves(papers: &Papers<'_>, b: &Batch) -> String {
    if b.copies > 1 {
        return format!("{} copies", papers.options.notation.count(b.copies.into()));
    }
    if b.first_stretch == b.last_stretch {
        return format!("stretch {}", b.first_stretch);
    }
    format!("stretches {}", range(b.first_stretch, b.last_stretch))
}

/// `3`, or `3–5`.
pub(super) fn range(first: u32, last: u32) -> String {
    if first == last { first.to_string() } else { format!("{first}–{last}") }
}

fn stretch_table(papers: &Papers<'_>, of: &PieceStretches) -> Table {
    let n = papers.options.notation;
    let mut table = Table::new(vec![
        left("Done"),
        figures("No."),
        wide("Zone"),
        figures("Rows"),
        figures("Stones"),
        figures("Usually"),
        figures("At most"),
    ]);
    for s in &of.stretches.stretches {
        table.row(vec![
            Cell::Tick,
            Cell::text(s.number.to_string()),
            Cell::text(s.zone.clone()),
            Cell::text(range(s.first_row, s.last_row)),
            Cell::text(n.count(s.stones.into())),
            Cell::text(n.span(s.usual_min)),
            Cell::text(n.span(s.slow_min)),
        ]);
    }
    table
}
