//! The words of every choice, with what they mean in plain words.

use super::Choice;

const fn word(word: &'static str, label: &'static str) -> Choice {
    Choice { word, label }
}

pub(super) const FINISHES: &[Choice] = &[
    word("foiled", "Foiled: sparkles, the usual"),
    word("rainbow", "Rainbow coat over foil"),
    word("clear", "Clear, no foil"),
    word("metallic", "Metallic, no light through it"),
    word("pearl", "Pearl: soft, no sparkle"),
];

pub(super) const SHAPES: &[Choice] = &[
    word("rectangle", "Rectangle"),
    word("rounded rectangle", "Rectangle with round corners"),
    word("circle", "Circle"),
    word("ellipse", "Ellipse"),
    word("regular polygon", "Regular polygon"),
    word("polygon", "Polygon, corner by corner"),
    word("star", "Star"),
    word("heart", "Heart"),
];

pub(super) const APPLY: &[Choice] = &[
    word("dot", "A dot under each stone"),
    word("bead", "A bead along each row"),
    word("film", "A film over the zones"),
    word("sheet", "A sheet, cut to shape"),
];

pub(super) const BASES: &[Choice] = &[
    word("acrylic", "Acrylic"),
    word("polycarbonate", "Polycarbonate"),
    word("wood", "Wood"),
    word("metal", "Metal"),
    word("glass", "Glass"),
    word("leather", "Leather"),
    word("fabric", "Fabric"),
    word("card", "Card"),
    word("resin", "Resin"),
    word("protective helmet", "Protective helmet"),
];

pub(super) const PLACING: &[Choice] = &[
    word("sheet", "By a placing sheet: every stone has its place"),
    word("hand", "By hand, from a heap"),
];

pub(super) const REST: &[Choice] = &[word("rest", "What the other zones leave over")];

pub(super) const EDGES: &[Choice] = &[
    word("outside", "The outer edge"),
    word("holes", "The edges of the holes"),
    word("every edge", "Every edge"),
];

pub(super) const ARRANGEMENTS: &[Choice] = &[
    word("honeycomb", "Honeycomb: rows that interlock"),
    word("square", "Square rows and columns"),
    word("rings", "Rings round a centre"),
    word("scatter", "Scatter: close, without rows"),
];

pub(super) const ROWS: &[Choice] = &[
    word("locked", "Locked to an edge"),
    word("most", "Turned and shifted for the most stones"),
    word("even", "Opened evenly until they reach across"),
];

pub(super) const ALONG: &[Choice] = &[
    word("bottom", "Bottom"),
    word("top", "Top"),
    word("left", "Left"),
    word("right", "Right"),
    word("longest", "The longest straight edge"),
];

pub(super) const STARTS: &[Choice] =
    &[word("in line", "All in one line"), word("staggered", "Half a stone on, ring by ring")];

pub(super) const SET_BY: &[Choice] = &[
    word("sheet", "By a sheet: the largest of the bag keeps its distance"),
    word("touch", "By touch: each against the last"),
];

pub(super) const COLOURINGS: &[Choice] = &[
    word("plain", "One kind throughout"),
    word("striped", "In stripes, row by row"),
    word("alternating", "One after the other along the rows"),
    word("random", "At random by share, without clumps"),
];

pub(super) const LEVELS: &[Choice] = &[
    word("beginner", "Beginner: 150 stones an hour"),
    word("practised", "Practised: 300 stones an hour"),
    word("fast", "Fast: 450 stones an hour"),
];

pub(super) const DAYS: &[Choice] = &[
    word("monday", "Monday"),
    word("tuesday", "Tuesday"),
    word("wednesday", "Wednesday"),
    word("thursday", "Thursday"),
    word("friday", "Friday"),
    word("saturday", "Saturday"),
    word("sunday", "Sunday"),
];

pub(super) const SORTS: &[Choice] = &[
    word("solvent gel", "Solvent gel, from a tube"),
    word("5-minute epoxy", "5-minute epoxy"),
    word("coating epoxy", "Coating epoxy"),
    word("slow resin", "Slow resin"),
    word("light-cured", "Light-cured"),
    word("water-based", "Water-based"),
    word("adhesive sheet", "Adhesive sheet"),
];

pub(super) const MEASURES: &[Choice] = &[word("volume", "By volume"), word("weight", "By weight")];
