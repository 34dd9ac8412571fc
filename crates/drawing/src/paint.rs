//! What a shape is coloured with.

use geometry::Point;
use lay::Colour;

/// A colour and how much of what lies below it covers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ink {
    /// The colour.
    pub colour: Colour,
    /// 0 is invisible, 1 covers all.
    pub opacity: f64,
}

impl Ink {
    /// A colour that covers all.
    pub fn solid(colour: Colour) -> Ink {
        Ink { colour, opacity: 1.0 }
    }

    /// A colour that covers a part, 0..=1.
    pub fn veil(colour: Colour, opacity: f64) -> Ink {
        Ink { colour, opacity }
    }
}

/// What a shape is filled or stroked with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Paint {
    /// One colour.
    Flat(Ink),
    /// A run of colours, one of [`Drawing::gradients`](crate::Drawing::gradients).
    Gradient(GradientId),
}

/// Which gradient of a drawing: an index into [`Drawing::gradients`](crate::Drawing::gradients).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct GradientId(pub usize);

/// A run of colours.
#[derive(Clone, Debug, PartialEq)]
pub struct Gradient {
    /// Where it runs, in the frame of the shape it colours.
    pub span: Span,
    /// Its colours, by rising offset; the first and the last go on beyond the ends.
    pub stops: Vec<Stop>,
}

/// Where a gradient runs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Span {
    /// Along a line.
    Linear {
        /// Where offset 0 is.
        from: Point,
        /// Where offset 1 is.
        to: Point,
    },
    /// From a focus outwards.
    Radial {
        /// Centre of the circle of offset 1.
        centre: Point,
        /// Radius of that circle.
        radius: f64,
        /// Where offset 0 is; inside the circle.
        focus: Point,
    },
}

/// One colour of a gradient.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stop {
    /// How far along, 0..=1.
    pub offset: f64,
    /// The colour there.
    pub ink: Ink,
}

/// A line along an outline, half its width on either side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// Its colour.
    pub paint: Paint,
    /// Its width, in the unit of the shape: mm, or radii in a [`Symbol`](crate::Symbol).
    pub width: f64,
    /// How it is broken; whole if none.
    pub dash: Option<Dash>,
}

impl Stroke {
    /// An unbroken line.
    pub fn solid(paint: Paint, width: f64) -> Stroke {
        Stroke { paint, width, dash: None }
    }
}

/// A line broken at even steps, in the unit of the stroke's width.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dash {
    /// How long each part is that is drawn.
    pub on: f64,
    /// How long each gap is.
    pub off: f64,
}
