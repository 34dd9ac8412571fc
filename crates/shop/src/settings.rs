//! Pieces at the bench: which copies of which piece are set, by which lay. Frozen when setting
//! begins.

use crate::documents::revision_of;
use crate::error::{Fault, named, unknown};
use crate::{DocumentId, RevisionId, SettingId, Shop, ShopError};
use miniz_oxide::deflate::compress_to_vec_zlib;
use miniz_oxide::inflate::decompress_to_vec_zlib;
use rusqlite::{Connection, OptionalExtension, Params, Row, params};

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
        check_setting(new)?;
        let now_ms = self.wall_ms();
        let frozen = compress_to_vec_zlib(&new.frozen, COMPRESSION);
        self.change(|t| {
            if let Some(there) = one(t, "nonce = ?1", &new.nonce)? {
                let same = (there.document, there.revision, &there.lay_hash)
                    == (new.document, new.revision, &new.lay_hash)
                    && (there.piece_index, there.first_copy, there.last_copy)
                        == (new.piece_index, new.first_copy, new.last_copy);
                if same {
                    return Ok(there);
                }
                return Err(ShopError::NonceReused { nonce: new.nonce.clone() }.into());
            }
            if revision_of(t, new.revision)?.document != new.document {
                return Err(unknown("revision of that document", new.revision));
            }
            insert(t, new, &frozen, now_ms)?;
            let id = t.last_insert_rowid();
            let mut lots = t.prepare_cached(
                "INSERT INTO setting_lot (setting, kind, lot) VALUES (?1, ?2, ?3)",
            )?;
            for (kind, lot) in &new.lots {
                lots.execute(params![id, kind, lot])?;
            }
            setting_of(t, SettingId(id))
        })
    }

    /// A setting.
    ///
    /// # Errors
    /// `Unknown`; the world's.
    pub fn setting(&self, setting: SettingId) -> Result<Setting, ShopError> {
        self.read(|c| setting_of(c, setting))
    }

    /// The settings of an order, the first begun first.
    ///
    /// # Errors
    /// The world's.
    pub fn settings(&self, document: DocumentId) -> Result<Vec<Setting>, ShopError> {
        self.read(|c| many(c, "document = ?1 ORDER BY id", params![document]))
    }

    /// Settings that are not closed, of all orders, the last begun first.
    ///
    /// # Errors
    /// The world's.
    pub fn open_settings(&self) -> Result<Vec<Setting>, ShopError> {
        self.read(|c| many(c, "closed_ms IS NULL ORDER BY id DESC", params![]))
    }

    /// What was frozen when setting began.
    ///
    /// # Errors
    /// `Unknown`, `Damaged`; the world's.
    pub fn frozen(&self, setting: SettingId) -> Result<Vec<u8>, ShopError> {
        let frozen: Vec<u8> = self.read(|c| {
            c.prepare_cached("SELECT frozen FROM setting WHERE id = ?1")?
                .query_row([setting], |row| row.get(0))
                .optional()?
                .ok_or_else(|| unknown("setting", setting))
        })?;
        decompress_to_vec_zlib(&frozen).map_err(|e| ShopError::Damaged {
            path: self.path().to_owned(),
            detail: format!("what was frozen with setting {setting} cannot be read: {e}"),
        })
    }

    /// Closes a setting: no more presses. Closed twice is closed once.
    ///
    /// # Errors
    /// `Unknown`; the world's.
    pub fn close_setting(&self, setting: SettingId) -> Result<Setting, ShopError> {
        let now_ms = self.wall_ms();
        self.change(|t| {
            setting_of(t, setting)?;
            t.prepare_cached(
                "UPDATE setting SET closed_ms = ?2 WHERE id = ?1 AND closed_ms IS NULL",
            )?
            .execute(params![setting, now_ms])?;
            setting_of(t, setting)
        })
    }
}

/// zlib's usual middle way between time and size.
const COMPRESSION: u8 = 6;

const COLUMNS: &str = "id, document, revision, piece_index, piece, first_copy, last_copy,
  lay_hash, engine, begun_ms, closed_ms";

fn setting_from(row: &Row<'_>) -> rusqlite::Result<Setting> {
    Ok(Setting {
        id: row.get(0)?,
        document: row.get(1)?,
        revision: row.get(2)?,
        piece_index: row.get(3)?,
        piece: row.get(4)?,
        first_copy: row.get(5)?,
        last_copy: row.get(6)?,
        lay_hash: row.get(7)?,
        engine: row.get(8)?,
        lots: Vec::new(),
        begun_ms: row.get(9)?,
        closed_ms: row.get(10)?,
    })
}

/// The settings of which `which` is true, with their lots.
fn many(c: &Connection, which: &str, values: impl Params) -> Result<Vec<Setting>, Fault> {
    let mut found = c.prepare_cached(&format!("SELECT {COLUMNS} FROM setting WHERE {which}"))?;
    let rows = found.query_map(values, setting_from)?;
    let mut settings: Vec<Setting> = rows.collect::<Result<_, _>>()?;
    let mut found =
        c.prepare_cached("SELECT kind, lot FROM setting_lot WHERE setting = ?1 ORDER BY kind")?;
    for setting in &mut settings {
        let rows = found.query_map([setting.id], |row| Ok((row.get(0)?, row.get(1)?)))?;
        setting.lots = rows.collect::<Result<_, _>>()?;
    }
    Ok(settings)
}

fn one(c: &Connection, which: &str, value: impl rusqlite::ToSql) -> Result<Option<Setting>, Fault> {
    Ok(many(c, which, [value])?.pop())
}

pub(crate) fn setting_of(c: &Connection, setting: SettingId) -> Result<Setting, Fault> {
    one(c, "id = ?1", setting)?.ok_or_else(|| unknown("setting", setting))
}

fn insert(c: &Connection, new: &NewSetting, frozen: &[u8], now_ms: i64) -> Result<(), Fault> {
    c.prepare_cached(
        "INSERT INTO setting (nonce, document, revision, piece_index, piece, first_copy,
           last_copy, lay_hash, engine, begun_ms, frozen)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11)",
    )?
    .execute(params![
        new.nonce,
        new.document,
        new.revision,
        new.piece_index,
        new.piece,
        new.first_copy,
        new.last_copy,
        new.lay_hash,
        new.engine,
        now_ms,
        frozen,
    ])?;
    Ok(())
}

fn check_setting(new: &NewSetting) -> Result<(), ShopError> {
    named("nonce", &new.nonce)?;
    if new.first_copy < 1 || new.last_copy < new.first_copy {
        return Err(ShopError::BadValue {
            field: "copies",
            wrong: "must run from 1 or more up",
            value: format!("{} to {}", new.first_copy, new.last_copy),
        });
    }
    let mut kinds: Vec<&String> = new.lots.iter().map(|(kind, _)| kind).collect();
    kinds.sort();
    match kinds.windows(2).find(|pair| pair[0] == pair[1]) {
        Some(twice) => Err(ShopError::BadValue {
            field: "lots",
            wrong: "name a kind twice",
            value: twice[0].clone(),
        }),
        None => Ok(()),
    }
}
