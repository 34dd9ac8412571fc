//! Orders: new ones, brought ones, taken along, changed, and back.

use crate::opened::Brought;
use crate::{Desk, DeskError, Opened, bounded};
use app::adopt::{self, Entry, Present};
use app::edit::{self, Change, Path};
use app::order::{MAX_FILE_BYTES, Order};
use app::{begin, document};
use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use shop::{DocumentId, RevisionId, Sort};
use std::time::Duration;

/// An order to begin.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct NewOrder {
    /// Its name.
    pub name: String,
    /// The day on which it must be ready, `2026-12-18`.
    #[serde(default)]
    pub due: Option<String>,
}

/// A document with the files that it names: what is brought and what is taken along.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Bundle {
    /// The text.
    pub text: String,
    /// Names and bytes of its outline files.
    pub files: Vec<(String, Vec<u8>)>,
}

/// Longest name of an order.
const MOST_NAME: usize = 200;

impl Desk {
    /// Begins an order without pieces. What the workshop charges and how it works is taken over.
    ///
    /// # Errors
    /// A name or day that cannot be; the shop's.
    pub fn new_order(&self, new: &NewOrder) -> Result<Opened, DeskError> {
        let name = new.name.trim();
        if name.is_empty() || name.chars().count() > MOST_NAME {
            return Err(DeskError::unfit(
                "an order needs a name",
                format!("give it one of at most {MOST_NAME} letters"),
            ));
        }
        let workshop = self.workshop()?.revision.text;
        let has = adopt::entries(&workshop)?;
        let wanted: Vec<Entry> =
            has.into_iter().filter(|e| matches!(e, Entry::Workshop | Entry::Price)).collect();
        let mut text = adopt::take_over(&begin::order(name), &workshop, &wanted, Present::Keep)?;
        if let Some(due) = new.due.as_deref().filter(|d| !d.trim().is_empty()) {
            let path = Path::root().key("due");
            text = edit::apply(&text, &[Change::Set { path, value: due.to_owned() }])?;
        }
        self.keep(&Bundle { text, files: vec![] }, "begun", false)
    }

    /// Keeps a document that was brought, with its files. Its text stays byte for byte.
    ///
    /// # Errors
    /// Everything that is wrong with it; the shop's.
    pub fn import(&self, bundle: &Bundle) -> Result<Opened, DeskError> {
        read_outlines(bundle.files.clone())?;
        self.keep(bundle, "brought in", false)
    }

    pub(crate) fn keep(
        &self,
        bundle: &Bundle,
        what: &str,
        demo: bool,
    ) -> Result<Opened, DeskError> {
        let read =
            app::order::open_draft("order", bundle.text.as_bytes(), &Brought(&bundle.files))?;
        let shown = Shown::of(&read);
        let change = shop::Change { what, ..shown.change(&bundle.text) };
        let head = self.shop.create(Sort::Order, &change, demo)?;
        for (name, bytes) in &bundle.files {
            self.shop.add_outline(head.document.id, name, bytes)?;
        }
        self.opened(head)
    }

    /// A document as it stands, with the files that it names.
    ///
    /// # Errors
    /// There is none; the shop's.
    pub fn export(&self, id: DocumentId) -> Result<Bundle, DeskError> {
        let text = self.shop.head(id)?.revision.text;
        let mut files = vec![];
        for name in self.shop.outlines(id)? {
            // Files that were dropped and not used stay here.
            if text.contains(&name) {
                let bytes = self.shop.outline(id, &name)?;
                files.push((name, bytes));
            }
        }
        Ok(Bundle { text, files })
    }

    /// Changes a document that stands at `from`. `together` marks changes that undo as one.
    ///
    /// # Errors
    /// A change that cannot be made, everything that would be wrong with the new text, or that the
    /// document was changed meanwhile; the shop's.
    pub fn change(
        &self,
        id: DocumentId,
        from: RevisionId,
        changes: &[Change],
        what: &str,
        together: Option<&str>,
    ) -> Result<Opened, DeskError> {
        let before = self.shop.revision(from)?.text;
        let text = edit::apply(&before, changes)?;
        self.revise(id, from, &text, what, together)
    }

    /// Gives a document another text altogether.
    ///
    /// # Errors
    /// As for [`Desk::change`].
    pub fn replace(
        &self,
        id: DocumentId,
        from: RevisionId,
        text: &str,
    ) -> Result<Opened, DeskError> {
        self.revise(id, from, text, "written as text", None)
    }

    pub(crate) fn revise(
        &self,
        id: DocumentId,
        from: RevisionId,
        text: &str,
        what: &str,
        together: Option<&str>,
    ) -> Result<Opened, DeskError> {
        let order = self.meaning(id, text)?;
        let shown = Shown::of(&order);
        let change = shop::Change { what, together, ..shown.change(text) };
        let head = self.shop.revise(id, from, &change)?;
        self.orders.get(head.revision.id, || None, || Ok::<_, DeskError>(order))?;
        self.opened(head)
    }

    /// Takes the last change of a document that stands at `from` back, if there is one.
    ///
    /// # Errors
    /// It stands elsewhere, so that what is sent twice is done once; the shop's.
    pub fn undo(&self, id: DocumentId, from: RevisionId) -> Result<Opened, DeskError> {
        match self.shop.undo(id, from)? {
            Some(head) => self.opened(head),
            None => self.open(id),
        }
    }

    /// Brings back what was taken back last from `from`, where the document stands, if there is
    /// something.
    ///
    /// # Errors
    /// As for [`Desk::undo`].
    pub fn redo(&self, id: DocumentId, from: RevisionId) -> Result<Opened, DeskError> {
        match self.shop.redo(id, from)? {
            Some(head) => self.opened(head),
            None => self.open(id),
        }
    }

    /// Keeps an outline file of an order; gives the name under which it is kept.
    ///
    /// # Errors
    /// It cannot be read as an outline, and why, or takes too long to read; the shop's.
    pub fn add_outline(
        &self,
        id: DocumentId,
        name: &str,
        bytes: &[u8],
    ) -> Result<String, DeskError> {
        let name = name.rsplit(['/', '\\']).next().unwrap_or_default().trim();
        if name.is_empty() {
            return Err(DeskError::unfit("the file has no name", "name it like gull.svg"));
        }
        read_outlines(vec![(name.to_owned(), bytes.to_vec())])?;
        Ok(self.shop.add_outline(id, name, bytes)?)
    }
}

/// So long may reading the outlines of one sending take.
const READING: Duration = Duration::from_secs(10);

/// Reads drawings as outlines, to see that they are some, within a bound of time.
fn read_outlines(files: Vec<(String, Vec<u8>)>) -> Result<(), DeskError> {
    if files.is_empty() {
        return Ok(());
    }
    let what = format!("`{}`", files.iter().map(|f| f.0.as_str()).collect::<Vec<_>>().join("`, `"));
    bounded::within(READING, &what, move || {
        for (name, bytes) in &files {
            // Tables of stock travel with an order, too.
            if name.to_lowercase().ends_with(".csv") {
                continue;
            }
            if bytes.len() as u64 > MAX_FILE_BYTES {
                return Err(DeskError::unfit(
                    format!("`{name}` is larger than 10 MB"),
                    "simplify the drawing: an outline needs a few thousand points",
                ));
            }
            outline::read_svg(bytes, outline::Scale::AsDrawn)
                .map_err(|e| DeskError::unfit(format!("`{name}`: {e}"), e.hint()))?;
        }
        Ok(())
    })?
}

/// What lists and searches show of a document.
pub(crate) struct Shown {
    name: String,
    due: Option<String>,
    words: String,
}

impl Shown {
    pub(crate) fn of(order: &Order) -> Shown {
        let pieces: Vec<&str> = order.pieces.iter().map(|p| p.piece.name.as_str()).collect();
        Shown {
            name: order.name.clone(),
            due: order.terms.due.map(|d: Date| d.to_string()),
            words: pieces.join(" "),
        }
    }

    pub(crate) fn change<'a>(&'a self, text: &'a str) -> shop::Change<'a> {
        shop::Change {
            text,
            name: &self.name,
            due_day: self.due.as_deref(),
            words: &self.words,
            what: "",
            together: None,
        }
    }
}

/// The name and day of a draft, for a text that has no order in it yet.
pub(crate) fn name_of(text: &str) -> Result<String, DeskError> {
    Ok(document::read_draft("workshop", text.as_bytes())?.order)
}
