//! The order document and what can be asked of it.
pub mod document;
