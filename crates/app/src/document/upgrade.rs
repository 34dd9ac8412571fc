//! Older documents become today's, one version at a time.

use toml::de::DeTable;

/// Turns a document of one version into the next.
pub(super) type Step = fn(&mut DeTable<'_>);

/// `STEPS[i]` turns version `i + 1` into version `i + 2`. Version 1 is the first, so there is
/// none yet; a change of the format adds one here and its document to `tests/documents`.
pub(super) const STEPS: &[Step] = &[];

/// The version that this program writes and every older one is turned into.
pub const CURRENT: u32 = STEPS.len() as u32 + 1;

/// Turns a tree of `version` (1 to `steps.len() + 1`) into the newest that `steps` lead to.
pub(super) fn upgrade(tree: &mut DeTable<'_>, version: u32, steps: &[Step]) {
    for step in steps.iter().skip(version.saturating_sub(1) as usize) {
        step(tree);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::borrow::Cow;
    use toml::Spanned;

    fn renamed(tree: &mut DeTable<'_>, from: &str, to: &str) {
        if let Some((key, value)) = tree.remove_entry(from) {
            tree.insert(Spanned::new(key.span(), Cow::Owned(to.to_owned())), value);
        }
    }

    const THREE_VERSIONS: &[Step] =
        &[|t| renamed(t, "customer", "order"), |t| renamed(t, "order", "title")];

    #[test]
    fn every_step_from_the_documents_version_on_is_taken() {
        for (version, key) in [(1, "customer"), (2, "order"), (3, "title")] {
            let text = format!("{key} = 'x'");
            let mut tree = DeTable::parse(&text).unwrap().into_inner();
            upgrade(&mut tree, version, THREE_VERSIONS);
            let value = tree.get("title").unwrap();
            assert_eq!(value.get_ref().as_str(), Some("x"));
            assert_eq!(&text[value.span()], "'x'", "spans survive");
        }
    }
}
