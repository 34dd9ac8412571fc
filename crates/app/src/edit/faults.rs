//! Faults beside the fields they are about.

use super::path::Path;
use crate::document::Refused;
use schemars::JsonSchema;
use serde::Serialize;

/// A fault as a form shows it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct FieldFault {
    /// The key it is about; a table, if a key is missing in it; `None` if it is about the document
    /// as a whole, or that is no TOML.
    pub path: Option<Path>,
    /// The way to it in words: `piece 2 "sign" › zone 1 › spacing`.
    pub place: String,
    /// What is wrong: lower case, no full stop.
    pub text: String,
    /// What would be right.
    pub hint: Option<String>,
}

/// What is wrong with a text as a draft of an order, without the files that it names. Empty if
/// nothing is.
pub fn check(text: &str) -> Vec<FieldFault> {
    let _ = text;
    vec![]
}

/// The faults of a refused document with the keys they are about.
pub fn field_faults(refused: &Refused) -> Vec<FieldFault> {
    let _ = refused;
    vec![]
}
