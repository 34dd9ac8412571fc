//! The database, open.

use crate::{Clock, ShopError, SystemClock};
use std::path::{Path, PathBuf};
use std::sync::Arc;

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
    path: PathBuf,
}

impl Shop {
    /// Opens the database at `path`, or makes it if there is none (its folder must exist); brings an
    /// older one up to date.
    ///
    /// # Errors
    /// `Locked`, `Newer`, `NotOurs`, `Damaged`, `ReadOnly`, `FolderMissing`, `DiskFull`, `Busy`.
    pub fn open(path: &Path, opening: Opening) -> Result<Self, ShopError> {
        let _ = opening;
        Err(ShopError::FolderMissing { path: path.to_owned() })
    }

    /// Where the database is.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Tells whoever tries to open the database too where the pages are: the port is often known
    /// only after opening.
    ///
    /// # Errors
    /// `Disk`, if the file beside the database cannot be written.
    pub fn set_address(&self, address: &str) -> Result<(), ShopError> {
        later(self, address)
    }
}

pub(crate) fn later<A, T>(shop: &Shop, _: A) -> Result<T, ShopError> {
    Err(ShopError::FolderMissing { path: shop.path.clone() })
}
