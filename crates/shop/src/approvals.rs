//! The customer's yes to a quote, and its withdrawal. Only added.

use crate::open::later;
use crate::{ApprovalId, DocumentId, RevisionId, Shop, ShopError};

/// A yes to be written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewApproval {
    /// Made up by whoever asks: the same nonce again is the same yes.
    pub nonce: String,
    /// To which order.
    pub document: DocumentId,
    /// To which revision.
    pub revision: RevisionId,
    /// Hash of what was quoted.
    pub hash: String,
    /// The price as it was shown.
    pub price: String,
    /// The day until which the quote holds, `2026-09-30`.
    pub valid_until: Option<String>,
    /// Who said yes.
    pub who: String,
    /// How: at the counter, by letter.
    pub how: String,
    /// A note.
    pub note: String,
}

/// A yes, or its withdrawal.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Approval {
    /// Its number.
    pub id: ApprovalId,
    /// When.
    pub at_ms: i64,
    /// The yes that is withdrawn by this; none for a yes.
    pub withdraws: Option<ApprovalId>,
    /// What was said. Of a withdrawal, `who`, `how` and `note` are its own, the rest is the yes's.
    pub said: NewApproval,
}

impl Shop {
    /// Writes a customer's yes.
    ///
    /// # Errors
    /// `Unknown`, `BadValue`, `NonceReused`; the world's.
    pub fn approve(&self, new: &NewApproval) -> Result<Approval, ShopError> {
        later(self, new)
    }

    /// Writes that a yes was withdrawn, by whom and how. Withdrawn twice is withdrawn once.
    ///
    /// # Errors
    /// `Unknown`, also for what is no yes; the world's.
    pub fn withdraw(
        &self,
        approval: ApprovalId,
        who: &str,
        how: &str,
        note: &str,
    ) -> Result<Approval, ShopError> {
        later(self, (approval, who, how, note))
    }

    /// Every yes and withdrawal of an order, the first first.
    ///
    /// # Errors
    /// The world's.
    pub fn approvals(&self, document: DocumentId) -> Result<Vec<Approval>, ShopError> {
        later(self, document)
    }
}
