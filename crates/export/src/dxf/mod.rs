//! A lay as DXF, for machines that cut, drill and plot, and for other drawing programs.
//!
//! Written after the publisher's DXF Reference: group codes, one value a line. Units are
//! millimetres, y is up.

mod aci;
mod layers;
mod r2018;
mod tags;

use geometry::{Curve, Point, Ring};
use lay::{Piece, PieceLay, Shape, Stone};
use layers::{BLANK, Layers};
use tags::Tags;

/// Which edition of the format is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DxfEdition {
    /// Release 12, AC1009: what the oldest machines read. It has 255 colours and knows no unit; the
    /// unit stands in the header all the same, for readers that look for it.
    R12,
    /// Release 2018, AC1032: true colours, and the unit.
    R2018,
}

/// A laid piece as DXF text in millimetres: x to the right and y **up** from the lower left corner
/// of the blank's box.
///
/// The layer `BLANK` has the blank's edge and its holes: circles as circles, all else as closed
/// polylines, whose arcs are bulges, tan of a quarter of the angle. Each kind has a layer of its
/// own, named by its mark and what is left of its name in plain letters; a round stone is a circle
/// of its drawn diameter there, in the order of setting. Places are rounded to 1e-9 mm.
///
/// # Panics
/// If a stone names a kind that its piece does not have: not a lay of this piece.
pub fn dxf(piece: &Piece, lay: &PieceLay, edition: DxfEdition) -> String {
    let layers = Layers::of(&piece.kinds);
    let mut entities = Tags::new(edition);
    let corner = piece.blank.bounds().min;
    let at = |p: Point| Point::new(lay::rounded(p.x - corner.x), lay::rounded(p.y - corner.y));
    for ring in piece.blank.rings() {
        put_ring(&mut entities, ring, &at);
    }
    for stone in &lay.stones {
        put_stone(&mut entities, piece, &layers, stone, &at);
    }
    let size = piece.blank.bounds();
    let size = Point::new(lay::rounded(size.width()), lay::rounded(size.height()));
    match edition {
        DxfEdition::R12 => r12(&layers, &entities, size),
        DxfEdition::R2018 => r2018::file(&layers, &entities, size),
    }
}

/// A whole file of release 12: header, layers, shapes.
fn r12(layers: &Layers, entities: &Tags, size: Point) -> String {
    let mut out = Tags::new(DxfEdition::R12);
    put_header(&mut out, "AC1009", size);
    out.fixed("0 ENDSEC; 0 SECTION; 2 TABLES; 0 TABLE; 2 LTYPE; 70 1; 0 LTYPE; 2 CONTINUOUS; 70 0");
    out.fixed("3 Solid line; 72 65; 73 0; 40 0.0; 0 ENDTAB; 0 TABLE; 2 LAYER");
    out.int(70, layers.all().count() as i64);
    for layer in layers.all() {
        out.text(0, "LAYER");
        out.text(2, &layer.name);
        out.int(70, 0);
        out.int(62, layer.aci.into());
        out.text(6, "CONTINUOUS");
    }
    out.fixed("0 ENDTAB; 0 ENDSEC; 0 SECTION; 2 ENTITIES");
    out.append(entities);
    out.fixed("0 ENDSEC; 0 EOF");
    out.finish()
}

/// The header's variables, as far as both editions have them; the section stays open.
fn put_header(out: &mut Tags, version: &str, size: Point) {
    out.fixed("0 SECTION; 2 HEADER; 9 $ACADVER");
    out.text(1, version);
    out.fixed("9 $INSBASE; 10 0.0; 20 0.0; 30 0.0; 9 $EXTMIN; 10 0.0; 20 0.0; 30 0.0; 9 $EXTMAX");
    out.point(10, size);
    out.fixed("9 $LIMMIN; 10 0.0; 20 0.0; 9 $LIMMAX");
    out.real(10, size.x);
    out.real(20, size.y);
    // 4: millimetres; 1: metric.
    out.fixed("9 $INSUNITS; 70 4; 9 $MEASUREMENT; 70 1");
}

/// An edge of the blank.
fn put_ring(out: &mut Tags, ring: &Ring, at: &impl Fn(Point) -> Point) {
    if let Some((centre, radius)) = circle(ring) {
        return put_circle(out, BLANK, at(centre), radius);
    }
    let corners = ring.segments.iter().map(|s| (at(s.from), libm::tan(s.sweep() / 4.0)));
    out.polyline(BLANK, corners);
}

fn put_stone(
    out: &mut Tags,
    piece: &Piece,
    layers: &Layers,
    stone: &Stone,
    at: &impl Fn(Point) -> Point,
) {
    let kind = &piece.kinds[stone.kind as usize];
    let layer = layers.of_kind(stone.kind as usize);
    match kind.shape {
        Shape::Round => put_circle(out, layer, at(stone.place.point()), kind.reach_mm / 2.0),
    }
}

fn put_circle(out: &mut Tags, layer: &str, centre: Point, radius: f64) {
    out.entity("CIRCLE", "AcDbCircle", layer);
    out.point(10, centre);
    out.real(40, radius);
}

/// Centre and radius of a ring that goes once round one circle.
fn circle(ring: &Ring) -> Option<(Point, f64)> {
    let Curve::Arc { centre, radius, .. } = ring.segments.first()?.curve else { return None };
    let same = |curve: Curve| match curve {
        Curve::Line => false,
        Curve::Arc { centre: c, radius: r, .. } => c == centre && r == radius,
    };
    let sweep: f64 = ring.segments.iter().map(|s| s.sweep()).sum();
    let whole = (sweep.abs() - std::f64::consts::TAU).abs() < 1e-9;
    (whole && ring.segments.iter().all(|s| same(s.curve))).then_some((centre, radius))
}
