//! `by_hand`: what a maker changes in the lay of a piece, stone by stone.

use super::mixes::{Shelf, kind_named};
use super::model::Change;
use super::walk::{Fields, Node};

/// Most changes of a piece: more is another arrangement.
const MAX_CHANGES: usize = 10_000;
const EXAMPLE: &str = "it like [{ set = [\"30 mm\", \"12.5 mm\"], kind = \"ember\" }]";
const PLACE: &str = "[\"30 mm\", \"12.5 mm\"]";

/// What a change does. Each is the key that its place stands behind.
const WORDS: [&str; 3] = ["set", "clear", "recolour"];

/// Reads the changes of a piece.
pub(super) fn changes(node: &Node<'_, '_>, shelf: &Shelf) -> Option<Vec<Change>> {
    let nodes = node.list("change", EXAMPLE)?;
    if nodes.len() > MAX_CHANGES {
        let text = format!("{} changes by hand are too many", units::grouped(nodes.len() as u64));
        let most = units::grouped(MAX_CHANGES as u64);
        return node.wrong(text, format!("a piece has at most {most}"));
    }
    // Each is read before any decides, so that the faults of all are found.
    let read: Vec<Option<Change>> = nodes.iter().map(|n| change(n, shelf)).collect();
    read.into_iter().collect()
}

fn change(node: &Node<'_, '_>, shelf: &Shelf) -> Option<Change> {
    let example = format!("it like {{ clear = {PLACE} }}");
    let mut fields = node.fields("a change by hand", &example)?;
    fields.call("a change by hand");
    let given: Vec<&'static str> = WORDS.into_iter().filter(|w| fields.has(w)).collect();
    let read = match given.as_slice() {
        [one] => one_change(one, &mut fields, shelf),
        several => {
            for key in WORDS.into_iter().chain(["kind", "turn"]) {
                fields.get(key);
            }
            if several.is_empty() {
                let hint = format!("write `set`, `clear` or `recolour`, like `clear = {PLACE}`");
                fields.wrong("this change says nothing that is to be done", hint);
            } else {
                let both = several.iter().map(|w| format!("`{w}`")).collect::<Vec<_>>();
                let text = format!("a change does one thing, not {}", both.join(" and "));
                fields.wrong(text, "write each in braces of its own, in the order wanted");
            }
            None
        }
    };
    fields.done();
    read
}

fn one_change(word: &'static str, fields: &mut Fields<'_, '_>, shelf: &Shelf) -> Option<Change> {
    let at = fields.get(word).and_then(|n| n.point());
    let kind = if word == "clear" {
        let hint = "leave it out, or write `set` or `recolour`";
        fields.misplaced("kind", "a spot that is cleared gets no kind", hint);
        None
    } else {
        fields.need("kind", "`kind = \"ember\"`").and_then(|n| kind_named(&n, shelf))
    };
    let turn_deg = if word == "set" {
        fields.get("turn").map_or(Some(0.0), |n| n.angle())
    } else {
        fields.misplaced("turn", "only a stone that is set is turned", "leave it out");
        Some(0.0)
    };
    match word {
        "set" => Some(Change::Set { at: at?, kind: kind?, turn_deg: turn_deg? }),
        "clear" => Some(Change::Clear { at: at? }),
        _ => Some(Change::Recolour { at: at?, kind: kind? }),
    }
}
