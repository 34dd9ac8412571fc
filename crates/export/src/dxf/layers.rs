//! A layer for the blank and one for each kind.

use super::aci;
use lay::{Colour, Kind};

/// The layer of the blank's edges. No kind's layer has this name: each is a mark, alone or before a
/// hyphen, and no piece has so many kinds that a mark had five letters.
pub(super) const BLANK: &str = "BLANK";
/// The longest name that release 12 takes.
const LONGEST: usize = 31;

/// A layer.
pub(super) struct LayerOf {
    /// Capital letters, digits, `-` and `_`, at most 31: what every edition takes.
    pub(super) name: String,
    /// The number of its colour.
    pub(super) aci: u8,
    /// Its colour, if it stands for a stone's.
    pub(super) colour: Option<Colour>,
}

/// The layers of a piece.
pub(super) struct Layers {
    blank: LayerOf,
    kinds: Vec<LayerOf>,
}

impl Layers {
    pub(super) fn of(kinds: &[Kind]) -> Layers {
        let of_kind = |(no, kind): (usize, &Kind)| LayerOf {
            name: name(no, &kind.name),
            aci: aci::nearest(kind.colour),
            colour: Some(kind.colour),
        };
        Layers {
            blank: LayerOf { name: BLANK.to_owned(), aci: aci::FOREGROUND, colour: None },
            kinds: kinds.iter().enumerate().map(of_kind).collect(),
        }
    }

    /// The blank's first.
    pub(super) fn all(&self) -> impl Iterator<Item = &LayerOf> {
        std::iter::once(&self.blank).chain(&self.kinds)
    }

    pub(super) fn of_kind(&self, no: usize) -> &str {
        &self.kinds[no].name
    }
}

/// The mark of the kind, and what is left of its name in plain capitals. Marks differ, so names do.
fn name(no: usize, kind: &str) -> String {
    let mut name = drawing::mark(no);
    let mut gap = true;
    for c in kind.chars().map(|c| c.to_ascii_uppercase()) {
        if c.is_ascii_alphanumeric() || c == '_' {
            if gap {
                name.push('-');
            }
            name.push(c);
        }
        gap = !(c.is_ascii_alphanumeric() || c == '_');
    }
    name.truncate(LONGEST);
    name.trim_end_matches('-').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_safe_and_different() {
        let cases = [
            ("sea glass", "A-SEA-GLASS"),
            ("θάλασσα", "B"),
            ("SS16 / 4 mm, α", "C-SS16-4-MM"),
            ("a name that is much longer than any layer takes", "D-A-NAME-THAT-IS-MUCH-LONGER-TH"),
            ("lank", "E-LANK"),
        ];
        for (no, (kind, expect)) in cases.into_iter().enumerate() {
            assert_eq!(name(no, kind), expect);
        }
    }
}
