//! The keys of what a plan needs beside the pieces: workshop, supply, adhesives, price, sale.

use super::words::{ARRANGEMENTS, DAYS, LEVELS, MEASURES, SORTS};
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

/// If another key is left out.
const fn out(key: &'static str) -> When {
    When { key, is: &[""] }
}

pub(super) const WORKSHOP: &[Field] = &[
    f(
        "sure",
        Sort::Share,
        "How sure",
        "That the order can be finished without buying again.",
        "\"95 %\"",
    )
    .usual("95 %"),
    f("loss", Sort::Share, "Loss", "Of stones handled: lost, broken, unusable.", "\"3 %\"")
        .of(Table::Loss)
        .usual("3 %"),
    f("level", Sort::Choice(LEVELS), "Level", "How fast you set stones.", "\"fast\"")
        .usual("practised")
        .when(&[out("rate")]),
    f("rate", Sort::Whole, "Your rate", "Stones an hour, in place of a level.", "320")
        .when(&[out("level")]),
    f("temperature", Sort::Temperature, "Temperature", "The air at the bench.", "\"21 C\"")
        .usual("24 C"),
    f("humidity", Sort::Share, "Humidity", "The air at the bench.", "\"50 %\"")
        .usual("50 %")
        .unusual(),
    f("start", Sort::Day, "Begin on", "The day on which work can begin.", "2026-11-30")
        .usual("today"),
    f(
        "days",
        Sort::List(&Sort::Choice(DAYS)),
        "Working days",
        "Days on which you work.",
        "[\"monday\"]",
    )
    .usual("Monday to Friday"),
    f(
        "hours",
        Sort::List(&Sort::Hours),
        "Working hours",
        "Hours in which you work.",
        "[\"09:00-12:30\"]",
    )
    .usual("09:00-12:30, 13:30-17:00"),
    f("closed", Sort::List(&Sort::Day), "Closed on", "Days without work.", "[2026-12-24]")
        .usual("none")
        .unusual(),
    f("bench", Sort::Whole, "Blanks at once", "Blanks that lie side by side.", "10")
        .usual("4")
        .unusual(),
    f("set_up", Sort::Span, "Setting up", "Getting everything out, once an order.", "\"20 min\"")
        .usual("20 min")
        .unusual(),
    f("wage", Sort::Money, "Your hour", "What an hour of yours costs.", "\"15.00\"")
        .usual("nothing"),
    f("overhead", Sort::Money, "The workshop's hour", "Rent, light and tools.", "\"4.50\"")
        .usual("nothing"),
];

pub(super) const LOSS: &[Field] = &[
    f("rate", Sort::Share, "Loss", "Of stones handled: lost, broken, unusable.", "\"3 %\"")
        .needed(),
    f("trust", Sort::Whole, "Worth", "How many handled stones of your log it is worth.", "500")
        .usual("500"),
];

pub(super) const LOG: &[Field] = &[
    f("kind", Sort::Kind, "Kind", "The kind that was set.", "\"one\"").usual("any"),
    f("arrangement", Sort::Choice(ARRANGEMENTS), "Arrangement", "How they lay.", "\"scatter\"")
        .usual("any"),
    f("stones", Sort::Whole, "Stones", "How many were set.", "3000").needed(),
    f("lost", Sort::Whole, "Lost", "Lost, broken or unusable on the way.", "85"),
    f("time", Sort::Span, "Time", "Setting alone.", "\"9 h 40 min\""),
];

pub(super) const STOCK: &[Field] = &[
    f("kind", Sort::Kind, "Kind", "The kind that lies there.", "\"one\"").needed(),
    f("lot", Sort::Text, "Lot", "The lot it came in.", "\"L7\""),
    f("stones", Sort::Whole, "Stones", "How many there are.", "1200").needed(),
    f("reserved", Sort::Whole, "Reserved", "For other work.", "200").usual("0"),
    f("price", Sort::Money, "Price of a stone", "What one stone cost.", "\"0.0052\""),
];

pub(super) const SUPPLIER: &[Field] = &[
    f("name", Sort::Name, "Name", "Your name for them, once only.", "\"the bead loft\"").needed(),
    f("delivery", Sort::Money, "Delivery", "Their charge for it.", "\"4.90\"").usual("0"),
    f(
        "free_from",
        Sort::Money,
        "Free from",
        "Value of goods from which delivery is free.",
        "\"60.00\"",
    ),
    f("minimum", Sort::Money, "At least", "Below this nothing is sold.", "\"10.00\""),
    f("lead", Sort::Whole, "Working days", "Until goods arrive.", "3").usual("0"),
    f("offers", Sort::Tables, "Offers", "What they sell.", "").of(Table::Offer).needed(),
];

pub(super) const OFFER: &[Field] = &[
    f("kind", Sort::Kind, "Kind", "The kind they sell.", "\"one\"").needed(),
    f("pack", Sort::Whole, "Stones in a pack", "How many stones a pack has.", "1440").needed(),
    f("price", Sort::Money, "Price of a pack", "What a pack costs.", "\"6.20\"").needed(),
    f("breaks", Sort::Tables, "Cheaper from", "What a pack costs from so many on.", "")
        .of(Table::Break)
        .usual("none"),
    f("packs", Sort::Whole, "Packs there", "How many packs they have.", "12").unusual(),
    f("lot", Sort::Text, "Lot", "The lot that is sold.", "\"L7\"").unusual(),
];

pub(super) const BREAK: &[Field] = &[
    f("packs", Sort::Whole, "From packs", "From so many packs on.", "5").needed(),
    f("price", Sort::Money, "Price of a pack", "What each pack costs then.", "\"5.80\"").needed(),
];

pub(super) const ADHESIVE: &[Field] = &[
    f("name", Sort::Name, "Name", "Your name for it, once only.", "\"bench gel\"").needed(),
    f(
        "sort",
        Sort::Choice(SORTS),
        "Sort",
        "What it is; the rest is usual for it.",
        "\"solvent gel\"",
    )
    .needed(),
    f("open", Sort::Span, "Open time", "How long it may lie open, at 25 °C.", "\"8 min\"")
        .usual("by sort"),
    f(
        "pot",
        Sort::Span,
        "Pot life",
        "How long 100 g of a mix can be used, at 25 °C.",
        "\"30 min\"",
    )
    .usual("by sort"),
    f("handle", Sort::Span, "May be touched", "Until a piece may be handled.", "\"12 h\"")
        .usual("by sort"),
    f("recoat", Sort::Span, "Next coat", "Until it may be coated again.", "\"4 h\"")
        .usual("by sort")
        .unusual(),
    f("cure", Sort::Span, "Cured", "Until a piece may be used.", "\"3 days\"").usual("by sort"),
    f("ratio", Sort::Ratio, "A to B", "How it is mixed.", "\"1:1\"").usual("by sort"),
    f("by", Sort::Choice(MEASURES), "Measured", "How A and B are measured.", "\"weight\"")
        .usual("volume"),
    f("density", Sort::Density, "Density", "Of the mix.", "\"1.1 g/ml\"")
        .usual("by sort")
        .unusual(),
    f("density_a", Sort::Density, "Density of A", "Of part A.", "\"1.1 g/ml\"")
        .usual("by sort")
        .unusual(),
    f("density_b", Sort::Density, "Density of B", "Of part B.", "\"1.1 g/ml\"")
        .usual("by sort")
        .unusual(),
    f("waste", Sort::Share, "Left over", "What stays in cup and nozzle.", "\"10 %\"")
        .usual("by sort")
        .unusual(),
    f("container", Sort::Container, "Holds", "A bottle, a set, a sheet.", "\"110 ml\""),
    f("price", Sort::Money, "Price", "What it costs.", "\"7.80\"")
        .when(&[When { key: "container", is: &["*"] }]),
    f("pigment_limit", Sort::Share, "Most pigment", "By weight.", "\"6 %\"")
        .usual("by sort")
        .unusual(),
];

pub(super) const PRICE: &[Field] = &[
    f("currency", Sort::Currency, "Currency", "Three letters of ISO 4217.", "\"EUR\""),
    f("margin", Sort::Share, "Margin", "Your profit as a part of the price.", "\"30 %\"")
        .usual("30 %")
        .when(&[out("markup")]),
    f("markup", Sort::Share, "Mark-up", "In its place: profit on top of the cost.", "\"50 %\"")
        .when(&[out("margin")])
        .unusual(),
    f("tax", Sort::Share, "Tax", "On the price, shown apart.", "\"20 %\"").usual("none"),
    f("fees", Sort::Tables, "Fees", "What others keep of what the customer pays.", "")
        .of(Table::Fee)
        .usual("none"),
    f("waste", Sort::Share, "Spoilt work", "Materials that end in the bin.", "\"5 %\"")
        .usual("5 %")
        .unusual(),
    f("packaging", Sort::Money, "Packaging", "Box and tissue of one copy.", "\"0.60\"")
        .usual("nothing"),
    f("quantities", Sort::List(&Sort::Whole), "Prices for", "Numbers of copies.", "[1, 6, 12]")
        .usual("1, 6, 12, 24")
        .unusual(),
    f("rush", Sort::Share, "Haste", "What it costs, as a part of the price.", "\"20 %\"")
        .usual("not offered"),
    f("deposit", Sort::Share, "Deposit", "Part of the price that is paid first.", "\"40 %\"")
        .usual("30 %"),
    f("valid", Sort::Whole, "Valid", "Days for which a quote stands.", "21").usual("30"),
    f("round_to", Sort::Money, "Rounded to", "Prices go up to a multiple of this.", "\"0.50\"")
        .usual("the smallest coin")
        .unusual(),
];

pub(super) const FEE: &[Field] = &[
    f("name", Sort::Text, "Name", "What the fee is for.", "\"card\"").needed(),
    f("share", Sort::Share, "Share", "Of what the customer pays.", "\"1.9 %\"").usual("0 %"),
    f("fixed", Sort::Money, "Fixed", "Each time.", "\"0.25\"").usual("0"),
];

pub(super) const KIT: &[Field] = &[
    f("name", Sort::Name, "Name", "Its name, once only.", "\"charm evening\"").needed(),
    f("piece", Sort::Piece, "Piece", "The piece that is set from it.", "\"badge\"").needed(),
    f("copies", Sort::Whole, "Copies", "How many kits are packed.", "12").usual("1"),
    f("loss", Sort::Share, "Loss", "Of those who will set it.", "\"6 %\"").usual("5 %"),
    f("tare", Sort::Mass, "Empty bag", "What an empty bag weighs.", "\"0.5 g\"")
        .usual("0.5 g")
        .unusual(),
];

pub(super) const BAG: &[Field] = &[
    f("name", Sort::Name, "Name", "Its name, once only.", "\"dusk, small bag\"").needed(),
    f("mix", Sort::KindOrMix, "Mix", "A kind or a mix.", "\"one\"").needed(),
    f("weight", Sort::Mass, "Weight", "What is in a bag.", "\"20 g\"").when(&[out("stones")]),
    f("stones", Sort::Whole, "Stones", "In place of a weight: so many stones.", "500")
        .when(&[out("weight")]),
    f("tare", Sort::Mass, "Empty bag", "What an empty bag weighs.", "\"0.5 g\"")
        .usual("0.5 g")
        .unusual(),
    f("cost", Sort::Money, "Bag", "What an empty bag costs.", "\"0.12\"").usual("0"),
    f("time", Sort::Span, "Filling", "Mixing and filling one.", "\"2 min\"").usual("0 min"),
];
