//! Documents: the workshop's own and its orders, each a text with all its revisions.

use crate::open::later;
use crate::{DocumentId, RevisionId, Shop, ShopError};

/// Which sort of document.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Sort {
    /// The workshop's own: kinds, suppliers, prices. There is one.
    Workshop,
    /// An order.
    Order,
}

/// By what a list is ordered.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum By {
    /// The last changed first.
    #[default]
    Changed,
    /// The first due first, those without a day last.
    Due,
}

/// Which documents a list wants.
#[derive(Debug, Clone)]
pub struct Asked<'a> {
    /// Which sort.
    pub sort: Sort,
    /// Words that all have to occur in the name, the day or the words of a document, in any case;
    /// empty for all documents.
    pub search: &'a str,
    /// Those that were put away, or those that were not.
    pub put_away: bool,
    /// In which order.
    pub by: By,
    /// The last document of the page before.
    pub after: Option<DocumentId>,
    /// At most so many.
    pub limit: u32,
}

impl Default for Asked<'_> {
    /// The 50 orders changed last.
    fn default() -> Self {
        Self {
            sort: Sort::Order,
            search: "",
            put_away: false,
            by: By::Changed,
            after: None,
            limit: 50,
        }
    }
}

/// A document as a list shows it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Document {
    /// Its number.
    pub id: DocumentId,
    /// Which sort.
    pub sort: Sort,
    /// Its name.
    pub name: String,
    /// The day it is due, `2026-09-30`.
    pub due_day: Option<String>,
    /// Whether it is the demo order, which can be removed.
    pub demo: bool,
    /// Whether it was put away.
    pub put_away: bool,
    /// Its revision now.
    pub head: RevisionId,
    /// When it was made.
    pub made_ms: i64,
    /// When it was last changed, undone or redone.
    pub changed_ms: i64,
}

/// A text that a document had or has.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Revision {
    /// Its number in the database.
    pub id: RevisionId,
    /// Of which document.
    pub document: DocumentId,
    /// Its number within the document, from 1 in the order of writing.
    pub number: i64,
    /// The revision it was made from.
    pub parent: Option<RevisionId>,
    /// When.
    pub at_ms: i64,
    /// What was changed, for the list of steps.
    pub what: String,
    /// The whole text.
    pub text: String,
}

/// A document and its text now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Head {
    /// The document.
    pub document: Document,
    /// Its revision now.
    pub revision: Revision,
}

/// A text to be kept, and what lists show of it.
#[derive(Debug, Clone, Copy, Default)]
pub struct Change<'a> {
    /// The whole text.
    pub text: &'a str,
    /// Name of the document as the text says it.
    pub name: &'a str,
    /// The day it is due, `2026-09-30`.
    pub due_day: Option<&'a str>,
    /// Further words that a search should find it by: customer, pieces.
    pub words: &'a str,
    /// What was changed, for the list of steps.
    pub what: &'a str,
    /// Changes in a row with the same word here are one step to undo: a drag, a typed number.
    pub together: Option<&'a str>,
}

impl Shop {
    /// A new document. `demo` marks the demo order, which alone can be removed.
    ///
    /// # Errors
    /// `WorkshopTaken` for a second document of the workshop; the world's.
    pub fn create(&self, sort: Sort, first: &Change<'_>, demo: bool) -> Result<Head, ShopError> {
        later(self, (sort, first, demo))
    }

    /// A page of documents.
    ///
    /// # Errors
    /// `Unknown`, if the document that the page should come after is gone; the world's.
    pub fn documents(&self, asked: &Asked<'_>) -> Result<Vec<Document>, ShopError> {
        later(self, asked)
    }

    /// How many documents there are of a sort, put away or not.
    ///
    /// # Errors
    /// The world's.
    pub fn count_documents(&self, sort: Sort, put_away: bool) -> Result<u64, ShopError> {
        later(self, (sort, put_away))
    }

    /// The workshop's own document, if it is there yet.
    ///
    /// # Errors
    /// The world's.
    pub fn workshop(&self) -> Result<Option<Head>, ShopError> {
        later(self, ())
    }

    /// A document and its text now.
    ///
    /// # Errors
    /// `Unknown`; the world's.
    pub fn head(&self, document: DocumentId) -> Result<Head, ShopError> {
        later(self, document)
    }

    /// Any revision of any document.
    ///
    /// # Errors
    /// `Unknown`; the world's.
    pub fn revision(&self, revision: RevisionId) -> Result<Revision, ShopError> {
        later(self, revision)
    }

    /// A new revision, made from the revision `from`, which has to be the document's head. If nothing
    /// differs from the head there is no new revision, and the head is given back.
    ///
    /// # Errors
    /// `HeadMoved`, which carries the head, if `from` is not the head; `Unknown`; the world's.
    pub fn revise(
        &self,
        document: DocumentId,
        from: RevisionId,
        change: &Change<'_>,
    ) -> Result<Head, ShopError> {
        later(self, (document, from, change))
    }

    /// Out of the lists, with everything kept.
    ///
    /// # Errors
    /// `Unknown`; the world's.
    pub fn put_away(&self, document: DocumentId) -> Result<(), ShopError> {
        later(self, document)
    }

    /// Back into the lists.
    ///
    /// # Errors
    /// `Unknown`; the world's.
    pub fn bring_back(&self, document: DocumentId) -> Result<(), ShopError> {
        later(self, document)
    }

    /// Removes the demo order with everything that hangs on it: revisions, outlines, settings,
    /// presses, repairs, approvals. The ledger keeps its lines; what they moved is taken back by lines
    /// that say so ([`crate::Moved::TakenBack`]).
    ///
    /// # Errors
    /// `NotDemo`, `Unknown`; the world's.
    pub fn remove_demo(&self, document: DocumentId) -> Result<(), ShopError> {
        later(self, document)
    }
}
