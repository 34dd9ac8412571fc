//! Outlines at true size, to set by: on a light table under a clear blank, or thrown onto a blank.

use crate::mark::{mark, strokes};
use crate::tint::{BLACK, WHITE};
use crate::{Drawing, Ink, Instance, Item, Layer, Outline, Paint, Path, Shape, Symbol, SymbolId};
use geometry::{Bounds, Curve, Point, Region, Ring, Segment};
use lay::{Colour, Kind, Piece, PieceLay};

/// Where the outlines are looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Light {
    /// Printed, on a light table under a clear blank: dark lines on white.
    Table,
    /// From a projector: light lines on black, since black throws no light.
    Projector {
        /// Left and right changed over, for a blank that is lit from behind or by a mirror.
        mirrored: bool,
    },
}

/// The side of the square that the size is checked by, mm, from the middle of its lines.
pub const CHECK_SQUARE_MM: f64 = 100.0;
/// Bare edge of the page, and distance of the square from the blank, mm. Common practice, no source:
/// most printers leave less than this blank.
const AROUND_MM: f64 = 10.0;
/// Lines of the blank and the square, of stones, of marks, mm: fine, and still seen from an arm's
/// length. From trying, no source.
const LINES_MM: (f64, f64, f64) = (0.25, 0.18, 0.14);
/// At most so much of a small stone's radius is line.
const MOST_LINE: f64 = 0.2;
/// The circle of a stone of radius 1 that holds its mark.
const MARK_RADIUS: f64 = 0.6;

/// The outlines of blank and stones at true size, each stone with the mark of its kind, and below
/// the blank a square of [`CHECK_SQUARE_MM`] by which to check printer or projector.
///
/// Layers, from the bottom: `ground`, `blank`, `stones`, `square`. Each stone is one instance in
/// `stones`, with its `place_no` and half its [`reach_mm`](lay::Kind::reach_mm) as radius; the outer
/// edge of its line is the stone's edge. Mirrored, all is changed over about the blank's middle.
///
/// # Panics
/// If `lay` names a kind that `piece` does not have: it is not a lay of this piece.
pub fn outlines(piece: &Piece, lay: &PieceLay, light: Light) -> Drawing {
    let (ground, ink, mirrored) = match light {
        Light::Table => (WHITE, BLACK, false),
        Light::Projector { mirrored } => (BLACK, WHITE, mirrored),
    };
    let blank = piece.blank.bounds();
    let square = square_below(blank);
    let page = blank.union(square).grown(AROUND_MM);
    let mut drawing = Drawing::new(&piece.name, &description(light), page);
    let across = |p: Point| {
        if mirrored { Point::new(2.0 * blank.centre().x - p.x, p.y) } else { p }
    };

    let mut symbols: Vec<Option<SymbolId>> = vec![None; piece.kinds.len()];
    let mut stones = Vec::with_capacity(lay.stones.len());
    for (place_no, stone) in (1..).zip(&lay.stones) {
        let (no, kind) = (stone.kind as usize, &piece.kinds[stone.kind as usize]);
        let symbol = *symbols[no]
            .get_or_insert_with(|| drawing.symbol(symbol(no, kind, [ground, ink], mirrored)));
        stones.push(Item::Instance(Instance {
            symbol,
            centre: across(stone.place.point()),
            radius: kind.reach_mm / 2.0,
            turn_deg: if mirrored { -stone.place.turn_deg } else { stone.place.turn_deg },
            place_no: Some(place_no),
        }));
    }
    let line = |path: Path| {
        vec![Item::Shape(Shape::stroked(path, Paint::Flat(Ink::solid(ink)), LINES_MM.0))]
    };
    let paper = Item::Shape(Shape::flat(rectangle(page), Ink::solid(ground)));
    let edge =
        if mirrored { mirrored_path(&piece.blank, across) } else { Path::from(&piece.blank) };
    drawing.layers = vec![
        Layer::new("ground", vec![paper]),
        Layer::new("blank", line(edge)),
        Layer::new("stones", stones),
        Layer::new("square", line(rectangle(square))),
    ];
    drawing
}

fn description(light: Light) -> String {
    let what = match light {
        Light::Table => "Outlines at true size for a light table",
        Light::Projector { mirrored: false } => "Outlines for a projector",
        Light::Projector { mirrored: true } => {
            "Outlines for a projector, left and right changed over"
        }
    };
    format!("{what}. Check first: the square measures {CHECK_SQUARE_MM} mm either way.")
}

/// The square that the size is checked by, in the middle below `blank`.
fn square_below(blank: Bounds) -> Bounds {
    let top = Point::new(blank.centre().x, blank.min.y - AROUND_MM);
    let half = CHECK_SQUARE_MM / 2.0;
    Bounds::of([top + Point::new(-half, -CHECK_SQUARE_MM), top + Point::new(half, 0.0)])
}

fn rectangle(b: Bounds) -> Path {
    Path::polygon(&[b.min, Point::new(b.max.x, b.min.y), b.max, Point::new(b.min.x, b.max.y)])
}

/// A stone of a kind: its ground, its line, whose outer edge has radius 1, and its mark.
fn symbol(no: usize, kind: &Kind, [ground, ink]: [Colour; 2], mirrored: bool) -> Symbol {
    let radius = kind.reach_mm / 2.0;
    let width = |mm: f64| (mm / radius).min(MOST_LINE);
    let paint = Paint::Flat(Ink::solid(ink));
    let line = width(LINES_MM.1);
    let ring = Outline::circle(Point::ORIGIN, 1.0 - line / 2.0);
    Symbol {
        name: format!("kind-{}", no + 1),
        shapes: vec![
            Shape::flat(Outline::circle(Point::ORIGIN, 1.0), Ink::solid(ground)),
            Shape::stroked(ring, paint, line),
            Shape::stroked(strokes(&mark(no), MARK_RADIUS, mirrored), paint, width(LINES_MM.2)),
        ],
    }
}

/// The edges of a region under a reflection.
fn mirrored_path(region: &Region, across: impl Fn(Point) -> Point) -> Path {
    let flip = |s: &Segment| {
        let curve = match s.curve {
            Curve::Line => Curve::Line,
            Curve::Arc { centre, radius, ccw } => {
                Curve::Arc { centre: across(centre), radius, ccw: !ccw }
            }
        };
        Segment { from: across(s.from), to: across(s.to), curve, tag: s.tag }
    };
    let ring = |r: &Ring| Ring { segments: r.segments.iter().map(flip).collect() };
    Path { rings: region.rings().iter().map(ring).collect(), lines: vec![] }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::picture::tests::laid;

    fn stones(drawing: &Drawing) -> Vec<Instance> {
        let of = |item: &Item| match item {
            Item::Instance(instance) => Some(*instance),
            Item::Shape(_) | Item::Text(_) => None,
        };
        drawing.layers[2].items.iter().filter_map(of).collect()
    }

    #[test]
    fn every_stone_lies_in_its_place_and_mirrored_in_its_mirror_image() {
        let (piece, lay) = laid(21);
        let middle = piece.blank.bounds().centre().x;
        let plain = stones(&outlines(&piece, &lay, Light::Table));
        let turned = stones(&outlines(&piece, &lay, Light::Projector { mirrored: true }));
        assert_eq!((plain.len(), turned.len()), (21, 21));
        for ((a, b), stone) in plain.iter().zip(&turned).zip(&lay.stones) {
            let at = stone.place.point();
            assert_eq!((a.centre, a.place_no), (at, b.place_no));
            assert_eq!(b.centre, Point::new(2.0 * middle - at.x, at.y));
            assert_eq!(a.radius, piece.kinds[stone.kind as usize].reach_mm / 2.0);
        }
    }

    #[test]
    fn nothing_of_a_stone_leaves_its_edge() {
        let (piece, lay) = laid(2);
        for symbol in outlines(&piece, &lay, Light::Table).symbols {
            for shape in symbol.shapes {
                let half = shape.stroke.map_or(0.0, |s| s.width / 2.0);
                let reach = match shape.outline {
                    Outline::Circle { radius, .. } => radius,
                    Outline::Path(path) => {
                        let ends =
                            path.lines.iter().flatten().map(|s| s.from.norm().max(s.to.norm()));
                        ends.fold(0.0, f64::max)
                    }
                };
                assert!(reach + half <= 1.0 + 1e-12, "{}: {reach} and {half}", symbol.name);
            }
        }
    }

    #[test]
    fn the_square_has_its_size_and_lies_on_the_page_off_the_blank() {
        let (piece, lay) = laid(0);
        let drawing = outlines(&piece, &lay, Light::Projector { mirrored: false });
        let square = square_below(piece.blank.bounds());
        assert_eq!((square.width(), square.height()), (CHECK_SQUARE_MM, CHECK_SQUARE_MM));
        assert!(!square.meets(piece.blank.bounds()));
        assert_eq!(drawing.page, drawing.page.union(square.grown(AROUND_MM)));
    }

    #[test]
    fn a_mirrored_arc_keeps_its_circle() {
        let (piece, _) = laid(0);
        let middle = piece.blank.bounds().centre().x;
        let path = mirrored_path(&piece.blank, |p| Point::new(2.0 * middle - p.x, p.y));
        for segment in path.rings.iter().flat_map(|r| &r.segments) {
            let Curve::Arc { centre, radius, .. } = segment.curve else { continue };
            assert!((segment.point_at(0.5).distance(centre) - radius).abs() < 1e-9);
            // A circle about the blank's middle is its own mirror image.
            assert!((segment.sweep().abs() - std::f64::consts::PI).abs() < 1e-9);
        }
        let area: f64 = path.rings.iter().map(Ring::signed_area).sum();
        assert!((area + piece.blank.area()).abs() < 1e-9, "walked the other way: {area}");
    }
}
