//! Walking the parsed tree: values with their place, faults collected on the way.

use super::fault::{Fault, MAX_FAULTS};
use super::model::Spot;
use std::cell::RefCell;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};
use units::grouped;

/// Collects what is wrong.
#[derive(Default)]
pub(super) struct Walk {
    faults: RefCell<Vec<Fault>>,
}

impl Walk {
    /// Takes a fault down, unless there are [`MAX_FAULTS`] already.
    pub(super) fn report(&self, fault: Fault) {
        if !self.is_full() {
            self.faults.borrow_mut().push(fault);
        }
    }

    fn is_full(&self) -> bool {
        self.faults.borrow().len() >= MAX_FAULTS
    }

    pub(super) fn into_faults(self) -> Vec<Fault> {
        self.faults.into_inner()
    }
}

/// A value and where it stands.
#[derive(Clone)]
pub(super) struct Node<'a, 'i> {
    pub(super) value: &'a DeValue<'i>,
    pub(super) spot: Spot,
    pub(super) walk: &'a Walk,
}

impl<'a, 'i> Node<'a, 'i> {
    /// Takes down that something is wrong with this value; always `None`.
    pub(super) fn wrong<T>(&self, text: impl Into<String>, hint: impl Into<String>) -> Option<T> {
        let fault = Fault::new(&self.spot.place, self.spot.span.clone(), text);
        self.walk.report(fault.with_hint(hint));
        None
    }

    /// As [`wrong`](Node::wrong): another type was wanted.
    pub(super) fn wrong_type<T>(&self, wanted: &str, example: &str) -> Option<T> {
        let found = match self.value {
            DeValue::String(_) => "text in quotes",
            DeValue::Integer(_) => "a whole number",
            DeValue::Float(_) => "a number with decimals",
            DeValue::Boolean(_) => "true or false",
            DeValue::Datetime(_) => "a date",
            DeValue::Array(_) => "a list",
            DeValue::Table(_) => "a table",
        };
        self.wrong(format!("{wanted} is wanted here, not {found}"), format!("write {example}"))
    }

    pub(super) fn text(&self, wanted: &str, example: &str) -> Option<&'a str> {
        match self.value {
            DeValue::String(s) => Some(s.as_ref()),
            _ => self.wrong_type(wanted, example),
        }
    }

    pub(super) fn flag(&self, example: &str) -> Option<bool> {
        match self.value {
            DeValue::Boolean(b) => Some(*b),
            _ => self.wrong_type("true or false", example),
        }
    }

    /// A whole number within `range`.
    pub(super) fn whole(&self, range: Range<u64>, example: &str) -> Option<u64> {
        let limits = || format!("it must be {} to {}", range.start, grouped(range.end - 1));
        match self.value {
            DeValue::Integer(n) => match i128::from_str_radix(n.as_str(), n.radix()) {
                Ok(n) if u64::try_from(n).is_ok_and(|n| range.contains(&n)) => Some(n as u64),
                Ok(n) => self.wrong(format!("out of range: {n}"), limits()),
                Err(_) => self.wrong("out of range: a number this long", limits()),
            },
            _ => self.wrong_type("a whole number", example),
        }
    }

    /// Every entry of a list, with its place: `corner 2` in place of the key for the second of a
    /// list of corners.
    pub(super) fn list(&self, entry: &str, example: &str) -> Option<Vec<Node<'a, 'i>>> {
        let DeValue::Array(values) = self.value else {
            return self.wrong_type("a list", example);
        };
        // The last step is the key of the list, which holds no name and so no such sign.
        let parent = self.spot.place.rsplit_once(STEP).map_or("", |(parent, _)| parent);
        let node = |(i, v): (usize, &'a Spanned<DeValue<'i>>)| {
            let place = joined(parent, &format!("{entry} {}", i + 1));
            Node { value: v.get_ref(), spot: Spot { place, span: v.span() }, walk: self.walk }
        };
        Some(values.iter().enumerate().map(node).collect())
    }

    /// The keys of a table; `what` names it in messages: `a circle`.
    pub(super) fn fields(&self, what: &str, example: &str) -> Option<Fields<'a, 'i>> {
        let DeValue::Table(table) = self.value else {
            return self.wrong_type("a table", example);
        };
        Some(Fields {
            table,
            spot: self.spot.clone(),
            walk: self.walk,
            what: what.to_owned(),
            known: vec![],
        })
    }
}

/// The keys of a table. Each key asked for becomes a known one; [`done`](Fields::done) reports the
/// others.
pub(super) struct Fields<'a, 'i> {
    table: &'a DeTable<'i>,
    pub(super) spot: Spot,
    pub(super) walk: &'a Walk,
    what: String,
    known: Vec<&'static str>,
}

impl<'a, 'i> Fields<'a, 'i> {
    pub(super) fn root(table: &'a DeTable<'i>, walk: &'a Walk) -> Fields<'a, 'i> {
        let what = "a document".to_owned();
        Fields { table, spot: Spot::default(), walk, what, known: vec![] }
    }

    /// The value of a key, if it is there.
    pub(super) fn get(&mut self, key: &'static str) -> Option<Node<'a, 'i>> {
        self.known.push(key);
        let value = self.table.get(key)?;
        let place = joined(&self.spot.place, key);
        Some(Node {
            value: value.get_ref(),
            spot: Spot { place, span: value.span() },
            walk: self.walk,
        })
    }

    /// The value of a key; a fault if it is missing.
    pub(super) fn need(&mut self, key: &'static str, example: &str) -> Option<Node<'a, 'i>> {
        let node = self.get(key);
        if node.is_none() {
            let text = format!("`{key}` is missing");
            let fault = Fault::new(&self.spot.place, self.spot.span.clone(), text);
            let fault = fault.with_hint(format!("add {example}"));
            self.walk.report(Fault { missing: Some(key), ..fault });
        }
        node
    }

    pub(super) fn has(&self, key: &str) -> bool {
        self.table.contains_key(key)
    }

    /// Names the table in messages from now on.
    pub(super) fn call(&mut self, what: impl Into<String>) {
        self.what = what.into();
    }

    /// The keys and lists of tables inside have their place under this one from now on.
    pub(super) fn rename_place(&mut self, place: String) {
        self.spot.place = place;
    }

    /// Takes down that something is wrong with the table as a whole.
    pub(super) fn wrong(&self, text: impl Into<String>, hint: impl Into<String>) {
        let fault = Fault::new(&self.spot.place, self.spot.span.clone(), text);
        self.walk.report(fault.with_hint(hint));
    }

    /// Takes a key down as misplaced, if it is there.
    pub(super) fn misplaced(&mut self, key: &'static str, text: &str, hint: &str) {
        if let Some(entry) = self.table.get_key_value(key) {
            self.known.push(key);
            let place = joined(&self.spot.place, key);
            self.walk.report(Fault::new(place, entry.0.span(), text).with_hint(hint));
        }
    }

    /// Reports every key that nobody asked for, with the nearest that somebody did.
    pub(super) fn done(mut self) {
        self.known.sort_unstable();
        self.known.dedup();
        for (key, _) in self.table {
            let name: &str = key.get_ref();
            if self.known.contains(&name) {
                continue;
            }
            if self.walk.is_full() {
                return;
            }
            let hint = match nearest(name, &self.known) {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("{} has: {}", self.what, self.known.join(", ")),
            };
            let shown = shortened(name);
            let fault = Fault::new(&self.spot.place, key.span(), format!("unknown key `{shown}`"));
            self.walk.report(fault.with_hint(hint));
        }
    }
}

/// The nearest of `known` to a mistyped word, if one is near enough to be meant.
pub(crate) fn nearest<'k>(word: &str, known: &[&'k str]) -> Option<&'k str> {
    // The measure takes time by the product of the lengths; no key is that long.
    if word.len() > 40 {
        return None;
    }
    let word = word.to_lowercase().replace(['-', '_'], " ");
    let score = |k: &&'k str| {
        strsim::normalized_damerau_levenshtein(&word, &k.to_lowercase().replace('_', " "))
    };
    let best = known.iter().copied().max_by(|a, b| score(a).total_cmp(&score(b)))?;
    (score(&best) >= 0.6).then_some(best)
}

/// Between the steps of the way to a place.
const STEP: &str = " › ";

/// A way to a place with one more step.
pub(super) fn joined(place: &str, step: &str) -> String {
    if place.is_empty() { step.to_owned() } else { format!("{place}{STEP}{step}") }
}

/// The beginning of a text that is too long to be shown, without line ends.
pub(crate) fn shortened(text: &str) -> String {
    let clean = |c: char| if c.is_control() { ' ' } else { c };
    let mut short: String = text.chars().take(40).map(clean).collect();
    if text.chars().nth(40).is_some() {
        short.push('…');
    }
    short
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_nearest_key_is_one_that_may_be_meant() {
        let known = ["colour", "finish", "pack", "around_holes"];
        assert_eq!(nearest("color", &known), Some("colour"));
        assert_eq!(nearest("Colour", &known), Some("colour"));
        assert_eq!(nearest("around-holes", &known), Some("around_holes"));
        assert_eq!(nearest("price", &known), None);
        assert_eq!(nearest(&"c".repeat(5000), &known), None);
    }
}
