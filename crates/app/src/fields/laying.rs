//! The keys of the document itself, of kinds and of mixes.

use super::words::FINISHES;
use super::{Field, Sort, Table, When};

const fn f(
    key: &'static str,
    sort: Sort,
    label: &'static str,
    help: &'static str,
    example: &'static str,
) -> Field {
    Field::new(key, sort, label, help, example)
}

const fn tables(key: &'static str, of: Table, label: &'static str, help: &'static str) -> Field {
    f(key, Sort::Tables, label, help, "").of(of)
}

pub(super) const ORDER: &[Field] = &[
    f("stonelay", Sort::Whole, "Version", "The version the document is written for.", "1")
        .needed()
        .unusual(),
    f("order", Sort::Text, "Order", "A name for the order.", "\"Lantern festival\"").needed(),
    f(
        "seed",
        Sort::Whole,
        "Seed",
        "The same seed gives the same stones in the same places.",
        "20261",
    )
    .usual("1")
    .unusual(),
    f("due", Sort::Day, "Ready by", "The day on which the order must be ready.", "2026-12-18"),
    f(
        "stock_file",
        Sort::File,
        "Table of stock",
        "A table of what lies on the shelf, beside the document.",
        "\"shelf.csv\"",
    )
    .unusual(),
    tables("kind", Table::Kind, "Kinds", "The stones on your shelf.").needed(),
    tables("mix", Table::Mix, "Mixes", "Mixes that several pieces use."),
    tables("piece", Table::Piece, "Pieces", "What is to be made.").needed(),
    f("workshop", Sort::Table, "Workshop", "How you work.", "").of(Table::Workshop),
    tables("log", Table::Log, "Log", "What happened on earlier work."),
    tables("stock", Table::Stock, "Stock", "What lies on the shelf."),
    tables("supplier", Table::Supplier, "Suppliers", "Who sells stones."),
    tables("adhesive", Table::Adhesive, "Adhesives", "What you glue with."),
    f("price", Sort::Table, "Price", "What you charge.", "").of(Table::Price),
    tables("kit", Table::Kit, "Kits", "Pieces packed for others to set."),
    tables("bag", Table::Bag, "Bags", "Mixes sold by the bag."),
];

pub(super) const KIND: &[Field] = &[
    f("name", Sort::Name, "Name", "Your own name for it, once only.", "\"sea glass\"").needed(),
    f("size", Sort::StoneSize, "Size", "A trade size like SS16, or a diameter.", "\"SS16\"")
        .of(Table::Measured)
        .needed(),
    f(
        "tolerance",
        Sort::Length,
        "Tolerance",
        "For a size in millimetres: by how much a stone may be larger or smaller.",
        "\"0.1 mm\"",
    )
    .usual("none")
    .unusual(),
    f("colour", Sort::Colour, "Colour", "For pictures.", "\"#2a9d8f\"").usual("#c9cdd4"),
    f("finish", Sort::Choice(FINISHES), "Finish", "For pictures.", "\"pearl\"").usual("foiled"),
    f("pack", Sort::Whole, "Stones in a pack", "How many stones are in a pack.", "1440"),
    f("weight", Sort::Mass, "Weight of one stone", "Of one stone, or of a heap.", "\"0.05 g\"")
        .of(Table::Heap),
    f("height", Sort::Length, "Height", "From its back to its top.", "\"1.5 mm\"").unusual(),
    f(
        "stand_ins",
        Sort::List(&Sort::Kind),
        "Stand-ins",
        "Kinds that may take its place, the best first.",
        "[\"two\"]",
    )
    .usual("none")
    .unusual(),
];

pub(super) const MEASURED: &[Field] = &[
    f("mean", Sort::Length, "Mean diameter", "The mean of those measured.", "\"3.92 mm\"").needed(),
    f("spread", Sort::Length, "Spread", "Their standard deviation.", "\"0.04 mm\"").needed(),
    f("count", Sort::Whole, "Measured", "How many were measured; ten or more.", "30").needed(),
];

pub(super) const HEAP: &[Field] = &[
    f("stones", Sort::Whole, "Stones weighed", "How many were weighed.", "144").needed(),
    f("total", Sort::Mass, "Weight of all", "What they weigh together.", "\"5.8 g\"").needed(),
];

pub(super) const MIX: &[Field] = &[
    f("name", Sort::Name, "Name", "Your own name for it, once only.", "\"dusk\"").needed(),
    tables("parts", Table::Part, "Parts", "The kinds in it and their shares.").needed(),
];

/// If another key is left out.
const fn out(key: &'static str) -> When {
    When { key, is: &[""] }
}

pub(super) const PART: &[Field] = &[
    f("kind", Sort::Kind, "Kind", "A kind of stone.", "\"one\"").when(&[out("mix")]),
    f("mix", Sort::Mix, "Mix", "In place of a kind: a mix.", "\"dusk\"")
        .when(&[out("kind")])
        .unusual(),
    f("share", Sort::Share, "Share", "By count; all shares add up to 100 %.", "\"100 %\"")
        .usual("equal parts")
        .when(&[out("count"), out("weight"), out("packs")]),
    f("count", Sort::Whole, "Stones", "In place of a share: so many stones.", "120")
        .when(&[out("share"), out("weight"), out("packs")])
        .unusual(),
    f("weight", Sort::Mass, "Weight", "In place of a share: so many grams.", "\"30 g\"")
        .when(&[out("share"), out("count"), out("packs"), out("mix")])
        .unusual(),
    f("packs", Sort::Whole, "Packs", "In place of a share: so many packs.", "2")
        .when(&[out("share"), out("count"), out("weight"), out("mix")])
        .unusual(),
    f("rows", Sort::Whole, "Rows", "How many rows wide its stripe is.", "2").usual("1").unusual(),
];
