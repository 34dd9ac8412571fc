//! The laws of a lay, on random pieces, and against published values.

mod laws;
mod published;
mod support;
