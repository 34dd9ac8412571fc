//! The schema, version by version.
