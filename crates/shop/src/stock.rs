//! What lies on the shelf, kept by the database as lines of the ledger are written.

use crate::open::later;
use crate::{DocumentId, Shop, ShopError};
use rust_decimal::Decimal;

/// Stones of one lot.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stock {
    /// Name of the stone.
    pub stone: String,
    /// The lot; empty for stones without one.
    pub lot: String,
    /// Stones on the shelf. Below zero if more went than was known of.
    pub on_hand: i64,
    /// Of these, stones kept for orders.
    pub reserved: i64,
    /// What one cost when last received, if it is known.
    pub unit_price: Option<Decimal>,
}

impl Stock {
    /// Stones that no order holds; below zero if orders hold more than lies there.
    pub fn free(&self) -> i64 {
        self.on_hand - self.reserved
    }
}

/// Stones of one lot that an order holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Held {
    /// Name of the stone.
    pub stone: String,
    /// The lot.
    pub lot: String,
    /// How many.
    pub stones: i64,
}

/// A lot whose stock is not the sum of its lines: a defect, or a file changed by other hands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Difference {
    /// Name of the stone.
    pub stone: String,
    /// The lot.
    pub lot: String,
    /// What differs.
    pub what: String,
}

impl Shop {
    /// Everything on the shelf, by stone and lot; lots of which nothing is there nor held are left
    /// out unless `empty` is true.
    ///
    /// # Errors
    /// The world's.
    pub fn stock(&self, empty: bool) -> Result<Vec<Stock>, ShopError> {
        later(self, empty)
    }

    /// What an order holds.
    ///
    /// # Errors
    /// The world's.
    pub fn held(&self, order: DocumentId) -> Result<Vec<Held>, ShopError> {
        later(self, order)
    }

    /// Adds the whole ledger up and names every lot whose stock differs from that; reads every line.
    ///
    /// # Errors
    /// The world's.
    pub fn check(&self) -> Result<Vec<Difference>, ShopError> {
        later(self, ())
    }

    /// The names of all stones of which there was ever a line, sorted.
    ///
    /// # Errors
    /// The world's.
    pub fn stones(&self) -> Result<Vec<String>, ShopError> {
        later(self, ())
    }

    /// Gives a stone another name; its lines stay with it.
    ///
    /// # Errors
    /// `Unknown`, `Taken`, `BadValue` for an empty name; the world's.
    pub fn rename_stone(&self, from: &str, to: &str) -> Result<(), ShopError> {
        later(self, (from, to))
    }
}
