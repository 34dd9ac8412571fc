//! Drawings and lays as files.
//!
//! Every function here turns a finished value into bytes; none decides anything about a piece.
//! Drawings come in millimetres, y up, and are turned over once, by [`PageFrame`]. The same value
//! gives the same bytes.
//!
//! | need | item |
//! |---|---|
//! | a drawing as SVG, at true size | [`svg()`] |
//! | an outline as the path of a picture | [`region_path`] |
//! | a drawing as PNG | [`png()`], [`png_size`], [`Pixels`], [`PngError`] |
//! | stones as a table | [`csv()`] |
//! | stones as a list to read | [`positions()`] |
//! | a lay for machines and drawing programs | [`dxf()`], [`DxfEdition`] |
//! | a lay for other programs | [`json::LayFile`], [`json::schema`] |
//! | from drawing to page | [`PageFrame`] |
//! | the typeface of text in drawings | [`FACE`], [`Face`] |
//! | onto the disk, whole or not at all | [`write_atomically`], [`WriteError`] |

mod csv;
mod dxf;
mod face;
pub mod json;
mod page_frame;
mod png;
mod positions;
mod svg;
mod write;

pub use crate::csv::csv;
pub use crate::dxf::{DxfEdition, dxf};
pub use crate::png::{MOST_PIXELS_A_SIDE, Pixels, PngError, png, png_size};
pub use crate::positions::positions;
pub use crate::svg::{region_path, svg};
pub use face::{FACE, Face};
pub use page_frame::PageFrame;
pub use write::{WriteError, write_atomically};
