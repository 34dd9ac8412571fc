//! A press at the bench: written first, acknowledged then.

use super::{AtBench, Step};
use crate::{Desk, DeskError};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use shop::{Moved, NewEntry, NewPress, Pressed, SettingId};
use std::sync::PoisonError;

/// What is pressed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Act {
    /// The row is set; after the last row, the copy is done.
    Done,
    /// The row before is not set after all.
    Back,
    /// Stones were lost.
    Lost,
    /// A pause begins.
    Pause,
    /// It ends.
    Resume,
    /// The glue of the stretch is on: its open time runs.
    Glue,
    /// So much glue was used.
    Used,
    /// Something worth a word.
    Note,
}

/// A press as a page sends it: what, and on which step. It names the step that the page showed, so
/// that a page which lags behind moves nothing.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PressAsked {
    /// Made up by the page, once for each press: the same nonce again is the same press.
    pub nonce: String,
    /// On which device.
    #[serde(default)]
    pub device: String,
    /// On which copy, from 1.
    pub copy: u32,
    /// In which stretch, by index from 0.
    #[serde(default)]
    pub stretch: Option<u32>,
    /// In which row, by index from 0.
    #[serde(default)]
    pub row: Option<u32>,
    /// What.
    pub act: Act,
    /// Of which kind stones were lost.
    #[serde(default)]
    pub kind: Option<String>,
    /// How many; 1 if left out.
    #[serde(default)]
    pub stones: Option<u32>,
    /// How much glue was used, g.
    #[serde(default)]
    pub grams: Option<f64>,
    /// The word.
    #[serde(default)]
    pub text: Option<String>,
}

/// More glue than anybody weighs at once, g. Ours.
const MOST_GRAMS: f64 = 10_000.0;
/// More stones than anybody loses at once. Ours.
const MOST_LOST: u32 = 10_000;
/// Longest note.
const MOST_LETTERS: usize = 500;

impl Desk {
    /// Writes a press, with the lines of the ledger that go with it, and gives the setting as it
    /// stands then. The same nonce again writes nothing.
    ///
    /// # Errors
    /// It does not fit what is next, since another device was quicker; it says what cannot be; the
    /// setting is closed; the shop's. Nothing is written then.
    pub fn press(&self, setting: SettingId, asked: &PressAsked) -> Result<AtBench, DeskError> {
        let _one = self.benches.one.lock().unwrap_or_else(PoisonError::into_inner);
        let at = self.at_bench(setting)?;
        let new = new_press(&at, asked)?;
        let named = at.course.step().named(at.course.shape());
        let moves = matches!(asked.act, Act::Done | Act::Back | Act::Glue);
        let misses = moves && named != (asked.copy, asked.stretch, asked.row);
        if misses && !self.shop.presses(setting, None)?.iter().any(|p| p.nonce == asked.nonce) {
            return Err(DeskError::meanwhile(
                "this row is not the next one any more",
                "another device went on: look at what is next, then press again",
            ));
        }
        if asked.act == Act::Back && !misses && !at.course.can_go_back() {
            return Err(DeskError::unfit(
                "this is the first row",
                "there is nothing to go back to",
            ));
        }
        self.shop.press(setting, &new)?;
        self.at_bench(setting)
    }
}

/// The press for the shop, with the lines of the ledger that go with it.
fn new_press(at: &AtBench, asked: &PressAsked) -> Result<NewPress, DeskError> {
    let end = u32::try_from(at.frozen.stretches.len()).ok();
    let what = match asked.act {
        Act::Done if asked.stretch == end => Pressed::CopyDone,
        Act::Done => Pressed::RowDone,
        Act::Back => Pressed::Back,
        Act::Lost => Pressed::Lost,
        Act::Pause => Pressed::Paused,
        Act::Resume => Pressed::Resumed,
        Act::Glue => Pressed::GlueOpened,
        Act::Used => Pressed::GlueUsed,
        Act::Note => Pressed::Note,
    };
    let mut new = NewPress {
        nonce: asked.nonce.clone(),
        device: asked.device.clone(),
        copy: asked.copy,
        stretch: asked.stretch,
        row: asked.row,
        what,
        kind: None,
        place_no: None,
        stones: None,
        grams: None,
        text: None,
        entries: vec![],
    };
    match what {
        Pressed::Lost => lost(at, asked, &mut new)?,
        Pressed::CopyDone => new.entries = used(at, asked),
        Pressed::GlueUsed => {
            let grams = asked.grams.filter(|g| *g > 0.0 && *g <= MOST_GRAMS);
            new.grams = Some(grams.ok_or_else(|| {
                DeskError::unfit(
                    "how much glue was used is missing",
                    "weigh it, and type grams: 2.5",
                )
            })?);
        }
        Pressed::Note => {
            let text = asked.text.as_deref().map(str::trim).filter(|t| !t.is_empty());
            let text = text.filter(|t| t.chars().count() <= MOST_LETTERS);
            new.text = Some(text.map(str::to_owned).ok_or_else(|| {
                DeskError::unfit(
                    "the note is empty or too long",
                    format!("at most {MOST_LETTERS} letters"),
                )
            })?);
        }
        _ => {}
    }
    Ok(new)
}

/// Stones that were lost leave the shelf at once.
fn lost(at: &AtBench, asked: &PressAsked, new: &mut NewPress) -> Result<(), DeskError> {
    let kind = asked.kind.as_deref().unwrap_or_default();
    if !at.frozen.kinds.iter().any(|k| k.name == kind) {
        return Err(DeskError::unfit(
            format!("this piece has no such stones: `{kind}`"),
            "pick the kind of the stone that was lost",
        ));
    }
    let stones = asked.stones.unwrap_or(1);
    if !(1..=MOST_LOST).contains(&stones) {
        return Err(DeskError::unfit(
            format!("this many stones cannot be lost at once: {stones}"),
            format!("type a number from 1 to {MOST_LOST}"),
        ));
    }
    let why = format!("lost at the bench, {} copy {}", at.setting.piece, asked.copy);
    new.kind = Some(kind.to_owned());
    new.stones = Some(stones);
    new.entries = vec![NewEntry {
        nonce: format!("{}-lost", asked.nonce),
        ..entry(at, asked, Moved::Lost, kind, i64::from(stones), why)
    }];
    Ok(())
}

/// The stones of a copy leave the shelf when it is done: once, however often it is said.
fn used(at: &AtBench, asked: &PressAsked) -> Vec<NewEntry> {
    let line = |(kind, stones): (usize, u32)| {
        let why = format!("set, {} copy {}", at.setting.piece, asked.copy);
        let name = &at.frozen.kinds[kind].name;
        NewEntry {
            nonce: format!("set-{}-{}-{}-{kind}", at.setting.id, at.setting.begun_ms, asked.copy),
            ..entry(at, asked, Moved::Used, name, i64::from(stones), why)
        }
    };
    at.frozen.kinds_of_copy().into_iter().map(line).collect()
}

fn entry(
    at: &AtBench,
    asked: &PressAsked,
    what: Moved,
    kind: &str,
    stones: i64,
    why: String,
) -> NewEntry {
    NewEntry {
        nonce: String::new(),
        what,
        stone: kind.to_owned(),
        lot: at.lot(kind).to_owned(),
        stones,
        unit_price: None,
        supplier: None,
        order: Some(at.setting.document),
        piece: Some(at.setting.piece.clone()),
        who: asked.device.clone(),
        why,
    }
}

impl AtBench {
    /// A press of `act` on the step at hand.
    pub fn press(&self, act: Act, nonce: &str) -> PressAsked {
        let (copy, stretch, row) = self.course.step().named(self.course.shape());
        let (kind, stones, grams, text) = (None, None, None, None);
        let (nonce, device) = (nonce.to_owned(), String::new());
        PressAsked { nonce, device, copy, stretch, row, act, kind, stones, grams, text }
    }

    /// Whether every copy is set.
    pub fn over(&self) -> bool {
        self.course.step() == Step::Over
    }
}
