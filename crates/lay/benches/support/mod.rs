//! The mix that scatter and hand model are measured on, and a piece to lay it on.

use geometry::shapes;
use lay::{
    Arrangement, Chart, Colour, Colouring, Finish, Gauge, Kind, MixPart, Piece, Scatter, Shape,
    Zone,
};

/// The mix of the targets: (diameter mm, share by count).
pub(crate) const MIX: [(f64, f64); 4] = [(6.4, 0.1), (4.7, 0.2), (3.9, 0.3), (2.8, 0.4)];

/// A rectangle of 3 : 2 for `n` stones of the mix, each with `each_mm2` of it.
pub(crate) fn piece(n: usize, each_mm2: f64) -> Piece {
    let height = (each_mm2 / 1.5 * n as f64).sqrt();
    let region = shapes::rectangle(1.5 * height, height);
    let kind = |&(d, _): &(f64, f64)| Kind {
        name: format!("{d} mm"),
        shape: Shape::Round,
        size: format!("{d} mm"),
        fit_mm: d,
        reach_mm: d,
        spread_mm: 0.0,
        colour: Colour(40, 120, 160),
        finish: Finish::Foiled,
    };
    let part = |(kind, m): (usize, &(f64, f64))| MixPart { kind, share: m.1, rows: 1 };
    let zone = Zone {
        name: "sign".into(),
        region: region.clone(),
        arrangement: Arrangement::Scatter(Scatter { ring_holes: true }),
        colouring: Colouring::Plain,
        mix: MIX.iter().enumerate().map(part).collect(),
        fillers: vec![],
        spacing_mm: 0.0,
        margin_mm: 0.0,
        gauge: Gauge::Reach,
        seed: 1,
    };
    Piece {
        name: "parade sign".into(),
        chart: Chart::Plane,
        blank: region,
        blank_colour: Colour(240, 240, 240),
        kinds: MIX.iter().map(kind).collect(),
        zones: vec![zone],
        changes: vec![],
    }
}
