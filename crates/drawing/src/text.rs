//! Short text in a drawing: row numbers, marks of kinds, names of tiles.

use crate::Ink;
use geometry::Point;

/// A short line of text, set in the house's own face.
///
/// It is for what the house writes itself: digits, Latin letters, a few signs. Letters are put side
/// by side as they are, so text in scripts that join or run to the left belongs beside the drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// What it says.
    pub text: String,
    /// Where [`anchor`](Text::anchor) goes, mm.
    pub at: Point,
    /// Which point of it is given.
    pub anchor: Anchor,
    /// Height of its capitals, mm.
    pub height_mm: f64,
    /// How far it is turned about that point, degrees counter-clockwise.
    pub turn_deg: f64,
    /// Its colour.
    pub ink: Ink,
}

/// Which point of a line of text is given. Half the height of the capitals counts as its middle.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Anchor {
    /// The middle of its left end.
    Left,
    /// Its middle.
    #[default]
    Middle,
    /// The middle of its right end.
    Right,
}

impl Text {
    /// Upright text about its middle.
    pub fn middle(text: impl Into<String>, at: Point, height_mm: f64, ink: Ink) -> Text {
        Text { text: text.into(), at, anchor: Anchor::Middle, height_mm, turn_deg: 0.0, ink }
    }

    /// The same, by another point of it.
    #[must_use]
    pub fn anchored(self, anchor: Anchor) -> Text {
        Text { anchor, ..self }
    }

    /// The same, turned, degrees counter-clockwise.
    #[must_use]
    pub fn turned(self, turn_deg: f64) -> Text {
        Text { turn_deg, ..self }
    }
}
