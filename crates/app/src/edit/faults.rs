//! Faults beside the fields they are about.

use super::path::{Path, Step};
use super::sheet::stands_in_piece;
use super::tree::{self, Bytes, Form, Node};
use crate::document::{Fault, Refused, read_draft};
use crate::fields::Table;
use schemars::JsonSchema;
use serde::Serialize;

/// A fault as a form shows it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct FieldFault {
    /// The key it is about, there or missing, or a table; `None` if it is about the document as a
    /// whole, or that is no TOML.
    pub path: Option<Path>,
    /// The way to it in words: `piece 2 "sign" › zone 1 › spacing`.
    pub place: String,
    /// What is wrong: lower case, no full stop.
    pub text: String,
    /// What would be right.
    pub hint: Option<String>,
}

/// What is wrong with a text as a draft of an order, without the files that it names. Empty if
/// nothing is.
pub fn check(text: &str) -> Vec<FieldFault> {
    read_draft("the order", text.as_bytes()).map_or_else(|r| field_faults(&r), |_| vec![])
}

/// The faults of a refused document with the keys they are about.
pub fn field_faults(refused: &Refused) -> Vec<FieldFault> {
    let root = tree::parse(&refused.source).ok();
    let mut places = vec![];
    if let Some(root) = &root {
        root.visit(&Path::root(), &mut |path, node| {
            if let Some(bytes) = bytes_of(node) {
                places.push((bytes, path.clone()));
            }
            if let Node::Table(table) = node {
                let key = |e: &tree::Entry| (e.key_bytes.clone(), path.key(&e.key));
                places.extend(table.entries.iter().map(key));
            }
        });
    }
    let holding = |span: &Bytes| {
        let holds = |place: &&(Bytes, Path)| {
            place.0.start <= span.start && span.end <= place.0.end && !span.is_empty()
        };
        // The narrowest; of equal ones the innermost.
        let found = places.iter().filter(holds);
        found.min_by_key(|p| (p.0.len(), usize::MAX - p.1.steps.len())).map(|p| p.1.clone())
    };
    let field_fault = |fault: &Fault| {
        let path = holding(&fault.span).or_else(|| {
            let whole = fault.place.is_empty() && fault.missing.is_some();
            whole.then(Path::root)
        });
        let path = path.map(|p| fault.missing.map_or(p.clone(), |key| p.key(key)));
        FieldFault {
            path: path.map(|p| root.as_ref().map_or(p.clone(), |r| as_zone(r, &p))),
            place: fault.place.clone(),
            text: fault.text.clone(),
            hint: fault.hint.clone(),
        }
    };
    refused.faults.iter().map(field_fault).collect()
}

/// A zone's key that stands in the piece itself is one of its zone, as forms have it.
fn as_zone(root: &Node, path: &Path) -> Path {
    let [Step::Key(piece), Step::Number(n), rest @ ..] = path.steps.as_slice() else {
        return path.clone();
    };
    let Some(Step::Key(key)) = rest.first() else { return path.clone() };
    let piece_path = Path::root().key(piece).number(*n);
    let own = Table::Piece.field(key).is_some() || !stands_in_piece(key);
    let zones = root.at(&piece_path.key("zone").steps).is_some();
    if piece != "piece" || own || zones {
        return path.clone();
    }
    let zone = piece_path.key("zone").number(1);
    Path { steps: zone.steps.into_iter().chain(rest.iter().cloned()).collect() }
}

/// The bytes by which the parser names a node.
fn bytes_of(node: &Node) -> Option<Bytes> {
    match node {
        Node::Table(tree::Table { form: Form::Headed(header), .. }) => Some(header.clone()),
        node => node.bytes().cloned(),
    }
}
