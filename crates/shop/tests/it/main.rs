//! What the shop promises, asked from outside.

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
