//! Entries of lists: added, taken out, copied, moved; below headers or in brackets.

use super::layout::{
    Section, Splice, cut_item, cut_lines, line_end, line_start, newline, put_block, sections,
};
use super::path::{Path, Step};
use super::sheet::{name_of, zone_in_piece};
use super::spell::{is_value, quoted};
use super::tree::{self, Bytes, List, Node};
use super::work::{Refusal, Work};
use super::zone;
use crate::fields::{self, Sort};

impl Work {
    /// Adds an entry to the end of a list.
    pub(crate) fn add(&mut self, path: &Path, toml: &str) -> Result<(), Refusal> {
        let field = fields::at(path).filter(|f| {
            let many = matches!(f.sort, Sort::Tables | Sort::List(_) | Sort::Corners);
            many || (f.sort == Sort::KindOrMix && f.table.is_some())
        });
        let Some(field) = field else {
            return Err(Refusal::new(format!("`{path}` is no list"), "add to a list"));
        };
        if let Some((piece, [])) = zone_in_piece(&self.root, &path.number(1)) {
            zone::unfold(self, &piece)?;
        }
        let path = &self.real(path);
        let headed = field.table.filter(|_| field.sort == Sort::Tables).is_some_and(|t| t.headed());
        let brackets = match self.root.at(&path.steps) {
            Some(Node::List(List { brackets: Some(brackets), items })) => {
                let items: Vec<Bytes> = items.iter().filter_map(Node::bytes).cloned().collect();
                Some((brackets.clone(), items))
            }
            Some(Node::List(_)) => return self.add_headed(path, toml),
            Some(_) => None,
            None if headed => return self.add_headed(path, toml),
            None => return self.put(path, &format!("[{}]", inline(toml)?)),
        };
        match brackets {
            Some((brackets, items)) => {
                let splice = self.put_in_brackets(&brackets, &items, items.len(), &inline(toml)?);
                self.splice(vec![splice])
            }
            // One kind by its name becomes the first part of a list.
            None if field.sort == Sort::KindOrMix => self.add_part(path, toml),
            None => Err(Refusal::new(format!("`{path}` is no list"), "write it as a list first")),
        }
    }

    fn add_part(&mut self, path: &Path, toml: &str) -> Result<(), Refusal> {
        let Some(name) = self.root.at(&path.steps).and_then(Node::text).map(str::trim) else {
            return Err(Refusal::nowhere(path));
        };
        let mixes = self.root.at(&Path::root().key("mix").steps).and_then(Node::as_list);
        let is_mix = mixes.is_some_and(|l| l.items.iter().any(|n| name_of(n) == Some(name)));
        let key = if is_mix { "mix" } else { "kind" };
        let list = format!("[{{ {key} = {} }}, {}]", quoted(name), inline(toml)?);
        self.put(path, &list)
    }

    fn add_headed(&mut self, path: &Path, toml: &str) -> Result<(), Refusal> {
        let end = newline(&self.text);
        let names = header(path);
        let lines = toml.trim_end().replace("\r\n", "\n").replace('\n', end);
        let block = format!("[[{names}]]{end}{lines}{end}");
        only_this(&block, path)?;
        let last = match self.root.at(&path.steps) {
            Some(Node::List(list)) => path.number(list.items.len()),
            _ => path.clone(),
        };
        let own = self.own_sections(&last);
        let at = own.last().map_or_else(|| self.place_of_new(path), |s| s.bytes.end);
        let splice = put_block(&self.text, at, &block);
        self.splice(vec![splice])
    }

    /// The sections of an entry and of everything in it, in the text's order.
    fn own_sections(&self, path: &Path) -> Vec<Section> {
        let all = sections(&self.text, &self.root).into_iter();
        all.filter(|s| s.path.steps.starts_with(&path.steps)).collect()
    }

    /// An item put into brackets as number `index` from 0, in the way of those that are there.
    fn put_in_brackets(
        &self,
        brackets: &Bytes,
        items: &[Bytes],
        index: usize,
        item: &str,
    ) -> Splice {
        let indent = |at: usize| {
            let start = line_start(&self.text, at);
            let lead = &self.text[start..at];
            lead.trim().is_empty().then_some(lead)
        };
        let end = newline(&self.text);
        match (items.get(index), items.last()) {
            (Some(next), _) => match indent(next.start) {
                Some(lead) => Splice::put(next.start, format!("{item},{end}{lead}")),
                None => Splice::put(next.start, format!("{item}, ")),
            },
            (None, Some(last)) => {
                // The comma may be there already; what stands behind it in its line stays there.
                let comma = comma_behind(&self.text, last.end, brackets.end - 1);
                let at = comma.map_or(last.end, |c| c + 1);
                let (lead, tail) = if comma.is_some() { ("", ",") } else { (",", "") };
                let Some(space) = indent(last.start) else {
                    return Splice::put(at, format!("{lead} {item}{tail}"));
                };
                let line = &self.text[at..line_end(&self.text, at)];
                let rest = line.trim_end_matches(['\n', '\r']);
                let stays = rest.trim().is_empty() || rest.trim_start().starts_with('#');
                let rest = if stays { rest } else { "" };
                let with = format!("{lead}{rest}{end}{space}{item}{tail}");
                Splice { bytes: at..at + rest.len(), with }
            }
            (None, None) => {
                let inside = &self.text[brackets.start + 1..brackets.end - 1];
                if inside.contains('#') {
                    return Splice::put(brackets.end - 1, item.to_owned());
                }
                Splice { bytes: brackets.start + 1..brackets.end - 1, with: item.to_owned() }
            }
        }
    }

    /// Takes an entry out of its list.
    pub(crate) fn remove(&mut self, path: &Path) -> Result<(), Refusal> {
        if zone_in_piece(&self.root, path).is_some_and(|(_, rest)| rest.is_empty()) {
            return Err(last_zone());
        }
        let (list_path, number, list) = self.entry_of(path)?;
        if list.items.len() == 1 {
            let is_zone = fields::table_at(path) == Some(fields::Table::Zone);
            return if is_zone { Err(last_zone()) } else { self.clear(&list_path) };
        }
        let mut splices = vec![];
        match &list.brackets {
            Some(brackets) => {
                let items: Vec<Bytes> =
                    list.items.iter().filter_map(Node::bytes).cloned().collect();
                splices.push(cut_item(&self.text, &items, number - 1, brackets.end - 1));
            }
            None => self.sections_out(&self.real(path), &mut splices),
        }
        self.splice(splices)
    }

    /// The list of an entry, and the entry's number.
    fn entry_of(&self, path: &Path) -> Result<(Path, usize, &List), Refusal> {
        let path = self.real(path);
        let found = path.split_last().and_then(|(list_path, last)| {
            let Step::Number(number) = last else { return None };
            let list = self.root.at(&list_path.steps)?.as_list()?;
            (*number <= list.items.len()).then_some((list_path, *number, list))
        });
        found.ok_or_else(|| Refusal::nowhere(&path))
    }

    /// Adds a copy right behind an entry.
    pub(crate) fn copy(&mut self, path: &Path) -> Result<(), Refusal> {
        if let Some((piece, [])) = zone_in_piece(&self.root, path) {
            zone::unfold(self, &piece)?;
        }
        let (list_path, number, list) = self.entry_of(path)?;
        let item = &list.items[number - 1];
        let name = name_of(item).map(|name| free_name(name, &self.names_beside(&list_path)));
        let name_bytes = item.as_table().and_then(|t| t.entry("name")?.node.bytes().cloned());
        let named = |bytes: Bytes| {
            let mut copy = self.text[bytes.clone()].to_owned();
            if let (Some(name), Some(own)) = (&name, &name_bytes)
                && bytes.start <= own.start
                && own.end <= bytes.end
            {
                copy.replace_range(own.start - bytes.start..own.end - bytes.start, &quoted(name));
            }
            copy
        };
        let splice = match &list.brackets {
            Some(brackets) => {
                let items: Vec<Bytes> =
                    list.items.iter().filter_map(Node::bytes).cloned().collect();
                let copy = named(items[number - 1].clone());
                self.put_in_brackets(brackets, &items, number, &copy)
            }
            None => {
                let own = self.own_sections(&self.real(path));
                let at = own.last().map_or(self.text.len(), |s| s.bytes.end);
                let block = self.block(&own, named);
                put_block(&self.text, at, &block)
            }
        };
        self.splice(vec![splice])
    }

    /// The text of sections, with a blank line between where there was one.
    fn block(&self, own: &[Section], text_of: impl Fn(Bytes) -> String) -> String {
        let end = newline(&self.text);
        let mut block = String::new();
        for (i, section) in own.iter().enumerate() {
            let apart = i > 0 && own[i - 1].bytes.end < section.bytes.start;
            if apart {
                block.push_str(end);
            }
            block.push_str(&text_of(section.bytes.clone()));
            if !block.ends_with('\n') {
                block.push_str(end);
            }
        }
        block
    }

    /// Names that an entry of a list may not have: kinds and mixes share theirs.
    pub(crate) fn names_beside(&self, list: &Path) -> Vec<String> {
        let key = match list.steps.as_slice() {
            [Step::Key(key)] => key.as_str(),
            _ => "",
        };
        let lists = match key {
            "kind" | "mix" => vec![Path::root().key("kind"), Path::root().key("mix")],
            _ => vec![list.clone()],
        };
        let names = lists.iter().filter_map(|l| self.root.at(&l.steps)?.as_list());
        names.flat_map(|l| &l.items).filter_map(name_of).map(str::to_owned).collect()
    }

    /// Moves an entry within its list.
    pub(crate) fn move_to(&mut self, path: &Path, to: usize) -> Result<(), Refusal> {
        let (list_path, number, list) = self.entry_of(path)?;
        let to = to.clamp(1, list.items.len());
        if to == number {
            return Ok(());
        }
        let Some(brackets) = &list.brackets else {
            return self.move_sections(&list_path, number, to);
        };
        let items: Vec<Bytes> = list.items.iter().filter_map(Node::bytes).cloned().collect();
        let item = self.text[items[number - 1].clone()].to_owned();
        let index = if to > number { to } else { to - 1 };
        let put = self.put_in_brackets(brackets, &items, index, &item);
        let cut = cut_item(&self.text, &items, number - 1, brackets.end - 1);
        if cut.bytes.start < put.bytes.start && put.bytes.start < cut.bytes.end {
            // Neighbours share a comma: exchange their texts.
            let (a, b) = (items[number - 1].clone(), items[to - 1].clone());
            let other = self.text[b.clone()].to_owned();
            return self
                .splice(vec![Splice { bytes: a, with: other }, Splice { bytes: b, with: item }]);
        }
        self.splice(vec![cut, put])
    }

    fn move_sections(&mut self, list: &Path, number: usize, to: usize) -> Result<(), Refusal> {
        let own = self.own_sections(&list.number(number));
        let target = self.own_sections(&list.number(to));
        let block = self.block(&own, |bytes| self.text[bytes].to_owned());
        let put = if to > number {
            let at = target.last().map_or(self.text.len(), |s| s.bytes.end);
            put_block(&self.text, at, &block)
        } else {
            let at = target.first().map_or(0, |s| s.bytes.start);
            Splice::put(at, format!("{block}{}", newline(&self.text)))
        };
        let mut splices: Vec<Splice> =
            own.into_iter().map(|s| cut_lines(&self.text, s.bytes)).collect();
        // Of two replacements at one byte the first in the list comes first in the text.
        if to > number {
            splices.push(put);
        } else {
            splices.insert(0, put);
        }
        self.splice(splices)
    }
}

fn last_zone() -> Refusal {
    Refusal::new("a piece has one zone at least", "change it, or take the piece out")
}

/// The name of a list of tables in its headers.
fn header(path: &Path) -> String {
    let keys = path.steps.iter().filter_map(|s| match s {
        Step::Key(key) => Some(key.as_str()),
        Step::Number(_) => None,
    });
    keys.collect::<Vec<_>>().join(".")
}

/// Refuses lines that would reach beyond the table they are meant for.
fn only_this(block: &str, path: &Path) -> Result<(), Refusal> {
    let hint = "write the keys of the entry, one a line";
    let mut node = &tree::parse(block).map_err(|e| Refusal::new(e, hint))?;
    let beyond = || Refusal::new("there is more than one entry here", hint);
    for step in &path.steps {
        let Step::Key(key) = step else { continue };
        let [entry] = node.as_table().map_or(&[][..], |t| &t.entries) else {
            return Err(beyond());
        };
        node = match &entry.node {
            Node::List(list) if list.items.len() == 1 => &list.items[0],
            Node::Table(_) => &entry.node,
            _ => return Err(beyond()),
        };
        if entry.key != *key {
            return Err(beyond());
        }
    }
    Ok(())
}

/// An entry as one value: as it is, or its keys in braces.
fn inline(toml: &str) -> Result<String, Refusal> {
    let toml = toml.trim();
    if is_value(toml) {
        return Ok(toml.to_owned());
    }
    let refused =
        |e: String| Refusal::new(e, "write a value, or the keys of the entry, one a line");
    let root = tree::parse(toml).map_err(refused)?;
    let entries = root.as_table().map_or(&[][..], |t| &t.entries);
    let pair = |e: &tree::Entry| {
        let bytes = e.node.bytes()?;
        Some(format!("{} = {}", e.key, &toml[bytes.clone()]))
    };
    match entries.iter().map(pair).collect::<Option<Vec<_>>>() {
        Some(pairs) if !pairs.is_empty() => Ok(format!("{{ {} }}", pairs.join(", "))),
        _ => Err(refused("this is no entry of a list".to_owned())),
    }
}

/// The comma behind an item, comments and blanks skipped.
fn comma_behind(text: &str, from: usize, close: usize) -> Option<usize> {
    let mut at = from;
    while at < close {
        match text.as_bytes()[at] {
            b',' => return Some(at),
            b'#' => at = text[at..].find('\n').map_or(close, |i| at + i),
            _ => at += 1,
        }
    }
    None
}

/// `badge 2`, or the next that is free.
pub(crate) fn free_name(name: &str, taken: &[String]) -> String {
    let base = match name.rsplit_once(' ') {
        Some((base, number)) if number.parse::<u32>().is_ok() && !base.is_empty() => base,
        _ => name,
    };
    let mut names = (2..).map(|n| format!("{base} {n}"));
    names.find(|n| !taken.contains(n)).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_copy_gets_the_next_free_name() {
        let taken = |names: &[&str]| names.iter().map(|n| (*n).to_owned()).collect::<Vec<_>>();
        assert_eq!(free_name("badge", &taken(&["badge"])), "badge 2");
        assert_eq!(free_name("badge", &taken(&["badge", "badge 2"])), "badge 3");
        assert_eq!(free_name("badge 2", &taken(&["badge", "badge 2"])), "badge 3");
        assert_eq!(free_name("3", &taken(&["3"])), "3 2");
    }
}
