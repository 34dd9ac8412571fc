//! Stones replaced on finished pieces. Only added.

use crate::error::{Fault, bad, named, unknown};
use crate::ledger::write_entry;
use crate::settings::setting_of;
use crate::{DocumentId, NewEntry, RepairId, SettingId, Shop, ShopError};
use rusqlite::{Connection, Params, params};

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
        named("nonce", &new.nonce)?;
        let now_ms = self.wall_ms();
        self.change(|t| {
            if let Some(there) = many(t, "r.nonce = ?1", params![new.nonce])?.pop() {
                let same = (there.setting, there.copy, there.place_no, &there.kind)
                    == (new.setting, new.copy, new.place_no, &new.kind);
                if same {
                    return Ok(there);
                }
                return Err(ShopError::NonceReused { nonce: new.nonce.clone() }.into());
            }
            let setting = setting_of(t, new.setting)?;
            if new.copy < setting.first_copy || new.copy > setting.last_copy {
                return Err(bad("copy", "is not one of the setting's", &new.copy).into());
            }
            insert(t, new, now_ms)?;
            let id = t.last_insert_rowid();
            for entry in &new.entries {
                write_entry(t, entry, now_ms)?;
            }
            many(t, "r.id = ?1", [id])?.pop().ok_or_else(|| unknown("repair", id))
        })
    }

    /// The repairs of an order's pieces, the first first.
    ///
    /// # Errors
    /// The world's.
    pub fn repairs(&self, document: DocumentId) -> Result<Vec<Repair>, ShopError> {
        self.read(|c| many(c, "s.document = ?1 ORDER BY r.id", [document]))
    }
}

fn insert(c: &Connection, new: &NewRepair, now_ms: i64) -> Result<(), Fault> {
    c.prepare_cached(
        "INSERT INTO repair
           (nonce, at_ms, setting, copy, place_no, kind, lot, adhesive, price, why)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)",
    )?
    .execute(params![
        new.nonce,
        now_ms,
        new.setting,
        new.copy,
        new.place_no,
        new.kind,
        new.lot,
        new.adhesive,
        new.price,
        new.why,
    ])?;
    Ok(())
}

/// The repairs of which `which` is true.
fn many(c: &Connection, which: &str, values: impl Params) -> Result<Vec<Repair>, Fault> {
    let mut found = c.prepare_cached(&format!(
        "SELECT r.id, r.at_ms, r.setting, r.copy, r.place_no, r.kind, r.lot, r.adhesive, r.price,
           r.why FROM repair r JOIN setting s ON s.id = r.setting WHERE {which}"
    ))?;
    let rows = found.query_map(values, |row| {
        Ok(Repair {
            id: row.get(0)?,
            at_ms: row.get(1)?,
            setting: row.get(2)?,
            copy: row.get(3)?,
            place_no: row.get(4)?,
            kind: row.get(5)?,
            lot: row.get(6)?,
            adhesive: row.get(7)?,
            price: row.get(8)?,
            why: row.get(9)?,
        })
    })?;
    Ok(rows.collect::<Result<_, _>>()?)
}
