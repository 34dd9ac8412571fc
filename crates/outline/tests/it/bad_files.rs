//! Bad files.
