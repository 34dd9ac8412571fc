//! A piece's one zone gets a header of its own.

use super::layout::{Splice, line_end, line_start, newline, sections};
use super::path::Path;
use super::sheet::stands_in_piece;
use super::tree::{Form, Node};
use super::work::{Refusal, Work, node_end};
use crate::fields::Table;

/// What the zone is called that a piece without zones has.
const NAME: &str = "all";

/// Turns the keys of the one zone that stand in a piece into a `[[piece.zone]]`.
pub(super) fn unfold(work: &mut Work, piece: &Path) -> Result<(), Refusal> {
    let Some(Node::Table(table)) = work.root.at(&piece.steps) else {
        return Err(Refusal::nowhere(piece));
    };
    let text = &work.text;
    let end = newline(text);
    let moved = |key: &str| stands_in_piece(key) && Table::Piece.field(key).is_none();
    let entries = table.entries.iter().filter(|e| moved(&e.key));
    if !matches!(table.form, Form::Headed(_)) {
        let hint = "write the piece below a header of its own, `[[piece]]`";
        return Err(Refusal::new("a piece in braces has one zone", hint));
    }
    let mut block = format!("{end}[[piece.zone]]{end}name = \"{NAME}\"{end}where = \"rest\"{end}");
    let mut splices = vec![];
    for entry in entries {
        let last = node_end(&entry.node);
        if last == 0 {
            return Err(Refusal::new(
                format!("`{}` stands below a header of its own", entry.key),
                "write it in braces or brackets",
            ));
        }
        let bytes = line_start(text, entry.key_bytes.start)..line_end(text, last);
        block.push_str(&text[bytes.clone()]);
        if !block.ends_with('\n') {
            block.push_str(end);
        }
        splices.push(Splice::cut(bytes));
    }
    let all = sections(text, &work.root);
    let own = all.iter().find(|s| s.path == *piece).map(|s| s.bytes.clone());
    let own = own.ok_or_else(|| Refusal::nowhere(piece))?;
    // Blank lines that stood before the keys that go away would be left at the end.
    let mut from = own.end;
    while let Some(cut) = splices.iter().find(|s| s.bytes.end == from) {
        from = cut.bytes.start;
    }
    let mut blank = from;
    while blank > 0 && text[line_start(text, blank - 1)..blank].trim().is_empty() {
        blank = line_start(text, blank - 1);
    }
    if !text[..own.end].ends_with('\n') {
        block.insert_str(0, end);
    }
    splices.push(Splice::cut(blank..from));
    splices.push(Splice::put(own.end, block));
    work.splice(splices)
}
