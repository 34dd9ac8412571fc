//! Stones replaced on finished pieces. Only added.

use crate::open::later;
use crate::{DocumentId, NewEntry, RepairId, SettingId, Shop, ShopError};

/// A repair to be written.
#[derive(Debug, Clone, PartialEq)]
pub struct NewRepair {
    /// Made up by whoever asks: the same nonce again is the same repair.
    pub nonce: String,
    /// In which setting the piece was made.
    pub setting: SettingId,
    /// Which copy, from 1.
    pub copy: u32,
    /// Which place of its lay.
    pub place_no: u32,
    /// The kind that was set there anew.
    pub kind: String,
    /// From which lot; empty for stones without one.
    pub lot: String,
    /// With which adhesive.
    pub adhesive: String,
    /// What it costs, as it is shown.
    pub price: String,
    /// Why.
    pub why: String,
    /// Lines of the ledger that are written with it, or not at all.
    pub entries: Vec<NewEntry>,
}

/// A repair as it was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Repair {
    /// Its number.
    pub id: RepairId,
    /// When.
    pub at_ms: i64,
    /// In which setting the piece was made.
    pub setting: SettingId,
    /// Which copy, from 1.
    pub copy: u32,
    /// Which place of its lay.
    pub place_no: u32,
    /// The kind that was set there anew.
    pub kind: String,
    /// From which lot; empty for stones without one.
    pub lot: String,
    /// With which adhesive.
    pub adhesive: String,
    /// What it costs, as it is shown.
    pub price: String,
    /// Why.
    pub why: String,
}

impl Shop {
    /// Writes a repair and the lines of the ledger that go with it, all or nothing.
    ///
    /// # Errors
    /// `Unknown`, `BadValue`, `NonceReused`, `NotHeld`; the world's.
    pub fn add_repair(&self, new: &NewRepair) -> Result<Repair, ShopError> {
        later(self, new)
    }

    /// The repairs of an order's pieces, the first first.
    ///
    /// # Errors
    /// The world's.
    pub fn repairs(&self, document: DocumentId) -> Result<Vec<Repair>, ShopError> {
        later(self, document)
    }
}
