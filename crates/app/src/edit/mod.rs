//! Changes of a document's text that keep its comments, its order and its layout.
//!
//! A change is a replacement of the bytes it is about; no other byte is touched. The tree of
//! `toml_edit` says where everything stands; it is read anew after every change.
//!
//! | need | item |
//! |---|---|
//! | the way to a key | [`Path`], [`Step`] |
//! | what is to be changed | [`Change`], [`apply`] |
//! | why it was not | [`EditError`] |
//! | what is wrong with the new text, beside the fields | [`check`], [`field_faults`], [`FieldFault`] |
//! | what stands in a field now | [`Sheet`] |

mod change;
mod faults;
pub(crate) mod layout;
mod lists;
pub(crate) mod path;
mod rename;
mod shape;
pub(crate) mod sheet;
pub(crate) mod spell;
pub(crate) mod tree;
pub(crate) mod work;
mod zone;

pub use change::{Change, EditError, apply};
pub use faults::{FieldFault, check, field_faults};
pub use path::{Path, PathError, Step};
pub(crate) use shape::outline;
pub use sheet::Sheet;
