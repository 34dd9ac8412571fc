//! What a sheet or a screen shows: layers of shapes in millimetres.
//!
//! A [`Drawing`] is the one value every exporter receives. It is measured in millimetres, y up, in
//! the frame of whatever it shows; exporters turn it over once, on their way to the page. Nothing
//! in here knows a file format.
//!
//! | need | item |
//! |---|---|
//! | a whole picture | [`Drawing`], [`Layer`], [`Item`] |
//! | one shape | [`Shape`], [`Outline`], [`Path`] |
//! | its colours | [`Ink`], [`Paint`], [`Stroke`], [`Dash`], [`Gradient`], [`Stop`] |
//! | a number or a letter | [`Text`], [`Anchor`] |
//! | one shape drawn many times | [`Symbol`], [`Instance`] |
//! | how a piece will look | [`picture()`] |
//! | its outlines, to set by on a light table or under a projector | [`outlines()`], [`Light`], [`CHECK_SQUARE_MM`] |
//! | the letter that stands for a kind | [`mark()`] |

mod blank;
mod cut;
mod drawing;
mod mark;
mod outlines;
mod paint;
mod picture;
mod shape;
mod stone;
mod text;
mod tint;

pub use drawing::{Drawing, Instance, Item, Layer, Symbol, SymbolId};
pub use mark::mark;
pub use outlines::{CHECK_SQUARE_MM, Light, outlines};
pub use paint::{Dash, Gradient, GradientId, Ink, Paint, Span, Stop, Stroke};
pub use picture::picture;
pub use shape::{Outline, Path, Shape};
pub use text::{Anchor, Text};
