//! Stones kept for an order: what it still wants, and one lot to take it from.

use crate::{Desk, DeskError, MoveSort, Opened, StonesMoved};
use schemars::JsonSchema;
use serde::Serialize;
use shop::{DocumentId, Entry};

/// What an order wants of one stone, and what it has.
#[derive(Clone, Debug, Default, PartialEq, Serialize, JsonSchema)]
pub struct Wanted {
    /// Name of the stone, as the order writes it.
    pub stone: String,
    /// Stones in all copies of all pieces, as they are laid.
    pub laid: i64,
    /// Of these, stones that are set.
    pub used: i64,
    /// What is kept for the order: lot and stones.
    pub held: Vec<(String, i64)>,
    /// Where it can be had from one lot.
    pub one_lot: Option<OneLot>,
}

impl Wanted {
    /// Stones that are neither set nor kept yet.
    pub fn open(&self) -> i64 {
        let held: i64 = self.held.iter().map(|h| h.1).sum();
        (self.laid - self.used - held).max(0)
    }
}

/// A lot from which an order can be served alone, or that there is none.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum OneLot {
    /// The lot that has enough free stones with the fewest left over.
    Lot {
        /// Its name; empty for stones without a lot.
        lot: String,
        /// Its free stones.
        free: i64,
    },
    /// No lot has enough.
    None {
        /// The lot that has most.
        largest: Option<String>,
        /// Its free stones.
        free: i64,
    },
}

impl Desk {
    /// What an order wants of each stone; `None` if it is not laid yet. [`Desk::begin_counting`]
    /// sees to that.
    ///
    /// # Errors
    /// The shop's.
    pub fn wanted(&self, order: &Opened) -> Result<Option<Vec<Wanted>>, DeskError> {
        let Some(counts) = self.counts_at_hand(&order.document)? else { return Ok(None) };
        let used = self.used_by(order.document.id)?;
        let held = self.shop.held(order.document.id)?;
        let wanted = counts.iter().map(|(stone, stones)| {
            let mut wanted = Wanted {
                stone: stone.clone(),
                laid: i64::try_from(*stones).unwrap_or(i64::MAX),
                used: used.get(stone).copied().unwrap_or(0),
                held: held
                    .iter()
                    .filter(|h| h.stone == *stone)
                    .map(|h| (h.lot.clone(), h.stones))
                    .collect(),
                one_lot: None,
            };
            if wanted.open() > 0 {
                wanted.one_lot = Some(self.one_lot(stone, wanted.open())?);
            }
            Ok(wanted)
        });
        wanted.collect::<Result<Vec<_>, DeskError>>().map(Some)
    }

    /// The lot from which `stones` of one name can be had alone: the one with the fewest left over,
    /// so that large lots stay whole.
    ///
    /// # Errors
    /// The shop's.
    pub fn one_lot(&self, stone: &str, stones: i64) -> Result<OneLot, DeskError> {
        let lots: Vec<(String, i64)> = self
            .shop
            .stock(false)?
            .into_iter()
            .filter(|s| s.stone == stone)
            .map(|s| (s.lot.clone(), s.free()))
            .collect();
        if let Some((lot, free)) = lots.iter().filter(|l| l.1 >= stones).min_by_key(|l| l.1) {
            return Ok(OneLot::Lot { lot: lot.clone(), free: *free });
        }
        let largest = lots.into_iter().max_by_key(|l| l.1).filter(|l| l.1 > 0);
        let free = largest.as_ref().map_or(0, |l| l.1);
        Ok(OneLot::None { largest: largest.map(|l| l.0), free })
    }

    /// Keeps stones for an order, all from one lot. `said` names the stone, how many, for what and
    /// by whom; its lot is chosen here.
    ///
    /// # Errors
    /// No lot has enough free stones; as for [`Desk::move_stones`].
    pub fn reserve_from_one_lot(&self, said: &StonesMoved) -> Result<Entry, DeskError> {
        let mut said = StonesMoved { what: MoveSort::Reserved, packs: false, ..said.clone() };
        // A press that comes again must find the lot it chose, not the one it would choose now.
        if let Some(there) = self.written(&said)? {
            return Ok(there);
        }
        match self.one_lot(&said.stone, said.amount)? {
            OneLot::Lot { lot, .. } => said.lot = lot,
            OneLot::None { largest: None, .. } => {
                return Err(DeskError::unfit(
                    format!("no lot of `{}` has free stones", said.stone),
                    "count the shelf, or buy some first",
                ));
            }
            OneLot::None { largest: Some(lot), free } => {
                let lot = if lot.is_empty() {
                    "stones without a lot".to_owned()
                } else {
                    format!("lot `{lot}`")
                };
                return Err(DeskError::unfit(
                    format!(
                        "no one lot of `{}` has {} free stones: most has {lot}, {free}",
                        said.stone, said.amount
                    ),
                    "buy a lot that is large enough, or reserve by hand from several, whose shade may differ",
                ));
            }
        }
        let written = self.move_stones(&[said])?;
        written.into_iter().next().ok_or_else(|| DeskError::Ours("nothing was written".to_owned()))
    }

    /// The line of a move that was written before, if it is among the order's last ones.
    fn written(&self, said: &StonesMoved) -> Result<Option<Entry>, DeskError> {
        let page = shop::LedgerPage {
            stone: Some(&said.stone),
            order: said.order.map(DocumentId),
            before: None,
            limit: 50,
        };
        Ok(self.shop.ledger(&page)?.into_iter().find(|e| e.said.nonce == said.nonce))
    }
}
