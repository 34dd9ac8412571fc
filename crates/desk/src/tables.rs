//! The shelf as a spreadsheet's table: written, and read as a count.

use crate::{Desk, DeskError};
use app::edit::FieldFault;
use app::shelf::{self, Row};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use shop::{Entry, Moved, NewEntry};

/// One row of a table as a count.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct CountedRow {
    /// Name of the stone.
    pub stone: String,
    /// The lot; empty for stones without one.
    pub lot: String,
    /// Stones that lie there by the table.
    pub stones: i64,
    /// Stones that lay there by the ledger.
    pub before: i64,
}

impl Desk {
    /// Everything on the shelf as CSV.
    ///
    /// # Errors
    /// The shop's.
    pub fn shelf_table(&self) -> Result<String, DeskError> {
        let stones = |n: i64| u64::try_from(n).unwrap_or(0);
        let rows: Vec<Row> = self
            .shop
            .stock(false)?
            .into_iter()
            .map(|s| Row {
                // More is kept for orders than is there only after a wrong count; a table that says
                // so could not be read again.
                reserved: stones(s.reserved).min(stones(s.on_hand)),
                stones: stones(s.on_hand),
                lot: Some(s.lot).filter(|l| !l.is_empty()),
                price: s.unit_price,
                kind: s.stone,
            })
            .collect();
        Ok(shelf::write(&rows))
    }

    /// Reads a table as a count, beside what the ledger says. Nothing is written.
    ///
    /// # Errors
    /// Every mistake in it, with its line.
    pub fn read_shelf_table(&self, name: &str, bytes: &[u8]) -> Result<Vec<CountedRow>, DeskError> {
        let names = self.stone_names()?;
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        let rows = shelf::read(name, bytes, &names).map_err(|refused| {
            let faults = refused.faults.iter().map(|f| {
                let (line, _) = refused.line_and_column(f.span.start);
                let column =
                    if f.place.is_empty() { String::new() } else { format!(", {}", f.place) };
                FieldFault {
                    path: None,
                    place: format!("line {line}{column}"),
                    text: f.text.clone(),
                    hint: f.hint.clone(),
                }
            });
            DeskError::Refused(faults.collect())
        })?;
        let stock = self.shop.stock(true)?;
        let counted = rows.into_iter().map(|row| {
            let lot = row.lot.unwrap_or_default();
            let there = stock.iter().find(|s| s.stone == row.kind && s.lot == lot);
            CountedRow {
                before: there.map_or(0, |s| s.on_hand),
                stones: i64::try_from(row.stones).unwrap_or(i64::MAX),
                stone: row.kind,
                lot,
            }
        });
        Ok(counted.collect())
    }

    /// Takes a table as a count: every row of it is written as counted, all or none.
    ///
    /// # Errors
    /// As for [`Desk::read_shelf_table`]; the shop's.
    pub fn take_shelf_table(
        &self,
        name: &str,
        bytes: &[u8],
        nonce: &str,
        who: &str,
    ) -> Result<Vec<Entry>, DeskError> {
        let rows = self.read_shelf_table(name, bytes)?;
        Ok(self.shop.write(&counts(&rows, nonce, who, &format!("from the table {name}")))?)
    }
}

/// Rows as lines of the ledger.
pub(crate) fn counts(rows: &[CountedRow], nonce: &str, who: &str, why: &str) -> Vec<NewEntry> {
    let line = |(i, row): (usize, &CountedRow)| NewEntry {
        nonce: format!("{nonce}-{i}"),
        what: Moved::Counted,
        stone: row.stone.clone(),
        lot: row.lot.clone(),
        stones: row.stones,
        unit_price: None,
        supplier: None,
        order: None,
        piece: None,
        who: who.trim().to_owned(),
        why: why.to_owned(),
    };
    rows.iter().enumerate().map(line).collect()
}
