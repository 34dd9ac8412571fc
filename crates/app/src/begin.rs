//! Texts to begin with: an order, a piece, a workshop.

use units::Length;

/// A new piece, as a maker describes it in a minute.
#[derive(Clone, Debug, PartialEq)]
pub struct NewPiece {
    /// Its name.
    pub name: String,
    /// How many are made.
    pub quantity: u32,
    /// Its blank.
    pub blank: NewBlank,
    /// `honeycomb`, `square`, `rings` or `scatter`.
    pub arrangement: String,
    /// Names of the kinds or mixes it is covered with, all in equal parts; usually one.
    pub stones: Vec<String>,
}

/// The blank of a new piece.
#[derive(Clone, Debug, PartialEq)]
pub enum NewBlank {
    /// A shape, wide and high; what the shape needs beside that is usual.
    Shape {
        /// The word of the document: `circle`.
        shape: String,
        /// Width; the diameter of what is round.
        width: Length,
        /// Height, where it may differ.
        height: Length,
    },
    /// A file, scaled to a width, or as drawn.
    File {
        /// Its name.
        file: String,
        /// Width.
        width: Option<Length>,
    },
}

/// The text of an order without pieces.
pub fn order(name: &str) -> String {
    let _ = name;
    String::new()
}

/// The keys of a piece, to be added to `piece` by [`Change::Add`](crate::edit::Change::Add).
pub fn piece(piece: &NewPiece) -> String {
    let _ = piece;
    String::new()
}

/// The text of a workshop's document: no kinds yet.
pub fn workshop() -> String {
    String::new()
}
