//! What an order brings that the workshop does not know yet, and where the two differ.

use crate::tables::counts;
use crate::{CountedRow, Desk, DeskError, Opened};
use app::adopt::{self, Entry};
use schemars::JsonSchema;
use serde::Serialize;
use shop::DocumentId;

/// What an order has to offer.
#[derive(Clone, Debug, Default, PartialEq, Serialize, JsonSchema)]
pub struct Offer {
    /// Entries that the workshop's document does not have.
    pub entries: Vec<Entry>,
    /// Stock that the order's document speaks of, where the ledger says otherwise.
    pub stock: Vec<CountedRow>,
}

impl Offer {
    /// Whether there is nothing to offer.
    pub fn is_empty(&self) -> bool {
        self.entries.is_empty() && self.stock.is_empty()
    }
}

impl Desk {
    /// What an order has to offer to workshop and shelf.
    ///
    /// # Errors
    /// The shop's.
    pub fn offer(&self, order: &Opened) -> Result<Offer, DeskError> {
        let workshop = self.workshop()?;
        let entries = adopt::new_entries(&order.revision.text, &workshop.revision.text)?;
        let there = self.shop.stock(true)?;
        let rows = order.order.terms.stock.iter().map(|s| {
            let stone = order.order.kinds[s.kind].kind.name.clone();
            let lot = s.lot.clone().unwrap_or_default();
            let found = there.iter().find(|t| t.stone == stone && t.lot == lot);
            CountedRow {
                before: found.map_or(0, |t| t.on_hand),
                stones: i64::try_from(s.stones).unwrap_or(i64::MAX),
                stone,
                lot,
            }
        });
        let stock = rows.filter(|r| r.stones != r.before).collect();
        Ok(Offer { entries, stock })
    }

    /// Takes of an order's offer what was chosen: entries into the workshop's document, stock (by
    /// its numbers from 0) as counts into the ledger. The same nonce again counts nothing again.
    ///
    /// # Errors
    /// There is no such offer; the shop's.
    pub fn take_offer(
        &self,
        order: DocumentId,
        entries: &[Entry],
        stock: &[CountedRow],
        nonce: &str,
        who: &str,
    ) -> Result<(), DeskError> {
        if !entries.is_empty() {
            self.learn(order, entries)?;
        }
        let name = self.shop.head(order)?.document.name;
        let lines = counts(stock, nonce, who, &format!("as the order {name} says"));
        self.shop.write(&lines)?;
        Ok(())
    }

    /// Entries that an order has otherwise than the workshop has them today.
    ///
    /// # Errors
    /// The shop's.
    pub fn differing(&self, order: &Opened) -> Result<Vec<Entry>, DeskError> {
        let workshop = self.workshop()?;
        Ok(adopt::differing(&order.revision.text, &workshop.revision.text)?)
    }
}
