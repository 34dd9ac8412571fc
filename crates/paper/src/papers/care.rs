//! The care card: what whoever gets the finished thing should know, several to a page.

use super::Papers;
use super::cells::{Cell, CellPage, Cells, Foot, Part, Small};

/// A card, mm.
const CARD_MM: (f64, f64) = (86.0, 60.0);
/// Cards side by side, and one above the other: so many fit on A4 and on Letter.
const GRID: (u32, u32) = (2, 4);
/// Kept free within a card, mm.
const INSET_MM: f64 = 4.5;
/// Where heading and foot stand, from the edges, mm.
const EDGE_MM: f64 = 7.0;

/// What a card says: common practice, no source. The age is that of the small-parts rules
/// (16 CFR 1501).
const PARTS: [Part; 4] = [
    Part {
        head: "Cleaning.",
        text: "Wipe with a soft, damp cloth and dry it. No soaking, no dishwasher, no washing machine, no brush.",
    },
    Part {
        head: "Keep away from",
        text: "solvents, alcohol, perfume and hair spray; heat, a car in the sun and a radiator; edges that catch, and hard knocks.",
    },
    Part {
        head: "Small parts.",
        text: "Stones can come loose, and are small enough to choke on. Not for children under three; keep it from pets.",
    },
    Part {
        head: "A stone came off?",
        text: "Keep it, and do not glue it yourself over old glue. Tell us: it can be set again.",
    },
];

/// The cards of an order: one page of them, to be printed as often as wanted.
pub(super) fn care(papers: &Papers<'_>) -> Cells {
    let size = papers.options.size;
    let (width, height) = (size.width_mm(), size.height_mm());
    let (across, down) = (f64::from(GRID.0) * CARD_MM.0, f64::from(GRID.1) * CARD_MM.1);
    let (left, top) = ((width - across) / 2.0, (height - down) / 2.0);
    let card = |i: u32| Cell::Card {
        left_mm: left + f64::from(i % GRID.0) * CARD_MM.0 + INSET_MM,
        top_mm: top + f64::from(i / GRID.0) * CARD_MM.1 + INSET_MM,
        width_mm: CARD_MM.0 - 2.0 * INSET_MM,
        height_mm: CARD_MM.1 - 2.0 * INSET_MM,
        title: "How to care for it",
        parts: PARTS.to_vec(),
        foot: from(papers),
    };
    let upright = (0..=GRID.0).map(|i| left + f64::from(i) * CARD_MM.0);
    let level = (0..=GRID.1).map(|i| top + f64::from(i) * CARD_MM.1);
    // Each line reaches a little beyond the cards, where a paper knife is laid.
    let beyond = 3.0;
    let cuts = upright.map(|x| [x, top - beyond, x, top + down + beyond]);
    let cuts = cuts.chain(level.map(|y| [left - beyond, y, left + across + beyond, y])).collect();
    let heading =
        Small { text: format!("{}: care cards", papers.laid.name), left_mm: left, top_mm: EDGE_MM };
    Cells {
        pages: vec![CellPage { cells: (0..GRID.0 * GRID.1).map(card).collect() }],
        cuts,
        heading: Some(heading),
        foot: Some(Foot { left_mm: left, up_mm: EDGE_MM }),
    }
}

/// The first line of who makes it, or the order.
fn from(papers: &Papers<'_>) -> String {
    let from = papers.options.words.from.lines().map(str::trim).find(|l| !l.is_empty());
    from.unwrap_or(&papers.laid.name).to_owned()
}
