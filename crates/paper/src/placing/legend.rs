//! The legend of a page: mark, kind, size, colour and count of every piece on it.

use super::art::Subject;
use super::page::{Page, Words};
use drawing::{Ink, Instance, Item, Layer, Shape};
use geometry::{Bounds, Point, shapes};
use units::grouped;

/// Height of a line of the legend, mm.
const LINE_MM: f64 = 5.0;
/// Width of an entry, mm.
const ENTRY_MM: f64 = 50.0;
/// Width of the names of pieces before their entries, where there is more than one.
const NAME_MM: f64 = 30.0;
/// A stone is shown at true size up to this, mm.
const STONE_MM: f64 = 4.2;
/// A longer legend goes onto pages of its own.
pub(super) const MOST_LINES: usize = 14;

/// How many entries stand side by side, of one piece or of several.
fn columns(width: f64, several: bool) -> usize {
    let width = if several { width - NAME_MM } else { width };
    ((width / ENTRY_MM).floor() as usize).max(1)
}

/// Entries of a piece: its kinds that have stones, by index, with their counts.
fn entries(subject: &Subject<'_>) -> Vec<(usize, usize)> {
    let counts = subject.laid.counts().into_iter().enumerate();
    counts.filter(|(_, n)| *n > 0).collect()
}

/// How many lines the legend of these pieces has.
pub(super) fn lines(subjects: &[&Subject<'_>], width: f64) -> usize {
    let n = columns(width, subjects.len() > 1);
    subjects.iter().map(|s| entries(s).len().div_ceil(n).max(1)).sum()
}

/// How high that many lines are, with room above, mm.
pub(super) fn height_mm(lines: usize) -> f64 {
    if lines == 0 { 0.0 } else { lines as f64 * LINE_MM + 2.0 }
}

/// Writes the legend of these pieces into `within`, from the top; it has as many lines as [`lines`]
/// says.
pub(super) fn put(page: &mut Page, subjects: &[&Subject<'_>], within: Bounds) {
    let several = subjects.len() > 1;
    let left = within.min.x + if several { NAME_MM } else { 0.0 };
    let kinds = Bounds { min: Point::new(left, within.min.y), max: within.max };
    let n = columns(within.width(), several);
    let mut line = 0;
    let mut items = vec![];
    for (no, subject) in subjects.iter().enumerate() {
        if several {
            let name = subject.laid.asked.piece.name.clone();
            let first = cell(kinds, n, line, 0);
            let max = Point::new(left - 1.0, first.max.y);
            let box_ = Bounds { min: Point::new(within.min.x, first.min.y), max };
            page.words.push(Words::plain(name, box_, 8.0).bold());
        }
        let all = entries(subject);
        for (i, entry) in all.iter().enumerate() {
            items.extend(put_entry(page, subject, *entry, cell(kinds, n, line, i), no));
        }
        line += all.len().div_ceil(n).max(1);
    }
    page.drawing.layers.push(Layer::new("legend", items));
}

/// The stone as it is on the sheet, and a chip of its full colour.
fn swatch(
    page: &mut Page,
    subject: &Subject<'_>,
    kind: usize,
    name: String,
    cell: Bounds,
) -> Vec<Item> {
    let look = &subject.looks[kind];
    let known = &subject.laid.asked.piece.kinds[kind];
    let shown = known.reach_mm.min(STONE_MM);
    let symbol = look.symbol(&mut page.drawing, name);
    let centre = Point::new(cell.min.x + STONE_MM / 2.0, cell.centre().y);
    let (radius, turn_deg, place_no) = (shown / 2.0, 0.0, None);
    let stone = Item::Instance(Instance { symbol, centre, radius, turn_deg, place_no });
    let chip = shapes::rectangle(2.6, 2.6);
    let corner = Point::new(cell.min.x + STONE_MM + 1.2, cell.centre().y - 1.3);
    let chip = chip.moved(corner - chip.bounds().min);
    let mut chip = Shape::flat(&chip, Ink::solid(known.colour));
    let edge = drawing::Paint::Flat(Ink::solid(super::page::GREY));
    chip.stroke = Some(drawing::Stroke::solid(edge, 0.1));
    let letter = look.letter(centre, shown / known.reach_mm).map(Item::Text);
    [Some(stone), letter, Some(Item::Shape(chip))].into_iter().flatten().collect()
}

/// Kinds of one piece that go onto one page of a long legend.
pub(super) struct Part<'s, 'p> {
    subject: &'s Subject<'p>,
    kinds: Vec<(usize, usize)>,
}

/// A long legend, page by page.
pub(super) fn parts<'s, 'p>(subjects: &[&'s Subject<'p>], room: Bounds) -> Vec<Part<'s, 'p>> {
    let lines = ((room.height() - 2.0) / LINE_MM).floor().max(1.0) as usize;
    let most = lines * columns(room.width(), false);
    let of = |s: &&'s Subject<'p>| {
        let (subject, all) = (*s, entries(s));
        all.chunks(most).map(move |c| Part { subject, kinds: c.to_vec() }).collect::<Vec<_>>()
    };
    subjects.iter().flat_map(of).collect()
}

/// Writes one page of a long legend.
pub(super) fn put_part(page: &mut Page, part: &Part<'_, '_>, within: Bounds) {
    let n = columns(within.width(), false);
    let mut items = vec![];
    for (i, entry) in part.kinds.iter().enumerate() {
        items.extend(put_entry(page, part.subject, *entry, cell(within, n, 0, i), 0));
    }
    page.drawing.layers.push(Layer::new("legend", items));
}

/// The box of entry `i` of `n` in a line, counted on from the start of line `line`.
fn cell(within: Bounds, n: usize, line: usize, i: usize) -> Bounds {
    let width = within.width() / n as f64;
    let x = within.min.x + (i % n) as f64 * width;
    let y = within.max.y - 2.0 - (line + i / n) as f64 * LINE_MM;
    Bounds { min: Point::new(x, y - LINE_MM), max: Point::new(x + width, y) }
}

/// Writes one entry and gives what is drawn of it.
fn put_entry(
    page: &mut Page,
    subject: &Subject<'_>,
    (kind, count): (usize, usize),
    cell: Bounds,
    no: usize,
) -> Vec<Item> {
    let known = &subject.laid.asked.piece.kinds[kind];
    let letter = &subject.looks[kind].letter;
    let text = format!("{letter}  {} · {} · {}", known.name, known.size, grouped(count as u64));
    let words =
        Bounds { min: cell.min + Point::new(9.5, 0.0), max: cell.max - Point::new(2.0, 0.0) };
    page.words.push(Words::plain(text, words, 8.0));
    swatch(page, subject, kind, format!("legend-{no}-{kind}"), cell)
}
