//! What lies on the shelf, as a table that a spreadsheet reads and writes.
//!
//! | need | item |
//! |---|---|
//! | one row | [`Row`] |
//! | a spreadsheet's CSV into rows | [`read()`] |
//! | rows into CSV | [`write()`] |
//! | the stock of an order as CSV | [`table()`] |
//!
//! The table has the columns `kind`, `stones`, `lot`, `reserved` and `price`, in any order; `kind` and
//! `stones` must be there. Cells are set apart by commas, semicolons or tabs; decimals may have a comma.

mod cell;
mod table;
mod write;

pub use write::write;

use crate::document::{Fault, Refused, nearest, shortened};
use crate::order::Order;
use cell::Cell;
use planning::buying::Stock;
use rust_decimal::Decimal;
use std::collections::BTreeMap;
use std::ops::Range;
use table::{Column, Record, Table};

/// Stones of one kind and one lot on the shelf.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// The kind's name, as the document writes it.
    pub kind: String,
    /// Stones on the shelf, reserved ones included.
    pub stones: u64,
    /// The lot, if one is noted.
    pub lot: Option<String>,
    /// Stones put by for other orders.
    pub reserved: u64,
    /// What a stone was bought for.
    pub price: Option<Decimal>,
}

/// The stock of an order as CSV: that of its document and of the table it names.
pub fn table(order: &Order) -> String {
    let row = |s: &Stock| Row {
        kind: order.kinds[s.kind].kind.name.clone(),
        stones: s.stones,
        lot: s.lot.clone(),
        reserved: s.reserved,
        price: s.price_per_stone,
    };
    write(&order.terms.stock.iter().map(row).collect::<Vec<_>>())
}

/// Most stones in one row; far above what lies on a shelf.
const MAX_STONES: u64 = 10_000_000;
/// Most money for one stone.
const MAX_PRICE: u32 = 10_000;
/// Most decimals of a price.
const MAX_DECIMALS: u32 = 6;
/// Most letters of a name or lot.
const MAX_LETTERS: usize = 80;
/// So many faults are taken down.
const MAX_FAULTS: usize = 1000;

/// The rows of a spreadsheet's CSV, in its order. `kinds` are the names that the document knows;
/// their case does not matter in the table.
///
/// # Errors
///
/// Everything that is wrong, with its line: bytes that are not UTF-8, a header that cannot be
/// understood, unknown kinds, counts and prices that make no sense, the same kind and lot twice.
pub fn read(name: &str, bytes: &[u8], kinds: &[&str]) -> Result<Vec<Row>, Refused> {
    let text = table::text(name, bytes)?;
    let table = Table::new(text).map_err(|faults| Refused::new(name, text, faults))?;
    let mut faults = vec![];
    let mut rows = vec![];
    let mut seen: BTreeMap<(String, Option<String>), Range<usize>> = BTreeMap::new();
    for record in &table.records {
        if faults.len() >= MAX_FAULTS {
            break;
        }
        let before = faults.len();
        let row = read_row(&table, record, kinds, &mut faults);
        let Some(row) = row.filter(|_| faults.len() == before) else { continue };
        let at = (row.kind.clone(), row.lot.clone());
        if let Some(first) = seen.get(&at) {
            let lot = row.lot.as_ref().map_or("no lot".to_owned(), |l| format!("lot `{l}`"));
            let text = format!("`{}` with {lot} stands here a second time", row.kind);
            let fault = Fault::new("", record.span.clone(), text)
                .with_hint("add both rows up into one, or tell the lots apart")
                .with_other(first.clone(), "here it stands first".to_owned());
            faults.push(fault);
            continue;
        }
        seen.insert(at, record.span.clone());
        rows.push(row);
    }
    if faults.is_empty() { Ok(rows) } else { Err(Refused::new(name, text, faults)) }
}

/// One row; `None` if a cell could not be read, which is then among the faults.
fn read_row(
    table: &Table,
    record: &Record,
    kinds: &[&str],
    faults: &mut Vec<Fault>,
) -> Option<Row> {
    if let Some(extra) = record.cells.iter().skip(table.columns.len()).find(|c| !c.is_empty()) {
        let text = format!("more cells than columns: `{}`", shortened(extra));
        let hint = "put a cell with a comma in quotes, or save the table with semicolons";
        faults.push(Fault::new("", record.span.clone(), text).with_hint(hint));
        return None;
    }
    for (at, _) in table.columns.iter().enumerate().filter(|(_, c)| c.is_none()) {
        if let Some(text) = record.cells.get(at).filter(|c| !c.is_empty()) {
            let text = format!("a cell in a column without a name: `{}`", shortened(text));
            faults.push(
                Fault::new("", record.span.clone(), text)
                    .with_hint("give the column a name, or empty the cell"),
            );
        }
    }
    let cell = |column: Column| {
        let at = table.columns.iter().position(|c| *c == Some(column));
        let text = at.and_then(|at| record.cells.get(at)).map_or("", String::as_str);
        Cell { column: column.name(), text, span: record.span.clone() }
    };
    let kind = kind(&cell(Column::Kind), kinds, faults);
    let stones = cell(Column::Stones).stones(faults);
    let lot = cell(Column::Lot).name(faults);
    let reserved = match cell(Column::Reserved) {
        empty if empty.text.is_empty() => Some(0),
        filled => filled.stones(faults),
    };
    let price = cell(Column::Price).price(faults);
    let row = Row { kind: kind?, stones: stones?, lot: lot?, reserved: reserved?, price: price? };
    if row.reserved > row.stones {
        let text =
            format!("{} stones are reserved, but only {} are there", row.reserved, row.stones);
        let fault = cell(Column::Reserved).fault(text);
        faults.push(fault.with_hint("`stones` counts the reserved ones too"));
        return None;
    }
    Some(row)
}

/// The known kind that a cell names.
fn kind(cell: &Cell, kinds: &[&str], faults: &mut Vec<Fault>) -> Option<String> {
    let name = cell.name(faults)?;
    let Some(name) = name else {
        faults.push(cell.fault("the kind is missing").with_hint("write the kind's name"));
        return None;
    };
    let same = |k: &&&str| k.to_lowercase() == name.to_lowercase();
    if let Some(known) = kinds.iter().find(|k| **k == name).or_else(|| kinds.iter().find(same)) {
        return Some((*known).to_owned());
    }
    let hint = match nearest(&name, kinds) {
        Some(near) => format!("did you mean `{near}`?"),
        None => "it must be one of the document's kinds, or leave the row out".to_owned(),
    };
    faults.push(cell.fault(format!("unknown kind: `{}`", shortened(&name))).with_hint(hint));
    None
}

#[cfg(test)]
mod tests;
