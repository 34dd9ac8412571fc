//! The ledger: every stone that came, was kept for an order, went or was counted. Lines are only
//! added.

use crate::open::later;
use crate::{DocumentId, EntryId, Shop, ShopError};
use rust_decimal::Decimal;

/// What happened to stones.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Moved {
    /// Came in.
    Received,
    /// Kept for an order; they stay on the shelf.
    Reserved,
    /// Not kept any more.
    Released,
    /// Set. What the order holds of that lot becomes less by as much.
    Used,
    /// Lost or broken. What the order holds of that lot becomes less by as much.
    Lost,
    /// Counted: `stones` lie there, whatever was thought before.
    Counted,
    /// What a removed order had moved, moved back. The program writes it, nobody else.
    TakenBack,
}

/// A line to be written.
#[derive(Debug, Clone, PartialEq)]
pub struct NewEntry {
    /// Made up by whoever asks, once for each line: the same nonce again is the same line.
    pub nonce: String,
    /// What happened.
    pub what: Moved,
    /// Name of the stone; a new name is a new stone.
    pub stone: String,
    /// The lot; empty for stones without one.
    pub lot: String,
    /// How many, from 0 (counted) or 1 up.
    pub stones: i64,
    /// What one cost, if it is known.
    pub unit_price: Option<Decimal>,
    /// From whom.
    pub supplier: Option<String>,
    /// For which order; wanted if reserved or released.
    pub order: Option<DocumentId>,
    /// For which of its pieces.
    pub piece: Option<String>,
    /// Who did it.
    pub who: String,
    /// Why.
    pub why: String,
}

/// A line of the ledger.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// Its number; later lines have greater ones.
    pub id: EntryId,
    /// When it was written.
    pub at_ms: i64,
    /// What was said. The stone has the name it has now.
    pub said: NewEntry,
    /// By how much the stones on the shelf became more.
    pub on_hand_change: i64,
    /// By how much the stones kept for orders became more.
    pub reserved_change: i64,
    /// Stones of that lot on the shelf after it. Below zero if more went than was known of: the count
    /// was wrong, and stock should be counted.
    pub on_hand_after: i64,
    /// Stones of that lot kept for orders after it.
    pub reserved_after: i64,
}

impl Entry {
    /// Whether the shelf holds fewer stones than are kept for orders, or fewer than none.
    pub fn short(&self) -> bool {
        self.on_hand_after < self.reserved_after.max(0)
    }
}

/// Which lines a page of the ledger wants.
#[derive(Debug, Clone, Default)]
pub struct LedgerPage<'a> {
    /// Only of this stone.
    pub stone: Option<&'a str>,
    /// Only of this order.
    pub order: Option<DocumentId>,
    /// The last line of the page before, which is the oldest on it.
    pub before: Option<EntryId>,
    /// At most so many.
    pub limit: u32,
}

impl Shop {
    /// Writes lines, all or none, in their order, and gives them as they stand. A line whose nonce is
    /// there already is not written again.
    ///
    /// Stones on the shelf may go below zero: a count was wrong then, and the line says so
    /// ([`Entry::short`]).
    ///
    /// # Errors
    /// `BadValue`, `NonceReused`, `NotHeld`; the world's.
    pub fn write(&self, entries: &[NewEntry]) -> Result<Vec<Entry>, ShopError> {
        later(self, entries)
    }

    /// A page of the ledger, the last line first.
    ///
    /// # Errors
    /// The world's.
    pub fn ledger(&self, page: &LedgerPage<'_>) -> Result<Vec<Entry>, ShopError> {
        later(self, page)
    }
}
