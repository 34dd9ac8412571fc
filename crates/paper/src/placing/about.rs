//! What a maker reads first: how to print, how to use the sheets, what lies where.

use super::art::Subject;
use super::made::Made;
use super::page::{About, CARD_MM, HEADING_MM, MARGIN_MM, Page, Sheet};
use super::rows::{scattered, zone_letter};
use super::{Placing, Use};
use app::laying::LaidOrder;
use geometry::{Bounds, Point};
use units::grouped;

/// What sheets are for, in words.
pub(super) fn title(usage: Use) -> &'static str {
    match usage {
        Use::Under => "to lie under a clear blank",
        Use::Beside => "to lie beside the piece",
        Use::Behind => "mirrored, to set from the back",
        Use::Strips => "rows in strips",
    }
}

/// How to print, and how to see that it came out true.
const PRINT: [&str; 2] = [
    "Print at actual size, 100 %. Switch off whatever fits, shrinks or centres the page.",
    "Lay a steel rule on both bars: each is 100 mm long. Or lay a bank card on its outline. If they \
     are off, print the test page, measure its bars and make the sheets again with --measured, such \
     as --measured 98.6, or --measured 98.6x99.1 for across and down.",
];

fn usage_steps(usage: Use) -> &'static [&'static str] {
    match usage {
        Use::Under => &[
            "Cut the sheet along the dashed line, lay it under the clear blank so that the outline \
             meets the edge, and tape both down.",
            "Every stone goes onto its circle. The letter or the filling says which kind it is.",
        ],
        Use::Beside => &[
            "Keep the sheet beside the piece. A row begins at its number, and the arrow shows which \
             way it runs; a dashed line is the way of the glue.",
            "A triangle is where a stretch starts, a square where it stops. Glue one stretch at a \
             time: that is what can be set before the adhesive skins.",
        ],
        Use::Behind => &[
            "Turn the clear blank over and lay the sheet under it so that the outline meets the \
             edge. You set its back, and see the piece mirrored, as on the sheet.",
            "Every stone goes onto its circle, foil towards you. The letter says which kind it is.",
        ],
        Use::Strips => &[
            "Cut the strips out along the dashed lines. Each is one row, from its arrow on.",
            "A curved row is straightened: each stone is as far from its neighbour as on the piece, \
             centre to centre.",
        ],
    }
}

const TILES: &str = "A piece that is larger than a page is in tiles: a letter for the row, a number \
    for the column. Cut one of two neighbours along the dashed line, lay its crosses on those of \
    the other, and tape them together.";

/// The first page.
pub(super) fn front(
    order: &LaidOrder,
    subjects: &[Subject<'_>],
    wanted: &Placing,
    made: &Made<'_>,
) -> Page {
    let sheet = made.front_sheet();
    let line = format!("Placing sheets, {}", title(wanted.usage));
    let mut page = Page::new(sheet, &order.name, &line);
    let mut steps: Vec<&str> = PRINT.to_vec();
    steps.extend(usage_steps(wanted.usage));
    let tiled = made.pages.iter().flat_map(|p| &p.2.pieces).any(|p| p.tile.is_some());
    if tiled {
        steps.push(TILES);
    }
    let pieces: Vec<Vec<String>> = (0..subjects.len()).map(|i| row(made, subjects, i)).collect();
    let mut notes = notes(subjects, wanted.usage);
    // The card stands below; more rows would run into it.
    let (shown, more) = pieces.split_at(pieces.len().min(MOST_ROWS));
    if !more.is_empty() {
        notes.insert(0, format!("and {} more pieces", more.len()));
    }
    let head = ["piece", "size", "stones", "copies", "pages"].map(str::to_owned).to_vec();
    put(
        &mut page,
        sheet,
        About { steps: owned(&steps), head, pieces: shown.to_vec(), notes, ..About::default() },
    );
    page.card(card_corner(sheet));
    page
}

/// The most rows of the table of pieces.
const MOST_ROWS: usize = 18;

/// The test page.
pub(super) fn test_page(sheet: Sheet) -> Page {
    let mut page = Page::new(sheet, "Test page", "What your printer makes of 100 mm");
    let steps = [
        PRINT[0],
        "Measure both bars with a steel rule, from the first tick to the last, to a tenth of a \
         millimetre: the one below goes across, the one on the left goes down.",
        "If both measure 100 mm, and a bank card fits its outline, all sheets come out true.",
        "If not, make the sheets with what you measured, across and down: --measured 98.6x99.1. \
         Sheets are then drawn larger or smaller by as much, and say so at their foot. The same \
         printer with the same settings prints them true.",
    ];
    put(&mut page, sheet, About { steps: owned(&steps), ..About::default() });
    page.card(card_corner(sheet));
    page
}

fn owned(steps: &[&str]) -> Vec<String> {
    steps.iter().map(|s| (*s).to_owned()).collect()
}

fn put(page: &mut Page, sheet: Sheet, about: About) {
    let room: Bounds = sheet.room(0.0);
    let top = sheet.page().max.y - MARGIN_MM - HEADING_MM - 4.0;
    page.about = Some(About { x: room.min.x, y: top, width: room.width(), ..about });
}

fn card_corner(sheet: Sheet) -> Point {
    let room = sheet.room(0.0);
    Point::new(room.max.x - CARD_MM.0 - 1.0, room.min.y + 4.0)
}

/// A piece in the table: name, size, stones, copies, pages.
fn row(made: &Made<'_>, subjects: &[Subject<'_>], piece: usize) -> Vec<String> {
    let asked = &subjects[piece].laid.asked.piece;
    let name: String = asked.name.chars().take(48).collect();
    let b = asked.blank.bounds();
    let size = format!("{} × {} mm", units::trimmed(b.width(), 1), units::trimmed(b.height(), 1));
    let stones = grouped(subjects[piece].laid.lay.stones.len() as u64);
    let on = |p: &super::PrintedPage| p.pieces.iter().any(|x| x.piece == asked.name);
    let numbered = made.pages.iter().enumerate();
    // The first page comes before them.
    let of_strips = |title: &str| title == asked.name;
    let pages: Vec<usize> = numbered
        .filter(|(_, p)| on(&p.2) || p.2.pieces.is_empty() && of_strips(&p.0.drawing.title))
        .map(|(i, _)| i + 2)
        .collect();
    let span = match (pages.first(), pages.last()) {
        (Some(a), Some(b)) if a == b => a.to_string(),
        (Some(a), Some(b)) => format!("{a}–{b}"),
        _ => "none".to_owned(),
    };
    vec![crate::fonts::shown(&name), size, stones, made.copies(piece).to_string(), span]
}

/// What must be said about single pieces.
fn notes(subjects: &[Subject<'_>], usage: Use) -> Vec<String> {
    let mut notes = vec![];
    for subject in subjects {
        let piece = &subject.laid.asked.piece;
        let zones = || piece.zones.iter().enumerate();
        let without: Vec<&str> =
            zones().filter(|z| scattered(piece, z.0)).map(|z| z.1.name.as_str()).collect();
        if usage == Use::Strips && !without.is_empty() {
            let zones = without.join(", ");
            notes.push(format!("{}: no strips for {zones}: a scatter has no rows", piece.name));
        }
        let with: Vec<(usize, &lay::Zone)> = zones().filter(|z| !scattered(piece, z.0)).collect();
        if matches!(usage, Use::Beside | Use::Strips) && with.len() > 1 {
            let said: Vec<String> =
                with.iter().map(|(i, z)| format!("{}: {}", zone_letter(*i), z.name)).collect();
            notes.push(format!("Rows of {}: {}", piece.name, said.join(", ")));
        }
    }
    notes.iter().take(8).map(|n| crate::fonts::shown(n)).collect()
}
