//! The keys of a piece: its blank, its holes, its zones.

use super::words::{
    ALONG, APPLY, ARRANGEMENTS, BASES, COLOURINGS, EDGES, PLACING, REST, ROWS, SET_BY, SHAPES,
    STARTS,
};
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

const fn when(key: &'static str, is: &'static [&'static str]) -> When {
    When { key, is }
}

pub(super) const PIECE: &[Field] = &[
    f("name", Sort::Name, "Name", "Its name, once only.", "\"badge\"").needed(),
    f("quantity", Sort::Whole, "Copies", "How many are made.", "18")
        .usual("1, or as many as there are names"),
    f(
        "names",
        Sort::List(&Sort::Name),
        "Whose they are",
        "One name a line, a copy each.",
        "[\"Ana\", \"Bo\"]",
    )
    .usual("nobody's yet")
    .unusual(),
    f("margin", Sort::Length, "Bare rim", "Kept from the blank's edges and holes.", "\"0.5 mm\"")
        .usual("0 mm"),
    f("blank", Sort::Table, "Blank", "The bare thing: a shape or a file.", "")
        .of(Table::Blank)
        .needed(),
    f("holes", Sort::Tables, "Holes", "What is cut out of the blank.", "")
        .of(Table::Hole)
        .usual("none"),
    f("adhesive", Sort::Adhesive, "Adhesive", "What it is glued with.", "\"gel\"")
        .usual("the usual solvent gel"),
    f("apply", Sort::Choice(APPLY), "Put on as", "How the adhesive is put on.", "\"dot\"")
        .usual("")
        .unusual(),
    f("bead", Sort::Length, "Width of a bead", "How wide a bead is laid.", "\"1.2 mm\"")
        .usual("half the smallest stone")
        .when(&[when("apply", &["bead", ""]), when("film", &[""])])
        .unusual(),
    f("film", Sort::Length, "Thickness of a film", "How thick a film is laid.", "\"0.4 mm\"")
        .usual("0.3 mm")
        .when(&[when("apply", &["film", ""]), when("bead", &[""])])
        .unusual(),
    f("base", Sort::Choice(BASES), "Made of", "What the blank is.", "\"wood\""),
    f("stressed", Sort::Flag, "Under stress", "Bent, drilled or cut by laser.", "true")
        .usual("false")
        .unusual(),
    f("flexible", Sort::Flag, "Bends", "The finished thing bends in use.", "true")
        .usual("false")
        .unusual(),
    f("placing", Sort::Choice(PLACING), "Placed", "How stones find their places.", "\"hand\"")
        .usual("sheet")
        .unusual(),
    f("prepare", Sort::Span, "Preparing", "Scuffing and washing one copy.", "\"4 min\"")
        .usual("4 min")
        .unusual(),
    f("dry", Sort::Span, "Drying", "Until a washed blank is dry.", "\"1 h\"")
        .usual("1 h")
        .unusual(),
    f("pack", Sort::Span, "Wrapping", "Wrapping one copy.", "\"3 min\"").usual("3 min").unusual(),
    f("sides", Sort::Whole, "Sides", "Sides or coats, one after the other.", "2")
        .usual("1")
        .unusual(),
    f("blank_price", Sort::Money, "Price of a blank", "What a bare blank costs.", "\"0.85\"")
        .usual("nothing"),
    f("price", Sort::Money, "Your price", "What you ask for one copy, before tax.", "\"24.00\"")
        .usual("the suggested price"),
    f("by_hand", Sort::Tables, "By hand", "What is changed by hand in the lay, in order.", "")
        .of(Table::ByHand)
        .usual("nothing")
        .unusual(),
    f("zone", Sort::Tables, "Zones", "Parts of the blank, each arranged in its own way.", "")
        .of(Table::Zone),
];

/// The outline's keys belong where it is no band.
const NO_BAND: When = when("band", &[""]);

macro_rules! outline {
    ($($more:expr),*) => {
        &[
            f("shape", Sort::Choice(SHAPES), "Shape", "A ready-made outline.", "\"circle\"")
                .when(&[when("file", &[""]), NO_BAND]),
            f("file", Sort::File, "File", "An outline drawn elsewhere, as SVG.", "\"gull.svg\"")
                .when(&[when("shape", &[""]), NO_BAND]),
            f("width", Sort::Length, "Width", "Side to side.", "\"60 mm\"")
                .when(&[when("shape", &["rectangle", "rounded rectangle", "ellipse", "heart", ""]), NO_BAND]),
            f("height", Sort::Length, "Height", "Top to bottom.", "\"50 mm\"")
                .when(&[when("shape", &["rectangle", "rounded rectangle", "ellipse", "heart", ""]), NO_BAND]),
            f("corner", Sort::Length, "Corner", "The radius of its corners.", "\"4 mm\"")
                .when(&[when("shape", &["rounded rectangle"])]),
            f("diameter", Sort::Length, "Diameter", "Across the circle.", "\"60 mm\"")
                .when(&[when("shape", &["circle"])]),
            f("corners", Sort::Whole, "Corners", "How many corners it has.", "6")
                .when(&[when("shape", &["regular polygon"])]),
            f("tips", Sort::Whole, "Tips", "How many tips it has.", "5")
                .when(&[when("shape", &["star"])]),
            f("across", Sort::Length, "Across", "Diameter of the circle round it.", "\"60 mm\"")
                .when(&[when("shape", &["regular polygon", "star"])]),
            f("inner", Sort::Share, "Inner circle", "A share of the outer one.", "\"40 %\"")
                .usual("40 %")
                .when(&[when("shape", &["star"])]),
            f("points", Sort::Corners, "Corners", "To the right and down, once round.",
                "[[\"0 mm\", \"0 mm\"], [\"30 mm\", \"0 mm\"], [\"15 mm\", \"20 mm\"]]")
                .when(&[when("shape", &["polygon"])]),
            $($more),*
        ]
    };
}

const AT: Field = f(
    "at",
    Sort::Place,
    "Middle",
    "Where its middle comes: to the right and down from the top left corner.",
    "[\"30 mm\", \"6 mm\"]",
)
.when(&[NO_BAND])
.needed();
const TURN: Field = f("turn", Sort::Angle, "Turned", "Counter-clockwise.", "\"30 deg\"")
    .usual("0 deg")
    .when(&[NO_BAND])
    .unusual();

pub(super) const BLANK: &[Field] =
    outline![f("colour", Sort::Colour, "Colour", "For pictures.", "\"#142038\"").usual("#f4f1ea")];

pub(super) const HOLE: &[Field] = outline![AT, TURN];

pub(super) const WHERE: &[Field] = outline![
    AT,
    TURN,
    f("band", Sort::BandWidth, "Width of the band", "A length, or so many rows.", "\"6 mm\"")
        .when(&[when("shape", &[""]), when("file", &[""])]),
    f("of", Sort::Choice(EDGES), "Along", "Along which edges it runs.", "\"holes\"")
        .usual("outside")
        .when(&[when("band", &["*"])])
];

/// One change of a lay by hand. Its first key says what is done, and where.
pub(super) const BY_HAND: &[Field] = &[
    f("set", Sort::Place, "Set a stone at", "A stone exactly here.", "[\"30 mm\", \"12.5 mm\"]")
        .when(&[when("clear", &[""]), when("recolour", &[""])]),
    f("clear", Sort::Place, "Clear", "No stone on this spot.", "[\"10 mm\", \"8 mm\"]").when(&[
        when("set", &[""]),
        when("recolour", &[""]),
        when("kind", &[""]),
    ]),
    f("recolour", Sort::Place, "Recolour", "The stone on this spot.", "[\"22 mm\", \"9 mm\"]")
        .when(&[when("set", &[""]), when("clear", &[""])]),
    f("kind", Sort::Kind, "Kind", "Of the stone set, or its new one.", "\"one\"")
        .when(&[when("clear", &[""])]),
    f("turn", Sort::Angle, "Turned", "Counter-clockwise.", "\"30 deg\"")
        .usual("0 deg")
        .when(&[when("set", &["*"])])
        .unusual(),
];

const ROWED: When = when("arrangement", &["honeycomb", "square"]);
const RINGS: When = when("arrangement", &["rings"]);

pub(super) const ZONE: &[Field] = &[
    f("name", Sort::Name, "Name", "Its name, once in the piece.", "\"frame\"").needed(),
    f("where", Sort::Choice(REST), "Where", "A band, a shape, or the rest.", "\"rest\"")
        .of(Table::Where)
        .usual("all of it, if it is the only one"),
    f(
        "arrangement",
        Sort::Choice(ARRANGEMENTS),
        "Arrangement",
        "Where the stones go.",
        "\"honeycomb\"",
    )
    .needed(),
    f("rows", Sort::Choice(ROWS), "Rows", "How rows lie in the zone.", "\"most\"")
        .usual("locked")
        .when(&[ROWED]),
    f("along", Sort::Along(ALONG), "Along", "The edge of the first row, or an angle.", "\"top\"")
        .usual("bottom")
        .when(&[ROWED, when("rows", &["locked", "even", ""])]),
    f("open", Sort::Length, "Opened by at most", "How far the spacing may open.", "\"0.25 mm\"")
        .usual("0.3 mm")
        .when(&[ROWED, when("rows", &["even"])])
        .unusual(),
    f("steps", Sort::Whole, "Tries", "How many turns and shifts are tried.", "600")
        .usual("2000")
        .when(&[ROWED, when("rows", &["most"])])
        .unusual(),
    f(
        "centre",
        Sort::Place,
        "Centre",
        "The centre of the rings, to the right and down.",
        "[\"25 mm\", \"25 mm\"]",
    )
    .usual("the middle of the hole in the middle, or of the largest circle that fits")
    .when(&[RINGS]),
    f("start", Sort::Choice(STARTS), "Rings start", "Where each ring begins.", "\"staggered\"")
        .usual("in line")
        .when(&[RINGS]),
    f("nested", Sort::Flag, "Nested", "Neighbouring rings of equal count interlock.", "true")
        .usual("false")
        .when(&[RINGS])
        .unusual(),
    f("around_holes", Sort::Flag, "Around holes", "Holes get rings of their own.", "true")
        .usual("false")
        .when(&[RINGS]),
    f("ring_holes", Sort::Flag, "Ring the holes", "Holes are ringed with stones first.", "false")
        .usual("true")
        .when(&[when("arrangement", &["scatter"])]),
    f("spacing", Sort::Length, "Spacing", "From stone to stone, edge to edge.", "\"0.1 mm\"")
        .usual("0.2 mm, or 0 if set by touch"),
    f("set_by", Sort::Choice(SET_BY), "Kept apart", "What keeps stones apart.", "\"touch\"")
        .usual("sheet")
        .unusual(),
    f("mix", Sort::KindOrMix, "Stones", "A kind, a mix, or a list of parts.", "\"one\"")
        .of(Table::Part)
        .needed(),
    f("colouring", Sort::Choice(COLOURINGS), "Colouring", "Which kind goes where.", "\"striped\"")
        .usual("plain for one kind, else random"),
    f("fillers", Sort::List(&Sort::Kind), "Fillers", "Kinds set into bare spots.", "[\"two\"]")
        .usual("none"),
    f("seed", Sort::Whole, "Seed", "A seed of its own, for another throw.", "7")
        .usual("from the order's")
        .unusual(),
];
