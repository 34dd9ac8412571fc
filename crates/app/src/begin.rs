//! Texts to begin with: an order, a piece, a workshop.

use crate::document::VERSION;
use crate::edit::spell::quoted;
use crate::edit::{EditError, Path, outline};
use units::{Length, trimmed};

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
    /// What it is covered with, in equal parts; usually one.
    pub stones: Vec<Stones>,
}

/// What a piece is covered with.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Stones {
    /// A kind, by name.
    Kind(String),
    /// A mix, by name.
    Mix(String),
}

/// The blank of a new piece.
#[derive(Clone, Debug, PartialEq)]
pub enum NewBlank {
    /// A shape, wide and high; what the shape needs beside that is usual.
    Shape {
        /// The word of the document: `circle`.
        shape: String,
        /// Width as it was typed, with its unit or in mm; the diameter of what is round.
        width: String,
        /// Height as it was typed, where it may differ.
        height: String,
    },
    /// A file, scaled to a width, or as drawn.
    File {
        /// Its name.
        file: String,
        /// Width.
        width: Option<Length>,
    },
}

/// Bare rim of a new piece: stones that reach over an edge catch on things; common practice, no
/// source.
const RIM: &str = "0.5 mm";

/// The text of an order without pieces.
pub fn order(name: &str) -> String {
    format!(
        "# An order. Everything after a # is for people.\n\nstonelay = {VERSION}\norder    = {}\nseed     = 1\n",
        quoted(name.trim())
    )
}

/// The keys of a piece, to be added to `piece` by [`Change::Add`](crate::edit::Change::Add).
///
/// # Errors
/// Hardly ever: the shape's keys cannot be written.
pub fn piece(piece: &NewPiece) -> Result<String, EditError> {
    let blank = match &piece.blank {
        NewBlank::Shape { shape, width, height } => {
            outline(shape, width, height).map_err(|refusal| EditError {
                index: 0,
                path: Path::root().key("piece"),
                text: refusal.text,
                hint: refusal.hint,
            })?
        }
        NewBlank::File { file, width: None } => format!("{{ file = {} }}", quoted(file)),
        NewBlank::File { file, width: Some(width) } => {
            let width = quoted(&format!("{} mm", trimmed(width.mm(), 6)));
            format!("{{ file = {}, width = {width} }}", quoted(file))
        }
    };
    let mix = match piece.stones.as_slice() {
        [Stones::Kind(name) | Stones::Mix(name)] => quoted(name),
        several => {
            let part = |stones: &Stones| match stones {
                Stones::Kind(name) => format!("{{ kind = {} }}", quoted(name)),
                Stones::Mix(name) => format!("{{ mix = {} }}", quoted(name)),
            };
            format!("[{}]", several.iter().map(part).collect::<Vec<_>>().join(", "))
        }
    };
    Ok(format!(
        "name     = {}\nquantity = {}\nmargin   = {}\nblank    = {blank}\n\narrangement = {}\nmix         = {mix}\n",
        quoted(piece.name.trim()),
        piece.quantity,
        quoted(RIM),
        quoted(&piece.arrangement),
    ))
}

/// The text of a workshop's document: no kinds yet.
pub fn workshop() -> String {
    format!(
        "# What the workshop has: kinds of stone, mixes, suppliers, adhesives, how it works.\n\n\
         stonelay = {VERSION}\norder    = \"The workshop\"\n\n\
         [workshop]\nlevel = \"practised\"\n"
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::{Change, apply, check};
    use crate::fields::{Table, at};
    use crate::order::{Folder, open_draft};

    #[test]
    fn what_is_begun_with_is_a_sound_draft() {
        assert_eq!(check(&workshop()), []);
        let text = order("Say \"hello\"");
        assert_eq!(check(&text), []);
        let folder = Folder::of(std::path::Path::new("order.toml"));
        assert!(open_draft("o", text.as_bytes(), &folder).unwrap().pieces.is_empty());
    }

    #[test]
    fn a_new_piece_of_every_shape_and_arrangement_is_sound() {
        let add = |path: &str, toml: &str| Change::Add {
            path: path.parse().unwrap(),
            toml: toml.to_owned(),
        };
        let kind = |name: &str| add("kind", &format!("name = \"{name}\"\nsize = \"SS16\""));
        let shapes = Table::Blank.field("shape").unwrap().choices();
        let arrangements = at(&"piece.1.zone.1.arrangement".parse().unwrap()).unwrap().choices();
        for (shape, arrangement) in
            shapes.iter().flat_map(|s| arrangements.iter().map(move |a| (s.word, a.word)))
        {
            let new = NewPiece {
                name: "badge".to_owned(),
                quantity: 3,
                blank: NewBlank::Shape {
                    shape: shape.to_owned(),
                    width: "2 3/8\"".to_owned(),
                    height: "40".to_owned(),
                },
                arrangement: arrangement.to_owned(),
                stones: ["a", "b"].map(|n| Stones::Kind(n.to_owned())).to_vec(),
            };
            let changes = [kind("a"), kind("b"), add("piece", &piece(&new).unwrap())];
            let text = apply(&order("o"), &changes).unwrap();
            assert_eq!(check(&text), [], "{text}");
            crate::document::read("o", text.as_bytes()).unwrap();
        }
    }
}
