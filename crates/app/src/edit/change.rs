//! What can be changed, and that it is done wholly or not at all.

use super::path::{Path, Step};
use super::work::{Refusal, Work};
use super::{rename, shape, spell};
use crate::document::shortened;
use crate::fields::{self, Sort};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// One change of a document's text.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "do", rename_all = "snake_case", deny_unknown_fields)]
pub enum Change {
    /// Gives a key a value, whether it had one or not. Tables on the way are made if need be.
    ///
    /// Setting `shape` or `file` of an outline drops the keys that the new shape does not have and
    /// gives usual values to those it needs.
    Set {
        /// The key, or the entry of a list.
        path: Path,
        /// The value as it is typed into a form's field; the catalogue says how it is read. A
        /// length may come without a unit (mm), a list or table as TOML. An empty value clears.
        value: String,
    },
    /// Takes a key out, so that the usual value stands.
    Clear {
        /// The key. If it is not there nothing changes.
        path: Path,
    },
    /// Adds a table to the end of a list of tables, or an entry to the end of a list.
    Add {
        /// The list: `piece`, `piece.1.zone`, `piece.1.holes`, `supplier.1.offers`.
        path: Path,
        /// The entry: the keys of a table, one a line; or one value.
        toml: String,
    },
    /// Takes an entry out of a list.
    Remove {
        /// The entry: `piece.2`, `piece.1.holes.1`.
        path: Path,
    },
    /// Adds a copy of an entry right behind it. If it has a name, the copy gets the next free one:
    /// `badge 2`.
    Copy {
        /// The entry.
        path: Path,
    },
    /// Moves an entry within its list.
    Move {
        /// The entry.
        path: Path,
        /// Its number afterwards, from 1; past the end is the end.
        to: usize,
    },
    /// Gives an entry another name, and names it so wherever the document does.
    Rename {
        /// The entry: `kind.3`, `piece.1`, `adhesive.1`.
        path: Path,
        /// The new name.
        name: String,
    },
}

impl Change {
    /// What it is about.
    pub fn path(&self) -> &Path {
        match self {
            Change::Set { path, .. }
            | Change::Clear { path }
            | Change::Add { path, .. }
            | Change::Remove { path }
            | Change::Copy { path }
            | Change::Move { path, .. }
            | Change::Rename { path, .. } => path,
        }
    }
}

/// Why a list of changes was not made.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{text}")]
pub struct EditError {
    /// Which of the changes, from 0.
    pub index: usize,
    /// What it was about.
    pub path: Path,
    /// What is wrong: lower case, no full stop.
    pub text: String,
    /// What would be right.
    pub hint: String,
}

/// Makes all of the changes, one after the other, or none. The new text is TOML; whether it is an
/// order is for [`check`](super::check) to say.
///
/// # Errors
/// The text is no TOML or too long, a path leads nowhere, a value or an entry is no TOML.
pub fn apply(text: &str, changes: &[Change]) -> Result<String, EditError> {
    let error = |index: usize, path: &Path, refusal: Refusal| EditError {
        index,
        path: path.clone(),
        text: refusal.text,
        hint: refusal.hint,
    };
    let mut work = Work::on(text).map_err(|r| error(0, &Path::root(), r))?;
    for (index, change) in changes.iter().enumerate() {
        one(&mut work, change).map_err(|r| error(index, change.path(), r))?;
    }
    Ok(work.text)
}

fn one(work: &mut Work, change: &Change) -> Result<(), Refusal> {
    match change {
        Change::Set { path, value } => set(work, path, value),
        Change::Clear { path } => work.clear(path),
        Change::Add { path, toml } => work.add(path, toml),
        Change::Remove { path } => work.remove(path),
        Change::Copy { path } => work.copy(path),
        Change::Move { path, to } => work.move_to(path, *to),
        Change::Rename { path, name } => rename::rename(work, path, name),
    }
}

fn set(work: &mut Work, path: &Path, value: &str) -> Result<(), Refusal> {
    let Some(field) = fields::at(path) else {
        let text = format!("there is no key `{path}`");
        return Err(Refusal::new(text, "it is not one that a document has"));
    };
    if value.trim().is_empty() {
        return work.clear(path);
    }
    // Forms send lines as CRLF.
    let value = &value.replace("\r\n", "\n");
    // What a form sends back as it was shown is left as it was written.
    if work.shown(path).is_some_and(|shown| shown == value.trim()) {
        return Ok(());
    }
    let sort = match (path.steps.last(), field.sort) {
        (Some(Step::Number(_)), Sort::List(each)) => *each,
        (Some(Step::Number(_)), Sort::Place) => Sort::Length,
        (Some(Step::Number(_)), Sort::Corners) => corner_step(path),
        (_, sort) => sort,
    };
    if matches!(sort, Sort::Table | Sort::Tables) && !spell::is_value(value.trim()) {
        let text = format!("not a table or list: `{}`", shortened(value));
        return Err(Refusal::new(text, "write it in braces or brackets, as in the document"));
    }
    let toml = match sort {
        Sort::Table | Sort::Tables => value.trim().to_owned(),
        sort => spell::spelt(value, sort),
    };
    if matches!(path.steps.last(), Some(Step::Key(key)) if key == "shape" || key == "file") {
        return shape::set(work, path, &toml);
    }
    work.put(path, &toml)
}

/// `points.2` is a corner, `points.2.1` a length of it.
fn corner_step(path: &Path) -> Sort {
    let n_numbers = path.steps.iter().rev().take_while(|s| matches!(s, Step::Number(_))).count();
    if n_numbers == 1 { Sort::Place } else { Sort::Length }
}
