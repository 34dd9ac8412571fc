//! The laws of a lay, on random pieces, and against published values.

#![expect(clippy::unwrap_used, reason = "a helper of tests may fail the test")]

mod changes;
mod laws;
mod published;
mod support;
