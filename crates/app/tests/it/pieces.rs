//! What a document's blanks and zones come to, against closed forms.

use crate::{Files, demo_files};
use app::order::{Order, open};
use geometry::{Point, Region};
use lay::{EDGE_OWN, EDGE_SHARED};
use std::f64::consts::PI;

const KIND: &str = "stonelay = 1\norder = 'o'\nseed = 5\n[[kind]]\nname = 'a'\nsize = 'SS16'\n";
const LAID: &str = "arrangement = 'honeycomb'\nmix = 'a'\nspacing = '0.2 mm'\n";

fn order(pieces: &str) -> Order {
    let text = format!("{KIND}{pieces}");
    open("o.toml", text.as_bytes(), &Files::default()).unwrap_or_else(|e| panic!("{e}"))
}

/// A piece of 60 × 40 mm with these holes and zones, laid out.
fn badge(holes: &str, zones: &[&str]) -> Order {
    let blank =
        "blank = { shape = 'rectangle', width = '60 mm', height = '40 mm' }\nmargin = '0.5 mm'";
    let zones: String = zones
        .iter()
        .enumerate()
        .map(|(i, z)| format!("[[piece.zone]]\nname = 'z{i}'\nwhere = {z}\n{LAID}"))
        .collect();
    order(&format!("[[piece]]\nname = 'p'\n{blank}\nholes = [{holes}]\n{zones}"))
}

fn regions(order: &Order) -> Vec<&Region> {
    order.pieces[0].piece.zones.iter().map(|z| &z.region).collect()
}

fn assert_near(a: f64, b: f64, tolerance: f64) {
    assert!((a - b).abs() <= tolerance, "{a} is not {b}");
}

/// Length of the edges with a tag.
fn length(region: &Region, tag: u8) -> f64 {
    region.segments().filter(|s| s.tag == tag).map(geometry::Segment::length).sum()
}

#[test]
fn names_alone_say_how_many_copies_there_are() {
    let named = |keys: &str| {
        let blank = "blank = { shape = 'circle', diameter = '30 mm' }";
        let order = order(&format!("[[piece]]\nname = 'p'\n{keys}\n{blank}\n{LAID}"));
        (order.pieces[0].quantity, order.pieces[0].names.clone())
    };
    let names = vec!["Ana".to_owned(), "Bo".to_owned()];
    assert_eq!(named(""), (1, vec![]));
    assert_eq!(named("names = []"), (1, vec![]));
    assert_eq!(named("names = ['Ana', 'Bo']"), (2, names.clone()));
    assert_eq!(named("quantity = 5\nnames = ['Ana', 'Bo']"), (5, names));
}

#[test]
fn a_hole_lies_where_the_maker_measures_it() {
    let order =
        badge("{ shape = 'circle', diameter = '4 mm', at = ['20 mm', '5 mm'] }", &["'rest'"]);
    let blank = &order.pieces[0].piece.blank;
    assert_eq!(blank.bounds().min, Point::ORIGIN);
    assert_eq!(blank.bounds().max, Point::new(60.0, 40.0));
    // Right and down from the top left corner; the arcs of the hole stay exact.
    assert!(!blank.contains(Point::new(20.0, 35.0)));
    assert_near(blank.clearance(Point::new(20.0, 35.0)), -2.0, 1e-12);
    assert_near(blank.area(), 2400.0 - PI * 4.0, 1e-9);
    assert_near(length(blank, EDGE_OWN), 200.0 + PI * 4.0, 1e-9);
}

#[test]
fn a_hole_over_the_edge_is_a_notch() {
    let order =
        badge("{ shape = 'circle', diameter = '10 mm', at = ['30 mm', '0 mm'] }", &["'rest'"]);
    assert_near(order.pieces[0].piece.blank.area(), 2400.0 - PI * 12.5, 0.02);
}

#[test]
fn a_hole_is_turned_counter_clockwise_about_its_middle() {
    let hole = "{ shape = 'rectangle', width = '20 mm', height = '2 mm', at = ['30 mm', '20 mm'], turn = '45 deg' }";
    let blank = &badge(hole, &["'rest'"]).pieces[0].piece.blank;
    assert!(!blank.contains(Point::new(35.0, 25.0)));
    assert!(blank.contains(Point::new(35.0, 15.0)));
}

#[test]
fn a_band_and_what_it_leaves_share_an_edge() {
    let order = badge("", &["{ band = '6 mm' }", "'rest'"]);
    let [band, rest] = regions(&order)[..] else { panic!("two zones") };
    assert_near(rest.area(), 48.0 * 28.0, 0.1);
    assert_near(band.area() + rest.area(), 2400.0, 1e-6);
    assert_near(length(band, EDGE_OWN), 200.0, 1e-6);
    assert_near(length(band, EDGE_SHARED), 152.0, 0.02);
    assert_eq!(length(rest, EDGE_OWN), 0.0);
    assert_near(length(rest, EDGE_SHARED), 152.0, 0.02);
}

/// SS16 is at most 4.00 mm (the trade's size chart). Three rows of a honeycomb take
/// d + 2 (d + spacing) √3/2; the margin and half the spacing come on top.
#[test]
fn a_band_in_rows_is_as_wide_as_its_rows() {
    let order = badge("", &["{ band = '3 rows' }", "'rest'"]);
    let width = 0.5 + 4.0 + 2.0 * 4.2 * 3f64.sqrt() / 2.0 + 0.1;
    let inner = regions(&order)[1].bounds();
    assert_near(inner.min.x, width, 0.02);
    assert!(inner.min.x >= width + 0.003, "never narrower than the rows");
}

#[test]
fn a_band_of_holes_keeps_to_the_holes() {
    let hole = "{ shape = 'circle', diameter = '4 mm', at = ['20 mm', '20 mm'] }";
    let order = badge(hole, &["{ band = '3 mm', of = 'holes' }", "'rest'"]);
    let [band, rest] = regions(&order)[..] else { panic!("two zones") };
    assert_near(band.area(), PI * (25.0 - 4.0), 0.1);
    assert_near(rest.area(), 2400.0 - PI * 25.0, 0.1);
    assert_near(length(band, EDGE_OWN), PI * 4.0, 0.01);
    let every = badge(hole, &["{ band = '3 mm', of = 'every edge' }", "'rest'"]);
    assert_near(regions(&every)[1].area(), 54.0 * 34.0 - PI * 25.0, 0.1);
    let outside = badge(hole, &["{ band = '3 mm' }", "'rest'"]);
    assert_near(regions(&outside)[1].area(), 54.0 * 34.0 - PI * 4.0, 0.1);
}

#[test]
fn earlier_zones_win_where_outlines_overlap() {
    let left =
        "{ shape = 'rectangle', width = '30 mm', height = '40 mm', at = ['15 mm', '20 mm'] }";
    let middle = "{ shape = 'circle', diameter = '20 mm', at = ['30 mm', '20 mm'] }";
    let order = badge("", &[left, middle, "'rest'"]);
    let [left, half_disc, rest] = regions(&order)[..] else { panic!("three zones") };
    assert_near(left.area(), 1200.0, 1e-6);
    assert_near(half_disc.area(), PI * 50.0, 0.05);
    assert_near(left.area() + half_disc.area() + rest.area(), 2400.0, 0.05);
    // An outline that ends where the blank ends has the blank's own edge there.
    assert_near(length(left, EDGE_OWN), 100.0, 1e-6);
    assert_near(length(left, EDGE_SHARED), 40.0, 1e-6);
    assert_eq!(length(half_disc, EDGE_OWN), 0.0);
}

#[test]
fn zones_never_overlap_by_more_than_the_promise() {
    let a = "{ shape = 'ellipse', width = '40 mm', height = '20 mm', at = ['25 mm', '20 mm'], turn = '20 deg' }";
    let b = "{ shape = 'star', tips = 5, across = '30 mm', at = ['42 mm', '18 mm'] }";
    let order = badge(
        "{ shape = 'circle', diameter = '9 mm', at = ['40 mm', '20 mm'] }",
        &["{ band = '4 mm' }", a, b, "'rest'"],
    );
    let regions = regions(&order);
    for (i, a) in regions.iter().enumerate() {
        for b in &regions[i + 1..] {
            for s in b.segments() {
                assert!(a.clearance(s.from) <= geometry::TOLERANCE_MM, "{:?}", s.from);
                assert!(a.clearance(s.point_at(0.5)) <= geometry::TOLERANCE_MM);
            }
        }
    }
}

#[test]
fn a_zone_without_room_is_a_finding() {
    let beside = "{ shape = 'circle', diameter = '5 mm', at = ['100 mm', '5 mm'] }";
    let order = badge("", &["{ band = '30 mm' }", beside, "'rest'"]);
    let piece = &order.pieces[0];
    assert_eq!(piece.piece.zones.len(), 1);
    let found: Vec<_> = piece.findings.iter().map(|f| (f.code, f.zone.as_deref())).collect();
    assert_eq!(found, [("order.zone-empty", Some("z1")), ("order.zone-empty", Some("z2"))]);
}

#[test]
fn few_measured_stones_are_a_finding() {
    let kind = "[[kind]]\nname = 'b'\nsize = { mean = '3.9 mm', spread = '0.05 mm', count = 4 }\n";
    let piece = "[[piece]]\nname = 'p'\nblank = { shape = 'circle', diameter = '50 mm' }\n";
    let order = order(&format!("{kind}{piece}arrangement = 'scatter'\nmix = 'b'\n"));
    let piece = &order.pieces[0];
    assert_eq!(piece.findings.len(), 1);
    assert_eq!(piece.findings[0].code, "order.measured-few");
    assert_eq!(piece.piece.kinds.len(), 1, "only the kinds it uses");
}

#[test]
fn what_a_drawing_lost_is_a_finding() {
    let text = format!(
        "{KIND}[[piece]]\nname = 'p'\nblank = {{ file = 'd.svg', width = '50 mm' }}\n{LAID}"
    );
    let drawing = "<svg xmlns='http://www.w3.org/2000/svg' width='50mm' height='30mm' \
                   viewBox='0 0 50 30'><text>Harbour</text><circle cx='9' cy='9' r='9'/></svg>";
    let files = Files([("d.svg".to_owned(), drawing.as_bytes().to_vec())].into());
    let order = open("o.toml", text.as_bytes(), &files).unwrap();
    let codes: Vec<_> = order.pieces[0].findings.iter().map(|f| f.code).collect();
    assert_eq!(codes, ["outline.text-lost"]);
    assert_near(order.pieces[0].piece.blank.area(), PI * 625.0, 0.2);
}

#[test]
fn every_finding_has_its_page() {
    let codes: Vec<&str> = app::order::PAGES.iter().map(|p| p.code).collect();
    assert_eq!(codes, ["order.measured-few", "order.zone-empty"]);
}

#[test]
fn a_zones_seed_does_not_depend_on_its_neighbours() {
    let two = badge("", &["{ band = '6 mm' }", "'rest'"]);
    let other = badge(
        "",
        &["{ band = '9 mm' }", "{ shape = 'circle', diameter = '9 mm', at = ['30 mm', '20 mm'] }"],
    );
    let seeds = |o: &Order| o.pieces[0].piece.zones.iter().map(|z| z.seed).collect::<Vec<_>>();
    assert_eq!(seeds(&two), seeds(&other));
    assert_ne!(seeds(&two)[0], seeds(&two)[1]);
}

#[test]
fn rings_are_centred_where_the_maker_measures_it() {
    let order = order(
        "[[piece]]\nname = 'p'\nblank = { shape = 'rectangle', width = '60 mm', height = '40 mm' }\n\
         arrangement = 'rings'\ncentre = ['20 mm', '5 mm']\nmix = 'a'\n",
    );
    let lay::Arrangement::Rings(rings) = order.pieces[0].piece.zones[0].arrangement else {
        panic!("rings were asked for")
    };
    assert_eq!(rings.centre, Some(Point::new(20.0, 35.0)));
}

#[test]
fn the_same_document_gives_the_same_order() {
    let (_, text) = app::demo::FILES[0];
    let opened = || format!("{:?}", open("order.toml", text.as_bytes(), &demo_files()).unwrap());
    assert_eq!(opened(), opened());
}
