//! The shell of a page and its parts.

mod form;
mod parts;
mod shell;

pub(crate) use form::{Form, Typed};
pub(crate) use parts::*;
pub(crate) use shell::{Here, Look, Shell};
