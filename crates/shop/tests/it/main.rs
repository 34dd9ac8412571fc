//! What the shop promises, asked from outside.

#![expect(clippy::unwrap_used, reason = "a helper of tests may fail the test")]

mod backups;
mod bench;
mod documents;
mod faults;
mod killed;
mod ledger;
mod opening;
mod others;
mod support;
mod versions;
