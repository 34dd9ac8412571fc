//! The order document from outside: what is refused and how, what opens and what comes of it.

#![expect(clippy::unwrap_used, reason = "a helper of tests may fail the test")]

mod bad;
mod demo_lays;
mod edits;
mod pieces;
mod plan;
mod properties;
mod versions;

use app::order::{LoadError, Loader, MAX_FILE_BYTES};
use std::collections::BTreeMap;

/// Files kept in memory.
#[derive(Default)]
struct Files(BTreeMap<String, Vec<u8>>);

impl Loader for Files {
    fn load(&self, file: &str) -> Result<Vec<u8>, LoadError> {
        let bytes = self.0.get(file).ok_or(LoadError::Missing)?;
        if bytes.len() as u64 > MAX_FILE_BYTES {
            Err(LoadError::TooLarge)
        } else {
            Ok(bytes.clone())
        }
    }
}

/// The demonstration order's own files.
fn demo_files() -> Files {
    let entry = |(name, text): &(&str, &str)| ((*name).to_owned(), text.as_bytes().to_vec());
    Files(app::demo::FILES.iter().map(entry).collect())
}
