//! The worktop in process: every page over a shop of its own for each test.

mod bench;
