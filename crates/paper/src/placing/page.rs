//! One page while it is put together: a drawing, and words in boxes.

use crate::{BAR_MM, Measured, PaperSize};
use drawing::{Anchor, Dash, Drawing, Ink, Item, Layer, Outline, Paint, Path, Shape, Text};
use geometry::{Bounds, Point, shapes};
use lay::Colour;
use serde::Serialize;

/// Kept free on all sides, mm. Nearly every office printer reaches within 5 mm of the edge, older
/// ones less far at the bottom; common practice, no source.
pub(super) const MARGIN_MM: f64 = 10.0;
/// Height of the heading.
pub(super) const HEADING_MM: f64 = 14.0;
/// Height of the line at the foot, and of the strip above it with the bar across.
const FOOT_MM: f64 = 4.0;
const BAR_STRIP_MM: f64 = 8.0;

/// A bank card: 85.60 × 53.98 mm, corners of 3.18 mm (ISO/IEC 7810, ID-1).
pub(super) const CARD_MM: (f64, f64, f64) = (85.60, 53.98, 3.18);

/// Lines and letters.
pub(super) const INK: Colour = Colour(26, 31, 36);
/// What is less important.
pub(super) const GREY: Colour = Colour(112, 120, 128);
/// What must not hide a letter.
pub(super) const PALE: Colour = Colour(176, 182, 188);

/// Where words go on a page, in boxes.
#[derive(Clone, Debug)]
pub(super) struct Words {
    /// The box, in the page's frame: mm, y up.
    pub(super) within: Bounds,
    /// What they say.
    pub(super) text: String,
    /// Size of the letters, points.
    pub(super) size_pt: f64,
    /// Whether they are bold.
    pub(super) bold: bool,
    /// As a heading, its level; 0 if they are none.
    pub(super) level: u8,
    /// To which side they go.
    pub(super) side: Anchor,
}

impl Words {
    /// Plain words from the left.
    pub(super) fn plain(text: impl Into<String>, within: Bounds, size_pt: f64) -> Words {
        let text = text.into();
        Words { within, text, size_pt, bold: false, level: 0, side: Anchor::Left }
    }

    /// The same, bold.
    pub(super) fn bold(self) -> Words {
        Words { bold: true, ..self }
    }

    /// The same, as a heading.
    pub(super) fn heading(self, level: u8) -> Words {
        Words { level, bold: true, ..self }
    }

    /// The same, to another side.
    pub(super) fn to(self, side: Anchor) -> Words {
        Words { side, ..self }
    }
}

/// Running text of the first page.
#[derive(Clone, Debug, Default, Serialize)]
pub(super) struct About {
    pub(super) x: f64,
    pub(super) y: f64,
    pub(super) width: f64,
    pub(super) steps: Vec<String>,
    pub(super) head: Vec<String>,
    pub(super) pieces: Vec<Vec<String>>,
    pub(super) notes: Vec<String>,
}

/// A page. Its frame is in true millimetres, y up from its lower left corner; where the printer is
/// made up for, the page is so much smaller in that frame.
#[derive(Clone, Debug)]
pub(super) struct Page {
    /// Everything that is drawn.
    pub(super) drawing: Drawing,
    /// Everything that is said.
    pub(super) words: Vec<Words>,
    /// Running text.
    pub(super) about: Option<About>,
    /// What a paper knife and a ruler need.
    lines: Vec<Item>,
}

/// A page that is still blank: its size and which way it lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Sheet {
    /// What it is printed on.
    pub(super) size: PaperSize,
    /// What the printer does to it.
    pub(super) measured: Measured,
    /// Whether it lies on its side.
    pub(super) wide: bool,
}

impl Sheet {
    /// Width and height as printed, mm.
    pub(super) fn printed(self) -> (f64, f64) {
        let (w, h) = (self.size.width_mm(), self.size.height_mm());
        if self.wide { (h, w) } else { (w, h) }
    }

    /// The whole page in true millimetres.
    pub(super) fn page(self) -> Bounds {
        let ((w, h), (fx, fy)) = (self.printed(), self.factors());
        Bounds { min: Point::ORIGIN, max: Point::new(w / fx, h / fy) }
    }

    /// By how much it is printed larger, across and down. A page on its side goes through the
    /// printer upright: what is across on it is down on the test page.
    pub(super) fn factors(self) -> (f64, f64) {
        let (across, down) = self.measured.factors();
        if self.wide { (down, across) } else { (across, down) }
    }

    /// Where pieces go, under the heading and above a legend of that height.
    pub(super) fn room(self, legend_mm: f64) -> Bounds {
        let page = self.page();
        let foot = MARGIN_MM + FOOT_MM + BAR_STRIP_MM + legend_mm;
        Bounds {
            min: Point::new(MARGIN_MM + BAR_STRIP_MM, foot),
            max: Point::new(page.max.x - MARGIN_MM, page.max.y - MARGIN_MM - HEADING_MM),
        }
    }

    /// Where the legend goes.
    pub(super) fn legend(self, legend_mm: f64) -> Bounds {
        let room = self.room(legend_mm);
        let min = Point::new(room.min.x, room.min.y - legend_mm);
        Bounds { min, max: Point::new(room.max.x, room.min.y) }
    }
}

impl Page {
    /// A page with its heading and both bars.
    pub(super) fn new(sheet: Sheet, title: &str, line: &str) -> Page {
        let page = sheet.page();
        let drawing = Drawing::new(title, line, page);
        let mut made = Page { drawing, words: vec![], about: None, lines: vec![] };
        let top = page.max.y - MARGIN_MM;
        let heading = Bounds {
            min: Point::new(MARGIN_MM, top - 7.4),
            max: Point::new(page.max.x - MARGIN_MM - MAP_MM.0, top),
        };
        made.words.push(Words::plain(title, heading, 15.0).heading(1));
        let below = Bounds {
            min: Point::new(MARGIN_MM, top - 12.0),
            max: Point::new(heading.max.x, top - 7.4),
        };
        made.words.push(Words::plain(line, below, 8.5));
        made.bars();
        made
    }

    /// A shape that is drawn above all pieces.
    pub(super) fn line(&mut self, shape: Shape) {
        self.lines.push(Item::Shape(shape));
    }

    /// A label that is drawn above all pieces.
    pub(super) fn label(&mut self, text: Text) {
        self.lines.push(Item::Text(text));
    }

    /// The line at the foot.
    pub(super) fn foot(&mut self, left: String, right: String) {
        let page = self.drawing.page;
        let within = Bounds {
            min: Point::new(MARGIN_MM, MARGIN_MM),
            max: Point::new(page.max.x - MARGIN_MM, MARGIN_MM + FOOT_MM),
        };
        let middle = page.max.x - MARGIN_MM - 30.0;
        let words = Bounds { max: Point::new(middle, within.max.y), ..within };
        self.words.push(Words::plain(left, words, 7.0));
        let number = Bounds { min: Point::new(middle, within.min.y), ..within };
        self.words.push(Words::plain(right, number, 7.0).to(Anchor::Right));
    }

    /// A bar of 100 mm across and one down, with a tick at each centimetre.
    fn bars(&mut self) {
        let left = MARGIN_MM + BAR_STRIP_MM;
        let foot = MARGIN_MM + FOOT_MM + 2.5;
        self.bar(Point::new(left, foot), Point::new(1.0, 0.0));
        let side = Point::new(MARGIN_MM + 3.0, MARGIN_MM + FOOT_MM + BAR_STRIP_MM);
        self.bar(side, Point::new(0.0, 1.0));
    }

    /// One bar from `from` along the unit vector `along`; its ticks stand on its left.
    pub(super) fn bar(&mut self, from: Point, along: Point) {
        let ink = Paint::Flat(Ink::solid(INK));
        self.line(Shape::stroked(Path::line(from, from + along * BAR_MM), ink, 0.2));
        let mut ticks = Path::default();
        for i in 0..=10_u32 {
            let at = from + along * (f64::from(i) * BAR_MM / 10.0);
            let height = if i.is_multiple_of(10) {
                3.0
            } else if i == 5 {
                2.0
            } else {
                1.2
            };
            ticks.lines.extend(Path::line(at, at + along.left() * height).lines);
        }
        self.line(Shape::stroked(ticks, ink, 0.15));
        let words = from + along * (BAR_MM * 0.55) + along.left() * 2.6;
        let text = Text::middle("100 mm", words, 1.7, Ink::solid(INK)).anchored(Anchor::Left);
        self.label(text.turned(along.angle().to_degrees()));
    }

    /// The outline of a bank card, its lower left corner at `at`.
    pub(super) fn card(&mut self, at: Point) {
        let (width, height, corner) = CARD_MM;
        let card = shapes::rounded_rectangle(width, height, corner);
        let card = card.moved(at - card.bounds().min);
        self.line(Shape::stroked(&card, Paint::Flat(Ink::solid(INK)), 0.15));
        let middle = at + Point::new(width / 2.0, height / 2.0);
        let text = "a bank card fits here: 85.60 × 53.98 mm";
        self.label(Text::middle(text, middle, 1.8, Ink::solid(GREY)));
    }

    /// Where to cut.
    pub(super) fn cut(&mut self, around: Bounds) {
        let corners = [
            around.min,
            Point::new(around.max.x, around.min.y),
            around.max,
            Point::new(around.min.x, around.max.y),
        ];
        let dash = Dash { on: 2.0, off: 1.2 };
        self.line(Shape::dashed(Path::polygon(&corners), Ink::solid(GREY), 0.12, dash));
    }

    /// A cross in a ring: it lies on its twin on the next tile.
    pub(super) fn cross(&mut self, at: Point) {
        let ink = Paint::Flat(Ink::solid(INK));
        let (x, y) = (Point::new(2.5, 0.0), Point::new(0.0, 2.5));
        let mut path = Path::line(at - x, at + x);
        path.lines.extend(Path::line(at - y, at + y).lines);
        self.line(Shape::stroked(path, ink, 0.12));
        self.line(Shape::stroked(Outline::circle(at, 1.4), ink, 0.12));
    }

    /// All tiles of a piece, small, the one of this page dark.
    pub(super) fn map(&mut self, tiles: &[(u32, u32)], here: (u32, u32)) {
        let size =
            |f: fn(&(u32, u32)) -> u32| f64::from(tiles.iter().map(f).max().unwrap_or(0) + 1);
        let (rows, columns) = (size(|t| t.0), size(|t| t.1));
        let side = (MAP_MM.0 / columns).min(MAP_MM.1 / rows).min(4.0);
        let page = self.drawing.page;
        let corner = Point::new(page.max.x - MARGIN_MM - columns * side, page.max.y - MARGIN_MM);
        for &(row, column) in tiles {
            let min = corner + Point::new(f64::from(column) * side, -f64::from(row + 1) * side);
            let tile = shapes::rectangle(side * 0.86, side * 0.86);
            let tile = tile.moved(min - tile.bounds().min);
            let ink = Paint::Flat(Ink::solid(INK));
            if (row, column) == here {
                self.line(Shape::filled(&tile, ink));
            } else {
                self.line(Shape::stroked(&tile, ink, 0.12));
            }
        }
    }

    /// The drawing with the lines on top.
    pub(super) fn finished(mut self) -> Page {
        let lines = std::mem::take(&mut self.lines);
        self.drawing.layers.push(Layer::new("lines", lines));
        self
    }
}

/// Room for the map of tiles, mm.
const MAP_MM: (f64, f64) = (26.0, 11.0);
