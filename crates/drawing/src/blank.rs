//! The bare thing: its colour, a bevel lit from the upper left, a fine edge.

use crate::cut::LIGHT;
use crate::tint::{BLACK, WHITE, lit, luma};
use crate::{
    Drawing, Gradient, Ink, Instance, Item, Layer, Paint, Path, Shape, Span, Stop, Symbol, SymbolId,
};
use geometry::{Point, Region};
use lay::Colour;

/// How wide the bevel is, as a share of the blank's smaller side, and its limits in mm.
const BEVEL: f64 = 0.012;
const BEVEL_MM: (f64, f64) = (0.15, 0.6);
/// In how many steps it fades inwards.
const BEVEL_STEPS: u32 = 6;

/// The layer of the blank; nothing of it lies outside the blank or in its holes.
pub(crate) fn layer(drawing: &mut Drawing, blank: &Region, colour: Colour) -> Layer {
    let bounds = blank.bounds();
    let middle = bounds.centre();
    let half = Point::new(bounds.width(), bounds.height()).norm() / 2.0;
    let towards = Point::unit(LIGHT) * half;
    let stop = |offset, light| Stop { offset, ink: Ink::solid(lit(colour, light)) };
    let body = drawing.gradient(Gradient {
        span: Span::Linear { from: middle + towards, to: middle - towards },
        stops: vec![stop(0.0, 0.06), stop(0.5, 0.0), stop(1.0, -0.07)],
    });
    let mut items = vec![Item::Shape(Shape::filled(blank, body))];
    let bevel = (bounds.width().min(bounds.height()) * BEVEL).clamp(BEVEL_MM.0, BEVEL_MM.1);
    let light = rim(drawing, "bevel-light", blank, Ink::veil(WHITE, 0.10), bevel);
    let dark = rim(drawing, "bevel-dark", blank, Ink::veil(BLACK, 0.055), bevel);
    for step in 1..=BEVEL_STEPS {
        let by = Point::unit(LIGHT) * (bevel * f64::from(step) / f64::from(BEVEL_STEPS));
        for (symbol, by) in [(light, -by), (dark, by)] {
            let centre = middle + by;
            let (radius, turn_deg, place_no) = (1.0, 0.0, None);
            items.push(Item::Instance(Instance { symbol, centre, radius, turn_deg, place_no }));
        }
    }
    // Half of this line is cut off by the clip. On a pale blank it is what a white page shows.
    let edge = Ink::veil(lit(colour, -0.8), 0.25 + 0.35 * luma(colour));
    items.push(Item::Shape(Shape::stroked(blank, Paint::Flat(edge), bevel * 0.3)));
    Layer::new("blank", items).clipped_to(blank)
}

/// All that is outside the blank and in its holes, about its middle, at full size: moved a little
/// and clipped to the blank, what shows of it lies along the edges on one side.
fn rim(drawing: &mut Drawing, name: &str, blank: &Region, ink: Ink, bevel: f64) -> SymbolId {
    let centred = blank.moved(-blank.bounds().centre());
    let around = Path::around(&centred, centred.bounds().grown(2.0 * bevel));
    let shapes = vec![Shape::flat(around, ink)];
    drawing.symbol(Symbol { name: name.to_owned(), shapes })
}
