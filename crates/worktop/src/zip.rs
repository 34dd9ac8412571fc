//! A document and the files that it names in one file.

use desk::Bundle;
use std::io::{Cursor, Write};
use zip::write::SimpleFileOptions;
use zip::{ZipWriter, result::ZipResult};

/// The bundle as a ZIP file.
///
/// # Errors
/// It would be too large.
pub(crate) fn zip(bundle: &Bundle) -> ZipResult<Vec<u8>> {
    let mut zip = ZipWriter::new(Cursor::new(vec![]));
    let options = SimpleFileOptions::default();
    zip.start_file("order.toml", options)?;
    zip.write_all(bundle.text.as_bytes())?;
    for (name, bytes) in &bundle.files {
        zip.start_file(name.as_str(), options)?;
        zip.write_all(bytes)?;
    }
    Ok(zip.finish()?.into_inner())
}
