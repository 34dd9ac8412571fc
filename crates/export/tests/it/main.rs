//! What the exporters write, read back by other people's readers.

#![expect(clippy::unwrap_used, reason = "what fails to read back fails the test")]

mod csv;
mod json;
mod png;
mod support;
mod svg;
