//! What a stone looks like from above: one symbol for each kind and way it catches the light.

use crate::cut::{Facet, LIGHT, brilliant, stud};
use crate::tint::{BLACK, WHITE, lit, luma, mix, speckle};
use crate::{Drawing, Gradient, Ink, Outline, Paint, Path, Shape, Span, Stop, Stroke, Symbol};
use geometry::{Point, Ring};
use lay::{Colour, Finish, Kind};

/// In how many ways a kind is drawn: each turned and lit a little differently.
pub(crate) const WAYS: u64 = 16;

/// The way the stone `place_no` is drawn.
pub(crate) fn way_of(place_no: u32) -> u64 {
    ((speckle(u64::from(place_no), 3) * WAYS as f64) as u64).min(WAYS - 1)
}

/// The symbol of `kind` drawn in one of its [`WAYS`]. Its outline is exactly the unit circle.
pub(crate) fn symbol(drawing: &mut Drawing, kind: &Kind, kind_no: usize, way: u64) -> Symbol {
    let shapes = match kind.finish {
        Finish::Foiled => foiled(drawing, kind.colour, way, Coat::None),
        Finish::Rainbow => foiled(drawing, kind.colour, way, Coat::Rainbow),
        Finish::Clear => clear(drawing, kind.colour, way),
        Finish::Metallic => metallic(drawing, kind.colour, way),
        Finish::Pearl => pearl(drawing, kind.colour, way),
    };
    Symbol { name: format!("kind-{}-{}", kind_no + 1, way + 1), shapes }
}

/// The soft shadow a stone throws on its blank, towards the lower right; what has no foil lets most
/// of the light through.
pub(crate) fn shadow(drawing: &mut Drawing, clear: bool) -> Symbol {
    let centre = -Point::unit(LIGHT) * 0.13;
    let core = if clear { 0.10 } else { 0.52 };
    let stop = |offset, share| Stop { offset, ink: Ink::veil(BLACK, core * share) };
    let paint = drawing.gradient(Gradient {
        span: Span::Radial { centre, radius: 1.2, focus: centre },
        stops: vec![stop(0.0, 1.0), stop(0.70, 1.0), stop(0.85, 0.42), stop(1.0, 0.0)],
    });
    let disc = Shape::filled(Outline::circle(centre, 1.2), paint);
    let name = if clear { "shadow-clear" } else { "shadow" };
    Symbol { name: name.to_owned(), shapes: vec![disc] }
}

/// What lies on top of the glass.
#[derive(Clone, Copy, PartialEq)]
enum Coat {
    None,
    Rainbow,
}

fn turn_of(way: u64) -> f64 {
    speckle(way, 11) * std::f64::consts::FRAC_PI_4
}

/// Runs from the side of the light to the side away from it.
fn across(drawing: &mut Drawing, radius: f64, inks: &[(f64, Ink)]) -> Paint {
    let towards = Point::unit(LIGHT) * radius;
    let stops = inks.iter().map(|(offset, ink)| Stop { offset: *offset, ink: *ink }).collect();
    drawing.gradient(Gradient { span: Span::Linear { from: towards, to: -towards }, stops })
}

/// The girdle: the whole disc, darker away from the light; faces are drawn on top.
fn girdle(drawing: &mut Drawing, bright: Colour, dark: Colour) -> Shape {
    let inks = [(0.0, Ink::solid(bright)), (0.45, Ink::solid(dark)), (1.0, Ink::solid(dark))];
    let paint = across(drawing, 1.0, &inks);
    Shape::filled(Outline::circle(Point::ORIGIN, 1.0), paint)
}

/// Faces of like tint as one shape each: `tints` gives each face its ink.
fn faces(facets: &[Facet], inks: &[Ink]) -> Vec<Shape> {
    let mut shapes: Vec<(Ink, Path)> = vec![];
    for (facet, ink) in facets.iter().zip(inks).filter(|(_, ink)| ink.opacity > 0.0) {
        let ring = Ring::polygon(&facet.corners);
        match shapes.iter_mut().find(|(known, _)| known == ink) {
            Some((_, path)) => path.rings.push(ring),
            None => shapes.push((*ink, Path { rings: vec![ring], lines: vec![] })),
        }
    }
    shapes.into_iter().map(|(ink, path)| Shape::flat(path, ink)).collect()
}

/// How much light a foiled face sends up, −1..=1, in steps so that few tints are needed: light off
/// the face itself, light that went in and comes back on the far side, the pattern of bright and
/// dark by which foil answers its own facets, and a little chance.
fn brilliance(facet: &Facet, way: u64, no: usize) -> f64 {
    let towards = libm::cos(facet.azimuth - LIGHT);
    let surface = 0.34 * towards * facet.slope;
    let glow = 0.40 * (-towards).max(0.0) * facet.slope;
    // Each course of faces flashes as often round the stone as no other does.
    let flashes = [4.0, 5.0, 4.0, 3.0][facet.course as usize % 4];
    let phase = speckle(way * 8 + facet.course, 5) * std::f64::consts::TAU;
    let strength = [0.26, 0.34, 0.40, 0.42][facet.course as usize % 4];
    let pattern = strength * libm::cos(flashes * facet.azimuth + phase);
    let chance = (speckle(way * 64 + no as u64, 7) - 0.5) * 0.34;
    let mood = (speckle(way, 17) - 0.5) * 0.20;
    let light = (surface + glow + pattern + chance + mood - 0.06).clamp(-1.0, 0.84);
    (light * 8.0).round() / 8.0
}

/// A foil-backed, faceted stone.
fn foiled(drawing: &mut Drawing, colour: Colour, way: u64, coat: Coat) -> Vec<Shape> {
    let facets = brilliant(turn_of(way));
    // A pale stone would lose its facets in white: its middle tint is a shade darker.
    let body = lit(colour, -0.62 * (luma(colour) - 0.55).max(0.0));
    let ink = |(no, facet): (usize, &Facet)| {
        let light = brilliance(facet, way, no);
        let tint = lit(body, light);
        Ink::solid(if coat == Coat::Rainbow { iridescent(tint, facet, way, no) } else { tint })
    };
    let inks: Vec<Ink> = facets.iter().enumerate().map(ink).collect();
    let mut shapes = vec![girdle(drawing, lit(body, 0.35), lit(body, -0.85))];
    shapes.extend(faces(&facets, &inks));
    shapes.extend(table_light(drawing, &facets));
    shapes.extend(glints(way));
    shapes
}

/// The table of a brilliant: its edge catches the light, and a window is mirrored in it, bright
/// towards the light, with an edge across the middle.
fn table_light(drawing: &mut Drawing, facets: &[Facet]) -> Option<Shape> {
    let wedges = facets.iter().filter(|f| f.slope == 0.0);
    let corners: Vec<Point> = wedges.filter_map(|f| f.corners.get(1).copied()).collect();
    let radius = corners.first()?.norm();
    let inks = [
        (0.0, Ink::veil(WHITE, 0.62)),
        (0.40, Ink::veil(WHITE, 0.28)),
        (0.44, Ink::veil(WHITE, 0.05)),
        (0.70, Ink::veil(WHITE, 0.0)),
        (1.0, Ink::veil(BLACK, 0.20)),
    ];
    let fill = Some(across(drawing, radius, &inks));
    let edge = Paint::Flat(Ink::veil(WHITE, 0.30));
    let stroke = Some(Stroke::solid(edge, 0.025));
    Some(Shape { outline: Path::polygon(&corners).into(), fill, stroke })
}

/// Small bright spots: a sharp one towards the light on every stone, a star on some.
fn glints(way: u64) -> Vec<Shape> {
    let mut path = Path::default();
    let aside = (speckle(way, 23) - 0.5) * 1.1;
    let at = Point::unit(LIGHT + aside) * (0.58 + 0.14 * speckle(way, 29));
    path.rings.push(splinter(at, LIGHT + aside + 1.4, 0.12 + 0.09 * speckle(way, 31)));
    let far = Point::unit(LIGHT + std::f64::consts::PI - aside) * 0.68;
    path.rings.push(splinter(far, LIGHT + 1.0 + aside, 0.08));
    if speckle(way, 37) < 0.3 {
        path.rings.push(star(Point::unit(LIGHT - aside) * 0.42, 0.26));
    }
    vec![Shape::flat(path, Ink::veil(WHITE, 0.95))]
}

/// A long thin diamond.
fn splinter(at: Point, direction: f64, half_length: f64) -> Ring {
    let along = Point::unit(direction) * half_length;
    let aside = along.left() * 0.30;
    Ring::polygon(&[at + along, at + aside, at - along, at - aside])
}

/// A four-pointed star, upright, as light breaks on a lens.
fn star(at: Point, radius: f64) -> Ring {
    let corner = |i: u32| {
        let r = if i.is_multiple_of(2) { radius } else { radius * 0.14 };
        at + Point::unit(f64::from(i) * std::f64::consts::FRAC_PI_4) * r
    };
    Ring::polygon(&(0..8).map(corner).collect::<Vec<_>>())
}

/// The colours of a rainbow coat, in the order in which a thin film shows them (common practice,
/// no source).
const FILM: [Colour; 6] = [
    Colour(255, 110, 190),
    Colour(255, 190, 90),
    Colour(190, 240, 110),
    Colour(80, 225, 200),
    Colour(90, 160, 255),
    Colour(175, 110, 255),
];

/// The tint of a face under a rainbow coat: the film's colour turns with the face, and shows on
/// some sides more than on others.
fn iridescent(tint: Colour, facet: &Facet, way: u64, no: usize) -> Colour {
    let start = speckle(way, 41);
    let chance = speckle(way * 64 + no as u64, 43);
    let turns = facet.azimuth / std::f64::consts::TAU + start;
    let hue = (turns + 0.35 * facet.slope + 0.35 * chance).rem_euclid(1.0) * 6.0;
    let (low, share) = (hue.floor() as usize, hue - hue.floor());
    let film = mix(FILM[low % 6], FILM[(low + 1) % 6], (share * 2.0).round() / 2.0);
    let side = 0.5 + 0.5 * libm::cos(2.0 * facet.azimuth + start * std::f64::consts::TAU);
    mix(tint, film, 0.20 + 0.45 * side + 0.15 * chance)
}

/// A stone without foil: the base shows through, faces only veil it.
fn clear(drawing: &mut Drawing, colour: Colour, way: u64) -> Vec<Shape> {
    let facets = brilliant(turn_of(way));
    let deep = lit(colour, -0.9);
    let ink = |(no, facet): (usize, &Facet)| {
        let light = brilliance(facet, way, no);
        let strength = if light >= 0.0 { 0.75 } else { 0.30 };
        let opacity = (light.abs() * strength * 16.0).round() / 16.0;
        Ink::veil(if light >= 0.0 { WHITE } else { deep }, opacity)
    };
    let inks: Vec<Ink> = facets.iter().enumerate().map(ink).collect();
    let body =
        [(0.0, Ink::veil(lit(colour, -0.15), 0.40)), (1.0, Ink::veil(lit(colour, 0.3), 0.20))];
    let paint = across(drawing, 1.0, &body);
    let mut shapes = vec![Shape::filled(Outline::circle(Point::ORIGIN, 1.0), paint)];
    shapes.extend(faces(&facets, &inks));
    let rim = Paint::Flat(Ink::veil(deep, 0.45));
    shapes.push(Shape::stroked(Outline::circle(Point::ORIGIN, 0.98), rim, 0.04));
    shapes.extend(table_light(drawing, &facets));
    shapes.extend(glints(way));
    shapes
}

/// A stone that looks like cut metal: few broad faces, bright or dark with little between.
fn metallic(drawing: &mut Drawing, colour: Colour, way: u64) -> Vec<Shape> {
    let facets = stud(turn_of(way));
    let ink = |(no, facet): (usize, &Facet)| {
        let towards = libm::cos(facet.azimuth - LIGHT) * facet.slope;
        let mirrored = (speckle(way * 64 + no as u64, 47) - 0.5) * 0.30;
        let light = (0.72 * towards - 0.10 + mirrored).clamp(-0.95, 0.75);
        Ink::solid(lit(colour, (light * 6.0).round() / 6.0))
    };
    let inks: Vec<Ink> = facets.iter().enumerate().map(ink).collect();
    let mut shapes = vec![girdle(drawing, lit(colour, 0.3), lit(colour, -0.95))];
    shapes.extend(faces(&facets, &inks));
    // Brushed metal: the table mirrors a bright band between two dark ones.
    let shift = (speckle(way, 53) - 0.5) * 0.24;
    let tint = |light: f64| Ink::solid(lit(colour, light));
    let bands = [
        (0.0, tint(0.25)),
        (0.30 + shift, tint(-0.25)),
        (0.42 + shift, tint(0.72)),
        (0.52 + shift, tint(0.55)),
        (0.62 + shift, tint(-0.30)),
        (1.0, tint(-0.55)),
    ];
    let paint = across(drawing, 0.56, &bands);
    shapes.push(Shape::filled(Path::polygon(&facets[0].corners), paint));
    shapes
}

/// A smooth opaque dome with a soft light on it.
fn pearl(drawing: &mut Drawing, colour: Colour, way: u64) -> Vec<Shape> {
    let lean = (speckle(way, 59) - 0.5) * 0.3;
    let focus = Point::unit(LIGHT + lean) * 0.38;
    let stop = |offset, colour| Stop { offset, ink: Ink::solid(colour) };
    let paint = drawing.gradient(Gradient {
        span: Span::Radial { centre: Point::ORIGIN, radius: 1.0, focus },
        stops: vec![
            stop(0.0, lit(colour, 0.60)),
            stop(0.20, lit(colour, 0.25)),
            stop(0.48, lit(colour, -0.03)),
            stop(0.74, mix(lit(colour, -0.22), FILM[0], 0.07)),
            stop(0.91, mix(lit(colour, -0.58), FILM[4], 0.06)),
            // Light from the base comes back along the rim.
            stop(1.0, lit(colour, -0.36)),
        ],
    });
    let at = Point::unit(LIGHT + lean) * 0.42;
    let veil = |offset, opacity| Stop { offset, ink: Ink::veil(WHITE, opacity) };
    let shine = drawing.gradient(Gradient {
        span: Span::Radial { centre: at, radius: 0.26, focus: at },
        stops: vec![veil(0.0, 1.0), veil(0.35, 0.85), veil(1.0, 0.0)],
    });
    vec![
        Shape::filled(Outline::circle(Point::ORIGIN, 1.0), paint),
        Shape::filled(Outline::circle(at, 0.26), shine),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use lay::Shape as StoneShape;

    fn kind(finish: Finish) -> Kind {
        Kind {
            name: "amber".to_owned(),
            shape: StoneShape::Round,
            size: "SS16".to_owned(),
            fit_mm: 4.0,
            reach_mm: 3.9,
            spread_mm: 0.05,
            colour: Colour(230, 150, 40),
            finish,
        }
    }

    /// The farthest any shape of the symbol reaches from its middle.
    fn reach(symbol: &Symbol) -> f64 {
        let far = |shape: &Shape| {
            let half_stroke = shape.stroke.map_or(0.0, |s| s.width / 2.0);
            half_stroke
                + match &shape.outline {
                    Outline::Circle { centre, radius } => centre.norm() + radius,
                    Outline::Path(path) => path
                        .rings
                        .iter()
                        .flat_map(|r| &r.segments)
                        .map(|s| s.from.norm())
                        .fold(0.0, f64::max),
                }
        };
        symbol.shapes.iter().map(far).fold(0.0, f64::max)
    }

    #[test]
    fn every_finish_fills_the_unit_circle_and_never_leaves_it() {
        use Finish::{Clear, Foiled, Metallic, Pearl, Rainbow};
        for finish in [Foiled, Rainbow, Clear, Metallic, Pearl] {
            for way in 0..WAYS {
                let mut drawing = Drawing::new("", "", geometry::Bounds::EMPTY);
                let symbol = symbol(&mut drawing, &kind(finish), 0, way);
                assert!((reach(&symbol) - 1.0).abs() < 1e-9, "{finish:?} {way} {}", reach(&symbol));
                let first = &symbol.shapes[0].outline;
                assert_eq!(*first, Outline::circle(Point::ORIGIN, 1.0), "{finish:?}");
            }
        }
    }

    #[test]
    fn every_way_is_used() {
        let mut used = [0; WAYS as usize];
        (1..=2000).for_each(|no| used[way_of(no) as usize] += 1);
        // 125 expected; the spread of a fair draw is 11.
        assert!(used.iter().all(|n| (80..170).contains(n)), "{used:?}");
    }
}
