//! What a purchase leads to on the shelf: stones that arrived, stones kept for an order.

use crate::{Desk, DeskError, Opened};
use app::plan::Plan;
use rust_decimal::Decimal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use shop::{DocumentId, LedgerPage, Moved, NewEntry};

/// Stones that arrived.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Arrived {
    /// Made up by whoever asks: the same nonce again is the same arrival.
    pub nonce: String,
    /// Name of the kind.
    pub stone: String,
    /// The lot; empty for stones without one.
    #[serde(default)]
    pub lot: String,
    /// How many.
    pub stones: u64,
    /// What one cost, if it is known.
    #[serde(default)]
    #[schemars(with = "Option<String>")]
    pub unit_price: Option<Decimal>,
    /// From whom.
    #[serde(default)]
    pub supplier: Option<String>,
    /// Who took them in.
    #[serde(default)]
    pub who: String,
}

/// Stones of one lot that an order keeps or could keep.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Holding {
    /// Name of the kind.
    pub stone: String,
    /// The lot; empty for stones without one.
    pub lot: String,
    /// Stones that the order keeps.
    pub held: u64,
    /// Stones that the plan takes from there.
    pub wanted: u64,
}

impl Desk {
    /// Brings stones that arrived for an order to the shelf.
    ///
    /// # Errors
    /// There is no such kind in the order, no stones; the shop's.
    pub fn arrived(&self, opened: &Opened, arrived: &Arrived) -> Result<(), DeskError> {
        if !opened.order.kinds.iter().any(|k| k.kind.name == arrived.stone) {
            return Err(DeskError::Missing("kind of stone in this order"));
        }
        let stones = i64::try_from(arrived.stones).unwrap_or(0);
        if stones < 1 {
            return Err(DeskError::unfit(
                "no stones are named",
                "type how many arrived, like 1440",
            ));
        }
        let entry = NewEntry {
            nonce: arrived.nonce.clone(),
            what: Moved::Received,
            stone: arrived.stone.clone(),
            lot: arrived.lot.trim().to_owned(),
            stones,
            unit_price: arrived.unit_price,
            supplier: arrived.supplier.clone().filter(|s| !s.is_empty()),
            order: Some(opened.document.id),
            piece: None,
            who: arrived.who.trim().to_owned(),
            why: format!("bought for {}", opened.document.name),
        };
        self.shop.write(&[entry])?;
        Ok(())
    }

    /// What an order keeps and what its plan takes, lot by lot.
    ///
    /// # Errors
    /// The shop's.
    pub fn holdings(&self, opened: &Opened, plan: &Plan) -> Result<Vec<Holding>, DeskError> {
        let mut all: Vec<Holding> = vec![];
        for used in plan.purchase.stock.iter().filter(|s| s.used > 0) {
            all.push(Holding {
                stone: used.kind.clone(),
                lot: used.lot.clone().unwrap_or_default(),
                held: 0,
                wanted: used.used,
            });
        }
        for held in self.shop.held(opened.document.id)? {
            let stones = u64::try_from(held.stones).unwrap_or(0);
            match all.iter_mut().find(|h| h.stone == held.stone && h.lot == held.lot) {
                Some(there) => there.held = stones,
                None => {
                    all.push(Holding { stone: held.stone, lot: held.lot, held: stones, wanted: 0 });
                }
            }
        }
        Ok(all)
    }

    /// Keeps for an order what its plan takes from the shelf and is not kept yet. Gives how many
    /// stones that were.
    ///
    /// # Errors
    /// The shop's.
    pub fn hold(&self, opened: &Opened, plan: &Plan, nonce: &str) -> Result<u64, DeskError> {
        let more = self.holdings(opened, plan)?;
        let more = more.iter().filter(|h| h.wanted > h.held).map(|h| (h, h.wanted - h.held));
        self.keep_or_not(opened, Moved::Reserved, more, nonce)
    }

    /// Releases everything that is kept for an order. Gives how many stones that were.
    ///
    /// # Errors
    /// The shop's.
    pub fn release(&self, opened: &Opened, nonce: &str) -> Result<u64, DeskError> {
        let held = self.shop.held(opened.document.id)?;
        let all: Vec<Holding> = held
            .into_iter()
            .map(|h| Holding {
                stone: h.stone,
                lot: h.lot,
                held: u64::try_from(h.stones).unwrap_or(0),
                wanted: 0,
            })
            .collect();
        let gone = all.iter().filter(|h| h.held > 0).map(|h| (h, h.held));
        self.keep_or_not(opened, Moved::Released, gone, nonce)
    }

    fn keep_or_not<'a>(
        &self,
        opened: &Opened,
        what: Moved,
        each: impl Iterator<Item = (&'a Holding, u64)>,
        nonce: &str,
    ) -> Result<u64, DeskError> {
        let entries: Vec<NewEntry> = each
            .map(|(h, stones)| NewEntry {
                // By stone and lot, so that a form that is sent twice writes no line twice.
                nonce: format!("{nonce} {}/{}", h.stone, h.lot),
                what,
                stone: h.stone.clone(),
                lot: h.lot.clone(),
                stones: i64::try_from(stones).unwrap_or(0),
                unit_price: None,
                supplier: None,
                order: Some(opened.document.id),
                piece: None,
                who: String::new(),
                why: opened.document.name.clone(),
            })
            .collect();
        self.shop.write(&entries)?;
        Ok(entries.iter().map(|e| e.stones.unsigned_abs()).sum())
    }

    /// A nonce for what is done next with the shelf: another after each line that is written.
    ///
    /// # Errors
    /// The shop's.
    pub fn shelf_nonce(&self, document: DocumentId) -> Result<String, DeskError> {
        let page = LedgerPage { limit: 1, ..LedgerPage::default() };
        let last = self.shop.ledger(&page)?.first().map_or(0, |e| e.id.0);
        Ok(format!("order {document} after {last}"))
    }
}
