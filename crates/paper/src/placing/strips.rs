//! A strip for each row, to be cut out: the row straightened, its neighbours as far apart as on the
//! piece, centre to centre.

use super::PrintedPage;
use super::art::Subject;
use super::fit::{Extent, shelves};
use super::made::{GAP_MM, Made};
use super::page::{GREY, INK, Page};
use super::rows::Row;
use crate::PaperError;
use drawing::{Anchor, Dash, Ink, Instance, Item, Layer, Paint, Path, Shape, SymbolId, Text};
use geometry::{Bounds, Point, Ring};
use lay::Watch;

/// Room at the left of a strip for its number, mm.
const HEAD_MM: f64 = 13.0;
/// Room above and below the stones, and behind the last.
const ROOM_MM: f64 = 2.0;
/// A strip is at least so high, or it is lost.
const LEAST_MM: f64 = 6.0;

/// A strip, or the part of one that a page is wide enough for.
#[derive(Clone, Debug, PartialEq)]
struct Strip {
    /// The number of its row, and which part it is of how many if the row is longer than a page.
    label: String,
    /// Its stones by index, each with its distance along the strip from its left end, mm.
    stones: Vec<(usize, f64)>,
    /// Its length, mm.
    length: f64,
    /// Its height, mm.
    height: f64,
}

/// All strips of a piece; none is longer than `most` mm.
fn strips(subject: &Subject<'_>, most: f64) -> Vec<Strip> {
    subject.rows.iter().flat_map(|row| of_row(subject, row, most)).collect()
}

fn of_row(subject: &Subject<'_>, row: &Row, most: f64) -> Vec<Strip> {
    let laid = subject.laid;
    let radius = |i: usize| laid.asked.piece.kinds[laid.lay.stones[i].kind as usize].reach_mm / 2.0;
    let mut parts: Vec<Strip> = vec![];
    let mut before: Option<(usize, f64)> = None;
    for &i in &row.stones {
        let at = laid.lay.stones[i].place.point();
        let next = before.map(|(b, x)| x + laid.lay.stones[b].place.point().distance(at));
        let fits = next.filter(|x| x + radius(i) + ROOM_MM <= most);
        let x = fits.unwrap_or(HEAD_MM + radius(i));
        if fits.is_none() {
            let (label, stones) = (row.label.clone(), vec![]);
            parts.push(Strip { label, stones, length: 0.0, height: LEAST_MM });
        }
        if let Some(part) = parts.last_mut() {
            part.stones.push((i, x));
            part.length = part.length.max(x + radius(i) + ROOM_MM);
            part.height = part.height.max(2.0 * (radius(i) + ROOM_MM));
        }
        before = Some((i, x));
    }
    let n = parts.len();
    if n > 1 {
        for (k, part) in parts.iter_mut().enumerate() {
            part.label = format!("{} ({}/{n})", part.label, k + 1);
        }
    }
    parts
}

impl Made<'_> {
    /// A strip for each row.
    pub(super) fn all_strips(
        &mut self,
        subjects: &[Subject<'_>],
        watch: &dyn Watch,
    ) -> Result<(), PaperError> {
        for (i, subject) in subjects.iter().enumerate() {
            watch.step(&subject.laid.asked.piece.name, i, subjects.len());
            let upright = self.room(&[subject], false).0.width();
            let whole = strips(subject, f64::INFINITY);
            let wide = whole.iter().any(|s| s.length > upright);
            let (room, _) = self.room(&[subject], wide);
            let all = strips(subject, room.width());
            for _ in 0..self.copies(i) {
                let mut rest = &all[..];
                while !rest.is_empty() {
                    self.go_on(watch)?;
                    rest = self.strip_page(subject, rest, wide, room);
                }
            }
        }
        Ok(())
    }

    /// Fills one page with strips, and gives those that are left.
    fn strip_page<'s>(
        &mut self,
        subject: &Subject<'_>,
        all: &'s [Strip],
        wide: bool,
        room: Bounds,
    ) -> &'s [Strip] {
        let extent = (room.width(), room.height());
        let boxes: Vec<Extent> = all.iter().map(|s| (s.length, s.height)).collect();
        let fits = |n: usize| shelves(&boxes[..n], extent, GAP_MM);
        // One always fits: no strip is wider than the room, and none nearly as high.
        let most = (1..=boxes.len()).take_while(|n| *n == 1 || fits(*n).is_some());
        let n = most.last().unwrap_or(1);
        let corners = fits(n).unwrap_or_else(|| vec![(0.0, 0.0)]);
        let sheet = self.sheet(wide);
        let name = subject.laid.asked.piece.name.clone();
        let mut page = Page::new(sheet, &name, &self.line("each strip is one row"));
        let symbols: Vec<SymbolId> = (subject.looks.iter().enumerate())
            .map(|(k, look)| look.symbol(&mut page.drawing, format!("kind-{}", k + 1)))
            .collect();
        for (strip, corner) in all.iter().zip(corners) {
            let at = Point::new(room.min.x + corner.0, room.max.y - corner.1 - strip.height);
            draw(&mut page, subject, &symbols, strip, at);
        }
        self.legend(&mut page, &[subject], wide);
        self.push(page, sheet, PrintedPage::default(), &[subject]);
        &all[n..]
    }
}

/// Draws a strip with its lower left corner at `corner`.
fn draw(
    page: &mut Page,
    subject: &Subject<'_>,
    symbols: &[SymbolId],
    strip: &Strip,
    corner: Point,
) {
    let box_ = Bounds { min: corner, max: corner + Point::new(strip.length, strip.height) };
    page.cut(box_);
    let middle = corner.y + strip.height / 2.0;
    let laid = subject.laid;
    let mut stones: Vec<(usize, f64)> = strip.stones.clone();
    stones.sort_by_key(|s| laid.lay.stones[s.0].kind);
    let (mut discs, mut letters) = (vec![], vec![]);
    for (i, x) in stones {
        let kind = laid.lay.stones[i].kind as usize;
        let centre = Point::new(corner.x + x, middle);
        let radius = laid.asked.piece.kinds[kind].reach_mm / 2.0;
        let (symbol, place_no) = (symbols[kind], u32::try_from(i + 1).ok());
        discs.push(Item::Instance(Instance { symbol, centre, radius, turn_deg: 0.0, place_no }));
        letters.extend(subject.looks[kind].letter(centre, 1.0).map(Item::Text));
    }
    let dash = Dash { on: 1.0, off: 0.7 };
    let (from, to) = (Point::new(corner.x + HEAD_MM, middle), Point::new(box_.max.x, middle));
    let line = Shape::dashed(Path::line(from, to), Ink::solid(GREY), 0.1, dash);
    let label =
        Text::middle(&strip.label, Point::new(corner.x + 1.5, middle), 1.7, Ink::solid(INK));
    let tip = Point::new(corner.x + HEAD_MM - 0.6, middle);
    let arrow = Ring::polygon(&[tip, tip + Point::new(-1.6, 0.8), tip + Point::new(-1.6, -0.8)]);
    let arrow =
        Shape::filled(Path { rings: vec![arrow], lines: vec![] }, Paint::Flat(Ink::solid(INK)));
    let no = page.drawing.layers.len();
    let mut items = vec![Item::Shape(line)];
    items.extend(discs);
    items.extend(letters);
    items.push(Item::Text(label.anchored(Anchor::Left)));
    items.push(Item::Shape(arrow));
    page.drawing.layers.push(Layer::new(&format!("strip-{no}"), items));
}
