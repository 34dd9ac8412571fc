//! Where the files come from that a document names.

use std::io::Read;
use std::path::{Path, PathBuf};

/// Largest file a document may name, bytes.
pub const MAX_FILE_BYTES: u64 = 10 * 1024 * 1024;

/// Gives the bytes of a file that a document names.
pub trait Loader {
    /// The bytes of `file`, as the document writes it; relative names start at the document's
    /// folder.
    ///
    /// # Errors
    /// Why there are none.
    fn load(&self, file: &str) -> Result<Vec<u8>, LoadError>;
}

/// Why a file gives no bytes.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum LoadError {
    /// There is no such file.
    #[error("there is no such file")]
    Missing,
    /// It is a folder, or something else that is no file.
    #[error("this is not a file")]
    NotAFile,
    /// It is larger than [`MAX_FILE_BYTES`].
    #[error("the file is larger than 10 MB")]
    TooLarge,
    /// The machine refused.
    #[error("the file cannot be read: {reason}")]
    Refused {
        /// What the machine said.
        reason: String,
    },
}

impl LoadError {
    /// What to do about it.
    pub fn hint(&self) -> &'static str {
        match self {
            LoadError::Missing | LoadError::NotAFile => {
                "names of files start at the folder of the document"
            }
            LoadError::TooLarge => "simplify the drawing: an outline needs a few thousand points",
            LoadError::Refused { .. } => "see to it that the file may be read",
        }
    }
}

/// Files of a folder, and of others where the document names them by their whole path.
#[derive(Clone, Debug)]
pub struct Folder(PathBuf);

impl Folder {
    /// Relative names start at `folder`.
    pub fn new(folder: impl Into<PathBuf>) -> Folder {
        Folder(folder.into())
    }

    /// Relative names start at the folder that `document` is in.
    pub fn of(document: &Path) -> Folder {
        Folder(document.parent().map(Path::to_path_buf).unwrap_or_default())
    }
}

impl Loader for Folder {
    fn load(&self, file: &str) -> Result<Vec<u8>, LoadError> {
        let path = self.0.join(file);
        let data = std::fs::metadata(&path).map_err(|e| refused(&e))?;
        // A pipe or a device could go on for ever.
        if !data.is_file() {
            return Err(LoadError::NotAFile);
        }
        if data.len() > MAX_FILE_BYTES {
            return Err(LoadError::TooLarge);
        }
        let opened = std::fs::File::open(&path).map_err(|e| refused(&e))?;
        let mut bytes = vec![];
        // It may have grown since it was asked for its length.
        opened.take(MAX_FILE_BYTES + 1).read_to_end(&mut bytes).map_err(|e| refused(&e))?;
        if bytes.len() as u64 > MAX_FILE_BYTES { Err(LoadError::TooLarge) } else { Ok(bytes) }
    }
}

fn refused(error: &std::io::Error) -> LoadError {
    match error.kind() {
        std::io::ErrorKind::NotFound => LoadError::Missing,
        _ => LoadError::Refused { reason: error.to_string() },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn folders_missing_files_and_large_files_are_told_apart() {
        let dir = tempfile::tempdir().unwrap();
        std::fs::write(dir.path().join("small.svg"), b"<svg/>").unwrap();
        let large = std::fs::File::create(dir.path().join("large.svg")).unwrap();
        large.set_len(MAX_FILE_BYTES + 1).unwrap();
        let folder = Folder::of(&dir.path().join("order.toml"));
        assert_eq!(folder.load("small.svg").unwrap(), b"<svg/>");
        assert_eq!(folder.load("gone.svg"), Err(LoadError::Missing));
        assert_eq!(folder.load("."), Err(LoadError::NotAFile));
        assert_eq!(folder.load("large.svg"), Err(LoadError::TooLarge));
    }
}
