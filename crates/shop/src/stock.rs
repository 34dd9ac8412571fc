//! What lies on the shelf, kept by the database as lines of the ledger are written.

use crate::documents::revised;
use crate::error::{named, unknown};
use crate::ledger::stone_named;
use crate::rows::Price;
use crate::{Change, DocumentId, Head, RevisionId, Shop, ShopError};
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

    /// Gives a stone another name, with everything that goes with it, all or none; its lines stay
    /// with it. Gives the document as it is then, if one says the name.
    ///
    /// # Errors
    /// `Unknown` if neither ledger nor document has the stone, `Taken`, `BadValue` for an empty
    /// name, `HeadMoved`; the world's.
    pub fn rename_stone(&self, renamed: &StoneRenamed<'_>) -> Result<Option<Head>, ShopError> {
        let (from, to) = (renamed.from, renamed.to);
        named("stone", to)?;
        let now_ms = self.wall_ms();
        self.change(|t| {
            let stone = stone_named(t, from)?;
            if stone.is_none() && renamed.text.is_none() {
                return Err(unknown("stone", from));
            }
            if stone_named(t, to)?.is_some_and(|other| Some(other) != stone) {
                return Err(ShopError::Taken { what: "stone", name: to.to_owned() }.into());
            }
            t.execute("UPDATE stone SET name = ?2 WHERE id = ?1", params![stone, to])?;
            if let Some((old, new)) = renamed.preference {
                t.execute("DELETE FROM preference WHERE key = ?1", [new])?;
                t.execute("UPDATE preference SET key = ?2 WHERE key = ?1", [old, new])?;
            }
            let text = renamed.text.as_ref();
            text.map(|(document, at, change)| revised(t, *document, *at, change, now_ms))
                .transpose()
        })
    }
}

/// Another name for a stone, and what goes with it.
#[derive(Debug, Clone, Copy)]
pub struct StoneRenamed<'a> {
    /// Its name so far.
    pub from: &'a str,
    /// Its new name.
    pub to: &'a str,
    /// The document that says the name, the revision at which it stands, and its new text.
    pub text: Option<(DocumentId, RevisionId, Change<'a>)>,
    /// A key under which something about it is kept, and that key under the new name.
    pub preference: Option<(&'a str, &'a str)>,
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
