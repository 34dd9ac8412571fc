//! The command line as a stranger meets it: what it prints, what it writes, what it ends with.

mod count;
mod lay;
mod support;
mod verbs;
