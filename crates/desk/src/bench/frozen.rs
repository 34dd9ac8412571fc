//! What is frozen when setting begins: everything that the bench shows, so that no later engine,
//! option or name moves a stone under a half-set piece.
//!
//! A format of its own, kept in the database for as long as pieces live: other types may change,
//! this one only by a new version beside the old.

use super::cut;
use crate::{DeskError, mark};
use app::laying::LaidPiece;
use app::plan::Plan;
use export::{PageFrame, region_path};
use lay::Finish;
use planning::glue::PieceGlue;
use planning::hours::Work;
use planning::stretches::{BenchPoint, Stretch};
use serde::{Deserialize, Serialize};

/// The version that is written.
pub const FROZEN_VERSION: u32 = 1;

/// A lay with its stretches, as it is set. Places are millimetres to the right and down from the
/// top left corner of the blank's box; a stone's place number is its index + 1.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Frozen {
    /// The version of this format.
    pub version: u32,
    /// Name and version of the program that laid it.
    pub engine: String,
    /// Name of the order.
    pub order: String,
    /// Name of the piece.
    pub piece: String,
    /// How many copies the order asked for.
    pub quantity: u32,
    /// Whose each copy is, from the first on.
    #[serde(default)]
    pub names: Vec<String>,
    /// Hash of the lay.
    pub hash: String,
    /// Width of the blank's box.
    pub width_mm: f64,
    /// Height of the blank's box.
    pub height_mm: f64,
    /// The bare thing.
    pub blank: FrozenBlank,
    /// Its zones.
    pub zones: Vec<FrozenZone>,
    /// The kinds of the piece.
    pub kinds: Vec<FrozenKind>,
    /// Its stones.
    pub stones: FrozenStones,
    /// What is glued and set in one go, in bench order.
    pub stretches: Vec<FrozenStretch>,
    /// What it is glued with.
    pub glue: FrozenGlue,
}

/// The bare thing.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FrozenBlank {
    /// Its colour, `#rrggbb`.
    pub colour: String,
    /// Its outline, as the `d` of an SVG path.
    pub path: String,
    /// Whether it can be seen through, as far as anybody said what it is made of.
    pub clear: bool,
}

/// How stones of a zone are set.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Way {
    /// Row by row.
    Rows,
    /// By the handful, kind after kind.
    Scatter,
}

impl Way {
    /// As planning calls it.
    pub fn work(self) -> Work {
        match self {
            Way::Rows => Work::Rows,
            Way::Scatter => Work::Scatter,
        }
    }
}

/// A zone.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FrozenZone {
    /// Its name.
    pub name: String,
    /// Its outline, as the `d` of an SVG path.
    pub path: String,
    /// How its stones are set.
    pub way: Way,
}

/// A kind.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FrozenKind {
    /// Its name.
    pub name: String,
    /// Its size, as the maker wrote it.
    pub size: String,
    /// Its mean diameter.
    pub drawn_mm: f64,
    /// Its colour, `#rrggbb`.
    pub colour: String,
    /// Its finish.
    pub finish: Finish,
    /// The letter that stands for it beside its colour.
    pub mark: String,
}

/// Stones as columns.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct FrozenStones {
    /// To the right, mm.
    pub right_mm: Vec<f64>,
    /// Down, mm.
    pub down_mm: Vec<f64>,
    /// Turned by, degrees.
    pub turn_deg: Vec<f64>,
    /// Index of its kind.
    pub kind: Vec<u32>,
    /// Index of its zone.
    pub zone: Vec<u32>,
    /// Row in its zone, from 1.
    pub row: Vec<u32>,
}

/// A place.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Spot {
    /// To the right, mm.
    pub right_mm: f64,
    /// Down, mm.
    pub down_mm: f64,
}

/// What is glued and set in one go.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FrozenStretch {
    /// Its number, from 1.
    pub number: u32,
    /// Index of its zone.
    pub zone: u32,
    /// Where its glue line starts.
    pub start: Spot,
    /// Where it stops.
    pub stop: Spot,
    /// How long it is, mm.
    pub line_mm: f64,
    /// In how many parts.
    pub lines: u32,
    /// How wide, mm; nothing for films and sheets.
    pub width_mm: Option<f64>,
    /// Its part of the zone's area, cm²: for films and sheets.
    pub area_cm2: f64,
    /// Minutes at the usual pace.
    pub usual_min: f64,
    /// Minutes at the slow pace.
    pub slow_min: f64,
    /// Its rows, in the order of setting.
    pub rows: Vec<FrozenRow>,
}

/// What is set between two presses.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct FrozenRow {
    /// Its row in the zone, from 1.
    pub row: u32,
    /// Its stones by place number, in the order of setting.
    pub places: Vec<u32>,
}

/// What a piece is glued with.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FrozenGlue {
    /// Name of the adhesive.
    pub name: String,
    /// Its sort.
    pub sort: String,
    /// How long it may lie open in the workshop's air, min; nothing if there is no limit.
    pub open_min: Option<f64>,
    /// What ends up on one copy by the plan, g; nothing for sheets.
    pub copy_g: Option<f64>,
    /// What to take care of.
    pub cautions: Vec<String>,
}

impl Frozen {
    /// Whose a copy is, if it is anybody's. `copy` counts from 1.
    pub fn whose(&self, copy: u32) -> Option<&str> {
        self.names.get((copy as usize).checked_sub(1)?).map(String::as_str)
    }

    /// Of a laid piece and the plan of it alone, whose lay has this hash.
    pub(crate) fn of(order: &str, laid: &LaidPiece, plan: &Plan, hash: String) -> Frozen {
        let piece = &laid.asked.piece;
        let page = piece.blank.bounds();
        let zones: Vec<FrozenZone> = piece
            .zones
            .iter()
            .map(|z| FrozenZone {
                name: z.name.clone(),
                path: region_path(&z.region, page),
                way: match Work::from(&z.arrangement) {
                    Work::Rows => Way::Rows,
                    Work::Scatter => Way::Scatter,
                },
            })
            .collect();
        let stones = stones(laid, PageFrame::of(page));
        let cut = |s: &Stretch| stretch(s, &stones, zones[s.zone_index as usize].way);
        let own = plan.stretches.first();
        let stretches = own.map(|p| p.stretches.stretches.iter().map(cut).collect());
        Frozen {
            version: FROZEN_VERSION,
            engine: plan.engine.clone(),
            order: order.to_owned(),
            piece: piece.name.clone(),
            quantity: laid.asked.quantity,
            names: laid.asked.names.clone(),
            hash,
            width_mm: page.width(),
            height_mm: page.height(),
            blank: FrozenBlank {
                colour: piece.blank_colour.hex(),
                path: region_path(&piece.blank, page),
                clear: matches!(
                    laid.asked.bench.base,
                    Some(
                        planning::glue::Base::Acrylic
                            | planning::glue::Base::Polycarbonate
                            | planning::glue::Base::Glass
                            | planning::glue::Base::Resin
                    )
                ),
            },
            kinds: piece.kinds.iter().enumerate().map(kind).collect(),
            glue: glue(plan),
            stretches: stretches.unwrap_or_default(),
            zones,
            stones,
        }
    }

    /// As bytes, to be kept.
    ///
    /// # Errors
    /// A defect of ours.
    pub fn to_bytes(&self) -> Result<Vec<u8>, DeskError> {
        serde_json::to_vec(self).map_err(|e| DeskError::Ours(format!("a lay cannot be kept: {e}")))
    }

    /// From what was kept.
    ///
    /// # Errors
    /// It was written by a later program, or is damaged.
    pub fn from_bytes(bytes: &[u8]) -> Result<Frozen, DeskError> {
        #[derive(Deserialize)]
        struct Versioned {
            version: u32,
        }
        let damaged =
            |e: serde_json::Error| DeskError::Ours(format!("a kept lay cannot be read: {e}"));
        let Versioned { version } = serde_json::from_slice(bytes).map_err(damaged)?;
        if version > FROZEN_VERSION {
            return Err(DeskError::unfit(
                "this was begun with a later version of the program",
                "open the worktop with the newer program, or close this setting there",
            ));
        }
        serde_json::from_slice(bytes).map_err(damaged)
    }

    /// Stones of a row by kind, in the order of kinds; only kinds that it has.
    pub fn kinds_of(&self, row: &FrozenRow) -> Vec<(usize, u32)> {
        self.counted(row.places.iter().copied())
    }

    /// Stones of one copy by kind; only kinds that it has.
    pub fn kinds_of_copy(&self) -> Vec<(usize, u32)> {
        self.counted(1..=self.stones.kind.len() as u32)
    }

    fn counted(&self, places: impl Iterator<Item = u32>) -> Vec<(usize, u32)> {
        let mut counts = vec![0; self.kinds.len()];
        for place in places {
            if let Some(kind) = self.kind_at(place) {
                counts[kind] += 1;
            }
        }
        counts.into_iter().enumerate().filter(|c| c.1 > 0).collect()
    }

    /// Index of the kind at a place number.
    pub fn kind_at(&self, place_no: u32) -> Option<usize> {
        let index = (place_no as usize).checked_sub(1)?;
        let kind = *self.stones.kind.get(index)? as usize;
        (kind < self.kinds.len()).then_some(kind)
    }

    /// Where a place number lies.
    pub fn spot(&self, place_no: u32) -> Option<Spot> {
        let index = (place_no as usize).checked_sub(1)?;
        let (right_mm, down_mm) =
            (self.stones.right_mm.get(index)?, self.stones.down_mm.get(index)?);
        Some(Spot { right_mm: *right_mm, down_mm: *down_mm })
    }

    /// A row by the index of its stretch and its own.
    pub fn row(&self, stretch: usize, row: usize) -> Option<(&FrozenStretch, &FrozenRow)> {
        let stretch = self.stretches.get(stretch)?;
        Some((stretch, stretch.rows.get(row)?))
    }
}

fn stones(laid: &LaidPiece, frame: PageFrame) -> FrozenStones {
    let mut stones = FrozenStones::default();
    for stone in &laid.lay.stones {
        let p = frame.page_from_drawing(stone.place.point());
        stones.right_mm.push(fine(p.x));
        stones.down_mm.push(fine(p.y));
        stones.turn_deg.push(fine(stone.place.turn_deg));
        stones.kind.push(stone.kind);
        stones.zone.push(stone.zone);
        stones.row.push(stone.row);
    }
    stones
}

fn stretch(s: &Stretch, stones: &FrozenStones, way: Way) -> FrozenStretch {
    let spot = |p: BenchPoint| Spot { right_mm: p.right_mm, down_mm: p.down_mm };
    FrozenStretch {
        number: s.number,
        zone: s.zone_index,
        start: spot(s.start),
        stop: spot(s.stop),
        line_mm: s.glue_line_mm,
        lines: s.glue_lines,
        width_mm: s.glue_width_mm,
        area_cm2: s.area_cm2,
        usual_min: s.usual_min,
        slow_min: s.slow_min,
        rows: cut::rows(&s.order, &stones.row, &stones.kind, way),
    }
}

fn kind((index, kind): (usize, &lay::Kind)) -> FrozenKind {
    FrozenKind {
        name: kind.name.clone(),
        size: kind.size.clone(),
        drawn_mm: kind.reach_mm,
        colour: kind.colour.hex(),
        finish: kind.finish,
        mark: mark(index),
    }
}

fn glue(plan: &Plan) -> FrozenGlue {
    let own = plan.glue.pieces.first();
    let need = own.and_then(|p| plan.glue.adhesives.iter().find(|a| a.adhesive == p.adhesive));
    let grams = |p: &PieceGlue| Some(p.on_copy.g).filter(|g| *g > 0.0);
    FrozenGlue {
        name: own.map(|p| p.adhesive.clone()).unwrap_or_default(),
        sort: need.map(|n| n.sort.name().to_owned()).unwrap_or_default(),
        open_min: plan.stretches.first().and_then(|s| s.stretches.open_min),
        copy_g: own.and_then(grams),
        cautions: need.map(|n| n.cautions.clone()).unwrap_or_default(),
    }
}

/// To a millionth of a millimetre: a thousand times finer than a stone is made.
fn fine(mm: f64) -> f64 {
    (mm * 1e6).round() / 1e6
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;

    /// Two stretches: rows of 3 and 2 stones, and a handful of 2.
    pub(crate) fn small() -> Frozen {
        let stone = |i: f64| (2.0 + 4.0 * i, 3.0);
        let places: Vec<(f64, f64)> = (0..7).map(|i| stone(f64::from(i))).collect();
        let kind = |name: &str, index| FrozenKind {
            name: name.to_owned(),
            size: "SS16".to_owned(),
            drawn_mm: 3.9,
            colour: "#2f6f8f".to_owned(),
            finish: Finish::Foiled,
            mark: mark(index),
        };
        let stretch = |number, rows: &[&[u32]]| FrozenStretch {
            number,
            zone: number - 1,
            start: Spot { right_mm: 2.0, down_mm: 3.0 },
            stop: Spot { right_mm: 22.0, down_mm: 3.0 },
            line_mm: 20.0,
            lines: 1,
            width_mm: Some(2.0),
            area_cm2: 0.7,
            usual_min: 1.0,
            slow_min: 1.5,
            rows: (1..).zip(rows).map(|(row, p)| FrozenRow { row, places: p.to_vec() }).collect(),
        };
        let zone =
            |name: &str, way| FrozenZone { name: name.to_owned(), path: "M0 0Z".to_owned(), way };
        Frozen {
            version: FROZEN_VERSION,
            engine: "stonelay test".to_owned(),
            order: "Lantern festival".to_owned(),
            piece: "badge".to_owned(),
            quantity: 18,
            names: vec!["Ana".to_owned()],
            hash: "abc".to_owned(),
            width_mm: 30.0,
            height_mm: 6.0,
            blank: FrozenBlank {
                colour: "#223344".to_owned(),
                path: "M0 0H30V6H0Z".to_owned(),
                clear: true,
            },
            zones: vec![zone("band", Way::Rows), zone("rest", Way::Scatter)],
            kinds: vec![kind("sea glass", 0), kind("lamp light", 1)],
            stones: FrozenStones {
                right_mm: places.iter().map(|p| p.0).collect(),
                down_mm: places.iter().map(|p| p.1).collect(),
                turn_deg: vec![0.0; 7],
                kind: vec![0, 0, 1, 0, 0, 1, 1],
                zone: vec![0, 0, 0, 0, 0, 1, 1],
                row: vec![1, 1, 1, 2, 2, 1, 1],
            },
            stretches: vec![stretch(1, &[&[1, 2, 3], &[4, 5]]), stretch(2, &[&[6, 7]])],
            glue: FrozenGlue {
                name: "clear gel".to_owned(),
                sort: "solvent gel".to_owned(),
                open_min: Some(10.0),
                copy_g: Some(0.14),
                cautions: vec!["air the room".to_owned()],
            },
        }
    }

    #[test]
    fn what_is_frozen_comes_back_as_it_was() {
        let frozen = small();
        assert_eq!(Frozen::from_bytes(&frozen.to_bytes().unwrap()).unwrap(), frozen);
    }

    #[test]
    fn a_later_version_is_refused_with_a_way_out() {
        let later = Frozen { version: FROZEN_VERSION + 1, ..small() };
        let refused = Frozen::from_bytes(&later.to_bytes().unwrap()).unwrap_err();
        assert!(refused.to_string().contains("later version"), "{refused}");
        assert!(refused.hint().is_some_and(|h| h.contains("newer program")));
    }

    #[test]
    fn stones_are_counted_by_kind() {
        let frozen = small();
        assert_eq!(frozen.kinds_of(&frozen.stretches[0].rows[0]), [(0, 2), (1, 1)]);
        assert_eq!(frozen.kinds_of_copy(), [(0, 4), (1, 3)]);
        assert_eq!(frozen.kind_at(0), None);
        assert_eq!(frozen.kind_at(8), None);
    }
}
