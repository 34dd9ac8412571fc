//! The ledger: every stone that came, was kept for an order, went or was counted. Lines are only
//! added.

use crate::documents::document_of;
use crate::error::{Fault, bad, named};
use crate::rows::Price;
use crate::{DocumentId, EntryId, Shop, ShopError};
use rusqlite::{Connection, OptionalExtension, Row, params, params_from_iter};
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
        let now_ms = self.wall_ms();
        self.change(|t| entries.iter().map(|entry| write_entry(t, entry, now_ms)).collect())
    }

    /// A page of the ledger, the last line first.
    ///
    /// # Errors
    /// The world's.
    pub fn ledger(&self, page: &LedgerPage<'_>) -> Result<Vec<Entry>, ShopError> {
        self.read(|c| {
            let mut sql = format!("{SELECT} WHERE e.id < ?");
            let before = page.before.map_or(i64::MAX, |before| before.0);
            let mut values = vec![before, page.limit.into()];
            if let Some(stone) = page.stone {
                let Some(stone) = stone_named(c, stone)? else { return Ok(Vec::new()) };
                sql.push_str(" AND e.stone = ?");
                values.insert(1, stone);
            }
            if let Some(order) = page.order {
                sql.push_str(" AND e.document = ?");
                values.insert(values.len() - 1, order.0);
            }
            sql.push_str(" ORDER BY e.id DESC LIMIT ?");
            let mut found = c.prepare_cached(&sql)?;
            let rows = found.query_map(params_from_iter(values), entry_from)?;
            Ok(rows.collect::<Result<_, _>>()?)
        })
    }
}

/// What an order has used of a stone: the order, the stone's name, how many.
pub type Used = (DocumentId, String, i64);

impl Shop {
    /// What orders have used, by order and stone, of the lines after `after` (all of them if none is
    /// given), and the last line there is: where to read on the next time. Reads every such line.
    ///
    /// # Errors
    /// The world's.
    pub fn used_since(&self, after: Option<EntryId>) -> Result<(EntryId, Vec<Used>), ShopError> {
        self.read(|c| {
            let after = after.map_or(0, |after| after.0);
            let last: i64 = c
                .prepare_cached("SELECT coalesce(max(id), 0) FROM entry")?
                .query_row([], |row| row.get(0))?;
            let mut found = c.prepare_cached(
                "SELECT e.document, n.name, sum(e.stones) FROM entry e
                 JOIN stone n ON n.id = e.stone
                 WHERE e.id > ?1 AND e.id <= ?2 AND e.what = 'used' AND e.document IS NOT NULL
                 GROUP BY e.document, e.stone ORDER BY e.document, e.stone",
            )?;
            let rows = found
                .query_map([after, last], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)))?;
            Ok((EntryId(last.max(after)), rows.collect::<Result<_, _>>()?))
        })
    }
}

/// More stones than any shelf holds; ours, no source. Sums of lines stay far below what the database
/// can count.
const MOST_STONES: i64 = 1_000_000_000;

const SELECT: &str = "SELECT e.id, e.at_ms, e.on_hand_change, e.reserved_change, e.on_hand_after,
    e.reserved_after, e.nonce, e.what, s.name, e.lot, e.stones, e.unit_price, e.supplier,
    e.document, e.piece, e.who, e.why
  FROM entry e JOIN stone s ON s.id = e.stone";

fn entry_from(row: &Row<'_>) -> rusqlite::Result<Entry> {
    Ok(Entry {
        id: row.get(0)?,
        at_ms: row.get(1)?,
        on_hand_change: row.get(2)?,
        reserved_change: row.get(3)?,
        on_hand_after: row.get(4)?,
        reserved_after: row.get(5)?,
        said: NewEntry {
            nonce: row.get(6)?,
            what: row.get(7)?,
            stone: row.get(8)?,
            lot: row.get(9)?,
            stones: row.get(10)?,
            unit_price: row.get::<_, Option<Price>>(11)?.map(|price| price.0),
            supplier: row.get(12)?,
            order: row.get(13)?,
            piece: row.get(14)?,
            who: row.get(15)?,
            why: row.get(16)?,
        },
    })
}

/// Writes a line as part of a transaction, or gives the one that has its nonce.
pub(crate) fn write_entry(c: &Connection, new: &NewEntry, now_ms: i64) -> Result<Entry, Fault> {
    check_entry(new)?;
    let there = c
        .prepare_cached(&format!("{SELECT} WHERE e.nonce = ?1"))?
        .query_row([&new.nonce], entry_from)
        .optional()?;
    if let Some(there) = there {
        let said = &there.said;
        // Not the name: the stone may have another by now.
        let same = (said.what, &said.lot, said.stones, said.order)
            == (new.what, &new.lot, new.stones, new.order);
        if same {
            return Ok(there);
        }
        return Err(ShopError::NonceReused { nonce: new.nonce.clone() }.into());
    }
    if let Some(order) = new.order {
        document_of(c, order)?;
    }
    let stone = stone_or_new(c, &new.stone)?;
    let (on_hand, _) = stock_of(c, stone, &new.lot)?;
    let held = held_by(c, new.order, stone, &new.lot)?;
    let n = new.stones;
    let (on_hand_change, reserved_change) = match new.what {
        Moved::Received => (n, 0),
        Moved::Reserved => (0, n),
        Moved::Released if n > held => {
            let stone = new.stone.clone();
            return Err(ShopError::NotHeld { stone, held, wanted: n }.into());
        }
        Moved::Released => (0, -n),
        Moved::Used | Moved::Lost => (-n, -n.min(held)),
        Moved::Counted => (n - on_hand, 0),
        Moved::TakenBack => {
            let wrong = "is written by the program alone";
            return Err(bad("what", wrong, &new.what.word()).into());
        }
    };
    insert(c, new, stone, [on_hand_change, reserved_change], now_ms)
}

fn insert(
    c: &Connection,
    new: &NewEntry,
    stone: i64,
    [on_hand_change, reserved_change]: [i64; 2],
    now_ms: i64,
) -> Result<Entry, Fault> {
    let (on_hand, reserved) = stock_of(c, stone, &new.lot)?;
    let (on_hand_after, reserved_after) = (on_hand + on_hand_change, reserved + reserved_change);
    c.prepare_cached(
        "INSERT INTO entry (nonce, at_ms, what, stone, lot, stones, on_hand_change,
           reserved_change, on_hand_after, reserved_after, unit_price, supplier, document, piece,
           who, why)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16)",
    )?
    .execute(params![
        new.nonce,
        now_ms,
        new.what,
        stone,
        new.lot,
        new.stones,
        on_hand_change,
        reserved_change,
        on_hand_after,
        reserved_after,
        new.unit_price.map(Price),
        new.supplier,
        new.order,
        new.piece,
        new.who,
        new.why,
    ])?;
    let (id, at_ms, said) = (EntryId(c.last_insert_rowid()), now_ms, new.clone());
    Ok(Entry { id, at_ms, said, on_hand_change, reserved_change, on_hand_after, reserved_after })
}

/// Moves back whatever an order has moved.
pub(crate) fn take_back(c: &Connection, order: DocumentId, now_ms: i64) -> Result<(), Fault> {
    let mut found = c.prepare_cached(
        "SELECT e.stone, s.name, e.lot, sum(e.on_hand_change), sum(e.reserved_change)
         FROM entry e JOIN stone s ON s.id = e.stone WHERE e.document = ?1
         GROUP BY e.stone, e.lot
         HAVING sum(e.on_hand_change) <> 0 OR sum(e.reserved_change) <> 0
         ORDER BY e.stone, e.lot",
    )?;
    let rows = found.query_map([order], |row| {
        Ok((row.get(0)?, row.get(1)?, row.get(2)?, [row.get::<_, i64>(3)?, row.get::<_, i64>(4)?]))
    })?;
    let moved: Vec<(i64, String, String, [i64; 2])> = rows.collect::<Result<_, _>>()?;
    for (stone, name, lot, [on_hand, reserved]) in moved {
        let line = NewEntry {
            nonce: format!("taken back: order {order}, stone {stone}, lot {lot}"),
            what: Moved::TakenBack,
            stone: name,
            lot,
            stones: if on_hand == 0 { reserved.abs() } else { on_hand.abs() },
            unit_price: None,
            supplier: None,
            order: Some(order),
            piece: None,
            who: String::new(),
            why: "the demo order was removed".to_owned(),
        };
        insert(c, &line, stone, [-on_hand, -reserved], now_ms)?;
    }
    Ok(())
}

fn check_entry(new: &NewEntry) -> Result<(), ShopError> {
    named("nonce", &new.nonce)?;
    named("stone", &new.stone)?;
    let least = if new.what == Moved::Counted { 0 } else { 1 };
    if new.stones < least {
        let wrong = if least == 0 { "must be 0 or more" } else { "must be 1 or more" };
        return Err(bad("stones", wrong, &new.stones));
    }
    if new.stones > MOST_STONES {
        return Err(bad("stones", "must be 1,000,000,000 or less", &new.stones));
    }
    if let Some(price) = new.unit_price
        && price.is_sign_negative()
        && !price.is_zero()
    {
        return Err(bad("unit price", "must be 0 or more", &price));
    }
    if matches!(new.what, Moved::Reserved | Moved::Released) && new.order.is_none() {
        return Err(bad("order", "is wanted for what is reserved or released", "none"));
    }
    Ok(())
}

pub(crate) fn stone_named(c: &Connection, name: &str) -> Result<Option<i64>, Fault> {
    let mut found = c.prepare_cached("SELECT id FROM stone WHERE name = ?1")?;
    Ok(found.query_row([name], |row| row.get(0)).optional()?)
}

fn stone_or_new(c: &Connection, name: &str) -> Result<i64, Fault> {
    if let Some(stone) = stone_named(c, name)? {
        return Ok(stone);
    }
    c.prepare_cached("INSERT INTO stone (name) VALUES (?1)")?.execute([name])?;
    Ok(c.last_insert_rowid())
}

/// Stones on the shelf and reserved, of one lot.
fn stock_of(c: &Connection, stone: i64, lot: &str) -> Result<(i64, i64), Fault> {
    let mut found =
        c.prepare_cached("SELECT on_hand, reserved FROM stock WHERE stone = ?1 AND lot = ?2")?;
    let row = found.query_row(params![stone, lot], |row| Ok((row.get(0)?, row.get(1)?)));
    Ok(row.optional()?.unwrap_or((0, 0)))
}

/// Stones of one lot that an order holds.
fn held_by(c: &Connection, order: Option<DocumentId>, stone: i64, lot: &str) -> Result<i64, Fault> {
    let mut found = c.prepare_cached(
        "SELECT stones FROM held WHERE document = ?1 AND stone = ?2 AND lot = ?3",
    )?;
    Ok(found.query_row(params![order, stone, lot], |row| row.get(0)).optional()?.unwrap_or(0))
}
