//! Laws, slow twins and outside oracles for the whole crate.

#![expect(unreachable_pub, reason = "one binary: its modules speak to one another only")]

mod boolean;
mod discs;
mod spots;
mod support;
mod walls;
