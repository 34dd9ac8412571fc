//! The order document: a TOML file that a maker writes and reads.
//!
//! One parse gives a tree with the bytes of every value; it is walked by hand, and everything that
//! is wrong is collected, each with its place, what is wrong and what would be right
//! ([`Fault`]). Older versions are turned into today's before the walk.
//!
//! | need | item |
//! |---|---|
//! | read a document | [`read`], [`read_draft`] |
//! | what it says | [`Document`], and [`model`] for its parts |
//! | what a plan needs beside the pieces | [`terms`] |
//! | why it was refused | [`Refused`], [`Fault`] |
//! | which version is written | [`VERSION`] |

mod changes;
mod fault;
mod kinds;
mod mixes;
pub mod model;
mod pieces;
mod render;
mod shapes;
mod syntax;
pub mod terms;
mod upgrade;
mod value;
mod walk;
mod zones;

use fault::MAX_FAULTS;
pub use fault::{Fault, Refused};
pub use model::Document;
pub use upgrade::CURRENT as VERSION;

pub(crate) use kinds::size_name;
use mixes::{Entry, NamedMix, Shelf, Unfolding};
use model::Blank;
use pieces::{Names, own_name};
use terms::{Known, Terms};
use toml::de::{DeTable, DeValue};
use units::grouped;
use walk::{Fields, Node, Walk};
pub(crate) use walk::{nearest, shortened};

/// Largest document, bytes.
pub const MAX_BYTES: usize = 4 * 1024 * 1024;
/// Most kinds, mixes or pieces of a document.
const MAX_ENTRIES: usize = 1000;

/// Reads a document. `name` is how messages call it, usually its file's name.
///
/// # Errors
/// Everything that is wrong with it. What needs other files or the blank's true outline is found
/// by [`order::open`](crate::order::open).
pub fn read(name: &str, bytes: &[u8]) -> Result<Document, Refused> {
    parse(name, bytes, Completeness::Whole)?.whole(name)
}

/// Reads a draft: as [`read`], but it may lack kinds and pieces. So an order begins, and so is the
/// document of a workshop, which has no pieces at all.
///
/// # Errors
/// Everything else that is wrong with it.
pub fn read_draft(name: &str, bytes: &[u8]) -> Result<Document, Refused> {
    let parsed = parse(name, bytes, Completeness::Draft)?;
    parsed.whole(name)
}

/// Whether a document must have kinds and pieces.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Completeness {
    /// It must.
    Whole,
    /// It may lack them.
    Draft,
}

/// What could be read of a document.
pub(crate) struct Parsed<'s> {
    /// Its text.
    pub(crate) source: &'s str,
    /// The whole, if nothing is wrong.
    pub(crate) document: Option<Document>,
    /// The blanks that could be read, whatever else is wrong, so that they can be checked too.
    pub(crate) blanks: Vec<Blank>,
    /// What is wrong so far.
    pub(crate) faults: Vec<Fault>,
}

impl Parsed<'_> {
    /// The document, or everything that is wrong.
    fn whole(self, name: &str) -> Result<Document, Refused> {
        match (self.document, self.faults) {
            (Some(document), faults) if faults.is_empty() => Ok(document),
            (_, faults) => Err(Refused::new(name, self.source, faults)),
        }
    }
}

/// Reads as much as can be read; refuses at once what is no TOML, or of another version.
pub(crate) fn parse<'s>(
    name: &str,
    bytes: &'s [u8],
    completeness: Completeness,
) -> Result<Parsed<'s>, Refused> {
    let refused = |source: &str, faults| Err(Refused::new(name, source, faults));
    if bytes.len() > MAX_BYTES {
        let text = format!("the document is too large: {} bytes", grouped(bytes.len() as u64));
        let hint = format!("at most {} are read; is it the right file?", grouped(MAX_BYTES as u64));
        return refused("", vec![Fault::new("", 0..0, text).with_hint(hint)]);
    }
    let source = match std::str::from_utf8(bytes) {
        Ok(source) => source,
        Err(e) => {
            let text = format!("this is not text: byte {} is not UTF-8", e.valid_up_to() + 1);
            let fault = Fault::new("", 0..0, text);
            return refused(
                "",
                vec![fault.with_hint("is it the right file? An order is a TOML file in UTF-8")],
            );
        }
    };
    let (tree, errors) = DeTable::parse_recoverable(source);
    if !errors.is_empty() {
        return refused(
            source,
            errors.iter().take(MAX_FAULTS).map(|e| syntax::fault(e, source)).collect(),
        );
    }
    let mut tree = tree.into_inner();
    if tree.is_empty() {
        let fault = Fault::new("", 0..0, "there is nothing in this document");
        let hint = "begin with the one that `stonelay demo` writes";
        return refused(source, vec![fault.with_hint(hint)]);
    }
    let walk = Walk::default();
    let Some(version) = version(&tree, &walk) else {
        return refused(source, walk.into_faults());
    };
    upgrade::upgrade(&mut tree, version, upgrade::STEPS);
    let (document, blanks) = document(&tree, &walk, completeness);
    Ok(Parsed { source, document, blanks, faults: walk.into_faults() })
}

/// The version the document was written for.
fn version(tree: &DeTable<'_>, walk: &Walk) -> Option<u32> {
    let mut root = Fields::root(tree, walk);
    let example = "`stonelay = 1` as its first line: the version it is written for";
    let node = root.need("stonelay", example)?;
    let found = match node.value {
        DeValue::Integer(n) => n.to_string().parse::<u64>().ok(),
        _ => return node.wrong_type("the version, a whole number,", "`stonelay = 1`"),
    };
    match found {
        Some(n) if (1..=u64::from(VERSION)).contains(&n) => Some(n as u32),
        Some(n) if n > u64::from(VERSION) => node.wrong(
            format!("this document is of version {n}; this program reads up to version {VERSION}"),
            "open it with a newer stonelay",
        ),
        _ => node.wrong("there is no such version", format!("write `stonelay = {VERSION}`")),
    }
}

fn document(
    tree: &DeTable<'_>,
    walk: &Walk,
    completeness: Completeness,
) -> (Option<Document>, Vec<Blank>) {
    let mut root = Fields::root(tree, walk);
    root.get("stonelay");
    let order = root.need("order", "`order = \"…\"`: a name for the order").and_then(|n| n.name());
    let seed = root.get("seed").map_or(Some(1), |n| n.whole(0..1 << 53, "it like 20261"));
    let shelf = shelf(&mut root, completeness);
    let adhesives = terms::adhesives(&mut root);
    let mut reads = vec![];
    let terms = {
        let pieces = entries(&mut root, "piece");
        if pieces.is_none() && completeness == Completeness::Whole {
            root.need("piece", "a `[[piece]]`: what is to be made");
        }
        let pieces = pieces.unwrap_or_default();
        let terms_keys = terms::Keys::take(&mut root);
        let mut unfolding = Unfolding::new(&shelf, &root);
        unfolding.all();
        let mut taken = Names::new();
        let known = Known { adhesives: adhesives.as_deref(), currency: terms_keys.currency() };
        for node in &pieces {
            reads.push(pieces::piece(node, &shelf, known, &mut unfolding, &mut taken));
        }
        whole_order(&pieces, &reads);
        let names: Vec<Option<String>> = reads.iter().map(|r| r.name.clone()).collect();
        terms_keys.read(&shelf, &mut unfolding, &names)
    };
    root.done();
    let blanks = reads.iter().filter_map(|r| r.blank.clone()).collect();
    let whole = || {
        Some(Document {
            order: order?,
            seed: seed?,
            kinds: shelf.kinds.into_iter().collect::<Option<_>>()?,
            pieces: reads.into_iter().map(|r| r.piece).collect::<Option<_>>()?,
            terms: Terms { adhesives: adhesives?, ..terms? },
        })
    };
    (whole(), blanks)
}

/// Refuses more copies than anybody glues.
fn whole_order(nodes: &[Node<'_, '_>], reads: &[pieces::PieceRead]) {
    let mut copies = 0;
    for (node, read) in nodes.iter().zip(reads) {
        copies += read.piece.as_ref().map_or(0, |p| u64::from(p.quantity));
        if copies > pieces::MAX_QUANTITY {
            let text = format!("the order has {} copies up to here", grouped(copies));
            let most = grouped(pieces::MAX_QUANTITY);
            node.wrong::<()>(text, format!("it may have {most} of all pieces together"));
            return;
        }
    }
}

/// The tables of `[[key]]`, if there are any.
fn entries<'a, 'i>(root: &mut Fields<'a, 'i>, key: &'static str) -> Option<Vec<Node<'a, 'i>>> {
    let node = root.get(key)?;
    let nodes = node.list(key, &format!("`[[{key}]]` in double brackets"));
    let Some(nodes) = nodes else { return Some(vec![]) };
    if nodes.len() > MAX_ENTRIES {
        node.wrong::<()>(
            format!("{} are too many", nodes.len()),
            format!("a document has at most {} of them", grouped(MAX_ENTRIES as u64)),
        );
        return Some(vec![]);
    }
    Some(nodes)
}

/// Reads kinds and mixes. Names first, then what they stand for: a mix may name a later one.
fn shelf(root: &mut Fields<'_, '_>, completeness: Completeness) -> Shelf {
    let kinds = entries(root, "kind");
    if kinds.is_none() && completeness == Completeness::Whole {
        root.need("kind", "a `[[kind]]`: the stones on your shelf");
    }
    let mixes = entries(root, "mix").unwrap_or_default();
    let mut shelf = Shelf::default();
    let mut taken = Names::new();
    let mut stand_ins = vec![];
    for node in kinds.unwrap_or_default() {
        let kind =
            node.fields("a kind", "`[[kind]]` with its keys below").and_then(|mut fields| {
                let name = own_name(&mut fields, "kinds", &mut taken);
                if let Some(name) = &name {
                    let entry = (Entry::Kind(shelf.kinds.len()), node.spot.span.clone());
                    shelf.names.insert(name.clone(), entry);
                }
                let kind = kinds::kind(&mut fields, name.as_deref().unwrap_or(""));
                stand_ins.extend(fields.get("stand_ins").map(|n| (shelf.kinds.len(), n)));
                fields.done();
                name.and(kind)
            });
        shelf.kinds.push(kind);
    }
    for (index, node) in stand_ins {
        let found = kinds::stand_ins(&node, index, &shelf);
        // Faulty ones have been reported, which refuses the document.
        if let (Some(kind), Some(found)) = (&mut shelf.kinds[index], found) {
            kind.stand_ins = found;
        }
    }
    let mut open = vec![];
    for node in mixes {
        let Some(mut fields) = node.fields("a mix", "`[[mix]]` with its keys below") else {
            continue;
        };
        let name = own_name(&mut fields, "kinds or mixes", &mut taken);
        if let Some(name) = name {
            let entry = (Entry::Mix(shelf.mixes.len()), node.spot.span.clone());
            shelf.names.insert(name.clone(), entry);
            shelf.mixes.push(NamedMix { name, spot: fields.spot.clone(), parts: None });
            open.push((shelf.mixes.len() - 1, fields));
        } else {
            fields.get("parts");
            fields.done();
        }
    }
    for (index, mut fields) in open {
        let list = fields.need("parts", "`parts = [{ kind = \"dew\", share = \"40 %\" }, …]`");
        let parts = list.and_then(|n| mixes::parts(&n, "part", &shelf));
        fields.done();
        shelf.mixes[index].parts = parts;
    }
    shelf
}
