//! Presses at the bench. Only added; on the disk before they are acknowledged.

use crate::error::{Fault, bad, named, unknown};
use crate::ledger::write_entry;
use crate::settings::setting_of;
use crate::{NewEntry, PressId, SettingId, Shop, ShopError};
use rusqlite::{Connection, OptionalExtension, Params, Row, params};

/// What was pressed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Pressed {
    /// Setting of a copy began.
    Begun,
    /// Glue was opened or mixed: its open time runs.
    GlueOpened,
    /// A row is set.
    RowDone,
    /// The row before is not set after all.
    Back,
    /// Stones were lost.
    Lost,
    /// A pause begins.
    Paused,
    /// It ends.
    Resumed,
    /// A copy is set.
    CopyDone,
    /// Glue was used, in grams.
    GlueUsed,
    /// Something worth a word.
    Note,
}

/// A press to be written.
#[derive(Debug, Clone, PartialEq)]
pub struct NewPress {
    /// Made up by the device, once for each press: the same nonce again is the same press.
    pub nonce: String,
    /// On which device.
    pub device: String,
    /// On which copy, from 1.
    pub copy: u32,
    /// In which stretch, by index from 0.
    pub stretch: Option<u32>,
    /// In which row, by index from 0.
    pub row: Option<u32>,
    /// What.
    pub what: Pressed,
    /// Of which kind.
    pub kind: Option<String>,
    /// At which place of the lay.
    pub place_no: Option<u32>,
    /// How many stones.
    pub stones: Option<u32>,
    /// How much glue, in grams.
    pub grams: Option<f64>,
    /// A note.
    pub text: Option<String>,
    /// Lines of the ledger that are written with it, or not at all.
    pub entries: Vec<NewEntry>,
}

/// A press as it was written.
#[derive(Debug, Clone, PartialEq)]
pub struct Press {
    /// Its number; later presses have greater ones.
    pub id: PressId,
    /// In which setting.
    pub setting: SettingId,
    /// When, by the clock on the wall. Where clocks are set back, `id` is the order, not this.
    pub at_ms: i64,
    /// Milliseconds since the press before it on the same setting: by the clock that only runs
    /// forward if both fell into one run of the program, by the wall's otherwise. None for the first
    /// press, and where the wall's clock went back or by more than half a day.
    pub since_ms: Option<i64>,
    /// Whether the program was started anew between the press before and this one.
    pub restarted: bool,
    /// Made up by the device.
    pub nonce: String,
    /// On which device.
    pub device: String,
    /// On which copy, from 1.
    pub copy: u32,
    /// In which stretch, by index from 0.
    pub stretch: Option<u32>,
    /// In which row, by index from 0.
    pub row: Option<u32>,
    /// What.
    pub what: Pressed,
    /// Of which kind.
    pub kind: Option<String>,
    /// At which place of the lay.
    pub place_no: Option<u32>,
    /// How many stones.
    pub stones: Option<u32>,
    /// How much glue, in grams.
    pub grams: Option<f64>,
    /// A note.
    pub text: Option<String>,
}

impl Shop {
    /// Writes a press and the lines of the ledger that go with it, all or nothing. The same nonce
    /// again gives the same answer and writes nothing.
    ///
    /// # Errors
    /// `Unknown`, `SettingClosed`, `BadValue`, `NonceReused`, `NotHeld`; the world's.
    pub fn press(&self, setting: SettingId, new: &NewPress) -> Result<Press, ShopError> {
        check_press(new)?;
        let times =
            Times { wall_ms: self.wall_ms(), monotonic_ms: self.monotonic_ms(), run: self.run() };
        self.change(|t| {
            if let Some(there) = many(t, "nonce = ?1", params![new.nonce])?.pop() {
                let same = (there.setting, there.what, there.copy, there.stretch, there.row)
                    == (setting, new.what, new.copy, new.stretch, new.row);
                if same {
                    return Ok(there);
                }
                return Err(ShopError::NonceReused { nonce: new.nonce.clone() }.into());
            }
            let place = setting_of(t, setting)?;
            if place.closed_ms.is_some() {
                return Err(ShopError::SettingClosed { setting }.into());
            }
            if new.copy < place.first_copy || new.copy > place.last_copy {
                return Err(bad("copy", "is not one of the setting's", &new.copy).into());
            }
            insert(t, setting, new, &times)?;
            let id = t.last_insert_rowid();
            for entry in &new.entries {
                write_entry(t, entry, times.wall_ms)?;
            }
            many(t, "id = ?1", [id])?.pop().ok_or_else(|| unknown("press", id))
        })
    }

    /// The presses of a setting in the order of writing; only those after `since` if given.
    ///
    /// # Errors
    /// The world's.
    pub fn presses(
        &self,
        setting: SettingId,
        since: Option<PressId>,
    ) -> Result<Vec<Press>, ShopError> {
        let since = since.map_or(0, |since| since.0);
        self.read(|c| many(c, "setting = ?1 AND id > ?2 ORDER BY id", params![setting, since]))
    }

    /// The presses of all settings after `since`, in the order of writing, at most `limit`.
    ///
    /// # Errors
    /// The world's.
    pub fn presses_since(
        &self,
        since: Option<PressId>,
        limit: u32,
    ) -> Result<Vec<Press>, ShopError> {
        let since = since.map_or(0, |since| since.0);
        self.read(|c| many(c, "id > ?1 ORDER BY id LIMIT ?2", params![since, limit]))
    }
}

/// Between two runs of the program only the wall's clock tells the time. What it says beyond half a
/// day is no time of work: the clock was set, or it was another day. Ours, no source.
const LONGEST_GAP_MS: i64 = 12 * 3_600_000;

/// When a press is written.
struct Times {
    wall_ms: i64,
    monotonic_ms: i64,
    run: i64,
}

impl Times {
    /// Since the press before, and whether the program was started anew since.
    fn since(&self, before: &Times) -> (Option<i64>, bool) {
        if before.run == self.run {
            let since = self.monotonic_ms - before.monotonic_ms;
            return ((since >= 0).then_some(since), false);
        }
        let since = self.wall_ms.checked_sub(before.wall_ms);
        (since.filter(|ms| (0..=LONGEST_GAP_MS).contains(ms)), true)
    }
}

/// The press before one that is to be written.
fn before(c: &Connection, setting: SettingId) -> Result<Option<Times>, Fault> {
    let mut found = c.prepare_cached(
        "SELECT at_ms, monotonic_ms, run FROM press WHERE setting = ?1 ORDER BY id DESC LIMIT 1",
    )?;
    let times = found.query_row([setting], |row| {
        Ok(Times { wall_ms: row.get(0)?, monotonic_ms: row.get(1)?, run: row.get(2)? })
    });
    Ok(times.optional()?)
}

fn insert(c: &Connection, setting: SettingId, new: &NewPress, t: &Times) -> Result<(), Fault> {
    let (since_ms, restarted) = before(c, setting)?.map_or((None, false), |b| t.since(&b));
    c.prepare_cached(
        "INSERT INTO press (nonce, setting, run, at_ms, monotonic_ms, since_ms, restarted, device,
           copy, stretch, row, what, kind, place_no, stones, grams, text)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17)",
    )?
    .execute(params![
        new.nonce,
        setting,
        t.run,
        t.wall_ms,
        t.monotonic_ms,
        since_ms,
        restarted,
        new.device,
        new.copy,
        new.stretch,
        new.row,
        new.what,
        new.kind,
        new.place_no,
        new.stones,
        new.grams,
        new.text,
    ])?;
    Ok(())
}

/// The presses of which `which` is true.
fn many(c: &Connection, which: &str, values: impl Params) -> Result<Vec<Press>, Fault> {
    let mut found = c.prepare_cached(&format!(
        "SELECT id, setting, at_ms, since_ms, restarted, nonce, device, copy, stretch, row, what,
           kind, place_no, stones, grams, text FROM press WHERE {which}"
    ))?;
    let rows = found.query_map(values, press_from)?;
    Ok(rows.collect::<Result<_, _>>()?)
}

fn press_from(row: &Row<'_>) -> rusqlite::Result<Press> {
    Ok(Press {
        id: row.get(0)?,
        setting: row.get(1)?,
        at_ms: row.get(2)?,
        since_ms: row.get(3)?,
        restarted: row.get(4)?,
        nonce: row.get(5)?,
        device: row.get(6)?,
        copy: row.get(7)?,
        stretch: row.get(8)?,
        row: row.get(9)?,
        what: row.get(10)?,
        kind: row.get(11)?,
        place_no: row.get(12)?,
        stones: row.get(13)?,
        grams: row.get(14)?,
        text: row.get(15)?,
    })
}

fn check_press(new: &NewPress) -> Result<(), ShopError> {
    named("nonce", &new.nonce)?;
    match new.grams {
        Some(grams) if !(grams.is_finite() && grams >= 0.0) => {
            Err(bad("grams", "must be 0 or more", &grams))
        }
        _ => Ok(()),
    }
}
