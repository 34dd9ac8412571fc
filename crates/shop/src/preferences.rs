//! What was last chosen, by key.

use crate::{Shop, ShopError};
use rusqlite::OptionalExtension;

impl Shop {
    /// What stands under `key`.
    ///
    /// # Errors
    /// The world's.
    pub fn preference(&self, key: &str) -> Result<Option<String>, ShopError> {
        self.read(|c| {
            let mut found = c.prepare_cached("SELECT value FROM preference WHERE key = ?1")?;
            Ok(found.query_row([key], |row| row.get(0)).optional()?)
        })
    }

    /// Puts `value` under `key`, or takes it away.
    ///
    /// # Errors
    /// The world's.
    pub fn set_preference(&self, key: &str, value: Option<&str>) -> Result<(), ShopError> {
        self.change(|t| {
            match value {
                Some(value) => t.execute(
                    "INSERT OR REPLACE INTO preference (key, value) VALUES (?1, ?2)",
                    [key, value],
                )?,
                None => t.execute("DELETE FROM preference WHERE key = ?1", [key])?,
            };
            Ok(())
        })
    }

    /// All keys and values, by key.
    ///
    /// # Errors
    /// The world's.
    pub fn preferences(&self) -> Result<Vec<(String, String)>, ShopError> {
        self.read(|c| {
            let mut found = c.prepare_cached("SELECT key, value FROM preference ORDER BY key")?;
            let rows = found.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?;
            Ok(rows.collect::<Result<_, _>>()?)
        })
    }
}
