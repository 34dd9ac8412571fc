//! Numbers that JSON cannot hold, found before they would be written as `null`.

use super::Piece;

/// The first value of the piece that is not a finite number: what it is, in words.
///
/// Coordinates of regions need no look of their own: one that is not finite spoils the area.
pub(super) fn not_finite(piece: &Piece, blank_area_mm2: f64) -> Option<String> {
    let mut values = Values { found: None };
    values.look("the area of the blank", blank_area_mm2);
    for kind in &piece.kinds {
        let of = |what| format!("{what} of kind `{}`", kind.name);
        values.look_lazily(|| of("`fit_mm`"), kind.fit_mm);
        values.look_lazily(|| of("`reach_mm`"), kind.reach_mm);
        values.look_lazily(|| of("`spread_mm`"), kind.spread_mm);
    }
    for zone in &piece.zones {
        let of = |what| format!("{what} of zone `{}`", zone.name);
        values.look_lazily(|| of("`spacing_mm`"), zone.spacing_mm);
        values.look_lazily(|| of("`margin_mm`"), zone.margin_mm);
        values.look_lazily(|| of("`area_mm2`"), zone.area_mm2);
        values.look_lazily(|| of("`coverage`"), zone.coverage);
        values.look_lazily(|| of("`bare_edge`"), zone.bare_edge);
        for spot in &zone.bare_spots {
            values.look_lazily(|| of("a bare spot"), spot.u + spot.v + spot.diameter_mm);
        }
    }
    values.look("`coverage` of the piece", piece.coverage);
    for spot in &piece.bare_spots {
        values.look("a bare spot of the piece", spot.u + spot.v + spot.diameter_mm);
    }
    for stone in &piece.stones {
        let sum = stone.u + stone.v + stone.turn_deg;
        values.look_lazily(|| format!("the place of stone {}", stone.place_no), sum);
    }
    for finding in &piece.findings {
        let place = finding.place.map_or(0.0, |p| p.u + p.v);
        values.look_lazily(|| format!("the place of a finding `{}`", finding.code), place);
    }
    values.found
}

struct Values {
    found: Option<String>,
}

impl Values {
    fn look(&mut self, what: &str, value: f64) {
        self.look_lazily(|| what.to_owned(), value);
    }

    fn look_lazily(&mut self, what: impl FnOnce() -> String, value: f64) {
        if self.found.is_none() && !value.is_finite() {
            self.found = Some(what());
        }
    }
}
