//! Back and forth between the revisions of a document.

use crate::open::later;
use crate::{DocumentId, Head, RevisionId, Shop, ShopError};

/// A revision as a list of steps shows it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// The revision.
    pub revision: RevisionId,
    /// Its number within the document, from 1.
    pub number: i64,
    /// The revision it was made from.
    pub parent: Option<RevisionId>,
    /// When.
    pub at_ms: i64,
    /// What was changed.
    pub what: String,
    /// Whether the document's text of now came about by way of it; false for what was undone.
    pub stands: bool,
}

/// What undo and redo would do.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Ways {
    /// What undo would take back; none at the first revision.
    pub undo: Option<String>,
    /// What redo would bring back; none if nothing was undone here.
    pub redo: Option<String>,
}

impl Shop {
    /// Takes the document back to before its last step; none if it has only its first.
    ///
    /// # Errors
    /// `Unknown`; the world's.
    pub fn undo(&self, document: DocumentId) -> Result<Option<Head>, ShopError> {
        later(self, document)
    }

    /// Brings back the step that was undone last from here; none if there is none.
    ///
    /// # Errors
    /// `Unknown`; the world's.
    pub fn redo(&self, document: DocumentId) -> Result<Option<Head>, ShopError> {
        later(self, document)
    }

    /// What undo and redo would do.
    ///
    /// # Errors
    /// `Unknown`; the world's.
    pub fn ways(&self, document: DocumentId) -> Result<Ways, ShopError> {
        later(self, document)
    }

    /// The revisions of a document, the last first; at most `limit`, older than `before` if given.
    ///
    /// # Errors
    /// `Unknown`; the world's.
    pub fn history(
        &self,
        document: DocumentId,
        before: Option<RevisionId>,
        limit: u32,
    ) -> Result<Vec<Step>, ShopError> {
        later(self, (document, before, limit))
    }
}
