//! Who has the database: a locked file beside it that says so.

use crate::ShopError;
use std::fmt;
use std::fs::{File, OpenOptions, TryLockError};
use std::io::{ErrorKind, Read, Seek, Write};
use std::path::Path;

/// The program that has the database open.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Holder {
    /// Number of its process.
    pub pid: u32,
    /// Where its pages are, such as `http://127.0.0.1:7171`; empty if it serves none (yet).
    pub address: String,
    /// When it opened the database, milliseconds since 1970 in UTC.
    pub since_ms: i64,
}

impl fmt::Display for Holder {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "process {}", self.pid)?;
        if !self.address.is_empty() {
            write!(f, " at {}", self.address)?;
        }
        Ok(())
    }
}

/// The lock, held as long as this lives. The system gives it up when a process dies, however that
/// comes about; the file stays and means nothing by itself.
pub(crate) struct Lock {
    file: File,
    since_ms: i64,
}

impl Lock {
    /// Takes the lock of the database `path`, or says who has it.
    pub(crate) fn take(path: &Path, address: &str, since_ms: i64) -> Result<Self, ShopError> {
        let mut beside = path.as_os_str().to_owned();
        beside.push(".lock");
        let open =
            OpenOptions::new().read(true).write(true).create(true).truncate(false).open(beside);
        let mut file = open.map_err(|e| refused(path, &e))?;
        match file.try_lock() {
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => {
                return Err(ShopError::Locked { path: path.to_owned(), holder: read(&mut file) });
            }
            Err(TryLockError::Error(e)) => return Err(refused(path, &e)),
        }
        let lock = Self { file, since_ms };
        lock.say(address).map_err(|e| refused(path, &e))?;
        Ok(lock)
    }

    /// Writes who has the lock.
    pub(crate) fn say(&self, address: &str) -> std::io::Result<()> {
        let mut file = &self.file;
        let text = format!("{}\n{}\n{}\n", std::process::id(), self.since_ms, address);
        file.rewind()?;
        file.set_len(0)?;
        file.write_all(text.as_bytes())
    }
}

impl Drop for Lock {
    /// Closing the file is not enough: a process that is just being started has it open too until
    /// it runs its own program, and would hold the lock for that long.
    fn drop(&mut self) {
        // If this fails the file is closed a moment later all the same.
        drop(self.file.unlock());
    }
}

/// Who has it, as they said; none if they have not said it whole yet.
fn read(file: &mut File) -> Option<Holder> {
    let mut text = String::new();
    file.read_to_string(&mut text).ok()?;
    let mut lines = text.lines();
    let (pid, since_ms) = (lines.next()?.parse().ok()?, lines.next()?.parse().ok()?);
    Some(Holder { pid, since_ms, address: lines.next()?.to_owned() })
}

/// What the system says of a file, in our words.
pub(crate) fn refused(path: &Path, e: &std::io::Error) -> ShopError {
    let path = path.to_owned();
    match e.kind() {
        ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => ShopError::ReadOnly { path },
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => ShopError::DiskFull { path },
        ErrorKind::NotFound => ShopError::FolderMissing { path },
        ErrorKind::AlreadyExists => ShopError::Exists { path },
        _ => ShopError::Disk { path, detail: e.to_string() },
    }
}
