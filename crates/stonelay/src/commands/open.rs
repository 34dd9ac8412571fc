//! Opening an order document, with its messages.

use crate::output;
use anyhow::{Context, Result};
use app::document::Refused;
use app::order::{self, Folder, Order};
use std::io::{IsTerminal, Read};
use std::path::Path;

/// A longer document is refused; one byte more is read to notice.
const MAX_BYTES: u64 = 4 * 1024 * 1024 + 1;

/// Reads the document at `path` and builds its order, or says what is wrong with it.
pub(super) fn order(path: &Path) -> Result<Result<Order, Refused>> {
    let name = path.display().to_string();
    let trouble = || format!("`{name}` could not be read");
    if path.is_dir() {
        anyhow::bail!("`{name}` is a folder: name the order document in it, `order.toml`");
    }
    let mut bytes = vec![];
    let file = std::fs::File::open(path).with_context(trouble)?;
    file.take(MAX_BYTES).read_to_end(&mut bytes).with_context(trouble)?;
    let folder = path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
    Ok(order::open(&name, &bytes, &Folder::new(folder)))
}

/// Shows why a document was refused: its lines on a terminal, plain text elsewhere.
pub(super) fn refuse(refused: &Refused) {
    let mut text = if std::io::stderr().is_terminal() {
        refused.pretty(std::env::var_os("NO_COLOR").is_none())
    } else {
        refused.plain()
    };
    text.truncate(text.trim_end().len());
    output::verbatim(&text);
}

/// The order with the named pieces only; all if none is named.
pub(super) fn only(mut order: Order, names: &[String]) -> Result<Order> {
    for name in names {
        if !order.pieces.iter().any(|p| p.piece.name == *name) {
            let known: Vec<_> =
                order.pieces.iter().map(|p| format!("`{}`", p.piece.name)).collect();
            anyhow::bail!("there is no piece `{name}` in this order; it has {}", known.join(", "));
        }
    }
    order.pieces.retain(|p| names.is_empty() || names.contains(&p.piece.name));
    Ok(order)
}
