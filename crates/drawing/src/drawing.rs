//! The whole drawing, its layers and what is drawn many times.

use crate::{Gradient, GradientId, Paint, Shape, Text};
use geometry::{Bounds, Point, Region};

/// Layers of shapes on a page, in millimetres, x right and **y up**.
///
/// Later layers lie on top of earlier ones, and so do later items of a layer. What leaves the page
/// is cut off.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// A name for people, short.
    pub title: String,
    /// One or two sentences for people who cannot see it.
    pub description: String,
    /// The page.
    pub page: Bounds,
    /// The gradients its paints name.
    pub gradients: Vec<Gradient>,
    /// What its instances show.
    pub symbols: Vec<Symbol>,
    /// From the bottom to the top.
    pub layers: Vec<Layer>,
}

impl Drawing {
    /// An empty page.
    pub fn new(title: &str, description: &str, page: Bounds) -> Drawing {
        Drawing {
            title: title.to_owned(),
            description: description.to_owned(),
            page,
            gradients: vec![],
            symbols: vec![],
            layers: vec![],
        }
    }

    /// Keeps a gradient and returns the paint that names it. An equal one is kept once.
    pub fn gradient(&mut self, gradient: Gradient) -> Paint {
        let known = self.gradients.iter().position(|g| *g == gradient);
        let id = known.unwrap_or_else(|| {
            self.gradients.push(gradient);
            self.gradients.len() - 1
        });
        Paint::Gradient(GradientId(id))
    }

    /// Keeps a symbol and returns its name for instances.
    pub fn symbol(&mut self, symbol: Symbol) -> SymbolId {
        self.symbols.push(symbol);
        SymbolId(self.symbols.len() - 1)
    }
}

/// Shapes that belong together.
#[derive(Clone, Debug, PartialEq)]
pub struct Layer {
    /// Its name: lower case, letters and `-` only; unique in the drawing.
    pub name: String,
    /// What is outside of this is not drawn.
    pub clip: Option<Region>,
    /// From the bottom to the top.
    pub items: Vec<Item>,
}

impl Layer {
    /// A layer that is not clipped.
    pub fn new(name: &str, items: Vec<Item>) -> Layer {
        Layer { name: name.to_owned(), clip: None, items }
    }

    /// The same, drawn inside `region` only.
    #[must_use]
    pub fn clipped_to(self, region: &Region) -> Layer {
        Layer { clip: Some(region.clone()), ..self }
    }
}

/// One thing of a layer.
#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    /// A shape of its own.
    Shape(Shape),
    /// A symbol.
    Instance(Instance),
    /// A short line of text.
    Text(Text),
}

/// A group of shapes drawn once and shown many times. Its own frame has the origin in the middle,
/// y up. A stone's outline is the circle of radius 1.
#[derive(Clone, Debug, PartialEq)]
pub struct Symbol {
    /// Its name: lower case, letters, digits and `-` only; unique in the drawing.
    pub name: String,
    /// From the bottom to the top.
    pub shapes: Vec<Shape>,
}

/// Which symbol of a drawing: an index into [`Drawing::symbols`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct SymbolId(pub usize);

/// A symbol at a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Instance {
    /// What it shows.
    pub symbol: SymbolId,
    /// Where the symbol's middle goes, mm.
    pub centre: Point,
    /// How long the symbol's unit becomes, mm.
    pub radius: f64,
    /// How far it is turned, degrees counter-clockwise.
    pub turn_deg: f64,
    /// The stone it shows, by its number in the order of setting.
    pub place_no: Option<u32>,
}
