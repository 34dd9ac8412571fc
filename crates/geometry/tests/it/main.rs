//! Laws, slow twins and outside oracles for the whole crate.

mod boolean;
mod support;
