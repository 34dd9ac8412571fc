//! Ways to cover a zone, each as a list of changes of the document.

use crate::quoted;
use app::edit::{Change, Path};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// An arrangement as it is offered for comparing.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum Laid {
    /// As the document has it.
    AsWritten,
    /// Honeycomb, rows along the lower edge.
    Honeycomb,
    /// Honeycomb, rows along the left edge.
    HoneycombUpright,
    /// Honeycomb, turned and shifted for the most stones.
    HoneycombMost,
    /// Honeycomb, opened until it reaches across.
    HoneycombEven,
    /// Square rows along the lower edge.
    Square,
    /// Square rows, turned and shifted for the most stones.
    SquareMost,
    /// Rings.
    Rings,
    /// Rings that lie into each other where their counts agree.
    RingsNested,
    /// Scatter.
    Scatter,
}

/// Every arrangement that is offered, in the order in which it is.
pub const LAID: [Laid; 10] = [
    Laid::AsWritten,
    Laid::Honeycomb,
    Laid::HoneycombUpright,
    Laid::HoneycombMost,
    Laid::HoneycombEven,
    Laid::Square,
    Laid::SquareMost,
    Laid::Rings,
    Laid::RingsNested,
    Laid::Scatter,
];

/// Keys of a zone that belong to one arrangement or another.
const KEYS: [&str; 9] =
    ["rows", "along", "open", "steps", "centre", "start", "nested", "around_holes", "ring_holes"];

impl Laid {
    /// Its name in addresses and JSON.
    pub fn name(self) -> &'static str {
        match self {
            Laid::AsWritten => "as_written",
            Laid::Honeycomb => "honeycomb",
            Laid::HoneycombUpright => "honeycomb_upright",
            Laid::HoneycombMost => "honeycomb_most",
            Laid::HoneycombEven => "honeycomb_even",
            Laid::Square => "square",
            Laid::SquareMost => "square_most",
            Laid::Rings => "rings",
            Laid::RingsNested => "rings_nested",
            Laid::Scatter => "scatter",
        }
    }

    /// Of a name.
    pub fn named(name: &str) -> Option<Laid> {
        LAID.into_iter().find(|l| l.name() == name)
    }

    /// In a maker's words.
    pub fn words(self) -> &'static str {
        match self {
            Laid::AsWritten => "as it is",
            Laid::Honeycomb => "honeycomb, rows along the width",
            Laid::HoneycombUpright => "honeycomb, rows along the height",
            Laid::HoneycombMost => "honeycomb, turned for the most stones",
            Laid::HoneycombEven => "honeycomb, evened out",
            Laid::Square => "square rows",
            Laid::SquareMost => "square rows, turned for the most stones",
            Laid::Rings => "rings",
            Laid::RingsNested => "rings, nested",
            Laid::Scatter => "scatter",
        }
    }

    /// The arrangement as the document calls it, and the keys that go with it, as they are typed;
    /// `None` if it stays.
    fn keys(self) -> Option<(&'static str, &'static [(&'static str, &'static str)])> {
        Some(match self {
            Laid::AsWritten => return None,
            Laid::Honeycomb => ("honeycomb", &[]),
            Laid::HoneycombUpright => ("honeycomb", &[("along", "left")]),
            Laid::HoneycombMost => ("honeycomb", &[("rows", "most")]),
            Laid::HoneycombEven => ("honeycomb", &[("rows", "even")]),
            Laid::Square => ("square", &[]),
            Laid::SquareMost => ("square", &[("rows", "most")]),
            Laid::Rings => ("rings", &[]),
            Laid::RingsNested => ("rings", &[("nested", "true")]),
            Laid::Scatter => ("scatter", &[]),
        })
    }
}

/// A way to cover one zone of a piece: an arrangement and stones.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Way {
    /// The zone, by its number from 1.
    pub zone: usize,
    /// The arrangement.
    pub laid: Laid,
    /// The kind or mix; left out if the stones stay as they are.
    #[serde(default)]
    pub stones: Option<String>,
}

impl Way {
    /// Whether it is what the document says.
    pub fn is_as_written(&self) -> bool {
        self.laid == Laid::AsWritten && self.stones.is_none()
    }

    /// The changes that make a zone of piece `piece` (from 1) so. Spacing, setting and fillers stay;
    /// keys of another arrangement go, and with other stones the colouring becomes the usual one.
    pub fn changes(&self, piece: usize) -> Vec<Change> {
        let zone = Path::root().key("piece").number(piece).key("zone").number(self.zone);
        let mut changes = vec![];
        if let Some((arrangement, keys)) = self.laid.keys() {
            let kept = |key: &str| keys.iter().any(|(k, _)| *k == key);
            changes.extend(
                KEYS.into_iter().filter(|k| !kept(k)).map(|k| Change::Clear { path: zone.key(k) }),
            );
            let set = |key: &str, value: &str| Change::Set {
                path: zone.key(key),
                value: value.to_owned(),
            };
            changes.push(set("arrangement", arrangement));
            changes.extend(keys.iter().map(|(key, value)| set(key, value)));
        }
        if let Some(stones) = &self.stones {
            changes.push(Change::Clear { path: zone.key("colouring") });
            changes.push(Change::Set { path: zone.key("mix"), value: stones.clone() });
        }
        changes
    }

    /// In words, for the list of steps.
    pub fn what(&self) -> String {
        match &self.stones {
            Some(stones) => format!("{} of {}", self.laid.words(), quoted(stones)),
            None => self.laid.words().to_owned(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_arrangement_is_found_by_its_name() {
        for laid in LAID {
            assert_eq!(Laid::named(laid.name()), Some(laid));
            let json = serde_json::to_string(&laid).unwrap();
            assert_eq!(json, format!("\"{}\"", laid.name()));
        }
    }
}
