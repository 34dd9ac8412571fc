//! A name and every mention of it.

use super::layout::Splice;
use super::path::{Path, Step};
use super::spell::quoted;
use super::tree::Node;
use super::work::{Refusal, Work};
use crate::document::shortened;
use crate::fields::{self, Sort, Table};

/// Gives an entry another name, and names it so wherever it is named.
pub(super) fn rename(work: &mut Work, path: &Path, name: &str) -> Result<(), Refusal> {
    let name = name.trim();
    let table = fields::table_at(path).filter(|t| t.field("name").is_some());
    let Some(table) = table else {
        return Err(Refusal::new(format!("`{path}` has no name"), "rename an entry that has one"));
    };
    if name.is_empty() {
        return Err(Refusal::new("the name is empty", "give it a name of at least one letter"));
    }
    let own = path.key("name");
    let old = work.node(&own).and_then(Node::text).map(|t| t.trim().to_owned());
    if old.as_deref() == Some(name) {
        return Ok(());
    }
    let list = path.split_last().map_or(Path::root(), |(list, _)| list);
    if work.names_beside(&work.real(&list)).iter().any(|n| n == name) {
        let text = format!("there is one called `{}` already", shortened(name));
        return Err(Refusal::new(text, "give each a name of its own"));
    }
    let mut splices = vec![];
    if let Some(old) = &old {
        let sees = |sort: Sort| match sort {
            Sort::Kind => table == Table::Kind,
            Sort::Mix => table == Table::Mix,
            Sort::KindOrMix => matches!(table, Table::Kind | Table::Mix),
            Sort::Adhesive => table == Table::Adhesive,
            Sort::Piece => table == Table::Piece,
            _ => false,
        };
        work.root.visit(&Path::root(), &mut |at, node| {
            let sort = sort_at(at);
            if node.text().map(str::trim) == Some(old)
                && sort.is_some_and(sees)
                && let Some(bytes) = node.bytes()
            {
                splices.push(Splice { bytes: bytes.clone(), with: quoted(name) });
            }
        });
    }
    work.splice(splices)?;
    work.put(&own, &quoted(name))
}

/// How a value is read, or an entry of a list of values. A key of the one zone that stands in a
/// piece is read as a zone's.
fn sort_at(path: &Path) -> Option<Sort> {
    let field = fields::at(path).or_else(|| match path.steps.as_slice() {
        [piece @ Step::Key(key), number, rest @ ..] if key == "piece" => {
            let zone = [Step::Key("zone".to_owned()), Step::Number(1)];
            let steps = [piece, number].into_iter().chain(&zone).chain(rest);
            fields::at(&Path { steps: steps.cloned().collect() })
        }
        _ => None,
    })?;
    Some(match (field.sort, path.steps.last()) {
        (Sort::List(each), Some(Step::Number(_))) => *each,
        (sort, _) => sort,
    })
}
