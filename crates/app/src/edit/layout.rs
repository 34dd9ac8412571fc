//! The lines of a text: where its sections are, and what goes with what when something is put in
//! or taken out.

use super::path::Path;
use super::tree::{Bytes, Form, Node};

/// A replacement of bytes.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Splice {
    pub(crate) bytes: Bytes,
    pub(crate) with: String,
}

impl Splice {
    pub(crate) fn put(at: usize, with: String) -> Splice {
        Splice { bytes: at..at, with }
    }

    pub(crate) fn cut(bytes: Bytes) -> Splice {
        Splice { bytes, with: String::new() }
    }
}

/// Makes replacements that do not overlap; those at one place in their order.
pub(crate) fn spliced(text: &str, mut splices: Vec<Splice>) -> String {
    splices.sort_by_key(|s| (s.bytes.start, s.bytes.end));
    let mut new = String::with_capacity(text.len());
    let mut from = 0;
    for splice in &splices {
        new.push_str(&text[from..splice.bytes.start.max(from)]);
        new.push_str(&splice.with);
        from = splice.bytes.end.max(from);
    }
    new.push_str(&text[from..]);
    new
}

/// The first byte of the line of a byte.
pub(crate) fn line_start(text: &str, at: usize) -> usize {
    text[..at].rfind('\n').map_or(0, |i| i + 1)
}

/// The byte behind the line of a byte, and behind its line end.
pub(crate) fn line_end(text: &str, at: usize) -> usize {
    text[at..].find('\n').map_or(text.len(), |i| at + i + 1)
}

/// The line end that a text uses.
pub(crate) fn newline(text: &str) -> &'static str {
    match text.find('\n') {
        Some(i) if text[..i].ends_with('\r') => "\r\n",
        _ => "\n",
    }
}

fn is_comment(line: &str) -> bool {
    line.trim_start().starts_with('#')
}

fn is_blank(line: &str) -> bool {
    line.trim().is_empty()
}

/// The part of a text below one header, with the comment lines that touch it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Section {
    /// From the comments that touch its header to the end of its last line; blank lines and
    /// comments that stand apart belong to nobody.
    pub(crate) bytes: Bytes,
    /// Where its header begins.
    pub(crate) header: usize,
    /// The table's path.
    pub(crate) path: Path,
}

/// Every section, in the text's order; the first is the document's own keys.
pub(crate) fn sections(text: &str, root: &Node) -> Vec<Section> {
    let mut headers = vec![];
    let mut ends = vec![];
    root.visit(&Path::root(), &mut |path, node| match node {
        Node::Table(table) => {
            if let Form::Headed(header) = &table.form {
                headers.push((header.clone(), path.clone()));
            }
            if let Form::Inline(bytes) = &table.form {
                ends.push(bytes.end);
            }
        }
        Node::Value(bytes, _) => ends.push(bytes.end),
        Node::List(list) => ends.extend(list.brackets.as_ref().map(|b| b.end)),
    });
    headers.sort_by_key(|h| (h.0.start, h.1.steps.len()));
    ends.sort_unstable();
    let starts: Vec<usize> = headers
        .iter()
        .map(
            |(header, path)| {
                if path.steps.is_empty() { 0 } else { touching_before(text, header.start) }
            },
        )
        .collect();
    let section = |(i, (header, path)): (usize, &(Bytes, Path))| {
        let limit = starts.get(i + 1).copied().unwrap_or(text.len());
        let last = ends[..ends.partition_point(|&e| e <= limit)].last().copied().unwrap_or(0);
        let end = last.max(header.end);
        // A document that begins with a header has no keys, and no lines, of its own.
        let end = if end == 0 { 0 } else { touching_after(text, line_end(text, end), limit) };
        Section { bytes: starts[i]..end.min(limit), header: header.start, path: path.clone() }
    };
    headers.iter().enumerate().map(section).collect()
}

/// Where the comment lines begin that touch the line of a byte from above.
fn touching_before(text: &str, at: usize) -> usize {
    let mut start = line_start(text, at);
    while start > 0 {
        let above = line_start(text, start - 1);
        if !is_comment(&text[above..start]) {
            break;
        }
        start = above;
    }
    start
}

/// Where the comment lines end that begin at a line's start.
fn touching_after(text: &str, mut at: usize, limit: usize) -> usize {
    while at < limit && is_comment(&text[at..line_end(text, at)]) {
        at = line_end(text, at);
    }
    at
}

/// Takes out whole lines. Of the blank lines before and behind, as many stay as there were on the
/// side that had more.
pub(crate) fn cut_lines(text: &str, bytes: Bytes) -> Splice {
    let mut before = bytes.start;
    let mut n_before = 0;
    while before > 0 {
        let above = line_start(text, before - 1);
        if !is_blank(&text[above..before]) {
            break;
        }
        (before, n_before) = (above, n_before + 1);
    }
    let mut n_after = 0;
    let mut after = bytes.end;
    while after < text.len() && is_blank(&text[after..line_end(text, after)]) {
        (after, n_after) = (line_end(text, after), n_after + 1);
    }
    let start = if after == text.len() || n_after >= n_before { before } else { bytes.start };
    let end = if after < text.len() && n_after < n_before { after } else { bytes.end };
    Splice::cut(start..end)
}

/// Takes out a line that holds a value, from `start`. A comment behind the value stays, as a line
/// of its own.
pub(crate) fn cut_entry(text: &str, start: usize, value_end: usize) -> Splice {
    let from = line_start(text, start);
    let to = line_end(text, value_end);
    let behind = text[value_end..to].trim_start_matches([',', ' ', '\t']);
    let indent: String = text[from..].chars().take_while(|c| matches!(c, ' ' | '\t')).collect();
    let with = if behind.starts_with('#') { format!("{indent}{behind}") } else { String::new() };
    Splice { bytes: from..to, with }
}

/// Takes one of several items out of brackets or braces that close at `close`, with its comma;
/// comments between them stay.
pub(crate) fn cut_item(text: &str, items: &[Bytes], index: usize, close: usize) -> Splice {
    let Bytes { start, end } = items[index].clone();
    let line = &text[line_start(text, start)..start];
    let behind = text[end..line_end(text, end)].trim_start();
    let behind = behind.strip_prefix(',').unwrap_or(behind).trim();
    if line.trim().is_empty() && (behind.is_empty() || behind.starts_with('#')) {
        return cut_entry(text, start, end);
    }
    let before = index.checked_sub(1).map(|i| items[i].end..end);
    let after = items.get(index + 1).map(|next| start..next.start);
    let only = (items.len() == 1).then_some(start..close);
    let whole = |bytes: &Bytes| {
        let rest = text[bytes.start..start.max(bytes.start)].contains('#');
        !rest && !text[end.min(bytes.end)..bytes.end].contains('#')
    };
    let found = [before, after, only].into_iter().flatten().find(whole);
    Splice::cut(found.unwrap_or_else(|| {
        let comma = text[end..].starts_with(',');
        start..end + usize::from(comma)
    }))
}

/// Whole lines to be put behind `at`, the end of a line, with a blank line before them.
pub(crate) fn put_block(text: &str, at: usize, block: &str) -> Splice {
    let end = newline(text);
    let mut with = String::new();
    if at > 0 && !text[..at].ends_with('\n') {
        with.push_str(end);
    }
    if at > 0 {
        with.push_str(end);
    }
    with.push_str(block);
    if !block.ends_with('\n') {
        with.push_str(end);
    }
    if at == 0 && !text.is_empty() {
        with.push_str(end);
    }
    Splice::put(at, with)
}
