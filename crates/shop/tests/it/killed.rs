//! Killed.
