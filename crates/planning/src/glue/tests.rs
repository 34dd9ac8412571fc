//! Laws of glue.
