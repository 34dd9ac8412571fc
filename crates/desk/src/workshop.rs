//! The workshop's own document: kinds, mixes, suppliers, adhesives, how it works, what it charges.

use crate::orders::name_of;
use crate::{Desk, DeskError, Opened};
use app::adopt::{self, Entry, Present};
use app::begin;
use shop::{DocumentId, RevisionId, Sort};

impl Desk {
    /// The workshop's document, which is made if there is none yet.
    ///
    /// # Errors
    /// The shop's.
    pub fn workshop(&self) -> Result<Opened, DeskError> {
        let head = match self.shop.workshop()? {
            Some(head) => head,
            None => {
                let text = begin::workshop();
                let name = name_of(&text)?;
                let change =
                    shop::Change { text: &text, name: &name, what: "begun", ..Default::default() };
                self.shop.create(Sort::Workshop, &change, false)?
            }
        };
        self.opened(head)
    }

    /// Takes entries of an order over into the workshop's document, which keeps what it has.
    ///
    /// # Errors
    /// There is no such order or entry; the shop's.
    pub fn learn(&self, order: DocumentId, wanted: &[Entry]) -> Result<Opened, DeskError> {
        let from = self.shop.head(order)?.revision.text;
        let workshop = self.workshop()?;
        let text = adopt::take_over(&workshop.revision.text, &from, wanted, Present::Keep)?;
        self.revise(
            workshop.document.id,
            workshop.revision.id,
            &text,
            "taken over from an order",
            None,
        )
    }

    /// Takes entries of the workshop's document over into an order that stands at `from`, in place
    /// of those it has.
    ///
    /// # Errors
    /// There is no such order or entry; it was changed meanwhile; the shop's.
    pub fn refresh(
        &self,
        order: DocumentId,
        from: RevisionId,
        wanted: &[Entry],
    ) -> Result<Opened, DeskError> {
        let workshop = self.workshop()?.revision.text;
        let before = self.shop.revision(from)?.text;
        let text = adopt::take_over(&before, &workshop, wanted, Present::Replace)?;
        self.revise(order, from, &text, "as the workshop has it today", None)
    }
}
