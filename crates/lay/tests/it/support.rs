//! Small pieces to lay.

use geometry::Region;
use lay::{
    Arrangement, Chart, Colour, Colouring, Finish, Gauge, Kind, MixPart, Piece, PieceLay, Shape,
    Unwatched, Zone,
};

/// A kind of stone with this mean and largest diameter, mm.
pub(crate) fn kind(reach_mm: f64, fit_mm: f64) -> Kind {
    Kind {
        name: format!("stone of {reach_mm} mm"),
        shape: Shape::Round,
        size: format!("{reach_mm} mm"),
        fit_mm,
        reach_mm,
        spread_mm: (fit_mm - reach_mm) / 2.0,
        colour: Colour(40, 120, 160),
        finish: Finish::Foiled,
    }
}

/// A zone with the first kinds of its piece at these shares.
pub(crate) fn zone(region: Region, arrangement: Arrangement, shares: &[f64]) -> Zone {
    let part = |(kind, &share): (usize, &f64)| MixPart { kind, share, rows: 1 };
    Zone {
        name: "all".into(),
        region,
        arrangement,
        colouring: Colouring::Plain,
        mix: shares.iter().enumerate().map(part).collect(),
        fillers: vec![],
        spacing_mm: 0.0,
        margin_mm: 0.0,
        gauge: Gauge::Reach,
        seed: 1,
    }
}

/// A piece whose blank is its first zone.
pub(crate) fn piece(kinds: Vec<Kind>, zones: Vec<Zone>) -> Piece {
    Piece {
        name: "test".into(),
        chart: Chart::Plane,
        blank: zones[0].region.clone(),
        blank_colour: Colour(240, 240, 240),
        kinds,
        zones,
        changes: vec![],
    }
}

/// Lays it, unwatched.
pub(crate) fn lay(piece: &Piece) -> PieceLay {
    lay::lay_piece(piece, &Unwatched).unwrap()
}
