//! Entries that go from one document into another: from the workshop's into an order, and back.

use crate::edit::EditError;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Something that a workshop's document and an order may both have.
#[derive(
    Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(tag = "sort", content = "name", rename_all = "snake_case")]
pub enum Entry {
    /// A kind of stone, by name.
    Kind(String),
    /// A mix, by name.
    Mix(String),
    /// A supplier, by name.
    Supplier(String),
    /// An adhesive, by name.
    Adhesive(String),
    /// How the maker works: `[workshop]`.
    Workshop,
    /// What is charged: `[price]`.
    Price,
}

/// What to do with entries that are there already.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Present {
    /// They stay as they are.
    #[default]
    Keep,
    /// They become as they are in the other document.
    Replace,
}

/// Every entry of a document, in its order.
///
/// # Errors
/// The text is no TOML.
pub fn entries(text: &str) -> Result<Vec<Entry>, EditError> {
    let _ = text;
    Ok(vec![])
}

/// Copies entries from one text into another, with what they need: the kinds of a mix, mixes in
/// mixes. A kind brings its stand-ins as far as `into` has them or gets them; a supplier offers only
/// the kinds that `into` has or gets. Nothing else of `into` changes. `present` is about `wanted`;
/// what they need is never replaced.
///
/// # Errors
/// One of the texts is no TOML, or `from` has no such entry.
pub fn take_over(
    into: &str,
    from: &str,
    wanted: &[Entry],
    present: Present,
) -> Result<String, EditError> {
    let _ = (from, wanted, present);
    Ok(into.to_owned())
}

/// Entries that both have, but not with the same values: the order's, against the workshop's of
/// today.
///
/// # Errors
/// One of the texts is no TOML.
pub fn differing(order: &str, workshop: &str) -> Result<Vec<Entry>, EditError> {
    let _ = (order, workshop);
    Ok(vec![])
}

/// Entries of `text` that `known` does not have: of an imported order, for the shelf.
///
/// # Errors
/// One of the texts is no TOML.
pub fn new_entries(text: &str, known: &str) -> Result<Vec<Entry>, EditError> {
    let _ = (text, known);
    Ok(vec![])
}
