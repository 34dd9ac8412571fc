//! Lengths, angles, masses, volumes, times and shares, read as a maker writes them and printed as a
//! maker reads them.
//!
//! Every quantity keeps one unit inside (millimetres, degrees, grams, minutes, a part of 1), reads from text
//! with [`FromStr`](std::str::FromStr), and says what is wrong and what would be right when it
//! cannot. This crate knows no geometry.
//!
//! | need | item |
//! |---|---|
//! | `3 mm`, `2.5cm`, `2 1/4 in`, `1/8"` | [`Length`] |
//! | `3 in x 5 in` | [`SizePair`] |
//! | `30 deg`, `1/4 turn` | [`Angle`] |
//! | `0.12 g`, `1 oz` | [`Mass`] |
//! | `27 ml`, `1 fl oz` | [`Volume`] |
//! | `1.1 g/ml` | [`Density`] |
//! | `1:1`, `100:85` | [`Ratio`] |
//! | `21 C`, `70 F` | [`Temperature`] |
//! | `9 h 40 min` | [`Span`] |
//! | `30 %`, `0.3`, `1/3` | [`Share`] |
//! | a number for people | [`trimmed`], [`grouped`] |
//! | why something could not be read | [`ReadError`] |

mod angle;
mod density;
mod error;
mod length;
mod mass;
mod number;
mod print;
mod share;
mod size_pair;
mod span;
mod temperature;
mod volume;

pub use angle::Angle;
pub use density::{Density, Ratio};
pub use error::ReadError;
pub use length::{Length, MM_PER_INCH};
pub use mass::{GRAMS_PER_OUNCE, Mass};
pub use print::{grouped, trimmed};
pub use share::Share;
pub use size_pair::SizePair;
pub use span::Span;
pub use temperature::Temperature;
pub use volume::{ML_PER_FLUID_OUNCE, ML_PER_GALLON, Volume};
