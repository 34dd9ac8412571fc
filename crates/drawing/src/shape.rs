//! One shape: an outline with a fill and a stroke.

use crate::{Dash, Ink, Paint, Stroke};
use geometry::{Bounds, Point, Region, Ring, Segment};

/// An outline with a fill and a stroke.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    /// Where it is.
    pub outline: Outline,
    /// What its inside is filled with.
    pub fill: Option<Paint>,
    /// The line along it.
    pub stroke: Option<Stroke>,
}

impl Shape {
    /// A shape of one flat colour.
    pub fn flat(outline: impl Into<Outline>, ink: Ink) -> Shape {
        Shape::filled(outline, Paint::Flat(ink))
    }

    /// A shape without a stroke.
    pub fn filled(outline: impl Into<Outline>, paint: Paint) -> Shape {
        Shape { outline: outline.into(), fill: Some(paint), stroke: None }
    }

    /// A shape without a fill.
    pub fn stroked(outline: impl Into<Outline>, paint: Paint, width: f64) -> Shape {
        let stroke = Some(Stroke::solid(paint, width));
        Shape { outline: outline.into(), fill: None, stroke }
    }

    /// A broken line along an outline.
    pub fn dashed(outline: impl Into<Outline>, ink: Ink, width: f64, dash: Dash) -> Shape {
        let stroke = Some(Stroke { paint: Paint::Flat(ink), width, dash: Some(dash) });
        Shape { outline: outline.into(), fill: None, stroke }
    }
}

/// The outline of a shape.
#[derive(Clone, Debug, PartialEq)]
pub enum Outline {
    /// A circle, kept apart from paths so that a reader can measure it as one.
    Circle {
        /// Its centre.
        centre: Point,
        /// Its radius.
        radius: f64,
    },
    /// Lines and arcs.
    Path(Path),
}

impl Outline {
    /// A circle.
    pub fn circle(centre: Point, radius: f64) -> Outline {
        Outline::Circle { centre, radius }
    }
}

impl From<Path> for Outline {
    fn from(path: Path) -> Outline {
        Outline::Path(path)
    }
}

impl From<&Region> for Outline {
    fn from(region: &Region) -> Outline {
        Outline::Path(Path::from(region))
    }
}

/// Closed and open runs of lines and arcs. What the closed ones wind round, in either direction and
/// not in both, is inside: the non-zero fill rule.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Path {
    /// Closed runs.
    pub rings: Vec<Ring>,
    /// Open runs, stroked but never filled; each segment starts where the one before it ends.
    pub lines: Vec<Vec<Segment>>,
}

impl Path {
    /// One closed polygon.
    pub fn polygon(points: &[Point]) -> Path {
        Path { rings: vec![Ring::polygon(points)], lines: vec![] }
    }

    /// One straight line.
    pub fn line(from: Point, to: Point) -> Path {
        Path { rings: vec![], lines: vec![vec![Segment::line(from, to)]] }
    }

    /// All that is within `bounds` and not in `region`.
    pub fn around(region: &Region, bounds: Bounds) -> Path {
        let (min, max) = (bounds.min, bounds.max);
        let corners = [min, Point::new(max.x, min.y), max, Point::new(min.x, max.y)];
        let outside = std::iter::once(Ring::polygon(&corners));
        Path {
            rings: outside.chain(region.rings().iter().map(Ring::reversed)).collect(),
            lines: vec![],
        }
    }
}

impl From<&Region> for Path {
    fn from(region: &Region) -> Path {
        Path { rings: region.rings().to_vec(), lines: vec![] }
    }
}
