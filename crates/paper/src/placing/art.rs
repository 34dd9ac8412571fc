//! A piece as it is drawn on a sheet.

use super::Use;
use super::look::{Look, looks};
use super::page::{GREY, INK};
use super::rows::{Row, number_spot, rows};
use super::signs::NUMBER_MM;
use app::laying::LaidPiece;
use drawing::{Dash, Drawing, Ink, Instance, Item, Layer, Paint, Path, Shape, SymbolId};
use geometry::{Bounds, Curve, Point, Region, Ring, Segment, shapes};
use planning::stretches::Stretches;

/// A piece with everything that is drawn of it, found once.
pub(super) struct Subject<'a> {
    /// What was laid.
    pub(super) laid: &'a LaidPiece,
    /// How it is set.
    pub(super) stretches: Option<&'a Stretches>,
    /// How its kinds look.
    pub(super) looks: Vec<Look>,
    /// Its rows.
    pub(super) rows: Vec<Row>,
    /// Its stones by index, those of one kind together.
    by_kind: Vec<usize>,
    /// The number at the start of each row, off the piece, in its frame.
    pub(super) numbers: Vec<Point>,
}

/// Where the piece lies on a page.
#[derive(Clone, Copy, Debug)]
pub(super) struct Position {
    /// Where the lower left corner of its box goes.
    pub(super) corner: Point,
    /// Whether left and right change sides.
    pub(super) mirrored: bool,
    /// What is shown of it, on the page; all if none.
    pub(super) window: Option<Bounds>,
}

impl<'a> Subject<'a> {
    /// Of a laid piece.
    pub(super) fn new(
        laid: &'a LaidPiece,
        stretches: Option<&'a Stretches>,
        usage: Use,
    ) -> Subject<'a> {
        let (piece, lay) = (&laid.asked.piece, &laid.lay);
        let mut by_kind: Vec<usize> = (0..lay.stones.len()).collect();
        by_kind.sort_by_key(|i| lay.stones[*i].kind);
        let rows = match usage {
            Use::Beside | Use::Strips => rows(piece, lay),
            Use::Under | Use::Behind => vec![],
        };
        let mut numbers = vec![];
        if usage == Use::Beside {
            for row in &rows {
                let (from, towards) =
                    row.approach(lay).unwrap_or((Point::ORIGIN, Point::new(-1.0, 0.0)));
                let room = NUMBER_MM * (0.5 * row.label.len() as f64).max(1.0);
                let spot = number_spot(from, towards, &piece.blank, &numbers, room);
                numbers.push(spot);
            }
        }
        Subject { laid, stretches, looks: looks(&piece.kinds), rows, by_kind, numbers }
    }

    /// The box of the blank, and, where rows are numbered, of their numbers.
    pub(super) fn bounds(&self) -> Bounds {
        let blank = self.laid.asked.piece.blank.bounds();
        self.numbers.iter().fold(blank, |b, p| {
            let by = Point::new(NUMBER_MM * 1.6, NUMBER_MM);
            b.with(*p - by).with(*p + by)
        })
    }

    /// Draws it. `no` tells its layers from those of others on the page.
    pub(super) fn draw(&self, page: &mut Drawing, no: usize, position: Position, usage: Use) {
        let pen = Pen { subject: self, position, box_: self.bounds() };
        let symbols: Vec<SymbolId> = (self.looks.iter().enumerate())
            .map(|(k, look)| look.symbol(page, format!("piece-{no}-kind-{}", k + 1)))
            .collect();
        let (discs, letters) = pen.stones(&symbols);
        let mut layers = vec![("blank", pen.blank()), ("stones", discs)];
        if usage == Use::Beside {
            layers.push(("glue", pen.glue()));
        }
        layers.push(("marks", letters));
        if usage == Use::Beside {
            layers.push(("rows", pen.row_numbers()));
            layers.push(("stretches", pen.stretch_signs()));
        }
        for (name, items) in layers {
            let layer = Layer::new(&format!("piece-{no}-{name}"), items);
            page.layers.push(match position.window {
                Some(window) => layer.clipped_to(&region(window)),
                None => layer,
            });
        }
    }
}

fn region(b: Bounds) -> Region {
    let region = shapes::rectangle(b.width(), b.height());
    region.moved(b.min - region.bounds().min)
}

/// Draws one piece at one position.
pub(super) struct Pen<'a> {
    pub(super) subject: &'a Subject<'a>,
    position: Position,
    box_: Bounds,
}

impl Pen<'_> {
    /// From the piece to the page.
    pub(super) fn at(&self, p: Point) -> Point {
        let x = if self.position.mirrored { self.box_.max.x - p.x } else { p.x - self.box_.min.x };
        self.position.corner + Point::new(x, p.y - self.box_.min.y)
    }

    /// Whether something at `at` that reaches `radius` mm is seen.
    pub(super) fn shows(&self, at: Point, radius: f64) -> bool {
        self.position.window.is_none_or(|w| w.distance(at) < radius)
    }

    fn segment(&self, s: &Segment) -> Segment {
        match s.curve {
            Curve::Line => Segment::line(self.at(s.from), self.at(s.to)),
            Curve::Arc { centre, radius, ccw } => Segment::arc(
                self.at(s.from),
                self.at(s.to),
                self.at(centre),
                radius,
                ccw != self.position.mirrored,
            ),
        }
    }

    fn path(&self, region: &Region) -> Path {
        let ring =
            |r: &Ring| Ring { segments: r.segments.iter().map(|s| self.segment(s)).collect() };
        Path { rings: region.rings().iter().map(ring).collect(), lines: vec![] }
    }

    /// The outline, and where its zones meet.
    fn blank(&self) -> Vec<Item> {
        let piece = &self.subject.laid.asked.piece;
        let ink = |colour| Paint::Flat(Ink::solid(colour));
        let mut items = vec![Item::Shape(Shape::stroked(self.path(&piece.blank), ink(INK), 0.2))];
        // Where an edge of a zone is the blank's own, its outline is there already.
        let shared = piece.zones.iter().flat_map(|z| z.region.segments());
        let lines = shared.filter(|s| s.tag == lay::EDGE_SHARED).map(|s| vec![self.segment(s)]);
        let path = Path { rings: vec![], lines: lines.collect() };
        if !path.lines.is_empty() {
            let dash = Dash { on: 0.8, off: 0.6 };
            items.push(Item::Shape(Shape::dashed(path, Ink::solid(GREY), 0.1, dash)));
        }
        items
    }

    /// The discs of all stones, those of a kind together, and their letters.
    fn stones(&self, symbols: &[SymbolId]) -> (Vec<Item>, Vec<Item>) {
        let laid = self.subject.laid;
        let (mut discs, mut letters) = (vec![], vec![]);
        for &i in &self.subject.by_kind {
            let stone = &laid.lay.stones[i];
            let kind = stone.kind as usize;
            let radius = laid.asked.piece.kinds[kind].reach_mm / 2.0;
            let centre = self.at(stone.place.point());
            if !self.shows(centre, radius) {
                continue;
            }
            let turn = stone.place.turn_deg;
            let turn_deg = if self.position.mirrored { -turn } else { turn };
            let (symbol, place_no) = (symbols[kind], u32::try_from(i + 1).ok());
            discs.push(Item::Instance(Instance { symbol, centre, radius, turn_deg, place_no }));
            letters.extend(self.subject.looks[kind].letter(centre, 1.0).map(Item::Text));
        }
        (discs, letters)
    }
}
