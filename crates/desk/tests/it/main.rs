//! The desk over a shop of its own for each test.

mod bench;
