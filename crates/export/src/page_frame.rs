//! From a drawing, y up, to a page, y down.

use geometry::{Bounds, Point};

/// The makers' frame: x to the right and y **down** from the top left corner of a box, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PageFrame {
    /// The top left corner of the page in the drawing's frame.
    corner_in_drawing: Point,
}

impl PageFrame {
    /// The frame of the page that shows `page_in_drawing`.
    pub fn of(page_in_drawing: Bounds) -> PageFrame {
        let corner_in_drawing = Point::new(page_in_drawing.min.x, page_in_drawing.max.y);
        PageFrame { corner_in_drawing }
    }

    /// The frame of a symbol: turned over about its own middle.
    pub fn of_symbol() -> PageFrame {
        PageFrame { corner_in_drawing: Point::ORIGIN }
    }

    /// A point of the drawing on the page. It mirrors: what ran counter-clockwise runs clockwise
    /// in page coordinates, and looks the same because the page's y runs down.
    pub fn page_from_drawing(&self, p: Point) -> Point {
        Point::new(p.x - self.corner_in_drawing.x, self.corner_in_drawing.y - p.y)
    }
}
