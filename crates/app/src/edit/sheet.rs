//! A document's text with the place of everything in it.

use super::path::Path;

/// A document's text, parsed, to be asked what stands where.
pub struct Sheet<'t> {
    text: &'t str,
}

impl<'t> Sheet<'t> {
    /// Parses a text; `None` if it is no TOML.
    pub fn of(text: &'t str) -> Option<Sheet<'t>> {
        Some(Sheet { text })
    }

    /// The value of a key as a form's field shows it: text without quotes, everything else as it
    /// is written. `None` if it is not there.
    pub fn value(&self, path: &Path) -> Option<String> {
        let _ = (self.text, path);
        None
    }

    /// How many entries a list has; 0 if it is not there. `zone` of a piece has at least one.
    pub fn count(&self, path: &Path) -> usize {
        let _ = path;
        0
    }

    /// The names of a list's entries, in its order; empty for an entry without one.
    pub fn names(&self, path: &Path) -> Vec<String> {
        let _ = path;
        vec![]
    }

    /// The entry of a list that has this name: `named(&"kind".parse()?, "dew")` is `kind.12`.
    pub fn named(&self, list: &Path, name: &str) -> Option<Path> {
        let at = self.names(list).iter().position(|n| n == name)?;
        Some(list.number(at + 1))
    }
}
