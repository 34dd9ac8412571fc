//! The catalogue: every key of the document, for forms, for changes, and for help.
//!
//! One declaration for each key of each table, in the order in which a maker would write them. A
//! test holds it to the parser and to `docs/order-document.md`.
//!
//! | need | item |
//! |---|---|
//! | the keys of a table | [`Table::fields`], [`Field`] |
//! | what a path leads to | [`at`], [`table_at`] |
//! | how a value is typed | [`Sort`], [`Choice`] |
//! | when a key belongs | [`Field::belongs`], [`When`] |

use crate::edit::Path;
use serde::Serialize;

/// A table of the document, wherever it stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Table {
    /// The document itself.
    Order,
    /// `[[kind]]`.
    Kind,
    /// The size of a kind as measured: `{ mean, spread, count }`.
    Measured,
    /// The weight of a kind as a heap: `{ stones, total }`.
    Heap,
    /// `[[mix]]`.
    Mix,
    /// A part of a mix.
    Part,
    /// `[[piece]]`, but for the keys of its one zone.
    Piece,
    /// `blank`.
    Blank,
    /// An entry of `holes`.
    Hole,
    /// `[[piece.zone]]`.
    Zone,
    /// `where` as a band: `{ band, of }`.
    Band,
    /// `where` as an outline at a place.
    Place,
    /// `[workshop]`.
    Workshop,
    /// `loss` with what it is worth: `{ rate, trust }`.
    Loss,
    /// `[[log]]`.
    Log,
    /// `[[stock]]`.
    Stock,
    /// `[[supplier]]`.
    Supplier,
    /// An entry of `offers`.
    Offer,
    /// An entry of `breaks`.
    Break,
    /// `[[adhesive]]`.
    Adhesive,
    /// `[price]`.
    Price,
    /// An entry of `fees`.
    Fee,
    /// `[[kit]]`.
    Kit,
    /// `[[bag]]`.
    Bag,
}

/// One word of a choice.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Choice {
    /// As it stands in the document.
    pub word: &'static str,
    /// In plain words.
    pub label: &'static str,
}

/// How the value of a key is typed and written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Sort {
    /// A name of its own.
    Name,
    /// Any text in quotes.
    Text,
    /// The name of a file.
    File,
    /// A length; a bare number is mm.
    Length,
    /// Two lengths, to the right and down, as a list.
    Place,
    /// Corners, a list of two lengths each.
    Corners,
    /// An angle; a bare number is degrees.
    Angle,
    /// An edge's word or an angle.
    Along,
    /// A length, or so many rows: `2 rows`.
    BandWidth,
    /// A whole number.
    Whole,
    /// One word of a few.
    Choice(&'static [Choice]),
    /// `true` or `false`.
    Flag,
    /// `#rrggbb`.
    Colour,
    /// An amount in the order's currency.
    Money,
    /// A length of time; a bare number is minutes.
    Span,
    /// A day.
    Day,
    /// A share; a bare number is per cent.
    Share,
    /// A mass; a bare number is g.
    Mass,
    /// A temperature; a bare number is °C.
    Temperature,
    /// A density; a bare number is g/ml.
    Density,
    /// A ratio, `1:1`.
    Ratio,
    /// What a bottle, set or sheet holds: `27 ml`, `30 g`, `20 x 30 cm`.
    Container,
    /// Hours of a day: `09:00-12:30`.
    Hours,
    /// The size of a stone: `SS16`, or a length.
    StoneSize,
    /// Three letters of ISO 4217.
    Currency,
    /// The name of a kind.
    Kind,
    /// The name of a mix.
    Mix,
    /// The name of a kind or a mix.
    KindOrMix,
    /// The name of an adhesive.
    Adhesive,
    /// The name of a piece.
    Piece,
    /// A list of values, one of them given.
    List(&'static Sort),
    /// A table of its own: [`Field::table`] says which.
    Table,
    /// A list of tables: [`Field::table`] says of which.
    Tables,
}

/// When a key belongs to its table: if another key of it has one of these values.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct When {
    /// The other key.
    pub key: &'static str,
    /// Its values. An empty word stands for "left out", unless the other key has a usual value:
    /// that stands then.
    pub is: &'static [&'static str],
}

/// One key of a table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Field {
    /// Its table.
    pub of: Table,
    /// The key.
    pub key: &'static str,
    /// What a form calls it.
    pub label: &'static str,
    /// One line of help.
    pub help: &'static str,
    /// How it is typed.
    pub sort: Sort,
    /// The table that its value is or has; beside another sort it is the long way of writing it.
    pub table: Option<Table>,
    /// Whether the table must have it.
    pub needed: bool,
    /// What stands if it is left out: a value as it would be typed, or words; empty for nothing.
    pub usual: &'static str,
    /// Whether it is unusual: a page folds it away.
    pub unusual: bool,
    /// It belongs if all of these hold.
    pub when: &'static [When],
    /// An example, as it is written in the document.
    pub example: &'static str,
}

impl Table {
    /// Its keys, in the order in which a maker would write them.
    pub fn fields(self) -> &'static [Field] {
        &[]
    }

    /// One of its keys.
    pub fn field(self, key: &str) -> Option<&'static Field> {
        self.fields().iter().find(|f| f.key == key)
    }
}

impl Field {
    /// Whether it belongs into a table with these values. `value` gives the value of another key as
    /// a form shows it, `None` if it is left out.
    pub fn belongs(&self, value: impl Fn(&str) -> Option<String>) -> bool {
        let _ = value;
        true
    }
}

/// The key that a path leads to; for an entry of a list of values that of the list. `None` if it
/// leads to a table, an entry of a list of tables, or nowhere.
pub fn at(path: &Path) -> Option<&'static Field> {
    let _ = path;
    None
}

/// The table that a path leads to, whether the document has it or not: `piece.3.zone.1` is a zone.
pub fn table_at(path: &Path) -> Option<Table> {
    let _ = path;
    None
}
