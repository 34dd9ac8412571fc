//! How deep a drawing nests and how much it copies, found before anything is copied.
//!
//! Readers recurse into elements and write out what `use`, markers, patterns, clip paths and masks
//! refer to. Ten lines that refer to one another ten times each would become a billion elements.

use std::collections::HashMap;

use roxmltree::{Document, Node, NodeId};

use crate::document::{href, line};
use crate::{OutlineError, limits};

/// Refuses a drawing that nests too deeply or copies too much.
pub(crate) fn check(doc: &Document<'_>) -> Result<(), OutlineError> {
    check_nesting(doc)?;
    let mut by_id = HashMap::new();
    for node in doc.descendants() {
        if let Some(id) = node.attribute("id") {
            by_id.entry(id).or_insert(node);
        }
    }
    let rules = rules(doc);
    check_styles(doc, &rules)?;
    let mut copies = Copies { by_id, rules, marked: 0, counts: HashMap::new() };
    // Markers first: how often each is drawn depends on the corners of what bears it.
    for marker in doc.descendants().filter(|n| n.tag_name().name() == "marker") {
        copies.marked = copies.marked.saturating_add(copies.count(marker, 0)?);
    }
    copies.counts.clear();
    let count = copies.count(doc.root_element(), 0)?;
    if count > limits::ELEMENTS { Err(OutlineError::TooManyElements) } else { Ok(()) }
}

/// Parents come before their children in a document, so one pass finds every depth.
fn check_nesting(doc: &Document<'_>) -> Result<(), OutlineError> {
    let mut depths: HashMap<NodeId, usize> = HashMap::new();
    let mut elements = 0;
    for node in doc.descendants().filter(Node::is_element) {
        let above = node.parent().and_then(|p| depths.get(&p.id())).copied().unwrap_or(0);
        if above >= limits::DEPTH {
            return Err(OutlineError::TooDeep { line: line(node) });
        }
        depths.insert(node.id(), above + 1);
        elements += 1;
    }
    if elements > limits::ELEMENTS { Err(OutlineError::TooManyElements) } else { Ok(()) }
}

/// A style rule that refers to something.
struct Rule<'a> {
    /// Names in its selector: classes, ids, elements; `*` for any.
    names: Vec<&'a str>,
    /// The ids it refers to.
    targets: Vec<&'a str>,
}

/// The rules of all style sheets, read just closely enough to see what may refer to what.
fn rules<'a>(doc: &'a Document<'_>) -> Vec<Rule<'a>> {
    let sheets = doc.descendants().filter(|n| n.tag_name().name() == "style");
    let texts = sheets.flat_map(|s| s.children()).filter_map(|n| n.text());
    texts
        .flat_map(|t| t.split('}'))
        .filter_map(|rule| rule.split_once('{'))
        .map(|(selector, body)| {
            let name = |c: char| !(c.is_alphanumeric() || matches!(c, '-' | '_' | '*'));
            let names = selector.split(name).filter(|n| !n.is_empty()).collect();
            Rule { names, targets: targets(body).collect() }
        })
        .collect()
}

fn check_styles(doc: &Document<'_>, rules: &[Rule<'_>]) -> Result<(), OutlineError> {
    let elements = doc.descendants().filter(Node::is_element).count() as u64;
    // A selector of many names takes as many steps.
    let rules = rules.iter().map(|r| r.names.len().max(1) as u64).sum::<u64>();
    if rules.saturating_mul(elements) > limits::STYLE_MATCHES {
        return Err(OutlineError::TooManyStyles { rules, elements });
    }
    Ok(())
}

/// The ids in `url(#id)` of a text.
fn targets(text: &str) -> impl Iterator<Item = &str> {
    text.split("url(").skip(1).filter_map(|rest| {
        let inner = rest.split(')').next()?;
        inner.trim().trim_matches(['"', '\'']).trim().strip_prefix('#')
    })
}

/// Counts elements as they will be once everything is copied out.
struct Copies<'a, 'input> {
    by_id: HashMap<&'a str, Node<'a, 'input>>,
    rules: Vec<Rule<'a>>,
    /// Elements in all markers together.
    marked: u64,
    counts: HashMap<NodeId, u64>,
}

impl<'a, 'input> Copies<'a, 'input> {
    fn count(&mut self, node: Node<'a, 'input>, depth: usize) -> Result<u64, OutlineError> {
        if depth > 2 * limits::DEPTH {
            return Err(OutlineError::TooDeep { line: line(node) });
        }
        if let Some(known) = self.counts.get(&node.id()) {
            return Ok(*known);
        }
        // What refers to itself counts as nothing: readers refuse to follow it.
        self.counts.insert(node.id(), 0);
        let mut count = 1_u64;
        if self.marked > 0 {
            // A marker may stand at every corner; a corner takes about eight characters.
            let data = node.attribute("d").or(node.attribute("points")).map_or(0, str::len);
            count = count.saturating_add(self.marked.saturating_mul(data as u64 / 8));
        }
        for child in node.children().filter(Node::is_element) {
            count = count.saturating_add(self.count(child, depth + 1)?);
        }
        for target in self.referred(node) {
            count = count.saturating_add(self.count(target, depth + 1)?);
        }
        self.counts.insert(node.id(), count);
        Ok(count)
    }

    /// What a reader copies for an element's sake. Gradients and filters are not copied.
    fn referred(&self, node: Node<'a, 'input>) -> Vec<Node<'a, 'input>> {
        let mut ids: Vec<&str> = Vec::new();
        if matches!(node.tag_name().name(), "use" | "feImage" | "pattern") {
            ids.extend(href(node).and_then(|h| h.strip_prefix('#')));
        }
        for attribute in node.attributes() {
            ids.extend(targets(attribute.value()));
        }
        for rule in self.rules.iter().filter(|r| !r.targets.is_empty()) {
            let classes = node.attribute("class").unwrap_or("");
            let named = |n: &&str| {
                **n == *"*"
                    || node.tag_name().name() == *n
                    || node.attribute("id") == Some(n)
                    || classes.split_whitespace().any(|c| c == *n)
            };
            if rule.names.iter().any(named) {
                ids.extend(&rule.targets);
            }
        }
        let is_use = matches!(node.tag_name().name(), "use" | "feImage");
        ids.iter()
            .filter_map(|id| self.by_id.get(id).copied())
            .filter(|t| is_use || matches!(t.tag_name().name(), "clipPath" | "mask" | "pattern"))
            .collect()
    }
}
