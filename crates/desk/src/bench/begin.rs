//! Beginning to set: which piece, which copies, from which lots. From then on lay and stretches are
//! frozen for these copies.

use super::{Course, Frozen, Step};
use crate::planned::Standing;
use crate::{Desk, DeskError, Opened, Tries};
use app::laying::{ENGINE, LaidPiece};
use export::json::LayFile;
use lay::{Unwatched, Watch};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use shop::{DocumentId, NewPress, NewSetting, Pressed, RevisionId, Setting};
use std::collections::BTreeSet;
use std::sync::PoisonError;

/// Copies of a piece that can be begun, and what they can be set from.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct CanSet {
    /// Number of the piece, from 1.
    pub number: usize,
    /// Its name.
    pub piece: String,
    /// How many copies the order asks for.
    pub quantity: u32,
    /// Copies that are neither set nor at the bench.
    pub free: Vec<SetRange>,
    /// The kinds of a copy, with their lots.
    pub kinds: Vec<KindLots>,
}

/// Copies from one to another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct SetRange {
    /// The first, from 1.
    pub first: u32,
    /// The last.
    pub last: u32,
}

/// The lots of a kind.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct KindLots {
    /// The kind.
    pub kind: String,
    /// Stones of one copy.
    pub stones: u64,
    /// Its lots, the one with the most free stones first; empty if none lies on the shelf.
    pub lots: Vec<LotFree>,
}

/// A lot that this order may take stones from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct LotFree {
    /// The lot; empty for stones without one.
    pub lot: String,
    /// Stones that no other order holds; below zero if more are held than there are.
    pub free: i64,
}

/// What is to be begun.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct BeginAsked {
    /// Made up by whoever asks: the same nonce again is the same setting.
    pub nonce: String,
    /// Number of the piece, from 1.
    pub number: usize,
    /// The first copy; the first that is not begun if left out.
    #[serde(default)]
    pub first: Option<u32>,
    /// The last copy; the last that is not begun if left out.
    #[serde(default)]
    pub last: Option<u32>,
    /// Kind and lot; where a kind is left out, the lot with the most free stones.
    #[serde(default)]
    pub lots: Vec<(String, String)>,
}

impl Desk {
    /// What can be begun of a laid piece of an order.
    ///
    /// # Errors
    /// The shop's.
    pub fn can_set(
        &self,
        opened: &Opened,
        number: usize,
        laid: &LaidPiece,
    ) -> Result<CanSet, DeskError> {
        let piece = laid.asked.piece.name.clone();
        let taken = self.taken(opened.document.id, &piece)?;
        let free: Vec<u32> = (1..=laid.asked.quantity).filter(|c| !taken.contains(c)).collect();
        let ranges = free.chunk_by(|a, b| a + 1 == *b);
        let stock = self.lots(opened.document.id)?;
        let kinds = laid.kinds_used().map(|(kind, stones)| KindLots {
            kind: kind.name.clone(),
            stones,
            lots: stock.iter().filter(|s| s.0 == kind.name).map(|s| s.1.clone()).collect(),
        });
        Ok(CanSet {
            number,
            quantity: laid.asked.quantity,
            free: ranges.map(|r| SetRange { first: r[0], last: r[r.len() - 1] }).collect(),
            kinds: kinds.collect(),
            piece,
        })
    }

    /// Begins to set copies of a piece of an order that stands at `from`.
    ///
    /// # Errors
    /// Copies that are set or at the bench already, a lay without stones, that the order was changed
    /// meanwhile; what planning or the shop says; the watcher stopped it.
    pub fn begin_setting(
        &self,
        id: DocumentId,
        from: RevisionId,
        asked: &BeginAsked,
        watch: &dyn Watch,
    ) -> Result<Setting, DeskError> {
        let opened = self.open(id)?;
        if opened.revision.id != from {
            return Err(DeskError::meanwhile(
                "the order was changed meanwhile",
                "look at the piece as it is now, then begin",
            ));
        }
        let laid = self.lay(opened.piece(asked.number)?, watch)?;
        let (order, only) = (&opened.order, Some(asked.number - 1));
        let plan = self.plan_of(Standing::of(&opened), &Tries::default(), only, watch)?;
        let frozen = Frozen::of(&order.name, &laid, &plan, hash(&laid)?);
        if frozen.stretches.iter().all(|s| s.rows.is_empty()) {
            return Err(DeskError::unfit(
                "there is no stone to set on this piece",
                "look at what its page says, and give it room for stones",
            ));
        }
        // Two who begin at once must not both find a copy free.
        let _one = self.benches.one.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(there) = self.begun_by(id, &asked.nonce)? {
            return Ok(there);
        }
        let can = self.can_set(&opened, asked.number, &laid)?;
        let copies = free_range(&can, asked)?;
        let setting = self.shop.begin_setting(&NewSetting {
            nonce: asked.nonce.clone(),
            document: id,
            revision: from,
            piece_index: u32::try_from(asked.number - 1).unwrap_or(u32::MAX),
            piece: can.piece.clone(),
            first_copy: copies.first,
            last_copy: copies.last,
            lay_hash: frozen.hash.clone(),
            engine: ENGINE.to_owned(),
            frozen: frozen.to_bytes()?,
            lots: can.kinds.iter().map(|k| (k.kind.clone(), chosen(k, asked))).collect(),
        })?;
        self.shop.press(setting.id, &begun(&setting, &asked.nonce))?;
        Ok(setting)
    }

    /// What the same form began already.
    fn begun_by(&self, id: DocumentId, nonce: &str) -> Result<Option<Setting>, DeskError> {
        for setting in self.shop.settings(id)? {
            let first = self.shop.presses(setting.id, None)?.into_iter().next();
            if first.is_some_and(|p| p.nonce == begun_nonce(nonce)) {
                return Ok(Some(setting));
            }
        }
        Ok(None)
    }

    /// Copies of a piece that are set, or at the bench.
    fn taken(&self, id: DocumentId, piece: &str) -> Result<BTreeSet<u32>, DeskError> {
        let mut taken = BTreeSet::new();
        for setting in self.shop.settings(id)?.iter().filter(|s| s.piece == piece) {
            let last = match setting.closed_ms {
                None => setting.last_copy,
                Some(_) => match self.course(setting)?.1 {
                    course if course.step() == Step::Over => setting.last_copy,
                    course => course.copy() - 1,
                },
            };
            taken.extend(setting.first_copy..=last);
        }
        Ok(taken)
    }

    /// Lots of all stones, by stone, the one with the most free stones first. What the order holds
    /// itself is free for it.
    fn lots(&self, id: DocumentId) -> Result<Vec<(String, LotFree)>, DeskError> {
        let held = self.shop.held(id)?;
        let mut lots = vec![];
        for row in self.shop.stock(false)? {
            let own = held.iter().filter(|h| h.stone == row.stone && h.lot == row.lot);
            let free = row.free() + own.map(|h| h.stones).sum::<i64>();
            lots.push((row.stone, LotFree { lot: row.lot, free }));
        }
        lots.sort_by_key(|l| std::cmp::Reverse(l.1.free));
        Ok(lots)
    }

    /// Lays and begins without anybody watching.
    ///
    /// # Errors
    /// As for [`Desk::begin_setting`].
    pub fn begin_setting_now(
        &self,
        id: DocumentId,
        from: RevisionId,
        asked: &BeginAsked,
    ) -> Result<Setting, DeskError> {
        self.begin_setting(id, from, asked, &Unwatched)
    }

    /// The course of a setting, with its frozen lay.
    pub(super) fn course(
        &self,
        setting: &Setting,
    ) -> Result<(std::sync::Arc<Frozen>, Course), DeskError> {
        let at = self.benches.at(&self.shop, setting)?;
        Ok((at.0, at.1))
    }
}

/// The hash of the lay of a piece.
fn hash(laid: &LaidPiece) -> Result<String, DeskError> {
    let asked = &laid.asked;
    let file = LayFile::new("", &[(&asked.piece, &laid.lay, asked.quantity)], ENGINE);
    let file = file.map_err(|e| DeskError::Ours(e.to_string()))?;
    Ok(file.pieces.into_iter().next().map(|p| p.hash).unwrap_or_default())
}

/// The copies that are asked for, if all of them are free.
fn free_range(can: &CanSet, asked: &BeginAsked) -> Result<SetRange, DeskError> {
    let (Some(whole), Some(end)) = (can.free.first(), can.free.last()) else {
        return Err(DeskError::unfit(
            "every copy of this piece is set, or at the bench",
            "go on with those at the bench, or ask for more copies in the order",
        ));
    };
    let first = asked.first.unwrap_or(whole.first);
    // Those that are asked for in full are the run of free ones that the first lies in.
    let run = can.free.iter().find(|r| (r.first..=r.last).contains(&first));
    let last = asked.last.or(run.map(|r| r.last)).unwrap_or(end.last);
    match run {
        Some(run) if first <= last && last <= run.last => Ok(SetRange { first, last }),
        _ => {
            let free: Vec<String> =
                can.free.iter().map(|r| copies_words(r.first, r.last)).collect();
            Err(DeskError::unfit(
                format!("not all of these copies can be begun: {}", copies_words(first, last)),
                format!("take {}", free.join(" or ")),
            ))
        }
    }
}

/// Copies for people: `copy 3`, `copies 3 to 9`.
fn copies_words(first: u32, last: u32) -> String {
    if first == last { format!("copy {first}") } else { format!("copies {first} to {last}") }
}

/// The lot that was asked for, or the one with the most free stones.
fn chosen(kind: &KindLots, asked: &BeginAsked) -> String {
    let said = asked.lots.iter().find(|l| l.0 == kind.kind).map(|l| l.1.clone());
    said.or_else(|| kind.lots.first().map(|l| l.lot.clone())).unwrap_or_default()
}

fn begun_nonce(nonce: &str) -> String {
    format!("{nonce}-begun")
}

fn begun(setting: &Setting, nonce: &str) -> NewPress {
    NewPress {
        nonce: begun_nonce(nonce),
        device: String::new(),
        copy: setting.first_copy,
        stretch: None,
        row: None,
        what: Pressed::Begun,
        kind: None,
        place_no: None,
        stones: None,
        grams: None,
        text: None,
        entries: vec![],
    }
}
