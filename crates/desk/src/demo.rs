//! The order to begin with: put there, removed, and put there again.

use crate::{Bundle, Desk, DeskError, Opened};
use app::adopt::{self, Present};
use app::demo::FILES;
use shop::{Asked, Moved, NewEntry};

impl Desk {
    /// The demonstration order, if it is there.
    ///
    /// # Errors
    /// The shop's.
    pub fn demo(&self) -> Result<Option<shop::Document>, DeskError> {
        for put_away in [false, true] {
            let asked = Asked { put_away, limit: 1000, ..Asked::default() };
            if let Some(found) = self.shop.documents(&asked)?.into_iter().find(|d| d.demo) {
                return Ok(Some(found));
            }
        }
        Ok(None)
    }

    /// Puts the demonstration order there, if it is not: with its stones on the shelf, and what the
    /// workshop does not have yet in the workshop's document.
    ///
    /// # Errors
    /// The shop's.
    pub fn show_demo(&self) -> Result<Opened, DeskError> {
        if let Some(there) = self.demo()? {
            return self.open(there.id);
        }
        let text = |bytes: &str| bytes.to_owned();
        let bundle = Bundle {
            text: text(FILES[0].1),
            files: FILES[1..].iter().map(|(n, t)| ((*n).to_owned(), t.as_bytes().to_vec())).collect(),
        };
        let opened = self.keep(&bundle, "the order to begin with", true)?;
        let workshop = self.workshop()?;
        let new = adopt::new_entries(&bundle.text, &workshop.revision.text)?;
        let known = adopt::take_over(&workshop.revision.text, &bundle.text, &new, Present::Keep)?;
        self.revise(workshop.document.id, workshop.revision.id, &known, "with the demo order", None)?;
        let entries: Vec<NewEntry> = opened
            .order
            .terms
            .stock
            .iter()
            .enumerate()
            .map(|(i, stock)| NewEntry {
                nonce: format!("demo-{}-{i}", opened.document.id),
                what: Moved::Received,
                stone: opened.order.kinds[stock.kind].kind.name.clone(),
                lot: stock.lot.clone().unwrap_or_default(),
                stones: i64::try_from(stock.stones).unwrap_or(i64::MAX),
                unit_price: stock.price_per_stone,
                supplier: None,
                order: Some(opened.document.id),
                piece: None,
                who: String::new(),
                why: "came with the demo order".to_owned(),
            })
            .collect();
        self.shop.write(&entries)?;
        self.open(opened.document.id)
    }

    /// Removes the demonstration order and what hangs on it; its stones are taken back.
    ///
    /// # Errors
    /// The shop's.
    pub fn remove_demo(&self) -> Result<(), DeskError> {
        if let Some(there) = self.demo()? {
            self.shop.remove_demo(there.id)?;
        }
        Ok(())
    }
}
