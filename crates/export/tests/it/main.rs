//! What the exporters write, read back by other people's readers.

#![expect(clippy::unwrap_used, reason = "what fails to read back fails the test")]

mod csv;
mod dxf;
mod json;
mod png;
mod positions;
mod support;
mod svg;
