//! Pieces at the bench: which copies of which piece are set, by which lay. Frozen when setting
//! begins.

use crate::open::later;
use crate::{DocumentId, RevisionId, SettingId, Shop, ShopError};

/// What is to be set.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewSetting {
    /// Made up by whoever asks: the same nonce again is the same setting.
    pub nonce: String,
    /// Of which order.
    pub document: DocumentId,
    /// By which revision.
    pub revision: RevisionId,
    /// Index of the piece in that revision, from 0.
    pub piece_index: u32,
    /// Name of the piece.
    pub piece: String,
    /// The first copy, from 1.
    pub first_copy: u32,
    /// The last copy.
    pub last_copy: u32,
    /// Hash of the lay.
    pub lay_hash: String,
    /// Which engine made it.
    pub engine: String,
    /// Lay and stretches, as bytes. Kept compressed.
    pub frozen: Vec<u8>,
    /// From which lot each kind is taken.
    pub lots: Vec<(String, String)>,
}

/// What is being set.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Setting {
    /// Its number.
    pub id: SettingId,
    /// Of which order.
    pub document: DocumentId,
    /// By which revision.
    pub revision: RevisionId,
    /// Index of the piece in that revision, from 0.
    pub piece_index: u32,
    /// Name of the piece.
    pub piece: String,
    /// The first copy, from 1.
    pub first_copy: u32,
    /// The last copy.
    pub last_copy: u32,
    /// Hash of the lay.
    pub lay_hash: String,
    /// Which engine made it.
    pub engine: String,
    /// From which lot each kind is taken, by kind.
    pub lots: Vec<(String, String)>,
    /// When setting began.
    pub begun_ms: i64,
    /// When it was closed.
    pub closed_ms: Option<i64>,
}

impl Shop {
    /// Begins setting: from now on these copies are set by what is frozen here, whatever becomes of
    /// the document.
    ///
    /// # Errors
    /// `Unknown`, `BadValue`, `NonceReused`; the world's.
    pub fn begin_setting(&self, new: &NewSetting) -> Result<Setting, ShopError> {
        later(self, new)
    }

    /// A setting.
    ///
    /// # Errors
    /// `Unknown`; the world's.
    pub fn setting(&self, setting: SettingId) -> Result<Setting, ShopError> {
        later(self, setting)
    }

    /// The settings of an order, the first begun first.
    ///
    /// # Errors
    /// The world's.
    pub fn settings(&self, document: DocumentId) -> Result<Vec<Setting>, ShopError> {
        later(self, document)
    }

    /// Settings that are not closed, of all orders, the last begun first.
    ///
    /// # Errors
    /// The world's.
    pub fn open_settings(&self) -> Result<Vec<Setting>, ShopError> {
        later(self, ())
    }

    /// What was frozen when setting began.
    ///
    /// # Errors
    /// `Unknown`, `Damaged`; the world's.
    pub fn frozen(&self, setting: SettingId) -> Result<Vec<u8>, ShopError> {
        later(self, setting)
    }

    /// Closes a setting: no more presses. Closed twice is closed once.
    ///
    /// # Errors
    /// `Unknown`; the world's.
    pub fn close_setting(&self, setting: SettingId) -> Result<Setting, ShopError> {
        later(self, setting)
    }
}
