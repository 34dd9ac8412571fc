//! The tree of a text: every key, value and header with its bytes.

use super::path::{Path, Step};
use std::ops::Range;
use toml_edit::{Document, Item, TableLike, Value};

/// Bytes of a text.
pub(crate) type Bytes = Range<usize>;

/// A value, a table or a list.
#[derive(Debug)]
pub(crate) enum Node {
    /// A single value, and what is in its quotes, if it is text.
    Value(Bytes, Option<String>),
    /// A table.
    Table(Table),
    /// A list.
    List(List),
}

/// How a table is written.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Form {
    /// Below a header of its own, or the document itself, whose header is empty.
    Headed(Bytes),
    /// By dotted keys, or only by the headers of tables in it.
    Implied,
    /// In braces.
    Inline(Bytes),
}

#[derive(Debug)]
pub(crate) struct Table {
    pub(crate) form: Form,
    /// In the text's order.
    pub(crate) entries: Vec<Entry>,
}

#[derive(Debug)]
pub(crate) struct Entry {
    pub(crate) key: String,
    /// Bytes of the key's last part.
    pub(crate) key_bytes: Bytes,
    pub(crate) node: Node,
}

#[derive(Debug)]
pub(crate) struct List {
    /// Its brackets; `None` if each entry has a header.
    pub(crate) brackets: Option<Bytes>,
    pub(crate) items: Vec<Node>,
}

impl Table {
    pub(crate) fn entry(&self, key: &str) -> Option<&Entry> {
        self.entries.iter().find(|e| e.key == key)
    }
}

impl Node {
    /// The bytes of a value, or of a list or table in brackets or braces; `None` if it is spread
    /// over lines.
    pub(crate) fn bytes(&self) -> Option<&Bytes> {
        match self {
            Node::Value(bytes, _) | Node::Table(Table { form: Form::Inline(bytes), .. }) => {
                Some(bytes)
            }
            Node::List(list) => list.brackets.as_ref(),
            Node::Table(_) => None,
        }
    }

    pub(crate) fn as_table(&self) -> Option<&Table> {
        if let Node::Table(table) = self { Some(table) } else { None }
    }

    pub(crate) fn as_list(&self) -> Option<&List> {
        if let Node::List(list) = self { Some(list) } else { None }
    }

    /// Text in quotes.
    pub(crate) fn text(&self) -> Option<&str> {
        if let Node::Value(_, text) = self { text.as_deref() } else { None }
    }

    /// What a path leads to from here.
    pub(crate) fn at(&self, steps: &[Step]) -> Option<&Node> {
        let Some((step, rest)) = steps.split_first() else { return Some(self) };
        let next = match step {
            Step::Key(key) => &self.as_table()?.entry(key)?.node,
            Step::Number(n) => self.as_list()?.items.get(n.checked_sub(1)?)?,
        };
        next.at(rest)
    }

    /// Calls `see` for this and everything within, with its path.
    pub(crate) fn visit<'n>(&'n self, path: &Path, see: &mut dyn FnMut(&Path, &'n Node)) {
        see(path, self);
        match self {
            Node::Value(..) => {}
            Node::Table(table) => {
                for entry in &table.entries {
                    entry.node.visit(&path.key(&entry.key), see);
                }
            }
            Node::List(list) => {
                for (i, item) in list.items.iter().enumerate() {
                    item.visit(&path.number(i + 1), see);
                }
            }
        }
    }
}

/// Parses a text; the message of the parser if it is no TOML.
pub(crate) fn parse(text: &str) -> Result<Node, String> {
    let document = Document::parse(text).map_err(|e| {
        let line =
            e.span().map_or(1, |s| text[..s.start.min(text.len())].matches('\n').count() + 1);
        format!("line {line} is no TOML: {}", e.message().replace('\n', " "))
    })?;
    let mut root = table(document.as_table());
    root.form = Form::Headed(0..0);
    Ok(Node::Table(root))
}

fn table(table: &toml_edit::Table) -> Table {
    let form = match table.span() {
        Some(bytes) if !table.is_implicit() && !table.is_dotted() => Form::Headed(bytes),
        _ => Form::Implied,
    };
    Table { form, entries: entries(table) }
}

fn entries(table: &dyn TableLike) -> Vec<Entry> {
    let entry = |(key, item): (&str, &Item)| {
        let key_bytes = table.key(key).and_then(toml_edit::Key::span).unwrap_or_default();
        Some(Entry { key: key.to_owned(), key_bytes, node: node(item)? })
    };
    let mut entries: Vec<Entry> = table.iter().filter_map(entry).collect();
    entries.sort_by_key(|e| e.key_bytes.start);
    entries
}

fn node(item: &Item) -> Option<Node> {
    Some(match item {
        Item::None => return None,
        Item::Value(v) => value(v),
        Item::Table(t) => Node::Table(table(t)),
        Item::ArrayOfTables(tables) => Node::List(List {
            brackets: None,
            items: tables.iter().map(|t| Node::Table(table(t))).collect(),
        }),
    })
}

fn value(v: &Value) -> Node {
    let bytes = v.span().unwrap_or_default();
    match v {
        Value::Array(array) => {
            Node::List(List { brackets: Some(bytes), items: array.iter().map(value).collect() })
        }
        Value::InlineTable(inline) => {
            let form = if inline.is_dotted() { Form::Implied } else { Form::Inline(bytes) };
            Node::Table(Table { form, entries: entries(inline) })
        }
        Value::String(text) => Node::Value(bytes, Some(text.value().clone())),
        _ => Node::Value(bytes, None),
    }
}
