//! What lies on the shelf, as far as a lay needs to know it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The outline of a stone. Only round stones are laid today.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Shape {
    /// Round.
    Round,
}

/// How a stone throws light back; for pictures only.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Finish {
    /// Foil-backed and faceted, the usual.
    #[default]
    Foiled,
    /// Foil-backed with a rainbow coating.
    Rainbow,
    /// No foil: the base shows through.
    Clear,
    /// Faceted metal look.
    Metallic,
    /// Smooth and opaque, like a pearl.
    Pearl,
}

/// A colour as it goes on a screen: sRGB, 8 bits a channel.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Colour(pub u8, pub u8, pub u8);

impl Colour {
    /// As `#rrggbb`.
    pub fn hex(self) -> String {
        format!("#{:02x}{:02x}{:02x}", self.0, self.1, self.2)
    }

    /// From `#rrggbb` or `#rgb`.
    pub fn from_hex(text: &str) -> Option<Colour> {
        let digits = text.strip_prefix('#')?;
        if !digits.bytes().all(|b| b.is_ascii_hexdigit()) {
            return None;
        }
        let n = u32::from_str_radix(digits, 16).ok()?;
        let byte = |shift: u32| (n >> shift) as u8;
        let double = |shift: u32| ((n >> shift) & 0xf) as u8 * 17;
        match digits.len() {
            6 => Some(Colour(byte(16), byte(8), byte(0))),
            3 => Some(Colour(double(8), double(4), double(0))),
            _ => None,
        }
    }
}

/// A kind of stone: what a maker would keep in one box.
#[derive(Clone, Debug, PartialEq)]
pub struct Kind {
    /// The maker's own name for it.
    pub name: String,
    /// Outline.
    pub shape: Shape,
    /// The size as the maker wrote it: `SS16`, `4 mm`.
    pub size: String,
    /// Diameter that no stone of the bag exceeds, mm: the upper bound of its size, or
    /// mean + 2 s if measured. Lays that are set by a sheet keep their distance by it.
    pub fit_mm: f64,
    /// Mean diameter, mm: `n` touching stones measure n · reach. Pictures and coverage go by it.
    pub reach_mm: f64,
    /// Standard deviation of the diameter, mm (taken as a quarter of the bag's range where nothing
    /// was measured; 0 if unknown).
    pub spread_mm: f64,
    /// Colour in pictures.
    pub colour: Colour,
    /// Finish in pictures.
    pub finish: Finish,
}
