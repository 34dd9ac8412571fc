//! Entries that go from one document into another: from the workshop's into an order, and back.

use crate::edit::path::{Path, Step};
use crate::edit::sheet::name_of;
use crate::edit::tree::{Node, Table as TableNode};
use crate::edit::work::{Refusal, Work};
use crate::edit::{EditError, layout};
use crate::fields::{Sort, Table};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Something that a workshop's document and an order may both have.
#[derive(
    Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(tag = "sort", content = "name", rename_all = "snake_case")]
pub enum Entry {
    /// A kind of stone, by name.
    Kind(String),
    /// A mix, by name.
    Mix(String),
    /// A supplier, by name.
    Supplier(String),
    /// An adhesive, by name.
    Adhesive(String),
    /// How the maker works: `[workshop]`.
    Workshop,
    /// What is charged: `[price]`.
    Price,
}

/// What to do with entries that are there already.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Present {
    /// They stay as they are.
    #[default]
    Keep,
    /// They become as they are in the other document.
    Replace,
}

impl Entry {
    /// The key of its list or table in a document, and its name in the list.
    fn place(&self) -> (&'static str, Option<&str>) {
        match self {
            Entry::Kind(name) => ("kind", Some(name)),
            Entry::Mix(name) => ("mix", Some(name)),
            Entry::Supplier(name) => ("supplier", Some(name)),
            Entry::Adhesive(name) => ("adhesive", Some(name)),
            Entry::Workshop => ("workshop", None),
            Entry::Price => ("price", None),
        }
    }

    /// Where it stands in a document, if it does.
    fn path(&self, root: &Node) -> Option<Path> {
        let (key, name) = self.place();
        let path = Path::root().key(key);
        let node = root.at(&path.steps)?;
        let Some(name) = name else { return Some(path) };
        let items = &node.as_list()?.items;
        let index = items.iter().position(|item| name_of(item) == Some(name))?;
        Some(path.number(index + 1))
    }

    fn table(&self) -> Table {
        match self {
            Entry::Kind(_) => Table::Kind,
            Entry::Mix(_) => Table::Mix,
            Entry::Supplier(_) => Table::Supplier,
            Entry::Adhesive(_) => Table::Adhesive,
            Entry::Workshop => Table::Workshop,
            Entry::Price => Table::Price,
        }
    }
}

/// Every entry of a document, in its order.
///
/// # Errors
/// The text is no TOML.
pub fn entries(text: &str) -> Result<Vec<Entry>, EditError> {
    Ok(all(&work(text)?.root))
}

fn all(root: &Node) -> Vec<Entry> {
    let names = |key: &str| -> Vec<String> {
        let list = root.at(&Path::root().key(key).steps).and_then(Node::as_list);
        let items = list.map_or(&[][..], |l| &l.items);
        items.iter().filter_map(name_of).map(str::to_owned).collect()
    };
    let mut found: Vec<Entry> = names("kind").into_iter().map(Entry::Kind).collect();
    found.extend(names("mix").into_iter().map(Entry::Mix));
    found.extend(names("supplier").into_iter().map(Entry::Supplier));
    found.extend(names("adhesive").into_iter().map(Entry::Adhesive));
    let tables = [Entry::Workshop, Entry::Price];
    found.extend(tables.into_iter().filter(|e| e.path(root).is_some()));
    found
}

/// Copies entries from one text into another, with what they need: the kinds of a mix, mixes in
/// mixes. A kind brings its stand-ins as far as `into` has them or gets them; a supplier offers only
/// the kinds that `into` has or gets. Nothing else of `into` changes. `present` is about `wanted`;
/// what they need is never replaced. Comments within an entry come along.
///
/// # Errors
/// One of the texts is no TOML, or `from` has no such entry.
pub fn take_over(
    into: &str,
    from: &str,
    wanted: &[Entry],
    present: Present,
) -> Result<String, EditError> {
    let from = work(from)?;
    let mut into = work(into)?;
    let mut needed = vec![];
    for entry in wanted {
        if entry.path(&from.root).is_none() {
            let (key, name) = entry.place();
            let text = match name {
                Some(name) => format!("there is no {key} called `{name}` to take over"),
                None => format!("there is no `[{key}]` to take over"),
            };
            return Err(error(Refusal::new(text, "it may have been renamed meanwhile")));
        }
        gather(&from.root, entry, &mut needed);
    }
    let mut known: Vec<Entry> = all(&into.root);
    known.extend(needed.iter().cloned());
    for entry in &needed {
        let there = entry.path(&into.root);
        if there.is_some() && !(present == Present::Replace && wanted.contains(entry)) {
            continue;
        }
        let Some(block) = trimmed_to(&from, entry, &known) else { continue };
        put(&mut into, entry, there, &block).map_err(error)?;
    }
    Ok(into.text)
}

/// An entry and what it needs, what is needed first.
fn gather(root: &Node, entry: &Entry, needed: &mut Vec<Entry>) {
    if needed.contains(entry) {
        return;
    }
    let node = entry.path(root).and_then(|p| root.at(&p.steps));
    if let (Entry::Mix(_), Some(node)) = (entry, node) {
        // A mix in itself is a fault of the document, and ends here.
        needed.push(entry.clone());
        let here = needed.len() - 1;
        for part in parts(node) {
            gather(root, &part, needed);
        }
        let own = needed.remove(here);
        needed.push(own);
    } else if node.is_some() {
        needed.push(entry.clone());
    }
}

/// What the parts of a mix name.
fn parts(mix: &Node) -> Vec<Entry> {
    let list = mix.as_table().and_then(|t| t.entry("parts")?.node.as_list());
    let part = |node: &Node| {
        let table = node.as_table()?;
        let name = |key: &str| Some(table.entry(key)?.node.text()?.trim().to_owned());
        name("kind").map(Entry::Kind).or_else(|| name("mix").map(Entry::Mix))
    };
    list.map_or(vec![], |l| l.items.iter().filter_map(part).collect())
}

/// The lines of an entry without its header, less what names kinds that nobody knows.
fn trimmed_to(from: &Work, entry: &Entry, known: &[Entry]) -> Option<String> {
    let mut copy = Work::on(&from.text).ok()?;
    let list = match entry {
        Entry::Kind(_) => Some("stand_ins"),
        Entry::Supplier(_) => Some("offers"),
        _ => None,
    };
    let path = entry.path(&copy.root)?;
    if let Some(key) = list {
        let list = path.key(key);
        let named = |node: &Node| {
            let name = node.text().or_else(|| node.as_table()?.entry("kind")?.node.text());
            name.map(|n| Entry::Kind(n.trim().to_owned()))
        };
        let items = copy.root.at(&list.steps).and_then(Node::as_list).map_or(&[][..], |l| &l.items);
        let strange: Vec<usize> = items
            .iter()
            .enumerate()
            .filter(|(_, n)| named(n).is_some_and(|e| !known.contains(&e)))
            .map(|(i, _)| i + 1)
            .collect();
        for number in strange.into_iter().rev() {
            copy.remove(&list.number(number)).ok()?;
        }
        if key == "offers" && copy.root.at(&list.steps).is_none() {
            copy.put(&list, "[]").ok()?;
        }
    }
    let path = entry.path(&copy.root)?;
    lines(&copy, &path)
}

/// The lines below an entry's headers; an entry in braces as lines.
fn lines(work: &Work, path: &Path) -> Option<String> {
    let node = work.root.at(&path.steps)?;
    let all = layout::sections(&work.text, &work.root);
    let own: Vec<_> = all.iter().filter(|s| s.path.steps.starts_with(&path.steps)).collect();
    let newline = layout::newline(&work.text);
    if own.is_empty() {
        let TableNode { entries, .. } = node.as_table()?;
        let line = |e: &crate::edit::tree::Entry| {
            Some(format!("{} = {}{newline}", e.key, &work.text[e.node.bytes()?.clone()]))
        };
        return entries.iter().map(line).collect();
    }
    let mut block = String::new();
    for (i, section) in own.iter().enumerate() {
        let start =
            if i == 0 { layout::line_end(&work.text, section.header) } else { section.bytes.start };
        block.push_str(&work.text[start..section.bytes.end.max(start)]);
        if !block.ends_with('\n') {
            block.push_str(newline);
        }
    }
    Some(block)
}

fn put(into: &mut Work, entry: &Entry, there: Option<Path>, lines: &str) -> Result<(), Refusal> {
    let (key, name) = entry.place();
    let list = Path::root().key(key);
    let newline = layout::newline(&into.text);
    let lines = lines.replace("\r\n", "\n").replace('\n', newline);
    match (name, there) {
        (Some(_), None) => into.add(&list, &lines),
        // Added last, it takes the place of the one that goes.
        (Some(_), Some(path)) => {
            let Some(Step::Number(number)) = path.steps.last() else {
                return Err(Refusal::nowhere(&path));
            };
            into.add(&list, &lines)?;
            let count =
                into.root.at(&list.steps).and_then(Node::as_list).map_or(0, |l| l.items.len());
            into.move_to(&list.number(count), *number)?;
            into.remove(&list.number(number + 1))
        }
        (None, there) => {
            if there.is_some() {
                into.clear(&list)?;
            }
            into.new_table(&list, &lines)
        }
    }
}

/// Entries that both have, but not with the same values: the order's, against the workshop's of
/// today. How a value is written does not matter, nor do comments; stand-ins and offers of kinds
/// that the order does not have are no difference.
///
/// # Errors
/// One of the texts is no TOML.
pub fn differing(order: &str, workshop: &str) -> Result<Vec<Entry>, EditError> {
    let (order, workshop) = (work(order)?, work(workshop)?);
    let known = all(&order.root);
    let differs = |entry: &&Entry| {
        let values = |text: &str| {
            let key = entry.table();
            toml::from_str::<toml::Table>(text).map(|t| plain(t, key))
        };
        let own = trimmed_to(&order, entry, &known);
        let other = trimmed_to(&workshop, entry, &known);
        match (own, other) {
            (Some(own), Some(other)) => values(&own) != values(&other),
            _ => false,
        }
    };
    Ok(known.iter().filter(differs).cloned().collect())
}

/// The values of a table as far as two ways of writing one value are the same.
fn plain(table: toml::Table, of: Table) -> toml::Table {
    let tidy = |key: &String, value: toml::Value| match value {
        toml::Value::String(text) => {
            let text = text.trim().to_owned();
            let length = of.field(key).is_some_and(|f| f.sort == Sort::Length);
            toml::Value::String(if length { crate::edit::spell::length(&text) } else { text })
        }
        value => value,
    };
    table.into_iter().map(|(key, value)| (key.clone(), tidy(&key, value))).collect()
}

/// Entries of `text` that `known` does not have: of an imported order, for the shelf.
///
/// # Errors
/// One of the texts is no TOML.
pub fn new_entries(text: &str, known: &str) -> Result<Vec<Entry>, EditError> {
    let known = all(&work(known)?.root);
    Ok(entries(text)?.into_iter().filter(|e| !known.contains(e)).collect())
}

fn work(text: &str) -> Result<Work, EditError> {
    Work::on(text).map_err(error)
}

fn error(refusal: Refusal) -> EditError {
    EditError { index: 0, path: Path::root(), text: refusal.text, hint: refusal.hint }
}

#[cfg(test)]
mod tests {
    use super::*;

    const WORKSHOP: &str = "stonelay = 1\norder = \"The workshop\"\n\n\
        [[kind]]\nname = \"dew\" # clear\nsize = \"2 mm\"\nstand_ins = [\"foam\"]\n\n\
        [[kind]]\nname = \"foam\"\nsize = \"SS10\"\n\n\
        [[mix]]\nname = \"pale\"\nparts = [{ kind = \"dew\" }, { kind = \"foam\" }]\n\n\
        [workshop]\nrate = 320\n\n\
        [[supplier]]\nname = \"quay\"\noffers = [\n  { kind = \"dew\", pack = 500, price = \"1.60\" },\n  \
        { kind = \"foam\", pack = 1440, price = \"5.20\" },\n]\n\n\
        [[adhesive]]\nname = \"gel\"\nsort = \"solvent gel\"\n";
    const ORDER: &str = "stonelay = 1\norder = \"o\"\n";

    fn valid(text: &str) {
        assert_eq!(crate::edit::check(text), [], "{text}");
    }

    #[test]
    fn a_mix_brings_its_kinds_and_a_supplier_what_is_known() {
        valid(WORKSHOP);
        let wanted = [Entry::Mix("pale".to_owned()), Entry::Workshop];
        let all = take_over(ORDER, WORKSHOP, &wanted, Present::Keep).unwrap();
        valid(&all);
        assert!(all.contains("# clear"), "comments come along");
        let names = ["dew", "foam"].map(|n| Entry::Kind(n.to_owned()));
        let own = [wanted[0].clone(), Entry::Workshop];
        assert_eq!(entries(&all).unwrap(), names.into_iter().chain(own).collect::<Vec<_>>());

        let wanted = [Entry::Kind("dew".to_owned()), Entry::Supplier("quay".to_owned())];
        let some = take_over(ORDER, WORKSHOP, &wanted, Present::Keep).unwrap();
        valid(&some);
        assert!(!some.contains("foam"), "{some}");
        assert_eq!(differing(&some, WORKSHOP).unwrap(), []);
    }

    #[test]
    fn what_differs_is_named_and_can_be_replaced_in_its_place() {
        let dew = Entry::Kind("dew".to_owned());
        let both = [dew.clone(), Entry::Kind("foam".to_owned()), Entry::Workshop];
        let order = take_over(ORDER, WORKSHOP, &both, Present::Keep).unwrap();
        let today = WORKSHOP.replace("2 mm", "2.1 mm").replace("320", "350");
        assert_eq!(differing(&order, &today).unwrap(), [dew.clone(), Entry::Workshop]);
        assert_eq!(take_over(&order, &today, &both, Present::Keep).unwrap(), order);
        let new = take_over(&order, &today, &both, Present::Replace).unwrap();
        valid(&new);
        assert_eq!(differing(&new, &today).unwrap(), []);
        assert_eq!(entries(&new).unwrap(), entries(&order).unwrap(), "the order of things stays");
        assert!(take_over(&order, &today, &[Entry::Price], Present::Keep).is_err());
    }

    #[test]
    fn what_the_shelf_does_not_know_is_found() {
        let found = new_entries(WORKSHOP, &WORKSHOP.replace("\"gel\"", "\"other\"")).unwrap();
        assert_eq!(found, [Entry::Adhesive("gel".to_owned())]);
        assert!(!crate::edit::check("x = ").is_empty() && entries("x = ").is_err());
    }
}
