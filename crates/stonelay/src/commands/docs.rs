//! `stonelay docs DIR`: the generated documents of the project. A test holds the committed ones
//! against these.

use crate::args::Docs;
use crate::exit::Exit;
use anyhow::{Context, Result};

/// Writes every generated document.
pub(super) fn run(args: &Docs) -> Result<Exit> {
    for (name, text) in app::documents() {
        let path = args.dir.join(name);
        app::write_atomically(&path, text.as_bytes(), true).context("docs")?;
    }
    Ok(Exit::Done)
}
