//! The outline files of a document, never overwritten.

use crate::open::later;
use crate::{DocumentId, Shop, ShopError};

impl Shop {
    /// Keeps a file of a document and gives the name it is kept under: `name`, or `name` with a
    /// number before its ending if another content has that name already.
    ///
    /// # Errors
    /// `Unknown`, `BadValue` for an empty name; the world's.
    pub fn add_outline(
        &self,
        document: DocumentId,
        name: &str,
        bytes: &[u8],
    ) -> Result<String, ShopError> {
        later(self, (document, name, bytes))
    }

    /// The content of a file.
    ///
    /// # Errors
    /// `Unknown`; the world's.
    pub fn outline(&self, document: DocumentId, name: &str) -> Result<Vec<u8>, ShopError> {
        later(self, (document, name))
    }

    /// The names of a document's files, sorted.
    ///
    /// # Errors
    /// The world's.
    pub fn outlines(&self, document: DocumentId) -> Result<Vec<String>, ShopError> {
        later(self, document)
    }
}
