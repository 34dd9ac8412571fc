//! What papers that run on from page to page are made of.

use super::picture::Shown;
use lay::Colour;
use serde::Serialize;

/// A paper: its head and its blocks. All text is text, never markup.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Blocks {
    /// What kind of paper it is: `Quote`.
    pub(super) kind: &'static str,
    /// Its heading: the order.
    pub(super) name: String,
    /// What stands under the heading.
    pub(super) facts: Vec<Fact>,
    /// The rest, from top to bottom.
    pub(super) blocks: Vec<Block>,
}

/// One thing with its name.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub(super) struct Fact {
    name: &'static str,
    value: String,
}

/// `name`: `value`.
pub(super) fn fact(name: &'static str, value: impl Into<String>) -> Fact {
    Fact { name, value: value.into() }
}

/// One block.
#[derive(Clone, Debug, Serialize)]
#[serde(tag = "is", rename_all = "snake_case")]
pub(super) enum Block {
    /// A heading of level 2 or 3.
    Heading { level: u8, text: String },
    /// Paragraphs.
    Prose { lines: Vec<String> },
    /// Things with their names, side by side.
    Facts { facts: Vec<Fact> },
    /// A table.
    Table(Table),
    /// A picture with things beside it.
    Portrait {
        #[serde(flatten)]
        picture: Shown,
        facts: Vec<Fact>,
    },
    /// What to take care of, in a frame.
    Caution { title: &'static str, lines: Vec<String> },
    /// Boxes to tick, each with a name, in so many columns.
    Ticks { names: Vec<String>, columns: usize },
    /// The rest begins on a new page.
    Page,
}

impl Block {
    /// A heading of level 2.
    pub(super) fn heading(text: impl Into<String>) -> Block {
        Block::Heading { level: 2, text: text.into() }
    }

    /// A heading within a section.
    pub(super) fn subheading(text: impl Into<String>) -> Block {
        Block::Heading { level: 3, text: text.into() }
    }

    /// One paragraph for each line of a text.
    pub(super) fn prose(text: &str) -> Block {
        let lines = text.lines().map(str::trim).filter(|l| !l.is_empty());
        Block::Prose { lines: lines.map(str::to_owned).collect() }
    }
}

/// Rows under a head.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Table {
    columns: Vec<Column>,
    rows: Vec<Row>,
    pictures: bool,
}

impl Table {
    /// Without rows so far.
    pub(super) fn new(columns: Vec<Column>) -> Table {
        Table { columns, rows: vec![], pictures: false }
    }

    /// With one more row, of as many cells as there are columns.
    pub(super) fn row(&mut self, cells: Vec<Cell>) {
        debug_assert_eq!(cells.len(), self.columns.len(), "a cell for each column");
        self.pictures |= cells.iter().any(|c| matches!(c, Cell::Picture(_)));
        self.rows.push(Row { cells, bold: false, rule: false, hair: true });
    }

    /// With one more row of a sum.
    pub(super) fn sum(&mut self, cells: Vec<Cell>, look: Sum) {
        self.row(cells);
        if let Some(row) = self.rows.last_mut() {
            (row.hair, row.rule, row.bold) = (false, look != Sum::Plain, look == Sum::Total);
        }
    }

    /// Whether it has no row.
    pub(super) fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }
}

/// How a row of a sum looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sum {
    /// One of several.
    Plain,
    /// The first, under a rule.
    Ruled,
    /// What it comes to: bold, under a rule.
    Total,
}

/// One column.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Column {
    head: String,
    /// Whether it stands to the right, as figures do.
    right: bool,
    wide: bool,
    /// Where columns of several tables are to stand below each other; 0 if by what is in it.
    width_mm: f64,
}

impl Column {
    /// The same, of figures.
    pub(super) fn figures(self) -> Column {
        Column { right: true, ..self }
    }
}

/// A column as wide as its text.
pub(super) fn left(head: impl Into<String>) -> Column {
    Column { head: head.into(), right: false, wide: false, width_mm: 0.0 }
}

/// A column of a width of its own.
pub(super) fn fixed(head: impl Into<String>, width_mm: f64) -> Column {
    Column { width_mm, ..left(head) }
}

/// A column that takes the room that is left.
pub(super) fn wide(head: impl Into<String>) -> Column {
    Column { wide: true, ..left(head) }
}

/// A column of figures.
pub(super) fn figures(head: impl Into<String>) -> Column {
    left(head).figures()
}

#[derive(Clone, Debug, Serialize)]
struct Row {
    cells: Vec<Cell>,
    bold: bool,
    rule: bool,
    hair: bool,
}

/// What stands in one cell.
#[derive(Clone, Debug, Serialize)]
#[serde(tag = "is", rename_all = "snake_case")]
pub(super) enum Cell {
    /// Words or a figure.
    Text { text: String },
    /// A name, and more about it below.
    Under { text: String, under: String },
    /// A picture.
    Picture(Shown),
    /// A stone with the letter of its kind, in its colour made light.
    Mark { letter: String, tint: String },
    /// A box to tick.
    Tick,
}

/// How much of a stone's colour goes into its mark, as on placing sheets; the rest is white.
const TINT: f64 = 0.22;

impl Cell {
    /// Words or a figure.
    pub(super) fn text(text: impl Into<String>) -> Cell {
        Cell::Text { text: text.into() }
    }

    /// Nothing.
    pub(super) fn empty() -> Cell {
        Cell::text("")
    }

    /// The mark of a kind: its letter, on its colour made light.
    pub(super) fn mark(letter: String, colour: Colour) -> Cell {
        let light = |c: u8| (255.0 - (255.0 - f64::from(c)) * TINT).round() as u8;
        let Colour(r, g, b) = colour;
        Cell::Mark { letter, tint: format!("#{:02x}{:02x}{:02x}", light(r), light(g), light(b)) }
    }
}
