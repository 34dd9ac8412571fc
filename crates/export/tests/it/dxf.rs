//! DXF: places, edges, layers, units, in both editions.

use crate::support::{HOLE, plaque};
use export::{DxfEdition, PageFrame, dxf};

const EDITIONS: [DxfEdition; 2] = [DxfEdition::R12, DxfEdition::R2018];

/// Group codes and values, read by hand.
fn pairs(text: &str) -> Vec<(u16, &str)> {
    let lines: Vec<&str> = text.split("\r\n").collect();
    assert_eq!(lines.last(), Some(&""));
    lines.chunks_exact(2).map(|p| (p[0].trim().parse().unwrap(), p[1])).collect()
}

/// The shapes: name and pairs of each.
fn shapes<'a>(pairs: &'a [(u16, &'a str)]) -> Vec<&'a [(u16, &'a str)]> {
    let start = pairs.iter().position(|p| *p == (2, "ENTITIES")).unwrap() + 1;
    let end = start + pairs[start..].iter().position(|p| *p == (0, "ENDSEC")).unwrap();
    let parts = pairs[start..end].chunk_by(|_, next| next.0 != 0);
    parts.collect()
}

fn value<'a>(shape: &[(u16, &'a str)], code: u16) -> &'a str {
    shape.iter().find(|p| p.0 == code).unwrap_or_else(|| panic!("no {code} in {shape:?}")).1
}

fn number(shape: &[(u16, &str)], code: u16) -> f64 {
    value(shape, code).parse().unwrap()
}

#[test]
fn every_stone_is_a_circle_in_its_place_on_the_layer_of_its_kind() {
    let (piece, lay) = plaque();
    let page = piece.blank.bounds();
    let frame = PageFrame::of(page);
    for edition in EDITIONS {
        let text = dxf(&piece, &lay, edition);
        let pairs = pairs(&text);
        let circles: Vec<_> = shapes(&pairs)
            .into_iter()
            .filter(|s| s[0].1 == "CIRCLE" && value(s, 8) != "BLANK")
            .collect();
        assert_eq!(circles.len(), lay.stones.len());
        for (circle, stone) in circles.iter().zip(&lay.stones) {
            let at = frame.page_from_drawing(stone.place.point());
            assert!((number(circle, 10) - at.x).abs() < 2e-9);
            assert!((page.height() - number(circle, 20) - at.y).abs() < 2e-9);
            let kind = &piece.kinds[stone.kind as usize];
            assert_eq!(number(circle, 40) * 2.0, kind.reach_mm);
            assert!(value(circle, 8).starts_with(&drawing::mark(stone.kind as usize)));
        }
    }
}

#[test]
fn the_blanks_edge_is_exact_and_a_round_hole_is_a_circle() {
    let (piece, lay) = plaque();
    for edition in EDITIONS {
        let text = dxf(&piece, &lay, edition);
        let pairs = pairs(&text);
        let shapes = shapes(&pairs);
        let blank: Vec<_> = shapes.iter().filter(|s| value(s, 8) == "BLANK").collect();
        let hole = blank.iter().find(|s| s[0].1 == "CIRCLE").expect("the hole");
        let corner = piece.blank.bounds().min;
        assert!((number(hole, 10) - (HOLE.x - corner.x)).abs() < 2e-9);
        assert_eq!(number(hole, 40), 1.5);
        // Quarter turns: the tangent of a sixteenth of a circle (from the definition of the bulge).
        let expect = libm::tan(std::f64::consts::PI / 8.0);
        let all = blank.iter().flat_map(|s| s.iter()).filter(|p| p.0 == 42 && p.1 != "0.0");
        let bulges: Vec<f64> = all.map(|p| p.1.parse().unwrap()).collect();
        assert_eq!(bulges.len(), 4);
        assert!(bulges.iter().all(|b| (b - expect).abs() < 1e-9), "{bulges:?}");
    }
}

#[test]
fn unit_edition_and_layers_stand_in_the_file() {
    let (piece, lay) = plaque();
    for (edition, name) in EDITIONS.into_iter().zip(["AC1009", "AC1032"]) {
        let text = dxf(&piece, &lay, edition);
        let pairs = pairs(&text);
        let after = |variable: &str| {
            let at = pairs.iter().position(|p| *p == (9, variable)).expect("a header variable");
            pairs[at + 1].1
        };
        assert_eq!(
            [after("$ACADVER"), after("$INSUNITS"), after("$MEASUREMENT")],
            [name, "4", "1"]
        );
        let layers: Vec<&str> = pairs
            .chunk_by(|_, next| next.0 != 0)
            .filter(|record| record[0] == (0, "LAYER"))
            .map(|record| value(record, 2))
            .filter(|name| *name != "0")
            .collect();
        let expect =
            ["BLANK", "A-AMBER-LARGE", "B-CRYSTAL-CLEAR", "C-RAINBOW", "D-PEARL", "E-GOLD"];
        assert_eq!(layers, expect);
    }
}

#[test]
fn handles_of_release_2018_are_all_different_and_below_the_seed() {
    let (piece, lay) = plaque();
    let text = dxf(&piece, &lay, DxfEdition::R2018);
    let pairs = pairs(&text);
    let seed = pairs.iter().position(|p| *p == (9, "$HANDSEED")).unwrap() + 1;
    let handle = |text: &str| u64::from_str_radix(text, 16).unwrap();
    let mut handles: Vec<u64> = (pairs.iter().enumerate())
        .filter(|(i, p)| *i != seed && (p.0 == 5 || p.0 == 105))
        .map(|(_, p)| handle(p.1))
        .collect();
    let n = handles.len();
    handles.sort_unstable();
    handles.dedup();
    assert_eq!(handles.len(), n);
    assert!(*handles.last().unwrap() < handle(pairs[seed].1));
    // Whatever is pointed at is there; 0 is nobody.
    for pointer in pairs.iter().filter(|p| [330, 340, 350, 390].contains(&p.0) && p.1 != "0") {
        assert!(handles.binary_search(&handle(pointer.1)).is_ok(), "{pointer:?}");
    }
}

#[test]
fn the_same_lay_gives_the_same_bytes() {
    let (piece, lay) = plaque();
    for edition in EDITIONS {
        assert_eq!(dxf(&piece, &lay, edition), dxf(&piece, &lay, edition));
    }
}
