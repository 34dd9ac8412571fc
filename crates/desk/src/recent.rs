//! What was worked out last, by what it depends on.

use std::collections::VecDeque;
use std::sync::{Mutex, PoisonError};

/// So many values, the one used longest ago goes first.
pub(crate) struct Recent<K, V> {
    most: usize,
    kept: Mutex<VecDeque<(K, V)>>,
}

impl<K: PartialEq, V: Clone> Recent<K, V> {
    /// For `most` values.
    pub(crate) fn new(most: usize) -> Recent<K, V> {
        Recent { most, kept: Mutex::new(VecDeque::new()) }
    }

    /// The value of `key`: as kept, or made now. Two who ask at once may both make it.
    ///
    /// # Errors
    /// What `make` says.
    pub(crate) fn get<E>(&self, key: K, make: impl FnOnce() -> Result<V, E>) -> Result<V, E> {
        if let Some(value) = self.find(&key) {
            return Ok(value);
        }
        let value = make()?;
        let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        kept.push_back((key, value.clone()));
        while kept.len() > self.most {
            kept.pop_front();
        }
        Ok(value)
    }

    /// The value of `key`, if it is kept.
    pub(crate) fn find(&self, key: &K) -> Option<V> {
        let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        let at = kept.iter().position(|(k, _)| k == key)?;
        let entry = kept.remove(at)?;
        let value = entry.1.clone();
        kept.push_back(entry);
        Some(value)
    }
}
