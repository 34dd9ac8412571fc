//! What a stone looks like on a sheet: a light disc at true size with the mark of its kind, so that
//! black and white will do.

use super::page::INK;
use drawing::{Drawing, Ink, Outline, Paint, Path, Shape, Stroke, Symbol, SymbolId, Text, mark};
use geometry::{Point, Segment};
use lay::{Colour, Kind};

/// How wide a stone's edge is drawn, mm; half of it lies outside the stone.
const EDGE_MM: f64 = 0.1;
/// How much of a stone's colour goes into its disc; the rest is white.
const TINT: f64 = 0.22;
/// Height of the letter in a stone, as a part of its diameter: one letter, two.
const LETTER: [f64; 2] = [0.46, 0.34];
/// Letters lower than this are not read at the bench: 0.7 mm is a type of 2.8 points. From memory,
/// common practice.
const LETTER_MM: f64 = 0.7;

/// What marks the stones of a kind.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Mark {
    /// A letter in the stone.
    Letter,
    /// A filling that is told apart where a letter would be too small.
    Filling(Filling),
}

/// Ways to fill a small stone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Filling {
    Empty,
    Full,
    Dot,
    Lower,
    Across,
    Upright,
    Cross,
    Left,
}

const FILLINGS: [Filling; 8] = [
    Filling::Dot,
    Filling::Full,
    Filling::Empty,
    Filling::Lower,
    Filling::Across,
    Filling::Cross,
    Filling::Left,
    Filling::Upright,
];

/// How a kind is shown.
#[derive(Clone, Debug)]
pub(super) struct Look {
    /// Its letter: in the stone, or only in the legend.
    pub(super) letter: String,
    mark: Mark,
    diameter_mm: f64,
    colour: Colour,
}

/// The looks of all kinds of a piece, in its order. A filling stands for one kind only; where there
/// are more small kinds than fillings, the rest keep their letters.
pub(super) fn looks(kinds: &[Kind]) -> Vec<Look> {
    let mut fillings = FILLINGS.iter();
    let look = |(i, kind): (usize, &Kind)| {
        let letter = mark(i);
        let high = letter_mm(&letter, kind.reach_mm) >= LETTER_MM;
        let filling = if high { None } else { fillings.next() };
        Look {
            letter,
            mark: filling.map_or(Mark::Letter, |f| Mark::Filling(*f)),
            diameter_mm: kind.reach_mm,
            colour: kind.colour,
        }
    };
    kinds.iter().enumerate().map(look).collect()
}

fn letter_mm(letter: &str, diameter_mm: f64) -> f64 {
    LETTER[(letter.len() - 1).min(1)] * diameter_mm
}

impl Look {
    /// The stone, without its letter. The first circle has radius 1.
    pub(super) fn symbol(&self, drawing: &mut Drawing, name: String) -> SymbolId {
        let ink = Paint::Flat(Ink::solid(INK));
        let edge = EDGE_MM / (self.diameter_mm / 2.0).max(EDGE_MM);
        let disc = Shape {
            outline: Outline::circle(Point::ORIGIN, 1.0),
            fill: Some(Paint::Flat(Ink::solid(self.tint()))),
            stroke: Some(Stroke::solid(ink, edge)),
        };
        let mut shapes = vec![disc];
        if let Mark::Filling(filling) = self.mark {
            shapes.extend(filled(filling, ink));
        }
        drawing.symbol(Symbol { name, shapes })
    }

    /// The letter of a stone at `at`, drawn so many times as large as the stone.
    pub(super) fn letter(&self, at: Point, scale: f64) -> Option<Text> {
        let height = letter_mm(&self.letter, self.diameter_mm * scale);
        let text = Text::middle(self.letter.clone(), at, height, Ink::solid(INK));
        (self.mark == Mark::Letter).then_some(text)
    }

    fn tint(&self) -> Colour {
        let light = |c: u8| (255.0 - (255.0 - f64::from(c)) * TINT).round() as u8;
        let Colour(r, g, b) = self.colour;
        Colour(light(r), light(g), light(b))
    }
}

/// What is drawn into the unit circle.
fn filled(filling: Filling, ink: Paint) -> Option<Shape> {
    let (left, right) = (Point::new(-0.8, 0.0), Point::new(0.8, 0.0));
    let half = |from: Point, to: Point| {
        let arc = Segment::arc(from, to, Point::ORIGIN, 0.8, true);
        let ring = geometry::Ring { segments: vec![arc, Segment::line(to, from)] };
        Shape::filled(Path { rings: vec![ring], lines: vec![] }, ink)
    };
    let stroke = |path: Path| Shape::stroked(path, ink, 0.28);
    Some(match filling {
        Filling::Empty => return None,
        Filling::Full => Shape::filled(Outline::circle(Point::ORIGIN, 0.8), ink),
        Filling::Dot => Shape::filled(Outline::circle(Point::ORIGIN, 0.38), ink),
        Filling::Lower => half(left, right),
        Filling::Left => half(right.left(), left.left()),
        Filling::Across => stroke(Path::line(left, right)),
        Filling::Upright => stroke(Path::line(left.left(), right.left())),
        Filling::Cross => {
            let mut path = Path::line(left, right);
            path.lines.extend(Path::line(left.left(), right.left()).lines);
            stroke(path)
        }
    })
}
