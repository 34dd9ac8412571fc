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
}
