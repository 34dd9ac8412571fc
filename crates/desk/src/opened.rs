//! An order opened at its head: its text, and what the text means.

use crate::{Desk, DeskError};
use app::order::{LoadError, Loader, MAX_FILE_BYTES, Order, OrderPiece};
use shop::{Document, DocumentId, Head, Revision, Shop, ShopError, Ways};
use std::sync::Arc;

/// A document at its head.
#[derive(Clone, Debug)]
pub struct Opened {
    /// The document.
    pub document: Document,
    /// Its revision, with the text.
    pub revision: Revision,
    /// What undo and redo would do.
    pub ways: Ways,
    /// What the text means.
    pub order: Arc<Order>,
}

impl Opened {
    /// A piece by its number from 1.
    ///
    /// # Errors
    /// There is no such piece.
    pub fn piece(&self, number: usize) -> Result<&OrderPiece, DeskError> {
        let index = number.checked_sub(1).ok_or(DeskError::Missing("piece"))?;
        self.order.pieces.get(index).ok_or(DeskError::Missing("piece"))
    }
}

impl Desk {
    /// A document at its head.
    ///
    /// # Errors
    /// There is none; the shop's.
    pub fn open(&self, id: DocumentId) -> Result<Opened, DeskError> {
        self.opened(self.shop.head(id)?)
    }

    /// What the text of a revision means, if that was worked out lately.
    pub(crate) fn opened_at_hand(&self, revision: shop::RevisionId) -> Option<Arc<Order>> {
        self.orders.find(&revision)
    }

    /// A head with what it means.
    pub(crate) fn opened(&self, head: Head) -> Result<Opened, DeskError> {
        let Head { document, revision } = head;
        let order =
            self.orders.get(revision.id, || None, || self.meaning(document.id, &revision.text))?;
        let ways = self.shop.ways(document.id)?;
        Ok(Opened { document, revision, ways, order })
    }

    /// What a text means, with the outline files of `document`.
    pub(crate) fn meaning(
        &self,
        document: DocumentId,
        text: &str,
    ) -> Result<Arc<Order>, DeskError> {
        let outlines = Outlines { shop: &self.shop, document };
        Ok(Arc::new(app::order::open_draft("order", text.as_bytes(), &outlines)?))
    }
}

/// The outline files of a document.
pub(crate) struct Outlines<'a> {
    pub(crate) shop: &'a Shop,
    pub(crate) document: DocumentId,
}

impl Loader for Outlines<'_> {
    fn load(&self, file: &str) -> Result<Vec<u8>, LoadError> {
        match self.shop.outline(self.document, file) {
            Ok(bytes) if bytes.len() as u64 > MAX_FILE_BYTES => Err(LoadError::TooLarge),
            Ok(bytes) => Ok(bytes),
            Err(ShopError::Unknown { .. }) => Err(LoadError::Missing),
            Err(e) => Err(LoadError::Refused { reason: e.to_string() }),
        }
    }
}

/// Files that came with a document that is not kept yet.
pub(crate) struct Brought<'a>(pub(crate) &'a [(String, Vec<u8>)]);

impl Loader for Brought<'_> {
    fn load(&self, file: &str) -> Result<Vec<u8>, LoadError> {
        let found = self.0.iter().find(|(name, _)| name == file);
        match found {
            Some((_, bytes)) if bytes.len() as u64 > MAX_FILE_BYTES => Err(LoadError::TooLarge),
            Some((_, bytes)) => Ok(bytes.clone()),
            None => Err(LoadError::Missing),
        }
    }
}
