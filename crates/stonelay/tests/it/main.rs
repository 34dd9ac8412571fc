//! The command line as a stranger meets it: what it prints, what it writes, what it ends with.

#![expect(clippy::unwrap_used, reason = "a helper of tests may fail the test")]

mod count;
mod lay;
mod paper;
mod plan;
mod support;
mod verbs;
