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

mod laying;
mod piece;
mod terms;
mod words;

use crate::edit::{Path, Step};
use schemars::JsonSchema;
use serde::Serialize;

/// A table of the document, wherever it stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, JsonSchema)]
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
    /// An entry of `by_hand`.
    ByHand,
    /// `where` as a band, `{ band, of }`, or as an outline at a place.
    Where,
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
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Choice {
    /// As it stands in the document.
    pub word: &'static str,
    /// In plain words.
    pub label: &'static str,
}

/// How the value of a key is typed and written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Sort {
    /// A name of its own.
    Name,
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
    Along(&'static [Choice]),
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
    /// A name of the order or of a lot: any text.
    Text,
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
    /// A list of values.
    List(&'static Sort),
    /// A table of its own: [`Field::table`] says which.
    Table,
    /// A list of tables: [`Field::table`] says of which.
    Tables,
}

/// When a key belongs to its table: if another key of it has one of these values.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct When {
    /// The other key.
    pub key: &'static str,
    /// Its values; an empty one stands for "left out", `*` for any value.
    pub is: &'static [&'static str],
}

/// One key of a table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Field {
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
    /// Every table, the document first.
    pub const ALL: [Table; 24] = [
        Table::Order,
        Table::Kind,
        Table::Measured,
        Table::Heap,
        Table::Mix,
        Table::Part,
        Table::Piece,
        Table::Blank,
        Table::Hole,
        Table::Zone,
        Table::ByHand,
        Table::Where,
        Table::Workshop,
        Table::Loss,
        Table::Log,
        Table::Stock,
        Table::Supplier,
        Table::Offer,
        Table::Break,
        Table::Adhesive,
        Table::Price,
        Table::Fee,
        Table::Kit,
        Table::Bag,
    ];

    /// Its keys, in the order in which a maker would write them.
    pub fn fields(self) -> &'static [Field] {
        match self {
            Table::Order => laying::ORDER,
            Table::Kind => laying::KIND,
            Table::Measured => laying::MEASURED,
            Table::Heap => laying::HEAP,
            Table::Mix => laying::MIX,
            Table::Part => laying::PART,
            Table::Piece => piece::PIECE,
            Table::Blank => piece::BLANK,
            Table::Hole => piece::HOLE,
            Table::ByHand => piece::BY_HAND,
            Table::Zone => piece::ZONE,
            Table::Where => piece::WHERE,
            Table::Workshop => terms::WORKSHOP,
            Table::Loss => terms::LOSS,
            Table::Log => terms::LOG,
            Table::Stock => terms::STOCK,
            Table::Supplier => terms::SUPPLIER,
            Table::Offer => terms::OFFER,
            Table::Break => terms::BREAK,
            Table::Adhesive => terms::ADHESIVE,
            Table::Price => terms::PRICE,
            Table::Fee => terms::FEE,
            Table::Kit => terms::KIT,
            Table::Bag => terms::BAG,
        }
    }

    /// One of its keys.
    pub fn field(self, key: &str) -> Option<&'static Field> {
        self.fields().iter().find(|f| f.key == key)
    }

    /// Whether a new one is written below a header of its own, `[[kind]]`, and not in braces.
    pub fn headed(self) -> bool {
        use Table::{Adhesive, Bag, Kind, Kit, Log, Mix, Piece, Price, Stock, Supplier, Workshop};
        matches!(
            self,
            Kind | Mix
                | Piece
                | Table::Zone
                | Workshop
                | Log
                | Stock
                | Supplier
                | Adhesive
                | Price
                | Kit
                | Bag
        )
    }
}

impl Field {
    /// Whether it belongs into a table with these values. `value` gives the value of another key as
    /// a form shows it, `None` if it is left out.
    pub fn belongs(&self, value: impl Fn(&str) -> Option<String>) -> bool {
        self.when.iter().all(|when| {
            let value = value(when.key).unwrap_or_default();
            when.is.iter().any(|is| *is == value || (*is == "*" && !value.is_empty()))
        })
    }

    /// The words to choose from, if it is a choice.
    pub fn choices(&self) -> &'static [Choice] {
        match self.sort {
            Sort::Choice(choices) | Sort::Along(choices) => choices,
            Sort::List(Sort::Choice(choices)) => choices,
            _ => &[],
        }
    }

    /// As it is written down most often; the rest is added by the functions below.
    const fn new(
        key: &'static str,
        sort: Sort,
        label: &'static str,
        help: &'static str,
        example: &'static str,
    ) -> Field {
        Field {
            key,
            label,
            help,
            sort,
            table: None,
            needed: false,
            usual: "",
            unusual: false,
            when: &[],
            example,
        }
    }

    const fn needed(self) -> Field {
        Field { needed: true, ..self }
    }

    const fn usual(self, usual: &'static str) -> Field {
        Field { usual, ..self }
    }

    const fn unusual(self) -> Field {
        Field { unusual: true, ..self }
    }

    const fn when(self, when: &'static [When]) -> Field {
        Field { when, ..self }
    }

    const fn of(self, table: Table) -> Field {
        Field { table: Some(table), ..self }
    }
}

/// Where a path leads.
enum Place {
    Table(Table),
    /// A field, or an entry of its list of values.
    Field(&'static Field),
}

fn place(path: &Path) -> Option<Place> {
    let mut place = Place::Table(Table::Order);
    for step in &path.steps {
        place = match (place, step) {
            (Place::Table(table), Step::Key(key)) => Place::Field(table.field(key)?),
            (Place::Field(field), Step::Key(key)) if field.sort != Sort::Tables => {
                // A mix written in place is a list of parts, not a part.
                if matches!(field.sort, Sort::KindOrMix) {
                    return None;
                }
                Place::Field(field.table?.field(key)?)
            }
            (Place::Field(field), Step::Number(_)) => match (field.sort, field.table) {
                (Sort::Tables | Sort::KindOrMix, Some(table)) => Place::Table(table),
                (Sort::List(_) | Sort::Place | Sort::Corners, _) => Place::Field(field),
                _ => return None,
            },
            _ => return None,
        };
    }
    Some(place)
}

/// The key that a path leads to; for an entry of a list of values that of the list. `None` if it
/// leads to an entry of a list of tables, or nowhere.
pub fn at(path: &Path) -> Option<&'static Field> {
    match place(path)? {
        Place::Field(field) => Some(field),
        Place::Table(_) => None,
    }
}

/// The table that a path leads to, whether the document has it or not: `piece.3.zone.1` is a zone.
pub fn table_at(path: &Path) -> Option<Table> {
    match place(path)? {
        Place::Table(table) => Some(table),
        Place::Field(field) if field.sort == Sort::Tables || field.sort == Sort::KindOrMix => None,
        Place::Field(field) => field.table,
    }
}

#[cfg(test)]
mod tests;
