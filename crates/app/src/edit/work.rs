//! A text under change: keys are put in and taken out, one replacement of bytes after the other.

use super::layout::{
    Splice, cut_entry, cut_item, cut_lines, line_end, line_start, newline, put_block, sections,
    spliced,
};
use super::path::{Path, Step};
use super::sheet::{real, stands_in_piece, zone_in_piece};
use super::tree::{self, Bytes, Entry, Form, Node, Table};
use super::{spell, zone};
use crate::document::MAX_BYTES;
use crate::fields;
use units::grouped;

/// Why a change was not made.
#[derive(Debug)]
pub(crate) struct Refusal {
    pub(crate) text: String,
    pub(crate) hint: String,
}

impl Refusal {
    pub(crate) fn new(text: impl Into<String>, hint: impl Into<String>) -> Refusal {
        Refusal { text: text.into(), hint: hint.into() }
    }

    pub(crate) fn nowhere(path: &Path) -> Refusal {
        Refusal::new(
            format!("there is no `{path}` in the document"),
            "it may have been taken out meanwhile: load the page anew",
        )
    }
}

/// A text and its tree.
#[derive(Debug)]
pub(crate) struct Work {
    pub(crate) text: String,
    pub(crate) root: Node,
}

impl Work {
    /// Begins with a text.
    pub(crate) fn on(text: &str) -> Result<Work, Refusal> {
        if text.len() > MAX_BYTES {
            return Err(too_long(text.len()));
        }
        let root = tree::parse(text)
            .map_err(|e| Refusal::new(e, "mend the text first, or go back to an earlier one"))?;
        Ok(Work { text: text.to_owned(), root })
    }

    /// Makes replacements and reads the text anew.
    pub(crate) fn splice(&mut self, splices: Vec<Splice>) -> Result<(), Refusal> {
        let text = spliced(&self.text, splices);
        if text.len() > MAX_BYTES {
            return Err(too_long(text.len()));
        }
        let root = tree::parse(&text).map_err(|e| {
            let text = format!("the document would be broken by this: {e}");
            Refusal::new(text, "change it in the document's text")
        })?;
        (self.text, self.root) = (text, root);
        Ok(())
    }

    pub(crate) fn node(&self, path: &Path) -> Option<&Node> {
        self.root.at(&self.real(path).steps)
    }

    pub(crate) fn real(&self, path: &Path) -> Path {
        real(&self.root, path)
    }

    pub(crate) fn shown(&self, path: &Path) -> Option<String> {
        spell::shown(&self.text, self.node(path)?, fields::at(path).map(|f| f.sort))
    }

    /// Gives the one zone of a piece without zones a header, if the path needs one.
    pub(crate) fn with_zone(&mut self, path: &Path) -> Result<(), Refusal> {
        let needs = match zone_in_piece(&self.root, path) {
            Some((piece, [Step::Key(key), ..])) if !stands_in_piece(key) => Some(piece),
            _ => None,
        };
        needs.map_or(Ok(()), |piece| zone::unfold(self, &piece))
    }

    /// Gives a key or an entry of a list a value, in TOML.
    pub(crate) fn put(&mut self, path: &Path, toml: &str) -> Result<(), Refusal> {
        self.with_zone(path)?;
        let path = &self.real(path);
        let Some((parent, last)) = path.split_last() else { return Err(Refusal::nowhere(path)) };
        if let Some(node) = self.root.at(&path.steps) {
            if let Some(bytes) = node.bytes() {
                let splice = Splice { bytes: bytes.clone(), with: toml.to_owned() };
                return self.splice(vec![splice]);
            }
            self.clear(path)?;
        }
        let Step::Key(key) = last else { return Err(Refusal::nowhere(path)) };
        match self.root.at(&parent.steps) {
            Some(Node::Table(table)) => {
                let splice = self.insertion(table, &parent, key, toml);
                self.splice(vec![splice])
            }
            // A table that is not there yet, or has a short way of writing it: `loss = "3 %"`.
            None | Some(Node::Value(..)) => match parent.steps.last() {
                Some(Step::Key(_)) if fields::table_at(&parent).is_some_and(|t| t.headed()) => {
                    self.new_table(&parent, &format!("{key} = {toml}"))
                }
                Some(Step::Key(_)) => {
                    let long = self.long_way(&parent, key);
                    self.put(&parent, &format!("{{ {long}{key} = {toml} }}"))
                }
                _ => Err(Refusal::nowhere(path)),
            },
            Some(Node::List(_)) => Err(Refusal::nowhere(path)),
        }
    }

    /// What a value written in the short way is in the long one: the `"2 %"` of `loss` is its
    /// `rate`. Empty if there is none, or `key` is about to be that.
    fn long_way(&self, path: &Path, key: &str) -> String {
        let short = self.root.at(&path.steps).and_then(Node::bytes).map(|b| &self.text[b.clone()]);
        let field = fields::at(path);
        let first = field.and_then(|f| f.table?.fields().first());
        match (short, first, field) {
            (Some(short), Some(first), Some(field))
                if first.sort == field.sort && first.key != key =>
            {
                format!("{} = {short}, ", first.key)
            }
            _ => String::new(),
        }
    }

    /// `key = toml` put into a table: behind the last of those that the catalogue lists before it.
    fn insertion(&self, table: &Table, path: &Path, key: &str, toml: &str) -> Splice {
        let in_line = |e: &&Entry| !is_headed(&e.node);
        let before = predecessor(table, path, key);
        let first = table.entries.iter().find(in_line);
        if let Form::Inline(braces) = &table.form {
            let with = format!("{key} = {toml}");
            return match (before, first) {
                (Some(e), _) => Splice::put(node_end(&e.node), format!(", {with}")),
                (None, Some(e)) => Splice::put(e.key_bytes.start, format!("{with}, ")),
                (None, None) => Splice { bytes: braces.clone(), with: format!("{{ {with} }}") },
            };
        }
        let model = before.or(first);
        let line = format!("{}{toml}", model.map_or(format!("{key} = "), |e| self.like(e, key)));
        let end = newline(&self.text);
        let at = match (before, first, &table.form) {
            (Some(e), ..) => line_end(&self.text, node_end(&e.node)),
            (None, Some(e), _) => {
                let at = line_start(&self.text, e.key_bytes.start);
                return Splice::put(at, format!("{line}{end}"));
            }
            (None, None, Form::Headed(header)) if header.end > 0 => {
                line_end(&self.text, header.end)
            }
            _ => 0,
        };
        let open = at > 0 && !self.text[..at].ends_with('\n');
        let lead = if open { end } else { "" };
        Splice::put(at, format!("{lead}{line}{end}"))
    }

    /// A key written as its neighbour is: with its indent and dotted lead, and with its `=` in the
    /// same column where it fits.
    fn like(&self, neighbour: &Entry, key: &str) -> String {
        let bytes = &neighbour.key_bytes;
        let start = line_start(&self.text, bytes.start);
        let lead = &self.text[start..bytes.start];
        let behind = self.text[bytes.end..].find('=').unwrap_or(1);
        // A dotted neighbour says nothing of the column.
        let between = &self.text[bytes.end..bytes.end + behind];
        let column = if between.trim().is_empty() { bytes.len() + behind } else { 0 };
        let lead = if between.trim().is_empty() { lead } else { "" };
        format!("{lead}{key:<width$}= ", width = column.max(key.len() + 1))
    }

    /// A table with a header of its own that is not there yet, as a whole.
    pub(crate) fn new_table(&mut self, path: &Path, lines: &str) -> Result<(), Refusal> {
        let names: Vec<&str> = path
            .steps
            .iter()
            .filter_map(|s| if let Step::Key(key) = s { Some(key.as_str()) } else { None })
            .collect();
        let end = newline(&self.text);
        let block = format!("[{}]{end}{lines}{end}", names.join("."));
        let at = self.place_of_new(path);
        let splice = put_block(&self.text, at, &block);
        self.splice(vec![splice])
    }

    /// Where the first table of a new list or a new table goes: behind those that the catalogue
    /// lists before it.
    pub(crate) fn place_of_new(&self, path: &Path) -> usize {
        let sections = sections(&self.text, &self.root);
        let owner = path.split_last().map_or(Path::root(), |(owner, _)| owner);
        if !owner.steps.is_empty() {
            let own = sections.iter().filter(|s| s.path.steps.starts_with(&owner.steps));
            return own.map(|s| s.bytes.end).max().unwrap_or(self.text.len());
        }
        let order = |path: &Path| match path.steps.first() {
            Some(Step::Key(key)) => {
                fields::Table::Order.fields().iter().position(|f| f.key == key).unwrap_or(0)
            }
            _ => 0,
        };
        let own = order(path);
        let before = sections.iter().filter(|s| order(&s.path) <= own);
        before.max_by_key(|s| (order(&s.path), s.bytes.end)).map_or(0, |s| s.bytes.end)
    }

    /// Takes a key out, if it is there.
    pub(crate) fn clear(&mut self, path: &Path) -> Result<(), Refusal> {
        if fields::at(path).is_none() && fields::table_at(path).is_none() {
            return Err(Refusal::new(
                format!("there is no key `{path}`"),
                "it is not one that a document has",
            ));
        }
        let path = &self.real(path);
        let Some((parent, last)) = path.split_last() else { return Err(Refusal::nowhere(path)) };
        let Step::Key(key) = last else { return self.remove(path) };
        let Some(table) = self.root.at(&parent.steps).and_then(Node::as_table) else {
            return Ok(());
        };
        let Some(index) = table.entries.iter().position(|e| e.key == *key) else { return Ok(()) };
        let mut splices = vec![];
        if let Form::Inline(braces) = &table.form {
            splices.push(self.out_of_braces(table, index, braces.end));
        } else {
            self.lines_out(&table.entries[index], &mut splices);
        }
        self.sections_out(path, &mut splices);
        self.splice(splices)?;
        self.tidy(&parent)
    }

    /// The lines of a key that stands in a line, and of those within it that do.
    fn lines_out(&self, entry: &Entry, splices: &mut Vec<Splice>) {
        match &entry.node {
            node if node.bytes().is_some() => {
                splices.push(cut_entry(&self.text, entry.key_bytes.start, node_end(node)));
            }
            Node::Table(Table { form: Form::Implied, entries }) => {
                entries.iter().for_each(|e| self.lines_out(e, splices));
            }
            _ => {}
        }
    }

    /// The sections of a table or list of tables, and of everything in it.
    pub(crate) fn sections_out(&self, path: &Path, splices: &mut Vec<Splice>) {
        for section in sections(&self.text, &self.root) {
            if !path.steps.is_empty() && section.path.steps.starts_with(&path.steps) {
                splices.push(cut_lines(&self.text, section.bytes));
            }
        }
    }

    fn out_of_braces(&self, table: &Table, index: usize, close: usize) -> Splice {
        let bytes = |e: &Entry| e.key_bytes.start..node_end(&e.node);
        let all: Vec<Bytes> = table.entries.iter().map(bytes).collect();
        cut_item(&self.text, &all, index, close - 1)
    }

    /// A table that lost its last key goes too, where it says nothing any more.
    fn tidy(&mut self, path: &Path) -> Result<(), Refusal> {
        let Some((parent, Step::Key(_))) = path.split_last() else { return Ok(()) };
        let Some(Node::Table(table)) = self.root.at(&path.steps) else { return Ok(()) };
        if !table.entries.is_empty() {
            return Ok(());
        }
        match &table.form {
            Form::Inline(braces) if self.text[braces.clone()].contains('#') => Ok(()),
            Form::Inline(_) => self.clear(path),
            Form::Headed(_) if parent.steps.is_empty() => {
                let all = sections(&self.text, &self.root);
                let own = all.iter().find(|s| s.path == *path);
                match own {
                    Some(s) if !self.text[s.bytes.clone()].contains('#') => self.clear(path),
                    _ => Ok(()),
                }
            }
            _ => Ok(()),
        }
    }
}

fn too_long(bytes: usize) -> Refusal {
    Refusal::new(
        format!("the document is too large: {} bytes", grouped(bytes as u64)),
        format!("it may have {}", grouped(MAX_BYTES as u64)),
    )
}

/// Whether a node is written below headers.
fn is_headed(node: &Node) -> bool {
    match node {
        Node::Table(table) => {
            matches!(table.form, Form::Headed(_))
                || (table.form == Form::Implied && table.entries.iter().any(|e| is_headed(&e.node)))
        }
        Node::List(list) => list.brackets.is_none(),
        Node::Value(..) => false,
    }
}

/// The end of a value, or of the last within dotted keys.
pub(crate) fn node_end(node: &Node) -> usize {
    match node {
        Node::Table(Table { form: Form::Implied, entries }) => {
            entries.iter().map(|e| node_end(&e.node)).max().unwrap_or(0)
        }
        node => node.bytes().map_or(0, |b| b.end),
    }
}

/// The entry in a line after which a new key goes.
fn predecessor<'t>(table: &'t Table, path: &Path, key: &str) -> Option<&'t Entry> {
    let fields = fields::table_at(path).unwrap_or(fields::Table::Order).fields();
    let mut order: Vec<&str> = fields.iter().map(|f| f.key).collect();
    if fields::table_at(path) == Some(fields::Table::Piece) {
        order.extend(
            fields::Table::Zone
                .fields()
                .iter()
                .map(|f| f.key)
                .filter(|k| stands_in_piece(k) && !fields.iter().any(|f| f.key == *k)),
        );
    }
    let place = |key: &str| order.iter().position(|k| *k == key);
    let own = place(key)?;
    let lines = table.entries.iter().filter(|e| !is_headed(&e.node));
    lines.filter(|e| place(&e.key).is_some_and(|p| p < own)).max_by_key(|e| place(&e.key))
}
