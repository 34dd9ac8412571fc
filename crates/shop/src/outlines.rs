//! The outline files of a document, never overwritten.

use crate::documents::document_of;
use crate::error::{Fault, named, unknown};
use crate::{DocumentId, Shop, ShopError};
use rusqlite::{Connection, OptionalExtension, params};

impl Shop {
    /// Keeps a file of a document and gives the name it is kept under: `name`, or `name` with a
    /// number before its ending if another content has that name already.
    ///
    /// # Errors
    /// `Unknown`, `BadValue` for an empty name; the world's.
    pub fn add_outline(
        &self,
        document: DocumentId,
        name: &str,
        bytes: &[u8],
    ) -> Result<String, ShopError> {
        named("file name", name)?;
        self.change(|t| {
            document_of(t, document)?;
            for n in 1u32.. {
                let name = numbered(name, n);
                match bytes_of(t, document, &name)? {
                    Some(there) if there == bytes => return Ok(name),
                    Some(_) => {}
                    None => {
                        t.prepare_cached(
                            "INSERT INTO outline (document, name, bytes) VALUES (?1, ?2, ?3)",
                        )?
                        .execute(params![document, name, bytes])?;
                        return Ok(name);
                    }
                }
            }
            Err(ShopError::Taken { what: "file", name: name.to_owned() }.into())
        })
    }

    /// The content of a file.
    ///
    /// # Errors
    /// `Unknown`; the world's.
    pub fn outline(&self, document: DocumentId, name: &str) -> Result<Vec<u8>, ShopError> {
        self.read(|c| bytes_of(c, document, name)?.ok_or_else(|| unknown("file", name)))
    }

    /// The names of a document's files, sorted.
    ///
    /// # Errors
    /// The world's.
    pub fn outlines(&self, document: DocumentId) -> Result<Vec<String>, ShopError> {
        self.read(|c| {
            let mut found =
                c.prepare_cached("SELECT name FROM outline WHERE document = ?1 ORDER BY name")?;
            let rows = found.query_map([document], |row| row.get(0))?;
            Ok(rows.collect::<Result<_, _>>()?)
        })
    }
}

fn bytes_of(c: &Connection, document: DocumentId, name: &str) -> Result<Option<Vec<u8>>, Fault> {
    let mut found =
        c.prepare_cached("SELECT bytes FROM outline WHERE document = ?1 AND name = ?2")?;
    Ok(found.query_row(params![document, name], |row| row.get(0)).optional()?)
}

/// `star.svg`, `star-2.svg`, `star-3.svg`.
fn numbered(name: &str, n: u32) -> String {
    match (n, name.rsplit_once('.')) {
        (1, _) => name.to_owned(),
        (_, Some((stem, ending))) if !stem.is_empty() => format!("{stem}-{n}.{ending}"),
        _ => format!("{name}-{n}"),
    }
}
