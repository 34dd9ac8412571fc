//! A lay as JSON, version 1: everything another program needs to check it or to go on from it.
//!
//! The format is described for strangers in `docs/lay-json.md` and by its schema,
//! `docs/lay.schema.json`.

mod finite;
mod from_lay;
mod lay_file;
mod layout;
mod region;

pub use from_lay::{JsonError, whole_hash};
pub use lay_file::{
    Arrangement, BareSpot, Blank, Chart, Colouring, Finding, Gauge, Kind, KindCount, LayFile,
    Piece, Spot, Stone, Zone,
};
pub use region::{Region, Ring, Segment};

/// The value of [`LayFile::format`].
pub const FORMAT: &str = "stonelay-lay";
/// The value of [`LayFile::version`].
pub const VERSION: u32 = 1;

/// The JSON Schema (draft 2020-12) of a [`LayFile`], as text: two spaces, a line break at the end.
pub fn schema() -> String {
    schema_of::<LayFile>()
}

/// The JSON Schema (draft 2020-12) of what is written of a `T`, as text with a line end.
pub fn schema_of<T: schemars::JsonSchema>() -> String {
    // What is written, not what could be read: members that may be null are still always there.
    let settings = schemars::generate::SchemaSettings::draft2020_12().for_serialize();
    let schema = settings.into_generator().into_root_schema_for::<T>();
    let mut text = serde_json::to_string_pretty(schema.as_value()).unwrap_or_default();
    text.push('\n');
    text
}
