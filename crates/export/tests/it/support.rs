//! A small piece with a hole, two zones and every finish, laid by hand.

use geometry::{Point, Region, Ring, Segment, shapes};
use lay::{
    Along, Arrangement, BareSpot, Chart, Colour, Colouring, EDGE_OWN, EDGE_SHARED, Finding, Finish,
    Gauge, Kind, MixPart, Piece, PieceLay, Place, Rows, Scatter, Severity, Shape, Stone, Zone,
    ZoneLay,
};

/// Away from the origin, so that a frame taken wrongly shows.
const CENTRE: Point = Point::new(31.25, -17.5);
/// Centre of the hole of 3 mm.
pub(crate) const HOLE: Point = Point::new(31.25 + 6.0, -17.5);
/// A place of the blank that no stone or shadow reaches.
pub(crate) const BARE: Point = Point::new(31.25 + 1.2, -17.5 + 3.2);
/// Colour of the blank.
pub(crate) const BLANK: Colour = Colour(0x1d, 0x2c, 0x54);

/// A blank of 20 × 12 mm with round corners, a hole, and a handful of stones.
pub(crate) fn plaque() -> (Piece, PieceLay) {
    let kinds = vec![
        kind("amber, large", "SS12", 3.2, 3.1, 0xe8a020, Finish::Foiled),
        kind("crystal \"clear\"", "2 mm", 2.1, 2.0, 0xf4f8fb, Finish::Clear),
        kind("rainbow", "2 mm", 2.1, 2.0, 0xe9eef2, Finish::Rainbow),
        kind("pearl", "2 mm", 2.1, 2.0, 0xf3e9dc, Finish::Pearl),
        kind("gold", "2 mm", 2.1, 2.0, 0xc8a045, Finish::Metallic),
    ];
    let plain = Region::new(shapes::rounded_rectangle(20.0, 12.0, 3.0).rings().to_vec());
    let blank = with_hole(&plain.expect("a ready-made outline")).moved(CENTRE);
    let rows = Rows::Locked(Along::Top);
    let left = Zone { gauge: Gauge::Fit, ..zone("left", Arrangement::Honeycomb(rows)) };
    let right = Zone {
        region: right_half(),
        mix: (1..5).map(|kind| MixPart { kind, share: 0.25, rows: 1 }).collect(),
        colouring: Colouring::Random,
        ..zone("right", Arrangement::Scatter(Scatter { ring_holes: true }))
    };
    let piece = Piece {
        name: "marshal's plaque, small".to_owned(),
        chart: Chart::Plane,
        blank,
        blank_colour: BLANK,
        kinds,
        zones: vec![left, right],
        changes: vec![],
    };
    (piece, laid())
}

fn kind(name: &str, size: &str, fit_mm: f64, reach_mm: f64, rgb: u32, finish: Finish) -> Kind {
    Kind {
        name: name.to_owned(),
        shape: Shape::Round,
        size: size.to_owned(),
        fit_mm,
        reach_mm,
        spread_mm: 0.05,
        colour: Colour((rgb >> 16) as u8, (rgb >> 8) as u8, rgb as u8),
        finish,
    }
}

/// The left half, bordering on the right one.
fn zone(name: &str, arrangement: Arrangement) -> Zone {
    Zone {
        name: name.to_owned(),
        region: half(-10.0, 0.0),
        arrangement,
        colouring: Colouring::Plain,
        mix: vec![MixPart { kind: 0, share: 1.0, rows: 1 }],
        fillers: vec![],
        spacing_mm: 0.2,
        margin_mm: 0.5,
        gauge: Gauge::Reach,
        seed: 7,
    }
}

fn half(west: f64, east: f64) -> Region {
    let at = |x: f64, y: f64| Point::new(x, y) + CENTRE;
    let corners = [at(west, -6.0), at(east, -6.0), at(east, 6.0), at(west, 6.0)];
    let border = |s: &Segment| {
        if s.from.x == CENTRE.x && s.to.x == CENTRE.x { EDGE_SHARED } else { EDGE_OWN }
    };
    let ring = Ring::polygon(&corners);
    let segments = ring.segments.iter().map(|s| s.tagged(border(s))).collect();
    Region::new(vec![Ring { segments }]).expect("a rectangle")
}

fn right_half() -> Region {
    with_hole(&half(0.0, 10.0).moved(-CENTRE)).moved(CENTRE)
}

fn with_hole(region: &Region) -> Region {
    let hole = shapes::circle(3.0).moved(HOLE - CENTRE);
    let rings = region.rings().iter().cloned();
    let rings = rings.chain(hole.rings().iter().map(Ring::reversed)).collect();
    Region::new(rings).expect("a region with a round hole")
}

fn laid() -> PieceLay {
    let stone = |x: f64, y: f64, kind: u32, zone: u32, row: u32| Stone {
        place: Place::on_plane(Point::new(x, y) + CENTRE),
        kind,
        zone,
        row,
        by_hand: false,
    };
    let third = 1.0 / 3.0;
    let stones = vec![
        stone(-7.5, 3.9, 0, 0, 1),
        stone(-4.1, 3.9, 0, 0, 1),
        stone(-5.8, 0.95, 0, 0, 2),
        stone(-7.5, -2.0, 0, 0, 3),
        stone(-4.1 + third, -2.0, 0, 0, 3),
        stone(3.0 + third, 0.1 * third, 1, 1, 1),
        stone(6.0, 3.0, 2, 1, 1),
        stone(6.0, -3.0, 3, 1, 2),
        stone(8.7, 0.0, 4, 1, 2),
    ];
    let spot = BareSpot {
        place: Place::on_plane(Point::new(1.2, 3.2) + CENTRE),
        diameter_mm: 2.25,
        takes: Some(1),
    };
    let zone = |n_rows, coverage, bare_spots| ZoneLay {
        n_rows,
        n_fillers: 0,
        coverage,
        bare_spots,
        bare_edge: 0.25,
        note: None,
    };
    let left = ZoneLay { note: Some("rows along the top".to_owned()), ..zone(3, 0.314, vec![]) };
    let finding = Finding {
        code: "bare-spot",
        severity: Severity::Note,
        zone: Some("right".to_owned()),
        place: Some(spot.place),
        measured: Some("2.25 mm".to_owned()),
        wanted: None,
        text: "a stone would go in here".to_owned(),
        hint: "set a filler".to_owned(),
    };
    PieceLay {
        chart: Chart::Plane,
        stones,
        zones: vec![left, zone(2, 0.112, vec![spot])],
        coverage: 0.25,
        bare_spots: vec![spot],
        findings: vec![finding],
    }
}
