//! The database, open: one connection that writes, several that read.

use crate::error::Fault;
use crate::lock::{Lock, refused};
use crate::{Clock, ShopError, SystemClock, schema};
use rusqlite::{Connection, OpenFlags, Transaction, TransactionBehavior};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

/// Readers kept for the next question. More are opened when more ask at once.
const READERS_KEPT: usize = 4;
/// Databases up to this size are read through when they are opened; ours, no source: it keeps the
/// start below a tenth of a second. Backups are read through at any size.
const CHECKED_BYTES: u64 = 16 << 20;

/// How to open the database.
#[derive(Clone)]
pub struct Opening {
    /// The time.
    pub clock: Arc<dyn Clock>,
    /// Where the pages will be, for whoever tries to open the database too.
    pub address: String,
    /// For how long to wait for another program that writes to the file, in milliseconds.
    pub wait_ms: u32,
}

impl Default for Opening {
    /// The machine's clocks, no address, five seconds of patience.
    fn default() -> Self {
        Self { clock: Arc::new(SystemClock), address: String::new(), wait_ms: 5000 }
    }
}

/// The database, open and held by this program. Shared by `Arc` between threads: one writes at a
/// time, several read.
pub struct Shop {
    // In the order in which they go: the writer closes last and empties the write-ahead log.
    readers: Mutex<Vec<Connection>>,
    writer: Mutex<Connection>,
    lock: Lock,
    clock: Arc<dyn Clock>,
    path: PathBuf,
    wait: Duration,
    run: i64,
}

impl Shop {
    /// Opens the database at `path`, or makes it if there is none (its folder must exist); brings an
    /// older one up to date.
    ///
    /// # Errors
    /// `Locked`, `Newer`, `NotOurs`, `Damaged`, `ReadOnly`, `FolderMissing`, `DiskFull`, `Busy`.
    pub fn open(path: &Path, opening: Opening) -> Result<Self, ShopError> {
        let Opening { clock, address, wait_ms } = opening;
        if !folder_of(path).is_dir() {
            return Err(ShopError::FolderMissing { path: path.to_owned() });
        }
        let wait = Duration::from_millis(wait_ms.into());
        let lock = Lock::take(path, &address, clock.wall_ms())?;
        let (writer, run) =
            open_writer(path, wait, clock.wall_ms()).map_err(|fault| fault.of(path))?;
        let (readers, writer) = (Mutex::new(Vec::new()), Mutex::new(writer));
        Ok(Self { readers, writer, lock, clock, path: path.to_owned(), wait, run })
    }

    /// Where the database is.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Tells whoever tries to open the database too where the pages are: the port is often known
    /// only after opening.
    ///
    /// # Errors
    /// `Disk` and its like, if the file beside the database cannot be written.
    pub fn set_address(&self, address: &str) -> Result<(), ShopError> {
        self.lock.say(address).map_err(|e| refused(&self.path, &e))
    }

    pub(crate) fn wall_ms(&self) -> i64 {
        self.clock.wall_ms()
    }

    pub(crate) fn monotonic_ms(&self) -> i64 {
        self.clock.monotonic_ms()
    }

    /// Number of this opening.
    pub(crate) fn run(&self) -> i64 {
        self.run
    }

    /// One transaction that writes: on the disk when this returns, or not at all.
    pub(crate) fn change<T>(
        &self,
        work: impl FnOnce(&Transaction<'_>) -> Result<T, Fault>,
    ) -> Result<T, ShopError> {
        let mut writer = held(&self.writer);
        let done = (|| {
            let transaction = writer.transaction_with_behavior(TransactionBehavior::Immediate)?;
            let value = work(&transaction)?;
            transaction.commit()?;
            Ok(value)
        })();
        done.map_err(|fault: Fault| fault.of(&self.path))
    }

    /// Questions that see one state of the database, whatever is written meanwhile.
    pub(crate) fn read<T>(
        &self,
        work: impl FnOnce(&Connection) -> Result<T, Fault>,
    ) -> Result<T, ShopError> {
        let kept = held(&self.readers).pop();
        let done = (|| {
            let reader = match kept {
                Some(reader) => reader,
                None => open_reader(&self.path, self.wait)?,
            };
            let snapshot = reader.unchecked_transaction()?;
            let value = work(&snapshot)?;
            snapshot.finish()?;
            let mut readers = held(&self.readers);
            if readers.len() < READERS_KEPT {
                readers.push(reader);
            }
            Ok(value)
        })();
        done.map_err(|fault: Fault| fault.of(&self.path))
    }
}

/// A panic elsewhere has rolled its transaction back: what the lock guards is sound.
fn held<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

/// The folder that a file is in.
pub(crate) fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

fn open_writer(path: &Path, wait: Duration, now_ms: i64) -> Result<(Connection, i64), Fault> {
    let bytes = path.metadata().map_or(0, |m| m.len());
    let mut writer = Connection::open(path)?;
    writer.busy_timeout(wait)?;
    refuse_strangers(&writer, path)?;
    if bytes > 0 && bytes <= CHECKED_BYTES {
        refuse_damage(&writer, path, "quick_check")?;
    }
    let mode: String =
        writer.pragma_update_and_check(None, "journal_mode", "WAL", |row| row.get(0))?;
    if mode != "wal" {
        let detail = "no write-ahead log can be kept there".to_owned();
        return Err(ShopError::Disk { path: path.to_owned(), detail }.into());
    }
    writer.pragma_update(None, "synchronous", "FULL")?;
    writer.pragma_update(None, "foreign_keys", true)?;
    writer.pragma_update(None, "trusted_schema", false)?;
    writer.set_prepared_statement_cache_capacity(64);
    schema::bring_up_to_date(&mut writer)?;
    writer.execute("INSERT INTO run (begun_ms) VALUES (?1)", [now_ms])?;
    let run = writer.last_insert_rowid();
    Ok((writer, run))
}

fn open_reader(path: &Path, wait: Duration) -> Result<Connection, Fault> {
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let reader = Connection::open_with_flags(path, flags)?;
    reader.busy_timeout(wait)?;
    reader.set_prepared_statement_cache_capacity(64);
    Ok(reader)
}

/// Refuses another program's database, and one of a later version.
pub(crate) fn refuse_strangers(connection: &Connection, path: &Path) -> Result<(), Fault> {
    let found = schema::version(connection)?;
    let ours: i64 = connection.pragma_query_value(None, "application_id", |row| row.get(0))?;
    let tables: i64 =
        connection.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))?;
    let empty = found == 0 && ours == 0 && tables == 0;
    if !empty && ours != schema::APPLICATION_ID {
        return Err(ShopError::NotOurs { path: path.to_owned() }.into());
    }
    if found > schema::KNOWN {
        let known = schema::KNOWN;
        return Err(ShopError::Newer { path: path.to_owned(), found, known }.into());
    }
    Ok(())
}

/// Refuses a database that SQLite's `quick_check` or `integrity_check` finds fault with.
pub(crate) fn refuse_damage(
    connection: &Connection,
    path: &Path,
    check: &str,
) -> Result<(), Fault> {
    let detail: String =
        connection.query_row(&format!("PRAGMA {check}(1)"), [], |row| row.get(0))?;
    if detail == "ok" {
        return Ok(());
    }
    Err(ShopError::Damaged { path: path.to_owned(), detail }.into())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Change, DocumentId, Sort};

    #[test]
    fn a_full_disk_is_a_clear_error_and_nothing_acknowledged_is_lost() {
        let folder = tempfile::tempdir().unwrap();
        let shop = Shop::open(&folder.path().join("shop.db"), Opening::default()).unwrap();
        let text = "x".repeat(5000);
        let change = |name| Change { name, text: &text, ..Change::default() };
        let create = |name| shop.create(Sort::Order, &change(name), false);
        create("first").unwrap();
        let most_pages = |n: i64| {
            held(&shop.writer).pragma_update(None, "max_page_count", n).unwrap();
        };
        most_pages(1); // as many as there are: it cannot be made smaller
        let mut made = 1;
        let refused = loop {
            match create("next") {
                Ok(_) => made += 1,
                Err(error) => break error,
            }
        };
        assert!(matches!(refused, ShopError::DiskFull { .. }), "{refused:?}");
        assert!(refused.to_string().contains("no room left"), "{refused}");
        assert_eq!(shop.count_documents(Sort::Order, false).unwrap(), made);
        assert_eq!(shop.head(DocumentId(1)).unwrap().revision.text, text);
        most_pages(100_000);
        create("after").unwrap();
        assert_eq!(shop.count_documents(Sort::Order, false).unwrap(), made + 1);
        refuse_damage(&held(&shop.writer), shop.path(), "integrity_check").unwrap();
    }
}
