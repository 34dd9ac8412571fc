//! A file on the disk: whole, or not at all.

use std::io::Write;
use std::path::{Path, PathBuf};

/// Why a file was not written.
#[derive(Debug, thiserror::Error)]
pub enum WriteError {
    /// There is one already, and it was not asked to be replaced.
    #[error("`{path}` exists already and was left as it is")]
    Exists {
        /// The file.
        path: PathBuf,
    },
    /// The disk refused.
    #[error("`{path}` could not be written: {source}")]
    Refused {
        /// The file.
        path: PathBuf,
        /// What the system says.
        source: std::io::Error,
    },
}

/// Writes `bytes` to `path`, whole or not at all: they go into a file beside it first, are on the
/// disk before that file takes its name, and nothing is left behind if something goes wrong.
///
/// A file that is there already is replaced only if `overwrite` is true; two writers at once cannot
/// replace each other's file unasked either. The folder must exist.
pub fn write_atomically(path: &Path, bytes: &[u8], overwrite: bool) -> Result<(), WriteError> {
    // Only the kind of trouble: a temporary name in the text would puzzle whoever reads it.
    let refused = |source: std::io::Error| WriteError::Refused {
        path: path.to_owned(),
        source: std::io::Error::from(source.kind()),
    };
    if !overwrite && path.symlink_metadata().is_ok() {
        return Err(WriteError::Exists { path: path.to_owned() });
    }
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let mut file = beside(folder).map_err(refused)?;
    file.write_all(bytes).map_err(refused)?;
    file.as_file().sync_all().map_err(refused)?;
    let placed = if overwrite { file.persist(path) } else { file.persist_noclobber(path) };
    placed.map(drop).map_err(|e| match e.error.kind() {
        std::io::ErrorKind::AlreadyExists => WriteError::Exists { path: path.to_owned() },
        _ => refused(e.error),
    })
}

/// An unnamed neighbour, readable as any other new file is.
fn beside(folder: &Path) -> std::io::Result<tempfile::NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(".stonelay-");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // The system takes the user's mask off this.
        builder.permissions(std::fs::Permissions::from_mode(0o666));
    }
    builder.tempfile_in(folder)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_written_whole_and_never_replaced_unasked() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("badge.svg");
        write_atomically(&path, b"first", false).unwrap();
        let again = write_atomically(&path, b"second", false);
        assert!(matches!(again, Err(WriteError::Exists { .. })), "{again:?}");
        assert_eq!(std::fs::read(&path).unwrap(), b"first");
        write_atomically(&path, b"third", true).unwrap();
        assert_eq!(std::fs::read(&path).unwrap(), b"third");
        let left: Vec<_> = std::fs::read_dir(folder.path()).unwrap().collect();
        assert_eq!(left.len(), 1, "{left:?}");
    }

    #[test]
    fn a_missing_folder_is_an_error_that_names_the_file() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("nowhere").join("badge.svg");
        let text = write_atomically(&path, b"", false).unwrap_err().to_string();
        assert!(text.contains("badge.svg` could not be written"), "{text}");
    }

    #[test]
    fn a_folder_in_the_way_is_an_error_and_stays() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("badge");
        std::fs::create_dir(&path).unwrap();
        assert!(write_atomically(&path, b"x", true).is_err());
        assert!(path.is_dir());
    }

    #[cfg(unix)]
    #[test]
    fn others_may_read_it_as_far_as_the_users_mask_allows() {
        use std::os::unix::fs::PermissionsExt;
        let folder = tempfile::tempdir().unwrap();
        let (ours, plain) = (folder.path().join("ours"), folder.path().join("plain"));
        write_atomically(&ours, b"", false).unwrap();
        std::fs::write(&plain, b"").unwrap();
        let mode = |p: &Path| std::fs::metadata(p).unwrap().permissions().mode();
        assert_eq!(mode(&ours), mode(&plain));
    }
}
