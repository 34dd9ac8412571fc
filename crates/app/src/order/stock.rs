//! The shelf: what the document says, and the table that it names.

use super::ShelfKind;
use super::loader::{LoadError, Loader};
use crate::document::Fault;
use crate::document::terms::{FileName, Terms};
use crate::shelf;
use planning::buying::Stock;

/// So many faults of a table are shown in the document's list; the rest wait for the next look.
const SHOWN: usize = 20;

/// All stock: the document's own first, then that of its table.
///
/// # Errors
/// The table cannot be had or read, or names a lot that the document has, too.
pub(super) fn of_table(
    terms: &Terms,
    kinds: &[ShelfKind],
    loader: &dyn Loader,
) -> Result<Vec<Stock>, Vec<Fault>> {
    let mut stock = terms.stock.clone();
    let Some(table) = &terms.stock_file else { return Ok(stock) };
    let fault = |text: String| Fault::new(&table.spot.place, table.spot.span.clone(), text);
    let bytes = loader
        .load(&table.file)
        .map_err(|e| vec![fault(format!("`{}`: {e}", table.file)).with_hint(hint(&e))])?;
    let names: Vec<&str> = kinds.iter().map(|k| k.kind.name.as_str()).collect();
    let rows = shelf::read(&table.file, &bytes, &names).map_err(|refused| {
        let each = |f: &Fault| {
            let (line, _) = refused.line_and_column(f.span.start);
            let told = fault(format!("`{}`, line {line}: {}", table.file, f.text));
            Fault { hint: f.hint.clone(), ..told }
        };
        refused.faults.iter().take(SHOWN).map(each).collect::<Vec<_>>()
    })?;
    let mut faults = vec![];
    for row in rows {
        let Some(kind) = names.iter().position(|n| *n == row.kind) else { continue };
        if stock.iter().any(|s| s.kind == kind && s.lot == row.lot) {
            faults.push(twice(table, &row));
            continue;
        }
        stock.push(Stock {
            kind,
            stones: row.stones,
            lot: row.lot,
            reserved: row.reserved,
            price_per_stone: row.price,
        });
    }
    if faults.is_empty() { Ok(stock) } else { Err(faults) }
}

fn twice(table: &FileName, row: &shelf::Row) -> Fault {
    let lot = row.lot.as_ref().map_or("without a lot".to_owned(), |l| format!("of lot `{l}`"));
    let text = format!("`{}` {lot} stands in `{}` and in a `[[stock]]`", row.kind, table.file);
    Fault::new(&table.spot.place, table.spot.span.clone(), text)
        .with_hint("keep one of the two, or tell the lots apart")
}

fn hint(e: &LoadError) -> &'static str {
    match e {
        LoadError::TooLarge => "a shelf has a few thousand rows: is it the right file?",
        other => other.hint(),
    }
}
