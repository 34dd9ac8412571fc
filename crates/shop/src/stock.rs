//! What lies on the shelf, kept by the database as lines of the ledger are written.

use crate::error::{named, unknown};
use crate::ledger::stone_named;
use crate::rows::Price;
use crate::{DocumentId, Shop, ShopError};
use rusqlite::params;
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
        self.read(|c| {
            let mut found = c.prepare_cached(
                "SELECT n.name, s.lot, s.on_hand, s.reserved, s.unit_price
                 FROM stock s JOIN stone n ON n.id = s.stone
                 WHERE ?1 OR s.on_hand <> 0 OR s.reserved <> 0 ORDER BY n.name, s.lot",
            )?;
            let rows = found.query_map([empty], |row| {
                Ok(Stock {
                    stone: row.get(0)?,
                    lot: row.get(1)?,
                    on_hand: row.get(2)?,
                    reserved: row.get(3)?,
                    unit_price: row.get::<_, Option<Price>>(4)?.map(|price| price.0),
                })
            })?;
            Ok(rows.collect::<Result<_, _>>()?)
        })
    }

    /// What an order holds.
    ///
    /// # Errors
    /// The world's.
    pub fn held(&self, order: DocumentId) -> Result<Vec<Held>, ShopError> {
        self.read(|c| {
            let mut found = c.prepare_cached(
                "SELECT n.name, h.lot, h.stones FROM held h JOIN stone n ON n.id = h.stone
                 WHERE h.document = ?1 AND h.stones <> 0 ORDER BY n.name, h.lot",
            )?;
            let rows = found.query_map([order], |row| {
                Ok(Held { stone: row.get(0)?, lot: row.get(1)?, stones: row.get(2)? })
            })?;
            Ok(rows.collect::<Result<_, _>>()?)
        })
    }

    /// Adds the whole ledger up and names every lot whose stock differs from that; reads every line.
    ///
    /// # Errors
    /// The world's.
    pub fn check(&self) -> Result<Vec<Difference>, ShopError> {
        self.read(|c| {
            let mut differences = Vec::new();
            for (what, sql) in CHECKS {
                let mut found = c.prepare(sql)?;
                let rows = found.query_map([], |row| {
                    let what = format!(
                        "{what}: {} kept, {} by the lines",
                        row.get::<_, i64>(2)?,
                        row.get::<_, i64>(3)?
                    );
                    Ok(Difference { stone: row.get(0)?, lot: row.get(1)?, what })
                })?;
                differences.extend(rows.collect::<Result<Vec<_>, _>>()?);
            }
            Ok(differences)
        })
    }

    /// The names of all stones of which there was ever a line, sorted.
    ///
    /// # Errors
    /// The world's.
    pub fn stones(&self) -> Result<Vec<String>, ShopError> {
        self.read(|c| {
            let mut found = c.prepare_cached("SELECT name FROM stone ORDER BY name")?;
            let rows = found.query_map([], |row| row.get(0))?;
            Ok(rows.collect::<Result<_, _>>()?)
        })
    }

    /// Gives a stone another name; its lines stay with it.
    ///
    /// # Errors
    /// `Unknown`, `Taken`, `BadValue` for an empty name; the world's.
    pub fn rename_stone(&self, from: &str, to: &str) -> Result<(), ShopError> {
        named("stone", to)?;
        self.change(|t| {
            let stone = stone_named(t, from)?.ok_or_else(|| unknown("stone", from))?;
            if stone_named(t, to)?.is_some_and(|other| other != stone) {
                return Err(ShopError::Taken { what: "stone", name: to.to_owned() }.into());
            }
            t.execute("UPDATE stone SET name = ?2 WHERE id = ?1", params![stone, to])?;
            Ok(())
        })
    }
}

/// Each gives stone, lot, what is kept, and what the lines add up to, where the two differ.
const CHECKS: &[(&str, &str)] = &[
    (
        "on the shelf",
        "SELECT n.name, lot, sum(kept), sum(lines) FROM (
           SELECT stone, lot, on_hand AS kept, 0 AS lines FROM stock
           UNION ALL SELECT stone, lot, 0, on_hand_change FROM entry)
         JOIN stone n ON n.id = stone GROUP BY stone, lot HAVING sum(kept) <> sum(lines)",
    ),
    (
        "reserved",
        "SELECT n.name, lot, sum(kept), sum(lines) FROM (
           SELECT stone, lot, reserved AS kept, 0 AS lines FROM stock
           UNION ALL SELECT stone, lot, 0, reserved_change FROM entry)
         JOIN stone n ON n.id = stone GROUP BY stone, lot HAVING sum(kept) <> sum(lines)",
    ),
    (
        "held for an order",
        "SELECT n.name, lot, sum(kept), sum(lines) FROM (
           SELECT document, stone, lot, stones AS kept, 0 AS lines FROM held
           UNION ALL
           SELECT document, stone, lot, 0, reserved_change FROM entry WHERE document IS NOT NULL)
         JOIN stone n ON n.id = stone GROUP BY document, stone, lot
         HAVING sum(kept) <> sum(lines)",
    ),
    (
        "after a line",
        "SELECT n.name, lot, on_hand_after, running FROM (
           SELECT stone, lot, on_hand_after,
             sum(on_hand_change) OVER (PARTITION BY stone, lot ORDER BY id) AS running FROM entry)
         JOIN stone n ON n.id = stone WHERE on_hand_after <> running",
    ),
];
