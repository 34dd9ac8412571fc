//! The gathering list: the stones to lay ready for the order, and what goes into each kit.

use super::Papers;
use super::blocks::{Block, Blocks, Cell, Table, fact, figures, left, wide};
use crate::PaperError;
use planning::kits::{Kit, SMALL_PARTS_MM};

/// The gathering list of an order.
pub(super) fn gathering(papers: &Papers<'_>) -> Result<Blocks, PaperError> {
    let n = papers.options.notation;
    let mut facts = papers.dated();
    let all: u64 = papers.plan.spare.kinds.iter().map(|k| k.quantity).sum();
    facts.push(fact("Stones, with spare", n.count(all)));
    facts.push(fact("Kits", n.count(papers.plan.kits.iter().map(|k| u64::from(k.kits)).sum())));
    facts.push(fact("Design", papers.design()?));
    let mut blocks = vec![Block::heading("For the order"), Block::Table(order(papers))];
    for kit in &papers.plan.kits {
        blocks.extend(of_kit(papers, kit));
    }
    Ok(Blocks { kind: "Gathering list", name: papers.laid.name.clone(), facts, blocks })
}

fn order(papers: &Papers<'_>) -> Table {
    let n = papers.options.notation;
    let mut table = Table::new(vec![
        left("Ready"),
        wide("Kind"),
        left("Size"),
        figures("To set"),
        figures("Spare"),
        figures("Lay ready"),
    ]);
    for k in papers.plan.spare.kinds.iter().filter(|k| k.quantity > 0) {
        table.row(vec![
            Cell::Tick,
            Cell::text(k.kind.clone()),
            Cell::text(papers.size_of(&k.kind)),
            Cell::text(n.count(k.need)),
            Cell::text(n.count(k.spare)),
            Cell::text(n.count(k.quantity)),
        ]);
    }
    table
}

fn of_kit(papers: &Papers<'_>, kit: &Kit) -> Vec<Block> {
    let n = papers.options.notation;
    let grams =
        |g: Option<f64>| Cell::text(g.map_or(String::new(), |g| format!("{} g", n.number(g, 2))));
    let facts = vec![
        fact("Kits", n.count(kit.kits.into())),
        fact("Piece", kit.piece.clone()),
        fact("Stones in a kit", n.count(kit.stones_per_kit)),
    ];
    let mut table = Table::new(vec![
        left("Ready"),
        wide("Kind"),
        left("Size"),
        figures("Piece"),
        figures("Spare"),
        figures("Put in"),
        figures("They weigh"),
        figures("With the bag"),
        figures("All kits"),
    ]);
    for l in &kit.gathering {
        table.row(vec![
            Cell::Tick,
            Cell::text(l.kind.clone()),
            Cell::text(l.size.clone()),
            Cell::text(n.count(l.stones.into())),
            Cell::text(n.count(l.spare.into())),
            Cell::text(n.count(l.put_in.into())),
            grams(l.grams),
            grams(l.gross_g),
            Cell::text(n.count(l.all_stones)),
        ]);
    }
    let small = Block::Caution {
        title: "Small parts",
        lines: vec![format!(
            "loose stones fit the small-parts cylinder of {} mm (16 CFR 1501.4): not for children under \
            three; put the warning that your rules ask for on the bag",
            n.number(SMALL_PARTS_MM, 1)
        )],
    };
    vec![Block::heading(kit.kit.clone()), Block::Facts { facts }, Block::Table(table), small]
}
