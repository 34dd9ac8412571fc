//! Placing sheets: what a maker places stones by.
//!
//! Pieces that fit are put side by side on pages, larger ones are cut into tiles; a first page says
//! how to print and what lies where.

mod about;
mod art;
mod fit;
mod legend;
mod look;
mod made;
mod page;
mod rows;
mod signs;
mod strips;
mod tiles;

use crate::frame::Stretch;
use crate::set::{Setting, own_number, set};
use crate::world::Template;
use crate::{Measured, PaperError, PaperSize};
use app::laying::LaidOrder;
use app::plan::PieceStretches;
use art::Subject;
use drawing::Anchor;
use lay::Watch;
use made::Made;
use page::{About, Page, Sheet};
use serde::Serialize;
use sha2::{Digest, Sha256};

/// What a sheet is for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Use {
    /// To lie under a clear blank: light, nothing over the stones but their marks.
    #[default]
    Under,
    /// To lie beside a blank that hides it: rows and stretches are numbered.
    Beside,
    /// To lie behind a clear blank that is set from its back: mirrored, its words are not.
    Behind,
    /// A strip for each row, to be cut out.
    Strips,
}

impl Use {
    /// All of them.
    pub const ALL: [Use; 4] = [Use::Under, Use::Beside, Use::Behind, Use::Strips];

    /// Its name, as it stands in file names.
    pub fn name(self) -> &'static str {
        match self {
            Use::Under => "under",
            Use::Beside => "beside",
            Use::Behind => "behind",
            Use::Strips => "strips",
        }
    }
}

/// What is wanted of placing sheets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placing {
    /// What they are for.
    pub usage: Use,
    /// What they are printed on.
    pub size: PaperSize,
    /// Whether each piece is there as often as it is wanted, instead of once.
    pub copies: bool,
    /// What the printer does to a bar of 100 mm.
    pub measured: Measured,
}

impl Default for Placing {
    fn default() -> Placing {
        Placing { usage: Use::Under, size: PaperSize::A4, copies: false, measured: Measured::TRUE }
    }
}

/// Sheets, and where everything lies on them.
#[derive(Clone, Debug)]
pub struct Printed {
    /// The PDF.
    pub pdf: Vec<u8>,
    /// Its pages.
    pub pages: Vec<PrintedPage>,
}

/// What lies on one page.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct PrintedPage {
    /// Its pieces.
    pub pieces: Vec<PrintedPiece>,
}

/// A piece on a page, or a part of one. Lengths are as printed: mm to the right and down from the
/// top left corner of the page.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PrintedPiece {
    /// Its name.
    pub piece: String,
    /// Which copy it is, from 1.
    pub copy: u32,
    /// The name of the tile, if it is one.
    pub tile: Option<String>,
    /// Where the top left corner of the blank's box lies; off the page for most tiles.
    pub left_mm: f64,
    /// The same, down.
    pub top_mm: f64,
    /// Width of the blank's box, true.
    pub width_mm: f64,
    /// Height of the blank's box, true.
    pub height_mm: f64,
    /// Whether left and right have changed sides.
    pub mirrored: bool,
    /// What of the page shows it: left, top, right, bottom.
    pub window_mm: [f64; 4],
}

/// The most pages of one paper.
pub const MOST_PAGES: usize = 1000;

const TEMPLATE: Template =
    Template { name: "placing.typ", text: include_str!("../typ/placing.typ") };

/// Placing sheets of a laid order as a PDF. `stretches` are those of its plan, by piece; without
/// them, rows run as the lay has them, and no stretch is shown.
///
/// # Errors
/// More than [`MOST_PAGES`] pages, the watcher stopped it, or the typesetter refused.
pub fn placing(
    order: &LaidOrder,
    stretches: Option<&[PieceStretches]>,
    wanted: &Placing,
    watch: &dyn Watch,
) -> Result<Printed, PaperError> {
    let of_piece = |i: usize| stretches.and_then(|s| s.get(i)).map(|s| &s.stretches);
    let pieces = order.pieces.iter().enumerate();
    let subjects: Vec<Subject<'_>> =
        pieces.map(|(i, p)| Subject::new(p, of_piece(i), wanted.usage)).collect();
    let mut made = Made::new(order, wanted);
    match wanted.usage {
        Use::Strips => made.all_strips(&subjects, watch)?,
        _ => made.pieces(&subjects, watch)?,
    }
    let number = number(order, stretches, wanted)?;
    let title = format!("{}: placing sheets, {}", order.name, about::title(wanted.usage));
    let front = about::front(order, &subjects, wanted, &made);
    let mut pages = vec![(front, made.front_sheet(), PrintedPage::default())];
    pages.extend(made.pages);
    finish(&title, &number, wanted.measured, pages, watch)
}

/// A page with bars and the outline of a bank card, to see what a printer does to them.
///
/// # Errors
/// The typesetter refused.
pub fn test_page(size: PaperSize, measured: Measured) -> Result<Printed, PaperError> {
    let sheet = Sheet { size, measured, wide: false };
    let page = about::test_page(sheet);
    let number = format!("TP-{}", size.name());
    let pages = vec![(page, sheet, PrintedPage::default())];
    finish("Test page", &number, measured, pages, &lay::Unwatched)
}

/// Numbers the pages and sets them.
fn finish(
    title: &str,
    number: &str,
    measured: Measured,
    pages: Vec<(Page, Sheet, PrintedPage)>,
    watch: &dyn Watch,
) -> Result<Printed, PaperError> {
    let n = pages.len();
    if n > MOST_PAGES {
        return Err(PaperError::TooManyPages { pages: n, most: MOST_PAGES });
    }
    let (mut drawings, mut shown, mut printed) = (vec![], vec![], vec![]);
    for (i, (mut page, sheet, on_page)) in pages.into_iter().enumerate() {
        let print = measured.said().unwrap_or_else(|| "print at actual size, 100 %".to_owned());
        page.foot(
            format!("{number} · {} · {print}", sheet.size.name()),
            format!("page {} of {n}", i + 1),
        );
        let page = page.finished();
        shown.push(ShownPage::of(&page, sheet));
        drawings.push((page.drawing, stretch(sheet)));
        printed.push(on_page);
    }
    let title = crate::fonts::shown(title);
    let data = Data { title, pages: shown };
    let setting = Setting { template: TEMPLATE, data: &data, drawings: &drawings, number };
    Ok(Printed { pdf: set(&setting, watch)?, pages: printed })
}

fn stretch(sheet: Sheet) -> Stretch {
    let (x, y) = sheet.factors();
    Stretch { x, y }
}

/// The number of the document: the same for the same stones on the same paper.
fn number(
    order: &LaidOrder,
    stretches: Option<&[PieceStretches]>,
    wanted: &Placing,
) -> Result<String, PaperError> {
    let wrong = |e: &dyn std::fmt::Display| PaperError::Set(e.to_string());
    let file = order.file().map_err(|e| wrong(&e))?;
    let mut hash = Sha256::new();
    hash.update(file.to_json());
    hash.update(serde_json::to_vec(&stretches).map_err(|e| wrong(&e))?);
    hash.update(format!("{wanted:?}"));
    Ok(own_number("PS", hash))
}

/// What the template reads.
#[derive(Serialize)]
struct Data {
    title: String,
    pages: Vec<ShownPage>,
}

#[derive(Serialize)]
struct ShownPage {
    width: f64,
    height: f64,
    words: Vec<ShownWords>,
    about: Option<About>,
}

#[derive(Serialize)]
struct ShownWords {
    x: f64,
    y: f64,
    width: f64,
    height: f64,
    text: String,
    size: f64,
    bold: bool,
    level: u8,
    side: &'static str,
}

impl ShownPage {
    /// As printed: millimetres to the right and down.
    fn of(page: &Page, sheet: Sheet) -> ShownPage {
        let ((width, height), (fx, fy)) = (sheet.printed(), sheet.factors());
        let top = page.drawing.page.max.y;
        let words = page.words.iter().map(|w| ShownWords {
            x: w.within.min.x * fx,
            y: (top - w.within.max.y) * fy,
            width: w.within.width() * fx,
            height: w.within.height() * fy,
            text: crate::fonts::shown(&w.text),
            size: w.size_pt,
            bold: w.bold,
            level: w.level,
            side: match w.side {
                Anchor::Left => "left",
                Anchor::Middle => "middle",
                Anchor::Right => "right",
            },
        });
        let about = page.about.clone().map(|a| About {
            x: a.x * fx,
            y: (top - a.y) * fy,
            width: a.width * fx,
            ..a
        });
        ShownPage { width, height, words: words.collect(), about }
    }
}
