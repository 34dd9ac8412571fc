//! A piece as it is drawn on a sheet.

use super::Use;
use super::look::{Look, looks};
use super::page::{GREY, INK, PALE};
use super::rows::{Row, number_spot, rows, scattered};
use app::laying::LaidPiece;
use drawing::{Dash, Drawing, Ink, Instance, Item, Layer, Paint, Path, Shape, SymbolId, Text};
use geometry::{Bounds, Curve, Point, Region, Ring, Segment, shapes};
use lay::Colour;
use planning::stretches::Stretches;

/// White, behind what must be read.
const WHITE: Colour = Colour(255, 255, 255);
/// Height of row numbers, mm.
const NUMBER_MM: f64 = 1.5;
/// Height of the number of a stretch, mm.
const TAG_MM: f64 = 0.95;

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
    numbers: Vec<Point>,
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

/// Goes on from the end of a run; what is straight stays one line.
fn lengthen(run: &mut Vec<Segment>, from: Point, to: Point) {
    if let Some(last) = run.last_mut() {
        let (before, now) = (last.to - last.from, to - from);
        let bend = before.cross(now).abs() / (before.norm() * now.norm()).max(f64::MIN_POSITIVE);
        if bend < 1e-6 && before.dot(now) > 0.0 {
            last.to = to;
            return;
        }
    }
    run.push(Segment::line(from, to));
}

fn region(b: Bounds) -> Region {
    let region = shapes::rectangle(b.width(), b.height());
    region.moved(b.min - region.bounds().min)
}

/// Draws one piece at one position.
struct Pen<'a> {
    subject: &'a Subject<'a>,
    position: Position,
    box_: Bounds,
}

impl Pen<'_> {
    /// From the piece to the page.
    fn at(&self, p: Point) -> Point {
        let x = if self.position.mirrored { self.box_.max.x - p.x } else { p.x - self.box_.min.x };
        self.position.corner + Point::new(x, p.y - self.box_.min.y)
    }

    fn shows(&self, at: Point, radius: f64) -> bool {
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

    /// The way of the glue along rows, broken where a stone is missing. In a scatter it goes patch by
    /// patch, which no line would make clearer.
    fn glue(&self) -> Vec<Item> {
        let Some(stretches) = self.subject.stretches else { return vec![] };
        let laid = self.subject.laid;
        let radius =
            |i: usize| laid.asked.piece.kinds[laid.lay.stones[i].kind as usize].reach_mm / 2.0;
        let mut path = Path::default();
        for stretch in stretches.stretches.iter().filter(|s| s.glue_width_mm.is_some()) {
            if scattered(&laid.asked.piece, stretch.zone_index as usize) {
                continue;
            }
            let mut run: Vec<Segment> = vec![];
            // A row is set kind by kind, and glued along.
            let mut places: Vec<usize> = stretch.order.iter().map(|n| *n as usize - 1).collect();
            places.sort_unstable();
            for pair in places.windows(2) {
                let (a, b) = (&laid.lay.stones[pair[0]], &laid.lay.stones[pair[1]]);
                let (from, to) = (a.place.point(), b.place.point());
                let gap = from.distance(to) - radius(pair[0]) - radius(pair[1]);
                let joined = a.row == b.row && gap <= 2.0 * radius(pair[0]).min(radius(pair[1]));
                let (from, to) = (self.at(from), self.at(to));
                let shown = self.shows(from, radius(pair[0])) || self.shows(to, radius(pair[1]));
                if joined && shown {
                    lengthen(&mut run, from, to);
                } else if !run.is_empty() {
                    path.lines.push(std::mem::take(&mut run));
                }
            }
            path.lines.push(run);
        }
        path.lines.retain(|l| !l.is_empty());
        let dash = Dash { on: 1.0, off: 0.7 };
        vec![Item::Shape(Shape::dashed(path, Ink::solid(PALE), 0.18, dash))]
    }

    /// The number of each row off the piece, with a line to its first stone and an arrow into it.
    fn row_numbers(&self) -> Vec<Item> {
        let laid = self.subject.laid;
        let (mut lines, mut heads) = (Path::default(), Path::default());
        let mut items = vec![];
        for (row, number) in self.subject.rows.iter().zip(&self.subject.numbers) {
            let Some(&first) = row.stones.first() else { continue };
            let kind = laid.lay.stones[first].kind as usize;
            let radius = laid.asked.piece.kinds[kind].reach_mm / 2.0;
            let (from, to) = (self.at(*number), self.at(laid.lay.stones[first].place.point()));
            if !self.shows(from, 5.0) && !self.shows(to, 5.0) {
                continue;
            }
            let way = (to - from).normalised();
            let end = to - way * radius;
            lines.lines.extend(Path::line(from + way * NUMBER_MM, end).lines);
            // A ring is entered from outside: its arrow shows the way round instead.
            let next = row.stones.get(1).map(|i| self.at(laid.lay.stones[*i].place.point()));
            let (tip, way) = match next.filter(|_| row.closed(&laid.lay)) {
                Some(next) => (to.lerp(next, 0.5), (next - to).normalised()),
                None => (end, way),
            };
            let side = way.left() * 0.45;
            heads.rings.push(Ring::polygon(&[
                tip + way * 0.5,
                tip - way * 0.6 + side,
                tip - way * 0.6 - side,
            ]));
            items.push(Item::Text(Text::middle(
                row.label.clone(),
                from,
                NUMBER_MM,
                Ink::solid(INK),
            )));
        }
        let line = Shape::stroked(lines, Paint::Flat(Ink::solid(GREY)), 0.12);
        items.insert(0, Item::Shape(line));
        items.push(Item::Shape(Shape::flat(heads, Ink::solid(INK))));
        items
    }

    /// Where the glue of each stretch starts and stops: a triangle round the stone there, and a
    /// square, each with the number of the stretch.
    fn stretch_signs(&self) -> Vec<Item> {
        let Some(stretches) = self.subject.stretches else { return vec![] };
        let laid = self.subject.laid;
        let blank = laid.asked.piece.blank.bounds();
        let mut items = vec![];
        for stretch in &stretches.stretches {
            for (point, corners) in [(stretch.start, 3_u32), (stretch.stop, 4)] {
                let p = Point::new(blank.min.x + point.right_mm, blank.max.y - point.down_mm);
                let away = |no: &&u32| laid.lay.stones[**no as usize - 1].place.point().distance(p);
                let nearest = stretch.order.iter().min_by(|a, b| away(a).total_cmp(&away(b)));
                if let Some(no) = nearest.filter(|_| self.shows(self.at(p), 10.0)) {
                    items.extend(self.sign(*no as usize - 1, corners, stretch.number));
                }
            }
        }
        items
    }

    /// An outline of three or four corners round a stone, and a tag with a number.
    fn sign(&self, stone: usize, corners: u32, number: u32) -> Vec<Item> {
        let laid = self.subject.laid;
        let stone = &laid.lay.stones[stone];
        let (at, r) = (
            self.at(stone.place.point()),
            laid.asked.piece.kinds[stone.kind as usize].reach_mm / 2.0,
        );
        // The triangle points along, the square stands on its side.
        let (reach, first) = if corners == 3 { (1.3, 0.0) } else { (1.2, 0.125) };
        let corner = |i: u32| {
            let turns = f64::from(i) / f64::from(corners) + first;
            at + Point::unit(turns * std::f64::consts::TAU) * (r * reach)
        };
        let ring = Path::polygon(&(0..corners).map(corner).collect::<Vec<_>>());
        let outline = Shape::stroked(ring, Paint::Flat(Ink::solid(INK)), 0.3);
        let label = number.to_string();
        let wide = TAG_MM * (0.72 * label.len() as f64 + 0.7);
        let middle = at + Point::new(r * 0.75 + wide / 2.0, -r * 0.75);
        let tag = shapes::rectangle(wide, TAG_MM * 1.5);
        let tag = tag.moved(middle - tag.bounds().centre());
        let mut tag = Shape::flat(&tag, Ink::solid(WHITE));
        tag.stroke = Some(drawing::Stroke::solid(Paint::Flat(Ink::solid(INK)), 0.1));
        let text = Text::middle(label, middle, TAG_MM, Ink::solid(INK));
        vec![Item::Shape(outline), Item::Shape(tag), Item::Text(text)]
    }
}
