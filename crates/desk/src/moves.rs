//! Stones that come, go, are kept for an order or counted: lines of the ledger, as they are typed.

use crate::{Desk, DeskError};
use rust_decimal::Decimal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use shop::{DocumentId, Entry, Moved, NewEntry};

/// What happened to stones.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum MoveSort {
    /// Came in.
    #[default]
    Received,
    /// Counted: so many lie there, whatever was thought before.
    Counted,
    /// Lost or broken.
    Lost,
    /// Set.
    Used,
    /// Kept for an order; they stay on the shelf.
    Reserved,
    /// Not kept any more.
    Released,
}

impl MoveSort {
    /// As the ledger calls it.
    pub fn moved(self) -> Moved {
        match self {
            MoveSort::Received => Moved::Received,
            MoveSort::Counted => Moved::Counted,
            MoveSort::Lost => Moved::Lost,
            MoveSort::Used => Moved::Used,
            MoveSort::Reserved => Moved::Reserved,
            MoveSort::Released => Moved::Released,
        }
    }
}

/// Stones that were moved, as somebody says it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct StonesMoved {
    /// Made up by whoever asks, once for each move: the same again is not written again.
    pub nonce: String,
    /// What happened.
    pub what: MoveSort,
    /// Name of the stone.
    pub stone: String,
    /// The lot; empty for stones without one.
    #[serde(default)]
    pub lot: String,
    /// How many, in stones, or in packs if `packs` is true.
    pub amount: i64,
    /// Whether `amount` counts packs.
    #[serde(default)]
    pub packs: bool,
    /// What one stone cost, as a decimal.
    #[serde(default)]
    #[schemars(with = "Option<String>")]
    pub unit_price: Option<Decimal>,
    /// From whom.
    #[serde(default)]
    pub supplier: Option<String>,
    /// For which order.
    #[serde(default)]
    pub order: Option<i64>,
    /// For which of its pieces.
    #[serde(default)]
    pub piece: Option<String>,
    /// Who did it.
    #[serde(default)]
    pub who: String,
    /// Why.
    #[serde(default)]
    pub why: String,
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
    /// Writes moves into the ledger, all or none. A move whose nonce is there already is not
    /// written again.
    ///
    /// # Errors
    /// Packs of a stone whose pack is not known, stones that nobody knows, more released than held;
    /// the shop's.
    pub fn move_stones(&self, moves: &[StonesMoved]) -> Result<Vec<Entry>, DeskError> {
        let names = self.stone_names()?;
        let lines = moves.iter().map(|m| self.line(m, &names)).collect::<Result<Vec<_>, _>>()?;
        Ok(self.shop.write(&lines)?)
    }

    fn line(&self, said: &StonesMoved, names: &[String]) -> Result<NewEntry, DeskError> {
        if !names.contains(&said.stone) {
            return Err(DeskError::unfit(
                format!("there are no stones of this name: `{}`", said.stone),
                "add the stone first, then what came of it",
            ));
        }
        let stones = if said.packs {
            let pack = self.pack_of(&said.stone)?;
            said.amount.checked_mul(pack).ok_or_else(|| {
                DeskError::unfit("that is more than any shelf holds", "write fewer packs")
            })?
        } else {
            said.amount
        };
        let filled = |text: &Option<String>| {
            text.as_deref().map(str::trim).filter(|t| !t.is_empty()).map(str::to_owned)
        };
        Ok(NewEntry {
            nonce: said.nonce.clone(),
            what: said.what.moved(),
            stone: said.stone.clone(),
            lot: said.lot.trim().to_owned(),
            stones,
            unit_price: said.unit_price,
            supplier: filled(&said.supplier),
            order: said.order.map(DocumentId),
            piece: filled(&said.piece),
            who: said.who.trim().to_owned(),
            why: said.why.trim().to_owned(),
        })
    }

    fn pack_of(&self, stone: &str) -> Result<i64, DeskError> {
        let workshop = self.workshop()?;
        let kind = workshop.order.kinds.iter().find(|k| k.kind.name == stone);
        kind.and_then(|k| k.pack).map(i64::from).ok_or_else(|| {
            DeskError::unfit(
                format!("how many `{stone}` are in a pack is not known"),
                "write the number of stones, or say first how many a pack holds",
            )
        })
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
                let lot = if lot.is_empty() { "stones without a lot".to_owned() } else { format!("lot `{lot}`") };
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
