//! Placing sheets of small orders, read back as bytes.

#![expect(clippy::unwrap_used, reason = "a helper of tests may fail the test")]

use app::laying::{LaidOrder, lay_order};
use app::order::{Folder, open};
use lay::{Unwatched, Watch};
use paper::{Measured, PaperError, PaperSize, Placing, Printed, Use, placing, test_page};
use std::path::Path;

/// An order of one kind of 4 mm and one piece: its name and the lines of its blank and rest.
fn laid(name: &str, rest: &str) -> LaidOrder {
    // A JSON string is a TOML string.
    let name = serde_json::to_string(name).unwrap();
    let text = format!(
        "stonelay = 1\norder = {name}\nseed = 1\n[[kind]]\nname = {name}\nsize = \"4 mm\"\n\
         colour = \"#2a9d8f\"\n[[piece]]\nname = {name}\n{rest}\nmix = {name}\n"
    );
    let order = open("order.toml", text.as_bytes(), &Folder::of(Path::new("order.toml")));
    let order = order.unwrap_or_else(|e| panic!("{}", e.plain()));
    lay_order(order, &Unwatched).unwrap()
}

fn plate(width: u32, height: u32) -> LaidOrder {
    let blank = format!(
        "quantity = 3\nblank = {{ shape = \"rectangle\", width = \"{width} mm\", height = \"{height} mm\" }}\n\
         arrangement = \"honeycomb\""
    );
    laid("plate", &blank)
}

fn made(order: &LaidOrder, wanted: &Placing) -> Printed {
    let stretches = app::plan::stretches(order).unwrap();
    placing(order, Some(&stretches), wanted, &Unwatched).unwrap()
}

fn usage(usage: Use) -> Placing {
    Placing { usage, ..Placing::default() }
}

fn has(pdf: &[u8], what: &str) -> bool {
    pdf.windows(what.len()).any(|w| w == what.as_bytes())
}

/// The typesetter refuses, by the rules of PDF/UA-1, a letter that no typeface has.
#[test]
fn whatever_a_piece_is_called_there_is_a_sheet() {
    let names = [
        "#panic()",
        "] #import \"x.typ\": *",
        "*a* _b_ $x$ <c> @d \\",
        "Φάρος маяк",
        "منارة",
        "🏮⚓",
        "👩‍🔧 e\u{301} fi",
        "灯台",
        "\u{202e}turned\u{feff}",
    ];
    for name in names {
        let rest = "quantity = 1\nblank = { shape = \"circle\", diameter = \"30 mm\" }\n\
                    arrangement = \"rings\"";
        let order = laid(name, rest);
        for way in Use::ALL {
            let made = made(&order, &usage(way));
            assert!(made.pdf.starts_with(b"%PDF-"), "{name}");
        }
    }
}

#[test]
fn a_sheet_is_tagged_and_says_its_language() {
    let pdf = made(&plate(40, 30), &usage(Use::Under)).pdf;
    for what in ["/StructTreeRoot", "/MarkInfo", "/Lang", "DisplayDocTitle", "pdfuaid:part"] {
        assert!(has(&pdf, what), "{what}");
    }
    assert!(!has(&pdf, "CreationDate"));
}

#[test]
fn the_same_order_gives_the_same_bytes_and_another_a_number_of_its_own() {
    let first = made(&plate(40, 30), &usage(Use::Beside)).pdf;
    assert!(first == made(&plate(40, 30), &usage(Use::Beside)).pdf);
    assert!(first != made(&plate(40, 31), &usage(Use::Beside)).pdf);
}

#[test]
fn each_piece_is_there_once_or_as_often_as_it_is_wanted() {
    let order = plate(40, 30);
    let once = made(&order, &usage(Use::Under));
    let all = made(&order, &Placing { copies: true, ..usage(Use::Under) });
    let copies = |p: &Printed| -> Vec<u32> {
        p.pages.iter().flat_map(|p| &p.pieces).map(|p| p.copy).collect()
    };
    assert_eq!((copies(&once), copies(&all)), (vec![1], vec![1, 2, 3]));
}

#[test]
fn a_large_piece_is_in_tiles_and_each_stone_is_whole_on_one() {
    let order = plate(400, 310);
    for (way, size) in [(Use::Under, PaperSize::A4), (Use::Behind, PaperSize::Letter)] {
        let made = made(&order, &Placing { usage: way, size, ..Placing::default() });
        let tiles: Vec<_> = made.pages.iter().flat_map(|p| &p.pieces).collect();
        assert!(tiles.len() >= 4 && tiles.iter().all(|t| t.tile.is_some()));
        let blank = order.pieces[0].asked.piece.blank.bounds();
        for stone in &order.pieces[0].lay.stones {
            let (x, y) = (stone.place.u - blank.min.x, blank.max.y - stone.place.v);
            let whole = tiles.iter().any(|t| {
                let x = t.left_mm + if t.mirrored { t.width_mm - x } else { x };
                let y = t.top_mm + y;
                let [left, top, right, bottom] = t.window_mm;
                x - 2.0 >= left && x + 2.0 <= right && y - 2.0 >= top && y + 2.0 <= bottom
            });
            assert!(whole, "{way:?}: {x} {y}");
        }
    }
}

#[test]
fn more_pages_than_anybody_prints_are_refused() {
    let rest = "quantity = 9000\nblank = { shape = \"rectangle\", width = \"170 mm\", height = \"200 mm\" }\n\
                margin = \"80 mm\"\narrangement = \"square\"";
    let order = laid("many", rest);
    let wanted = Placing { copies: true, ..usage(Use::Under) };
    let refused = placing(&order, None, &wanted, &Unwatched).unwrap_err();
    assert!(matches!(refused, PaperError::TooManyPages { .. }), "{refused}");
}

struct Stop;

impl Watch for Stop {
    fn step(&self, _: &str, _: usize, _: usize) {}
    fn stopped(&self) -> bool {
        true
    }
}

#[test]
fn it_can_be_stopped() {
    let order = plate(40, 30);
    let stopped = placing(&order, None, &usage(Use::Strips), &Stop).unwrap_err();
    assert_eq!(stopped, PaperError::Stopped);
}

#[test]
fn what_is_made_up_for_moves_nothing_off_its_true_size() {
    let measured = Measured::new(98.0, 102.0).unwrap();
    let order = plate(40, 30);
    let made = made(&order, &Placing { measured, ..usage(Use::Under) });
    let piece = &made.pages[1].pieces[0];
    // The cut line is 40 mm and two times 3 mm wide; the printer makes 98 of 100 mm.
    let printed = (piece.window_mm[2] - piece.window_mm[0]) * 0.98;
    assert!((printed - 46.0).abs() < 1e-9, "{printed}");
    assert!(test_page(PaperSize::Letter, measured).unwrap().pages.len() == 1);
}
