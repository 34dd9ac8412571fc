//! The shell of a page and its parts.

mod parts;
mod shell;

pub(crate) use parts::*;
pub(crate) use shell::{Here, Look, Shell};
