//! The pages of placing sheets, in their order.

use super::art::{Position, Subject};
use super::fit::{Extent, shelves};
use super::page::{Page, Sheet, Words};
use super::{MOST_PAGES, Placing, PrintedPage, PrintedPiece, Use, about, legend};
use crate::PaperError;
use app::laying::LaidOrder;
use drawing::Anchor;
use geometry::{Bounds, Point};
use lay::Watch;
use units::{grouped, trimmed};

/// Room round a piece inside its cut line, mm.
const ROOM_MM: f64 = 3.0;
/// Height of the words under a piece.
const CAPTION_MM: f64 = 4.5;
/// A cut-out is at least so wide, so that its words can be read.
const LEAST_MM: f64 = 36.0;
/// Between two cut-outs.
pub(super) const GAP_MM: f64 = 3.0;

/// Pages while they are made.
pub(super) struct Made<'a> {
    order: &'a LaidOrder,
    wanted: &'a Placing,
    /// Finished ones.
    pub(super) pages: Vec<(Page, Sheet, PrintedPage)>,
    /// Pieces of the page at hand, by index, and which copy of each.
    open: Vec<(usize, u32)>,
    /// Which way the page at hand lies.
    wide: bool,
}

impl<'a> Made<'a> {
    pub(super) fn new(order: &'a LaidOrder, wanted: &'a Placing) -> Made<'a> {
        Made { order, wanted, pages: vec![], open: vec![], wide: false }
    }

    /// The sheet of pages that lie on their side or not.
    pub(super) fn sheet(&self, wide: bool) -> Sheet {
        Sheet { size: self.wanted.size, measured: self.wanted.measured, wide }
    }

    /// The sheet of the first page.
    pub(super) fn front_sheet(&self) -> Sheet {
        self.sheet(false)
    }

    /// How often a piece is there.
    pub(super) fn copies(&self, piece: usize) -> u32 {
        if self.wanted.copies { self.order.pieces[piece].asked.quantity } else { 1 }
    }

    /// Every piece: side by side where they fit, in tiles where one is larger than a page.
    pub(super) fn pieces(
        &mut self,
        subjects: &[Subject<'_>],
        watch: &dyn Watch,
    ) -> Result<(), PaperError> {
        let lie = |i: usize| [false, true].into_iter().find(|w| self.fits(subjects, &[(i, 1)], *w));
        let ways: Vec<Option<bool>> = (0..subjects.len()).map(lie).collect();
        // Those that fit come first, upright before wide, so that few pages are left half empty.
        let mut turn: Vec<usize> = (0..subjects.len()).collect();
        turn.sort_by_key(|&i| match ways[i] {
            Some(wide) => usize::from(wide),
            None => 2,
        });
        for (done, i) in turn.into_iter().enumerate() {
            watch.step(&subjects[i].laid.asked.piece.name, done, subjects.len());
            for copy in 1..=self.copies(i) {
                self.go_on(watch)?;
                match ways[i] {
                    Some(wide) => self.add(subjects, (i, copy), wide),
                    None => {
                        self.close(subjects);
                        self.tiles(&subjects[i], copy);
                    }
                }
            }
        }
        self.close(subjects);
        Ok(())
    }

    /// Puts a piece onto the page at hand, or onto the next if it has no room left.
    fn add(&mut self, subjects: &[Subject<'_>], cell: (usize, u32), wide: bool) {
        let mut more = self.open.clone();
        more.push(cell);
        if self.wide != wide || !self.fits(subjects, &more, wide) {
            self.close(subjects);
            more = vec![cell];
        }
        (self.open, self.wide) = (more, wide);
    }

    /// Refuses to go on without end.
    pub(super) fn go_on(&self, watch: &dyn Watch) -> Result<(), PaperError> {
        if watch.stopped() {
            return Err(PaperError::Stopped);
        }
        let pages = self.pages.len() + 1;
        if pages > MOST_PAGES {
            return Err(PaperError::TooManyPages { pages, most: MOST_PAGES });
        }
        Ok(())
    }

    fn fits(&self, subjects: &[Subject<'_>], cells: &[(usize, u32)], wide: bool) -> bool {
        let (room, _) = self.room(&distinct(subjects, cells), wide);
        let boxes: Vec<Extent> = cells.iter().map(|c| cell(&subjects[c.0])).collect();
        shelves(&boxes, (room.width(), room.height()), GAP_MM).is_some()
    }

    /// Where pieces go on a page with the legend of these, and whether the legend is on it.
    pub(super) fn room(&self, shown: &[&Subject<'_>], wide: bool) -> (Bounds, usize) {
        let sheet = self.sheet(wide);
        let lines = legend::lines(shown, sheet.room(0.0).width());
        let lines = if lines > legend::MOST_LINES { 0 } else { lines };
        (sheet.room(legend::height_mm(lines)), lines)
    }

    /// Puts the legend of these on the page, unless it is too long for that.
    pub(super) fn legend(&self, page: &mut Page, shown: &[&Subject<'_>], wide: bool) {
        let (_, lines) = self.room(shown, wide);
        let sheet = self.sheet(wide);
        if lines > 0 {
            legend::put(page, shown, sheet.legend(legend::height_mm(lines)));
        }
    }

    /// Finishes the page at hand.
    fn close(&mut self, subjects: &[Subject<'_>]) {
        let cells = std::mem::take(&mut self.open);
        if cells.is_empty() {
            return;
        }
        let shown = distinct(subjects, &cells);
        let (room, _) = self.room(&shown, self.wide);
        let title = match &shown[..] {
            [one] => one.laid.asked.piece.name.clone(),
            _ => self.order.name.clone(),
        };
        let sheet = self.sheet(self.wide);
        let mut page = Page::new(sheet, &title, &self.line(""));
        let boxes: Vec<Extent> = cells.iter().map(|c| cell(&subjects[c.0])).collect();
        let corners = shelves(&boxes, (room.width(), room.height()), GAP_MM).unwrap_or_default();
        let mut on_page = PrintedPage::default();
        for (no, ((piece, copy), corner)) in cells.into_iter().zip(corners).enumerate() {
            let subject = &subjects[piece];
            let (width, height) = cell(subject);
            let min = Point::new(room.min.x + corner.0, room.max.y - corner.1 - height);
            let cut = Bounds { min, max: min + Point::new(width, height) };
            page.cut(cut);
            let inside = (width - subject.bounds().width()) / 2.0;
            let corner = min + Point::new(inside, ROOM_MM + CAPTION_MM);
            let position = self.position(corner, None);
            subject.draw(&mut page.drawing, no + 1, position, self.wanted.usage);
            let words = Bounds {
                min: min + Point::new(1.5, 0.8),
                max: Point::new(cut.max.x - 1.5, min.y + 0.8 + CAPTION_MM),
            };
            page.words.push(Words::plain(self.caption(piece, copy), words, 7.0).to(Anchor::Middle));
            on_page.pieces.push(printed(subject, copy, None, position, cut, sheet));
        }
        self.legend(&mut page, &shown, self.wide);
        self.push(page, sheet, on_page, &shown);
    }

    /// Keeps a finished page, after the pages of its legend if it is too long to be on it.
    pub(super) fn push(
        &mut self,
        page: Page,
        sheet: Sheet,
        on_page: PrintedPage,
        shown: &[&Subject<'_>],
    ) {
        let long = legend::lines(shown, sheet.room(0.0).width()) > legend::MOST_LINES;
        let known = |p: &(Page, Sheet, PrintedPage)| p.0.drawing.title == legend_title(shown);
        if long && !self.pages.iter().any(known) {
            self.legend_pages(shown);
        }
        self.pages.push((page, sheet, on_page));
    }

    fn legend_pages(&mut self, shown: &[&Subject<'_>]) {
        let sheet = self.sheet(false);
        let room = sheet.room(0.0);
        for part in legend::parts(shown, room) {
            let mut page = Page::new(sheet, &legend_title(shown), &self.line(""));
            legend::put_part(&mut page, &part, room);
            self.pages.push((page, sheet, PrintedPage::default()));
        }
    }

    /// What the sheets are for.
    pub(super) fn usage(&self) -> Use {
        self.wanted.usage
    }

    /// Where a piece goes, the way round that is wanted.
    pub(super) fn position(&self, corner: Point, window: Option<Bounds>) -> Position {
        Position { corner, mirrored: self.wanted.usage == Use::Behind, window }
    }

    /// The line under the heading.
    pub(super) fn line(&self, more: &str) -> String {
        let usage = about::title(self.wanted.usage);
        if more.is_empty() {
            format!("{} · {usage}", self.order.name)
        } else {
            format!("{} · {usage} · {more}", self.order.name)
        }
    }

    fn caption(&self, piece: usize, copy: u32) -> String {
        let laid = &self.order.pieces[piece];
        let copies = self.copies(piece);
        let copy = if copies > 1 { format!(" · copy {copy} of {copies}") } else { String::new() };
        format!("{} · {}{copy}", laid.asked.piece.name, self.size(piece))
    }

    /// How large a piece is, and how many stones it has.
    pub(super) fn size(&self, piece: usize) -> String {
        let laid = &self.order.pieces[piece];
        let b = laid.asked.piece.blank.bounds();
        let (w, h) = (trimmed(b.width(), 1), trimmed(b.height(), 1));
        format!("{w} × {h} mm · {} stones", grouped(laid.lay.stones.len() as u64))
    }
}

fn legend_title(shown: &[&Subject<'_>]) -> String {
    let names: Vec<&str> = shown.iter().map(|s| s.laid.asked.piece.name.as_str()).collect();
    format!("Kinds of {}", names.join(", "))
}

/// The pieces of a page, each once.
fn distinct<'s, 'p>(subjects: &'s [Subject<'p>], cells: &[(usize, u32)]) -> Vec<&'s Subject<'p>> {
    let mut known: Vec<usize> = cells.iter().map(|c| c.0).collect();
    known.dedup();
    known.into_iter().map(|i| &subjects[i]).collect()
}

/// The size of the cut-out of a piece.
fn cell(subject: &Subject<'_>) -> Extent {
    let b = subject.bounds();
    let width = (b.width() + 2.0 * ROOM_MM).max(LEAST_MM);
    (width, b.height() + 2.0 * ROOM_MM + CAPTION_MM)
}

/// Where a piece lies on its page, as printed.
pub(super) fn printed(
    subject: &Subject<'_>,
    copy: u32,
    tile: Option<String>,
    position: Position,
    window: Bounds,
    sheet: Sheet,
) -> PrintedPiece {
    let (box_, blank) = (subject.bounds(), subject.laid.asked.piece.blank.bounds());
    let inset = if position.mirrored { box_.max.x - blank.max.x } else { blank.min.x - box_.min.x };
    let ((fx, fy), top) = (sheet.factors(), sheet.page().max.y);
    let left = position.corner.x + inset;
    let up = position.corner.y + blank.max.y - box_.min.y;
    PrintedPiece {
        piece: subject.laid.asked.piece.name.clone(),
        copy,
        tile,
        left_mm: left * fx,
        top_mm: (top - up) * fy,
        width_mm: blank.width(),
        height_mm: blank.height(),
        mirrored: position.mirrored,
        window_mm: [
            window.min.x * fx,
            (top - window.max.y) * fy,
            window.max.x * fx,
            (top - window.min.y) * fy,
        ],
    }
}
