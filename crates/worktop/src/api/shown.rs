//! What the answers say of orders and documents.

use crate::problem::Problem;
use desk::Opened;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use shop::{Document, Sort};

/// An order as lists show it.
#[derive(Serialize, JsonSchema)]
pub(super) struct OrderCard {
    /// Its number.
    id: i64,
    /// Its name.
    name: String,
    /// The day on which it must be ready.
    due: Option<String>,
    /// Whether it is the demo order.
    demo: bool,
    /// Whether it was put away.
    put_away: bool,
    /// When it was changed last, milliseconds since 1970 in UTC.
    changed_ms: i64,
}

impl From<Document> for OrderCard {
    fn from(d: Document) -> OrderCard {
        OrderCard {
            id: d.id.0,
            name: d.name,
            due: d.due_day,
            demo: d.demo,
            put_away: d.put_away,
            changed_ms: d.changed_ms,
        }
    }
}

/// A document at its head.
#[derive(Serialize, JsonSchema)]
pub(super) struct DocumentShown {
    /// Its number.
    id: i64,
    /// Its name.
    name: String,
    /// Whether it is the workshop's own.
    workshop: bool,
    /// The revision to change it from.
    revision: i64,
    /// What undo would take back.
    undo: Option<String>,
    /// What redo would bring back.
    redo: Option<String>,
    /// Its text, TOML.
    text: String,
    /// Its pieces.
    pieces: Vec<PieceShown>,
}

/// A piece of an order.
#[derive(Serialize, JsonSchema)]
pub(super) struct PieceShown {
    /// Its number, from 1.
    number: usize,
    /// Its name.
    name: String,
    /// How many are made.
    quantity: u32,
    /// Whose each copy is, from the first on.
    names: Vec<String>,
    /// Width of the blank's box, mm.
    width_mm: f64,
    /// Height of the blank's box, mm.
    height_mm: f64,
}

impl From<Opened> for DocumentShown {
    fn from(opened: Opened) -> DocumentShown {
        let pieces = opened.order.pieces.iter().enumerate().map(|(i, p)| {
            let size = p.piece.blank.bounds();
            PieceShown {
                number: i + 1,
                name: p.piece.name.clone(),
                quantity: p.quantity,
                names: p.names.clone(),
                width_mm: size.width(),
                height_mm: size.height(),
            }
        });
        DocumentShown {
            id: opened.document.id.0,
            name: opened.document.name.clone(),
            workshop: opened.document.sort == Sort::Workshop,
            revision: opened.revision.id.0,
            undo: opened.ways.undo.clone(),
            redo: opened.ways.redo.clone(),
            pieces: pieces.collect(),
            text: opened.revision.text,
        }
    }
}

/// A document and the files that it names.
#[derive(Serialize, Deserialize, JsonSchema)]
pub(super) struct BundleShown {
    /// The text, TOML.
    pub(super) text: String,
    /// The outline files.
    #[serde(default)]
    pub(super) files: Vec<FileShown>,
}

/// An outline file. Outlines are text (SVG).
#[derive(Serialize, Deserialize, JsonSchema)]
pub(super) struct FileShown {
    /// Its name.
    pub(super) name: String,
    /// Its text.
    pub(super) text: String,
}

impl TryFrom<desk::Bundle> for BundleShown {
    type Error = Problem;

    fn try_from(bundle: desk::Bundle) -> Result<BundleShown, Problem> {
        let text = |bytes: Vec<u8>| {
            String::from_utf8(bytes).map_err(|_| {
                Problem::unfit("an outline of this order is no text")
                    .hint("take it along from its page")
            })
        };
        let files = bundle.files.into_iter();
        let files = files.map(|(name, bytes)| Ok(FileShown { name, text: text(bytes)? }));
        Ok(BundleShown { text: bundle.text, files: files.collect::<Result<_, Problem>>()? })
    }
}

impl From<BundleShown> for desk::Bundle {
    fn from(shown: BundleShown) -> desk::Bundle {
        let files = shown.files.into_iter().map(|f| (f.name, f.text.into_bytes()));
        desk::Bundle { text: shown.text, files: files.collect() }
    }
}
