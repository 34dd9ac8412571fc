//! What can go wrong, and what to do about it.

use crate::{DocumentId, Head, Holder, SettingId};
use rusqlite::ErrorCode;
use std::fmt;
use std::path::{Path, PathBuf};

/// Why something was not done. Nothing of it is half done: each call is one transaction.
///
/// Any call may meet the world: `Busy`, `DiskFull`, `Disk`, `ReadOnly`, `Damaged`, `Sqlite`. What the
/// calls say of their errors names these "the world's".
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum ShopError {
    /// Another program has the database open.
    #[error("`{path}` is in use{}", holder.as_ref().map(|h| format!(": {h}")).unwrap_or_default())]
    Locked {
        /// The database.
        path: PathBuf,
        /// Who has it, if they have said so.
        holder: Option<Holder>,
    },
    /// Another program writes to the database, and went on doing so for as long as we waited.
    #[error("`{path}` is being written to by another program")]
    Busy {
        /// The database.
        path: PathBuf,
    },
    /// A later version of this program has made or changed the database.
    #[error(
        "`{path}` was written by a later version: its schema is {found}, known here is {known}"
    )]
    Newer {
        /// The database.
        path: PathBuf,
        /// Its schema.
        found: i64,
        /// The last schema that this program knows.
        known: i64,
    },
    /// A sound SQLite file, but another program's.
    #[error("`{path}` is a database of another program")]
    NotOurs {
        /// The file.
        path: PathBuf,
    },
    /// No SQLite file, or a damaged one. It was left as it is.
    #[error("`{path}` is damaged or no database: {detail}")]
    Damaged {
        /// The file.
        path: PathBuf,
        /// What SQLite says.
        detail: String,
    },
    /// The file or its folder may not be written to.
    #[error("`{path}` may not be written to")]
    ReadOnly {
        /// The database.
        path: PathBuf,
    },
    /// The folder of the database is not there.
    #[error("folder of `{path}` is missing")]
    FolderMissing {
        /// The database.
        path: PathBuf,
    },
    /// The file to be read is not there.
    #[error("`{path}` is not there")]
    FileMissing {
        /// The file.
        path: PathBuf,
    },
    /// No room is left for the database to grow.
    #[error("no room left on the disk of `{path}`")]
    DiskFull {
        /// The database.
        path: PathBuf,
    },
    /// The disk refused to read or write.
    #[error("`{path}` could not be read or written: {detail}")]
    Disk {
        /// The file.
        path: PathBuf,
        /// What the system says.
        detail: String,
    },
    /// A file of that name is there already and was left as it is.
    #[error("`{path}` exists already and was left as it is")]
    Exists {
        /// The file.
        path: PathBuf,
    },
    /// The document was changed elsewhere meanwhile.
    #[error("document {document} was changed meanwhile: it is at revision {} now", head.revision.number)]
    HeadMoved {
        /// The document.
        document: DocumentId,
        /// What it is now.
        head: Box<Head>,
    },
    /// There is no such row.
    #[error("no such {what}: {id}")]
    Unknown {
        /// Which sort of thing.
        what: &'static str,
        /// What was asked for: a number or a name.
        id: String,
    },
    /// A name that has to be given once is taken.
    #[error("there is already a {what} of that name: `{name}`")]
    Taken {
        /// Which sort of thing.
        what: &'static str,
        /// The name.
        name: String,
    },
    /// The workshop has its document already.
    #[error("the workshop has its document already: {document}")]
    WorkshopTaken {
        /// That document.
        document: DocumentId,
    },
    /// Only the demo order can be removed.
    #[error("document {document} is not the demo order")]
    NotDemo {
        /// The document.
        document: DocumentId,
    },
    /// The setting is closed.
    #[error("setting {setting} is closed")]
    SettingClosed {
        /// The setting.
        setting: SettingId,
    },
    /// The nonce stands for something else already.
    #[error("nonce `{nonce}` was used before for something else")]
    NonceReused {
        /// The nonce.
        nonce: String,
    },
    /// An order gives back more stones than it holds.
    #[error("{wanted} of `{stone}` to be released, but only {held} are held")]
    NotHeld {
        /// Name of the stone.
        stone: String,
        /// Stones held for the order from that lot.
        held: i64,
        /// Stones to be released.
        wanted: i64,
    },
    /// A value that cannot be kept.
    #[error("`{field}` {wrong}: {value}")]
    BadValue {
        /// Name of the field.
        field: &'static str,
        /// What is wrong with it.
        wrong: &'static str,
        /// What was given.
        value: String,
    },
    /// Anything else that SQLite refuses.
    #[error("`{path}`: {source}")]
    Sqlite {
        /// The database.
        path: PathBuf,
        /// What SQLite says.
        source: rusqlite::Error,
    },
}

impl ShopError {
    /// What to do about it, as a sentence without a full stop.
    pub fn hint(&self) -> &'static str {
        match self {
            Self::Locked { .. } => "go on there, or end that program first",
            Self::Busy { .. } => "close the other program that has the file open, then try again",
            Self::Newer { .. } => {
                "install the latest version, or open a backup made by this one; the file was not touched"
            }
            Self::NotOurs { .. } => "name another file; this one was not touched",
            Self::Damaged { .. } => {
                "restore a backup; the damaged file is left where it is, so that nothing more is lost"
            }
            Self::ReadOnly { .. } => {
                "make the file and its folder writable for you, or keep the database elsewhere"
            }
            Self::FolderMissing { .. } => "make the folder, or name another",
            Self::FileMissing { .. } => "look whether the name is right and the disk is plugged in",
            Self::DiskFull { .. } => {
                "make room on the disk and do it again; everything acknowledged before is safe"
            }
            Self::Disk { .. } => {
                "look whether the disk is full, unplugged or failing, then try again; make a backup elsewhere"
            }
            Self::Exists { .. } => "name another file, or say that it may be replaced",
            Self::HeadMoved { .. } => "look at what it is now and change it from there",
            Self::Unknown { .. } => "go back to the list: it may have been removed meanwhile",
            Self::Taken { .. } => "choose another name",
            Self::WorkshopTaken { .. } => "change that document in place of making another",
            Self::NotDemo { .. } => "put the order away: it can be brought back",
            Self::SettingClosed { .. } => "begin setting anew",
            Self::NonceReused { .. } => "reload the page and do it again",
            Self::NotHeld { .. } => "release no more than is held",
            Self::BadValue { .. } => "mend the value and do it again",
            Self::Sqlite { .. } => "try again; if it comes back, make a backup and report it",
        }
    }
}

/// Trouble inside the crate: SQLite's, which does not know the file yet, or our own.
#[derive(Debug)]
pub(crate) enum Fault {
    Sql(rusqlite::Error),
    Shop(ShopError),
}

impl From<rusqlite::Error> for Fault {
    fn from(source: rusqlite::Error) -> Self {
        Self::Sql(source)
    }
}

impl From<ShopError> for Fault {
    fn from(error: ShopError) -> Self {
        Self::Shop(error)
    }
}

impl Fault {
    /// With the file it is about.
    pub(crate) fn of(self, path: &Path) -> ShopError {
        let source = match self {
            Self::Shop(error) => return error,
            Self::Sql(source) => source,
        };
        let path = path.to_owned();
        let damaged = |detail: String| ShopError::Damaged { path: path.clone(), detail };
        match &source {
            rusqlite::Error::SqliteFailure(e, text) => {
                let detail = || text.clone().unwrap_or_else(|| e.to_string());
                match e.code {
                    ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked => ShopError::Busy { path },
                    ErrorCode::NotADatabase | ErrorCode::DatabaseCorrupt => damaged(detail()),
                    ErrorCode::ReadOnly | ErrorCode::PermissionDenied => {
                        ShopError::ReadOnly { path }
                    }
                    ErrorCode::DiskFull => ShopError::DiskFull { path },
                    ErrorCode::SystemIoFailure | ErrorCode::CannotOpen => {
                        ShopError::Disk { detail: detail(), path }
                    }
                    _ => ShopError::Sqlite { path, source },
                }
            }
            // A value that our own code never writes: other hands, or a damaged page.
            rusqlite::Error::FromSqlConversionFailure(..)
            | rusqlite::Error::InvalidColumnType(..)
            | rusqlite::Error::IntegralValueOutOfRange(..) => damaged(source.to_string()),
            _ => ShopError::Sqlite { path, source },
        }
    }
}

/// Refuses an empty text, and one longer than `MOST_LETTERS`.
pub(crate) fn named(field: &'static str, value: &str) -> Result<(), ShopError> {
    const MOST_LETTERS: usize = 500;
    let wrong = if value.trim().is_empty() {
        "must not be empty"
    } else if value.chars().count() > MOST_LETTERS {
        "is longer than 500 letters"
    } else {
        return Ok(());
    };
    let value = value.chars().take(40).collect();
    Err(ShopError::BadValue { field, wrong, value })
}

/// A value that cannot be kept.
pub(crate) fn bad(
    field: &'static str,
    wrong: &'static str,
    value: &(impl fmt::Display + ?Sized),
) -> ShopError {
    ShopError::BadValue { field, wrong, value: value.to_string() }
}

/// What a question for one row gives if there is none.
pub(crate) fn unknown(what: &'static str, id: impl fmt::Display + Copy) -> Fault {
    Fault::Shop(ShopError::Unknown { what, id: id.to_string() })
}
