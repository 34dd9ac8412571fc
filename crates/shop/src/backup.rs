//! A copy of the database elsewhere, and back.

use crate::error::Fault;
use crate::lock::{Lock, refused};
use crate::open::{folder_of, refuse_damage, refuse_strangers};
use crate::{Opening, Shop, ShopError};
use rusqlite::backup::{Backup, StepResult};
use rusqlite::{Connection, OpenFlags};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use tempfile::NamedTempFile;

/// What a restore did.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Restored {
    /// Where the database that was there before is now, if there was one.
    pub replaced: Option<PathBuf>,
}

impl Shop {
    /// Copies the database to the file `to` while it is in use: whole or not at all, checked before
    /// the file gets its name. A file that is there is replaced only if `overwrite` is true.
    ///
    /// # Errors
    /// `Exists`, `FolderMissing`, `ReadOnly`, `DiskFull`, `Disk`, `Damaged`.
    pub fn backup(&self, to: &Path, overwrite: bool) -> Result<(), ShopError> {
        if !overwrite && to.symlink_metadata().is_ok() {
            return Err(ShopError::Exists { path: to.to_owned() });
        }
        if is_same_file(to, self.path()) {
            // Its own copy would take the place of what is being written to.
            return Err(ShopError::Exists { path: to.to_owned() });
        }
        let copy = self.read(|reader| sound_copy(reader, self.path(), to).map_err(Fault::Shop))?;
        let placed = if overwrite { copy.persist(to) } else { copy.persist_noclobber(to) };
        placed.map_err(|e| refused(to, &e.error))?;
        keep_names(to).map_err(|e| refused(to, &e))
    }

    /// A copy of the database as a file without a name, to be read from its start: whole and checked,
    /// as of [`Shop::backup`], and gone when it is closed.
    ///
    /// # Errors
    /// As for [`Shop::backup`].
    pub fn copy(&self) -> Result<fs::File, ShopError> {
        let path = self.path();
        let copy = self.read(|reader| sound_copy(reader, path, path).map_err(Fault::Shop))?;
        // The copy was written under its name by the database: it is opened anew, at its start.
        copy.reopen().map_err(|e| refused(path, &e))
    }

    /// As [`Shop::backup`], of the database `path` that another program may have open.
    ///
    /// # Errors
    /// `FileMissing`, `NotOurs`, `Newer`, and those of [`Shop::backup`].
    pub fn backup_of(path: &Path, to: &Path, overwrite: bool) -> Result<(), ShopError> {
        if !path.is_file() {
            return Err(ShopError::FileMissing { path: path.to_owned() });
        }
        if is_same_file(to, path) || (!overwrite && to.symlink_metadata().is_ok()) {
            return Err(ShopError::Exists { path: to.to_owned() });
        }
        let copy = open_backup(path)
            .and_then(|reader| sound_copy(&reader, path, to).map_err(Fault::Shop))
            .map_err(|fault| fault.of(path))?;
        let placed = if overwrite { copy.persist(to) } else { copy.persist_noclobber(to) };
        placed.map_err(|e| refused(to, &e.error))?;
        keep_names(to).map_err(|e| refused(to, &e))
    }

    /// Puts the backup `from` in the place of the database `path`, which nobody may have open. The
    /// backup is checked first (ours, sound, not newer) and stays; the database that was there stays
    /// beside it under a name with the day and time.
    ///
    /// # Errors
    /// `FileMissing`, `NotOurs`, `Damaged`, `Newer`, `Locked`, `Exists` if both are one file; the
    /// world's.
    pub fn restore(from: &Path, path: &Path, opening: &Opening) -> Result<Restored, ShopError> {
        if !from.is_file() {
            return Err(ShopError::FileMissing { path: from.to_owned() });
        }
        if !folder_of(path).is_dir() {
            return Err(ShopError::FolderMissing { path: path.to_owned() });
        }
        if is_same_file(from, path) {
            return Err(ShopError::Exists { path: path.to_owned() });
        }
        let now_ms = opening.clock.wall_ms();
        let _lock = Lock::take(path, &opening.address, now_ms)?;
        let copy = open_backup(from)
            .and_then(|backup| sound_copy(&backup, from, path).map_err(Fault::Shop))
            .map_err(|fault| fault.of(from))?;
        let replaced = set_aside(path, now_ms)?;
        copy.persist(path).map_err(|e| refused(path, &e.error))?;
        keep_names(path).map_err(|e| refused(path, &e))?;
        Ok(Restored { replaced })
    }
}

/// A backup as it lies there, refused if it is none of ours.
fn open_backup(from: &Path) -> Result<Connection, Fault> {
    let backup = Connection::open_with_flags(from, OpenFlags::SQLITE_OPEN_READ_ONLY)?;
    refuse_strangers(&backup, from)?;
    let tables: i64 =
        backup.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))?;
    if tables == 0 {
        let detail = "the file is empty".to_owned();
        return Err(ShopError::Damaged { path: from.to_owned(), detail }.into());
    }
    Ok(backup)
}

/// A copy in one file beside `place`, read through and on the disk.
fn sound_copy(
    source: &Connection,
    source_path: &Path,
    place: &Path,
) -> Result<NamedTempFile, ShopError> {
    let file = beside(place).map_err(|e| refused(place, &e))?;
    let done = (|| {
        let mut copy = Connection::open(file.path())?;
        // All in one go: what is written meanwhile waits in the write-ahead log.
        let copied = Backup::new(source, &mut copy)?.step(-1);
        // Damage met on the way is the source's, a full disk the copy's.
        match copied.map_err(|e| Fault::Sql(e).of(source_path)) {
            Ok(StepResult::Done) => {}
            Ok(_) => return Err(ShopError::Busy { path: source_path.to_owned() }.into()),
            Err(ShopError::DiskFull { .. }) => {
                return Err(ShopError::DiskFull { path: place.to_owned() }.into());
            }
            Err(other) => return Err(other.into()),
        }
        copy.pragma_update(None, "journal_mode", "DELETE")?;
        refuse_damage(&copy, source_path, "integrity_check")?;
        let lost: i64 =
            copy.query_row("SELECT count(*) FROM pragma_foreign_key_check", [], |row| row.get(0))?;
        if lost > 0 {
            let detail = format!("{lost} rows refer to rows that are not there");
            return Err(ShopError::Damaged { path: source_path.to_owned(), detail }.into());
        }
        copy.close().map_err(|(_, e)| Fault::Sql(e))
    })();
    done.map_err(|fault| fault.of(place))?;
    file.as_file().sync_all().map_err(|e| refused(place, &e))?;
    Ok(file)
}

/// An unnamed neighbour, readable as any other new file is.
fn beside(place: &Path) -> io::Result<NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(".stonelay-");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // The system takes the user's mask off this.
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    builder.tempfile_in(folder_of(place))
}

/// Gives the database at `path`, if there is one, a second name with the day and time. Its own name
/// stays until the backup takes it in one step, so that there is a database at every moment.
fn set_aside(path: &Path, now_ms: i64) -> Result<Option<PathBuf>, ShopError> {
    if path.symlink_metadata().is_err() {
        return Ok(None);
    }
    let failed = |e: io::Error| refused(path, &e);
    // What is still in the write-ahead log goes into the file. Where the database is too damaged for
    // that, the log goes along under the new name.
    if let Ok(old) = Connection::open(path) {
        drop(old.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |_| Ok(())));
    }
    let aside = free_name(path, now_ms).map_err(|fault| fault.of(path))?;
    for ending in ["-wal", "-shm"] {
        let log = with_ending(path, ending);
        if log.exists() {
            fs::rename(log, with_ending(&aside, ending)).map_err(failed)?;
        }
    }
    if fs::hard_link(path, &aside).is_err() {
        // A disk that knows no second names.
        fs::copy(path, &aside).map_err(failed)?;
    }
    Ok(Some(aside))
}

/// `shop.db` becomes `shop-replaced-2026-09-30-171500.db`, with a number if there is one already.
fn free_name(path: &Path, now_ms: i64) -> Result<PathBuf, Fault> {
    let calendar = Connection::open_in_memory()?;
    let when: String = calendar.query_row(
        "SELECT strftime('%Y-%m-%d-%H%M%S', ?1, 'unixepoch')",
        [now_ms.div_euclid(1000)],
        |row| row.get(0),
    )?;
    let stem = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    let ending = path.extension().map(|e| format!(".{}", e.to_string_lossy())).unwrap_or_default();
    let name = |n: u32| {
        let number = if n == 1 { String::new() } else { format!("-{n}") };
        path.with_file_name(format!("{stem}-replaced-{when}{number}{ending}"))
    };
    let mut n = 1;
    while name(n).symlink_metadata().is_ok() {
        n += 1;
    }
    Ok(name(n))
}

fn with_ending(path: &Path, ending: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(ending);
    name.into()
}

fn is_same_file(a: &Path, b: &Path) -> bool {
    match (a.canonicalize(), b.canonicalize()) {
        (Ok(a), Ok(b)) => a == b,
        _ => false,
    }
}

/// Puts a new name onto the disk, where the system has a call for that.
fn keep_names(path: &Path) -> io::Result<()> {
    #[cfg(unix)]
    fs::File::open(folder_of(path))?.sync_all()?;
    Ok(())
}
