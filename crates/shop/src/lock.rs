//! Who has the database: a locked file beside it that says so.

use std::fmt;

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
