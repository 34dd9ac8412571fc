//! The shell of a page and its parts.

mod form;
mod parts;
mod shell;
mod who;

pub(crate) use form::{Form, Typed};
pub(crate) use parts::*;
pub(crate) use shell::{Here, Look, Shell};
pub(crate) use who::{Who, cookie, decoded};
