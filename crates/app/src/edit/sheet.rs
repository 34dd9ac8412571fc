//! A document's text with the place of everything in it.

use super::path::{Path, Step};
use super::spell;
use super::tree::{self, Node};
use crate::fields::{self, Table};

/// A document's text, parsed, to be asked what stands where.
#[derive(Debug)]
pub struct Sheet<'t> {
    text: &'t str,
    root: Node,
}

impl<'t> Sheet<'t> {
    /// Parses a text; `None` if it is no TOML.
    pub fn of(text: &'t str) -> Option<Sheet<'t>> {
        Some(Sheet { text, root: tree::parse(text).ok()? })
    }

    /// The value of a key as a form's field shows it: text without quotes, a list of values with
    /// commas between, everything else as it is written. `None` if it is not there, or has a header
    /// of its own.
    pub fn value(&self, path: &Path) -> Option<String> {
        spell::shown(self.text, self.node(path)?, fields::at(path).map(|f| f.sort))
    }

    /// Whether the document has this key, table or entry.
    pub fn has(&self, path: &Path) -> bool {
        self.node(path).is_some()
    }

    /// How many entries a list has; 0 if it is not there. `zone` of a piece has at least one.
    pub fn count(&self, path: &Path) -> usize {
        match self.node(path) {
            Some(Node::List(list)) => list.items.len(),
            _ => usize::from(self.has(&path.number(1))),
        }
    }

    /// The keys that a table has, in the document's order.
    pub fn keys(&self, path: &Path) -> Vec<String> {
        let table = self.node(path).and_then(Node::as_table);
        table.map_or(vec![], |t| t.entries.iter().map(|e| e.key.clone()).collect())
    }

    /// The names of a list's entries, in its order; empty for an entry without one.
    pub fn names(&self, path: &Path) -> Vec<String> {
        let Some(list) = self.node(path).and_then(Node::as_list) else { return vec![] };
        list.items.iter().map(|item| name_of(item).unwrap_or_default().to_owned()).collect()
    }

    /// The entry of a list that has this name: `dew` of `kind` is `kind.12`.
    pub fn named(&self, list: &Path, name: &str) -> Option<Path> {
        let at = self.names(list).iter().position(|n| n == name)?;
        Some(list.number(at + 1))
    }

    fn node(&self, path: &Path) -> Option<&Node> {
        self.root.at(&real(&self.root, path).steps)
    }
}

/// The name of a table.
pub(crate) fn name_of(node: &Node) -> Option<&str> {
    node.as_table()?.entry("name")?.node.text().map(str::trim)
}

/// The piece of a path that leads to the one zone of a piece without zones, and what follows.
pub(crate) fn zone_in_piece<'p>(root: &Node, path: &'p Path) -> Option<(Path, &'p [Step])> {
    let [Step::Key(piece), number @ Step::Number(_), Step::Key(zone), Step::Number(1), rest @ ..] =
        path.steps.as_slice()
    else {
        return None;
    };
    let piece_path = Path { steps: vec![Step::Key(piece.clone()), number.clone()] };
    let table = root.at(&piece_path.steps)?.as_table()?;
    (piece == "piece" && zone == "zone" && table.entry("zone").is_none())
        .then_some((piece_path, rest))
}

/// Whether a zone's key may stand in the piece itself.
pub(crate) fn stands_in_piece(key: &str) -> bool {
    Table::Zone.field(key).is_some() && !matches!(key, "name" | "where")
}

/// The path as the text has it: the one zone of a piece without zones is the piece.
pub(crate) fn real(root: &Node, path: &Path) -> Path {
    match zone_in_piece(root, path) {
        Some((piece, [])) => piece,
        Some((piece, rest @ [Step::Key(key), ..])) if stands_in_piece(key) => {
            Path { steps: piece.steps.iter().chain(rest).cloned().collect() }
        }
        _ => path.clone(),
    }
}
