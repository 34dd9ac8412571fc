//! Presses at the bench. Only added; on the disk before they are acknowledged.

use crate::open::later;
use crate::{NewEntry, PressId, SettingId, Shop, ShopError};

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
        later(self, (setting, new))
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
        later(self, (setting, since))
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
        later(self, (since, limit))
    }
}
