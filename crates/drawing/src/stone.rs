//! What a stone looks like from above: one symbol for each kind and way it catches the light.

use crate::cut::{Facet, LIGHT, brilliant, stud};
use crate::tint::{BLACK, WHITE, lit, luma, mix, speckle};
use crate::{Drawing, Gradient, Ink, Outline, Paint, Path, Shape, Span, Stop, Symbol};
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

/// The soft shadow a stone throws on its blank, towards the lower right.
pub(crate) fn shadow(drawing: &mut Drawing) -> Symbol {
    let centre = -Point::unit(LIGHT) * 0.13;
    let stop = |offset, opacity| Stop { offset, ink: Ink::veil(BLACK, opacity) };
    let paint = drawing.gradient(Gradient {
        span: Span::Radial { centre, radius: 1.2, focus: centre },
        stops: vec![stop(0.0, 0.5), stop(0.72, 0.5), stop(0.87, 0.2), stop(1.0, 0.0)],
    });
    let disc = Shape::filled(Outline::circle(centre, 1.2), paint);
    Symbol { name: "shadow".to_owned(), shapes: vec![disc] }
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
    for (facet, ink) in facets.iter().zip(inks) {
        let ring = Ring::polygon(&facet.corners);
        match shapes.iter_mut().find(|(known, _)| known == ink) {
            Some((_, path)) => path.rings.push(ring),
            None => shapes.push((*ink, Path { rings: vec![ring], lines: vec![] })),
        }
    }
    shapes.into_iter().map(|(ink, path)| Shape::flat(path, ink)).collect()
}

/// How much light a foiled face sends up, −1..=1, in steps so that few tints are needed: light off
/// the face itself, light that went in and comes back on the far side, and what the foil happens
/// to mirror.
fn brilliance(facet: &Facet, way: u64, no: usize) -> f64 {
    let towards = libm::cos(facet.azimuth - LIGHT);
    let surface = 0.42 * towards * facet.slope;
    let glow = 0.42 * (-towards).max(0.0) * facet.slope;
    let mirrored = (speckle(way * 64 + no as u64, 5) - 0.5) * (0.62 + 0.35 * facet.slope);
    let mood = (speckle(way, 17) - 0.5) * 0.22;
    let light = (surface + glow + mirrored + mood).clamp(-0.92, 0.80);
    (light * 6.0).round() / 6.0
}

/// A foil-backed, faceted stone.
fn foiled(drawing: &mut Drawing, colour: Colour, way: u64, coat: Coat) -> Vec<Shape> {
    let facets = brilliant(turn_of(way));
    // A pale stone would lose its facets in white: its middle tint is a shade darker.
    let body = lit(colour, -0.42 * (luma(colour) - 0.55).max(0.0));
    let ink = |(no, facet): (usize, &Facet)| {
        let light = brilliance(facet, way, no);
        let tint = lit(body, light);
        Ink::solid(if coat == Coat::Rainbow { iridescent(tint, facet, way, no) } else { tint })
    };
    let inks: Vec<Ink> = facets.iter().enumerate().map(ink).collect();
    let mut shapes = vec![girdle(drawing, lit(body, 0.25), lit(body, -0.95))];
    shapes.extend(faces(&facets, &inks));
    shapes.push(table_light(drawing, 0.5, 0.55));
    shapes.extend(glints(way));
    shapes
}

/// A sheen over the table, strongest towards the light.
fn table_light(drawing: &mut Drawing, radius: f64, strength: f64) -> Shape {
    let inks = [
        (0.0, Ink::veil(WHITE, strength)),
        (0.5, Ink::veil(WHITE, strength * 0.25)),
        (0.75, Ink::veil(WHITE, 0.0)),
        (1.0, Ink::veil(BLACK, 0.16)),
    ];
    let paint = across(drawing, radius, &inks);
    Shape::filled(Outline::circle(Point::ORIGIN, radius * 0.93), paint)
}

/// Small bright spots: a sharp one towards the light on every stone, a star on some.
fn glints(way: u64) -> Vec<Shape> {
    let mut path = Path::default();
    let aside = (speckle(way, 23) - 0.5) * 0.9;
    let at = Point::unit(LIGHT + aside) * (0.52 + 0.14 * speckle(way, 29));
    path.rings.push(splinter(at, LIGHT + aside + 1.2, 0.15 + 0.07 * speckle(way, 31)));
    let far = Point::unit(LIGHT + std::f64::consts::PI - aside) * 0.66;
    path.rings.push(splinter(far, LIGHT + 1.0 + aside, 0.09));
    let mut shapes = vec![Shape::flat(path, Ink::veil(WHITE, 0.92))];
    if speckle(way, 37) < 0.4 {
        let at = Point::unit(LIGHT - aside) * 0.36;
        shapes.push(Shape::flat(
            Path { rings: vec![star(at, 0.30)], lines: vec![] },
            Ink::solid(WHITE),
        ));
    }
    shapes
}

/// A long thin diamond.
fn splinter(at: Point, direction: f64, half_length: f64) -> Ring {
    let along = Point::unit(direction) * half_length;
    let aside = along.left() * 0.42;
    Ring::polygon(&[at + along, at + aside, at - along, at - aside])
}

/// A four-pointed star, upright, as light breaks on a lens.
fn star(at: Point, radius: f64) -> Ring {
    let corner = |i: u32| {
        let r = if i.is_multiple_of(2) { radius } else { radius * 0.17 };
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

fn iridescent(tint: Colour, facet: &Facet, way: u64, no: usize) -> Colour {
    let turns = facet.azimuth / std::f64::consts::TAU + speckle(way, 41) * 0.35;
    let hue = (turns * 2.0 + speckle(way * 64 + no as u64, 43) * 0.5).rem_euclid(1.0) * 6.0;
    let (low, share) = (hue.floor(), hue - hue.floor());
    let film =
        mix(FILM[low as usize % 6], FILM[(low as usize + 1) % 6], (share * 2.0).round() / 2.0);
    mix(tint, film, 0.30 + 0.30 * facet.slope)
}

/// A stone without foil: the base shows through, faces only veil it.
fn clear(drawing: &mut Drawing, colour: Colour, way: u64) -> Vec<Shape> {
    let facets = brilliant(turn_of(way));
    let ink = |(no, facet): (usize, &Facet)| {
        let light = brilliance(facet, way, no) * 0.8;
        let opacity = (light.abs() * 12.0).round() / 24.0;
        Ink::veil(if light >= 0.0 { WHITE } else { lit(colour, -0.8) }, opacity)
    };
    let inks: Vec<Ink> = facets.iter().enumerate().map(ink).collect();
    let body = [(0.0, Ink::veil(colour, 0.42)), (1.0, Ink::veil(lit(colour, 0.3), 0.30))];
    let paint = across(drawing, 1.0, &body);
    let mut shapes = vec![Shape::filled(Outline::circle(Point::ORIGIN, 1.0), paint)];
    shapes.extend(faces(&facets, &inks));
    let rim = Paint::Flat(Ink::veil(lit(colour, -0.85), 0.55));
    shapes.push(Shape::stroked(Outline::circle(Point::ORIGIN, 0.97), rim, 0.06));
    shapes.push(table_light(drawing, 0.5, 0.35));
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
            stop(0.0, lit(colour, 0.85)),
            stop(0.22, lit(colour, 0.45)),
            stop(0.55, colour),
            stop(0.82, lit(colour, -0.34)),
            stop(0.93, lit(colour, -0.62)),
            // Light from the base comes back along the rim.
            stop(1.0, lit(colour, -0.38)),
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
