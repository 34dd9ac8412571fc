//! The shelf: every kind of the workshop and every stone of the ledger, what lies there, and what
//! runs short.

use crate::needs::Needs;
use crate::{Desk, DeskError, mark};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use shop::Stock;
use std::collections::BTreeMap;

/// In which order stones are shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ShelfBy {
    /// By name.
    #[default]
    Name,
    /// The largest size first.
    Size,
    /// The most on the shelf first.
    OnHand,
    /// The fewest free first.
    Free,
    /// What runs short first.
    Short,
}

/// Which stones are wanted, and how.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ShelfAsked {
    /// Words that name, size or lot hold; empty for all.
    #[serde(default)]
    pub search: String,
    /// In which order.
    #[serde(default)]
    pub by: ShelfBy,
    /// Only what runs short.
    #[serde(default)]
    pub short: bool,
}

/// What lies on the shelf.
#[derive(Clone, Debug, Default, PartialEq, Serialize, JsonSchema)]
pub struct Shelf {
    /// Its stones.
    pub stones: Vec<ShelfStone>,
    /// How many stones there are in all, found or not.
    pub kinds: usize,
    /// How many of all run short.
    pub short: usize,
    /// Open orders of which it is not known yet what they need: they are being laid.
    pub waiting: usize,
    /// Open orders that are left out, as there are too many: those due last.
    pub left_out: u64,
}

/// One stone of the shelf, over all its lots.
#[derive(Clone, Debug, Default, PartialEq, Serialize, JsonSchema)]
pub struct ShelfStone {
    /// Its name.
    pub name: String,
    /// Letters that tell it apart where colours do not.
    pub mark: String,
    /// What the workshop's document says of it; none if only the ledger knows it.
    pub known: Option<KnownStone>,
    /// Stones there. Below zero if more went than was known of.
    pub on_hand: i64,
    /// Of these, stones kept for orders.
    pub reserved: i64,
    /// Its lots, and stones without one.
    pub lots: Vec<ShelfLot>,
    /// Below so many free stones it runs short, if the maker has said so.
    pub level: Option<i64>,
    /// What open orders still need of it.
    pub needed: i64,
    /// How many are missing, from 1; 0 if it does not run short.
    pub missing: i64,
}

/// What the workshop's document says of a stone.
#[derive(Clone, Debug, Default, PartialEq, Serialize, JsonSchema)]
pub struct KnownStone {
    /// Its number among the document's kinds, from 1.
    pub number: usize,
    /// Its size as it was written.
    pub size: String,
    /// Its mean diameter, mm.
    pub diameter_mm: f64,
    /// Its colour, `#rrggbb`.
    pub colour: String,
    /// Stones in a pack.
    pub pack: Option<u32>,
    /// Weight of one, g.
    pub weight_g: Option<f64>,
}

/// One lot of a stone.
#[derive(Clone, Debug, Default, PartialEq, Serialize, JsonSchema)]
pub struct ShelfLot {
    /// Its name; empty for stones without a lot.
    pub lot: String,
    /// Stones there.
    pub on_hand: i64,
    /// Of these, stones kept for orders.
    pub reserved: i64,
    /// What one cost when last received, as a decimal.
    pub unit_price: Option<String>,
}

impl ShelfStone {
    /// Stones that no order holds; below zero if orders hold more than lies there.
    pub fn free(&self) -> i64 {
        self.on_hand - self.reserved
    }
}

impl ShelfLot {
    /// Stones that no order holds.
    pub fn free(&self) -> i64 {
        self.on_hand - self.reserved
    }
}

/// Key of the level below which a stone runs short.
pub(crate) fn level_key(stone: &str) -> String {
    format!("level:{stone}")
}

impl Desk {
    /// What lies on the shelf.
    ///
    /// # Errors
    /// The shop's.
    pub fn shelf(&self, asked: &ShelfAsked) -> Result<Shelf, DeskError> {
        let needs = self.needs()?;
        let all = self.all_stones(&needs)?;
        let (kinds, short) = (all.len(), all.iter().filter(|s| s.missing > 0).count());
        let words: Vec<String> = asked.search.split_whitespace().map(str::to_lowercase).collect();
        let mut stones: Vec<ShelfStone> = all
            .into_iter()
            .filter(|s| (!asked.short || s.missing > 0) && words.iter().all(|w| holds(s, w)))
            .collect();
        let size = |s: &ShelfStone| s.known.as_ref().map_or(0.0, |k| k.diameter_mm);
        stones.sort_by(|a, b| {
            let by = match asked.by {
                ShelfBy::Name => std::cmp::Ordering::Equal,
                ShelfBy::Size => size(b).total_cmp(&size(a)),
                ShelfBy::OnHand => b.on_hand.cmp(&a.on_hand),
                ShelfBy::Free => a.free().cmp(&b.free()),
                ShelfBy::Short => b.missing.cmp(&a.missing),
            };
            by.then_with(|| a.name.to_lowercase().cmp(&b.name.to_lowercase()))
        });
        Ok(Shelf { stones, kinds, short, waiting: needs.waiting, left_out: needs.left_out })
    }

    /// One stone of the shelf by its name.
    ///
    /// # Errors
    /// There is none; the shop's.
    pub fn shelf_stone(&self, name: &str) -> Result<ShelfStone, DeskError> {
        let all = self.all_stones(&self.needs()?)?;
        all.into_iter().find(|s| s.name == name).ok_or(DeskError::Missing("stone"))
    }

    /// The names of all stones: those of the workshop in its order, then those that only the
    /// ledger knows.
    ///
    /// # Errors
    /// The shop's.
    pub fn stone_names(&self) -> Result<Vec<String>, DeskError> {
        let workshop = self.workshop()?;
        let mut names: Vec<String> =
            workshop.order.kinds.iter().map(|k| k.kind.name.clone()).collect();
        let more: Vec<String> =
            self.shop.stones()?.into_iter().filter(|s| !names.contains(s)).collect();
        names.extend(more);
        Ok(names)
    }

    /// Says below how many free stones a stone runs short; `None` for never.
    ///
    /// # Errors
    /// A level below zero; the shop's.
    pub fn set_level(&self, stone: &str, level: Option<i64>) -> Result<(), DeskError> {
        if level.is_some_and(|l| l < 0) {
            return Err(DeskError::unfit("a level is 0 or more", "leave it empty for none"));
        }
        let text = level.filter(|l| *l > 0).map(|l| l.to_string());
        Ok(self.shop.set_preference(&level_key(stone), text.as_deref())?)
    }

    fn all_stones(&self, needs: &Needs) -> Result<Vec<ShelfStone>, DeskError> {
        let workshop = self.workshop()?;
        let mut by_name: BTreeMap<String, Vec<Stock>> = BTreeMap::new();
        for row in self.shop.stock(true)? {
            by_name.entry(row.stone.clone()).or_default().push(row);
        }
        let levels: BTreeMap<String, String> = self.shop.preferences()?.into_iter().collect();
        let kinds = workshop.order.kinds.iter().enumerate().map(|(i, k)| {
            let known = KnownStone {
                number: i + 1,
                size: k.kind.size.clone(),
                diameter_mm: k.kind.reach_mm,
                colour: k.kind.colour.hex(),
                pack: k.pack,
                weight_g: k.weight_g,
            };
            (k.kind.name.clone(), Some(known))
        });
        let mut named: Vec<(String, Option<KnownStone>)> = kinds.collect();
        for name in self.shop.stones()? {
            if !named.iter().any(|n| n.0 == name) {
                named.push((name, None));
            }
        }
        let stones = named.into_iter().enumerate().map(|(i, (name, known))| {
            let lots = by_name.remove(&name).unwrap_or_default();
            let level = levels.get(&level_key(&name)).and_then(|l| l.parse().ok());
            stone(name, mark(i), known, lots, level, needs)
        });
        Ok(stones.collect())
    }
}

fn stone(
    name: String,
    mark: String,
    known: Option<KnownStone>,
    lots: Vec<Stock>,
    level: Option<i64>,
    needs: &Needs,
) -> ShelfStone {
    let on_hand: i64 = lots.iter().map(|l| l.on_hand).sum();
    let reserved: i64 = lots.iter().map(|l| l.reserved).sum();
    let needed = needs.of(&name);
    let missing = [needed - on_hand, reserved - on_hand, level.unwrap_or(0) - (on_hand - reserved)];
    let lots = lots
        .into_iter()
        .filter(|l| l.on_hand != 0 || l.reserved != 0)
        .map(|l| ShelfLot {
            lot: l.lot,
            on_hand: l.on_hand,
            reserved: l.reserved,
            unit_price: l.unit_price.map(|p| p.to_string()),
        })
        .collect();
    let missing = missing.into_iter().max().unwrap_or(0).max(0);
    ShelfStone { name, mark, known, on_hand, reserved, lots, level, needed, missing }
}

/// Whether name, size or a lot of a stone hold a word in small letters.
fn holds(stone: &ShelfStone, word: &str) -> bool {
    let size = stone.known.as_ref().map(|k| k.size.as_str());
    let lots = stone.lots.iter().map(|l| l.lot.as_str());
    [stone.name.as_str()]
        .into_iter()
        .chain(size)
        .chain(lots)
        .any(|t| t.to_lowercase().contains(word))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lot(on_hand: i64, reserved: i64) -> Stock {
        Stock { stone: "dew".to_owned(), lot: String::new(), on_hand, reserved, unit_price: None }
    }

    #[test]
    fn a_stone_runs_short_by_what_is_needed_held_or_wanted_at_least() {
        let missing = |on_hand, reserved, level, needed| {
            let needs = Needs::known([("dew".to_owned(), needed)]);
            stone("dew".to_owned(), mark(0), None, vec![lot(on_hand, reserved)], level, &needs)
                .missing
        };
        assert_eq!(missing(100, 0, None, 0), 0);
        assert_eq!(missing(100, 0, None, 130), 30);
        assert_eq!(missing(100, 120, None, 0), 20, "orders hold more than is there");
        assert_eq!(missing(100, 60, Some(50), 80), 10, "40 are free, 50 are wanted");
    }
}
