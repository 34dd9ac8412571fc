//! What a sheet beside the piece says of its rows and stretches.

use super::art::Pen;
use super::page::{GREY, INK, PALE};
use super::rows::scattered;
use drawing::{Dash, Ink, Item, Paint, Path, Shape, Stroke, Text};
use geometry::{Point, Ring, Segment, shapes};
use lay::Colour;

/// White, behind what must be read.
const WHITE: Colour = Colour(255, 255, 255);
/// Height of row numbers, mm.
pub(super) const NUMBER_MM: f64 = 1.5;
/// Height of the number of a stretch, mm.
const TAG_MM: f64 = 0.95;

impl Pen<'_> {
    /// The way of the glue along rows, broken where a stone is missing. In a scatter it goes patch by
    /// patch, which no line would make clearer.
    pub(super) fn glue(&self) -> Vec<Item> {
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
    pub(super) fn row_numbers(&self) -> Vec<Item> {
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
    pub(super) fn stretch_signs(&self) -> Vec<Item> {
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
        tag.stroke = Some(Stroke::solid(Paint::Flat(Ink::solid(INK)), 0.1));
        let text = Text::middle(label, middle, TAG_MM, Ink::solid(INK));
        vec![Item::Shape(outline), Item::Shape(tag), Item::Text(text)]
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
