//! One zone laid in every way of its arrangement: what each choice costs in stones and coverage.

use lay::{Along, Arrangement, Piece, Rings, Rows, Stopped, Watch};
use schemars::JsonSchema;
use serde::Serialize;

/// Turns and shifts tried for the most stones.
const STEPS: u32 = 2000;
/// By how much evened rows may be opened, mm.
const OPEN_MM: f64 = 0.3;

/// One way to lay a zone, and what it comes to.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Way {
    /// Which, in words.
    pub way: String,
    /// Stones.
    pub stones: usize,
    /// Area of the stones divided by the area of the zone.
    pub coverage: f64,
    /// Rows or rings.
    pub rows: u32,
    /// Diameter of the largest bare spot, mm; 0 if nothing is bare.
    pub bare_spot_mm: f64,
    /// What was turned, opened or tried, if anything.
    pub note: Option<String>,
}

/// The ways to lay rows: along the sides, turned and shifted, evened out. A round zone has no
/// second side.
pub fn of_rows(form: fn(Rows) -> Arrangement, round: bool) -> Vec<(&'static str, Arrangement)> {
    rows(form, round, STEPS, OPEN_MM)
}

fn rows(
    form: fn(Rows) -> Arrangement,
    round: bool,
    steps: u32,
    open_mm: f64,
) -> Vec<(&'static str, Arrangement)> {
    let mut ways = vec![("rows along the width", form(Rows::Locked(Along::Bottom)))];
    if !round {
        ways.push(("rows along the height", form(Rows::Locked(Along::Left))));
    }
    ways.push(("turned and shifted", form(Rows::Most { steps })));
    ways.push(("evened out", form(Rows::Even { along: Along::Bottom, open_mm })));
    ways
}

/// The ways to lay rings, with these options otherwise.
pub fn of_rings(options: Rings) -> Vec<(&'static str, Arrangement)> {
    let rings = |nested| Arrangement::Rings(Rings { nested, ..options });
    vec![("rings", rings(false)), ("rings, nested", rings(true))]
}

/// The ways to lay a zone of a piece: as the document says, then the others of its arrangement
/// with the document's other options.
pub fn of_zone(arrangement: Arrangement) -> Vec<(&'static str, Arrangement)> {
    let others = match arrangement {
        Arrangement::Honeycomb(own) => {
            let (steps, open_mm) = budget(own);
            rows(Arrangement::Honeycomb, false, steps, open_mm)
        }
        Arrangement::Square(own) => {
            let (steps, open_mm) = budget(own);
            rows(Arrangement::Square, false, steps, open_mm)
        }
        Arrangement::Rings(options) => of_rings(options),
        Arrangement::Scatter(_) => vec![],
    };
    std::iter::once(("as written", arrangement)).chain(others).collect()
}

/// How long to search and how far to open, as the document says or as usual.
fn budget(own: Rows) -> (u32, f64) {
    match own {
        Rows::Locked(_) => (STEPS, OPEN_MM),
        Rows::Most { steps } => (steps, OPEN_MM),
        Rows::Even { open_mm, .. } => (STEPS, open_mm),
    }
}

/// Lays zone `zone_idx` of `piece` in each of the ways, without fillers and changes by hand: they
/// would hide the cost.
///
/// # Errors
/// The watcher stopped it.
pub fn lay_all(
    piece: &Piece,
    zone_idx: usize,
    ways: &[(&str, Arrangement)],
    watch: &dyn Watch,
) -> Result<Vec<Way>, Stopped> {
    let lay = |(way, arrangement): &(&str, Arrangement)| {
        let mut zone = piece.zones[zone_idx].clone();
        zone.arrangement = *arrangement;
        zone.fillers.clear();
        let alone = Piece { zones: vec![zone], changes: vec![], ..piece.clone() };
        let lay = lay::lay_piece(&alone, watch)?;
        let zone = &lay.zones[0];
        Ok(Way {
            way: (*way).to_owned(),
            stones: lay.stones.len(),
            coverage: zone.coverage,
            rows: zone.n_rows,
            bare_spot_mm: zone.bare_spots.first().map_or(0.0, |s| s.diameter_mm),
            note: zone.note.clone(),
        })
    };
    ways.iter().map(lay).collect()
}
