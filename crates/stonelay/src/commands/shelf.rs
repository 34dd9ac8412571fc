//! `stonelay shelf FILE`: what lies on the shelf, as a table for a spreadsheet.

use super::open;
use crate::args::Shelf;
use crate::exit::Exit;
use crate::output;
use anyhow::Result;

/// Prints the stock of an order document, its own and that of its table, as CSV.
pub(super) fn run(args: &Shelf) -> Result<Exit> {
    let order = match open::order(&args.file)? {
        Ok(order) => order,
        Err(refused) => {
            open::refuse(&refused);
            return Ok(Exit::Refused);
        }
    };
    output::print(&app::shelf::table(&order))?;
    Ok(Exit::Done)
}
