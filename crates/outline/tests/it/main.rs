//! The importer against shapes whose measures are known, and against bad files.

mod bad_files;
mod known_shapes;
mod painting;
mod remarks;
mod stone_side;
mod support;
