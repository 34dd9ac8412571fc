//! What was last chosen, by key.

use crate::open::later;
use crate::{Shop, ShopError};

impl Shop {
    /// What stands under `key`.
    ///
    /// # Errors
    /// The world's.
    pub fn preference(&self, key: &str) -> Result<Option<String>, ShopError> {
        later(self, key)
    }

    /// Puts `value` under `key`, or takes it away.
    ///
    /// # Errors
    /// The world's.
    pub fn set_preference(&self, key: &str, value: Option<&str>) -> Result<(), ShopError> {
        later(self, (key, value))
    }

    /// All keys and values, by key.
    ///
    /// # Errors
    /// The world's.
    pub fn preferences(&self) -> Result<Vec<(String, String)>, ShopError> {
        later(self, ())
    }
}
