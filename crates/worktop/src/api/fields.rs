//! The catalogue of the document's keys, from which forms are made.

use super::extract::Given;
use super::operation::Operation;
use app::fields::{Field, Table};
use axum::Json;
use schemars::JsonSchema;
use serde::Serialize;

pub(super) fn operations() -> Vec<Operation> {
    vec![
        Operation::get("/fields", "fields", "Every table of an order document and its keys: how each is typed, its choices, what stands if it is left out.", fields)
            .gives::<Vec<TableShown>>(),
    ]
}

/// A table of the document.
#[derive(Serialize, JsonSchema)]
struct TableShown {
    /// Which.
    table: Table,
    /// Its keys, in the order in which a maker would write them.
    fields: &'static [Field],
}

async fn fields() -> Given<Vec<TableShown>> {
    let shown = |table: Table| TableShown { table, fields: table.fields() };
    Ok(Json(Table::ALL.into_iter().map(shown).collect()))
}
