//! Areas and boxes of shapes with a closed form (school geometry; the ellipse's arc lengths are
//! only bounded).

use std::f64::consts::PI;

use outline::{Scale, read_svg};

use crate::support::{check, drawn, page};

#[test]
fn straight_edges_are_exact() {
    let got = drawn("<rect x='3.3' y='7.1' width='60' height='40'/>");
    let b = got.region.bounds();
    assert!((b.width() - 60.0).abs() < 1e-5 && (b.height() - 40.0).abs() < 1e-5, "{b:?}");
    assert_eq!(got.region.rings().len(), 1);
    assert_eq!(got.region.segments().count(), 4);
    assert_eq!(got.deviation_mm, 0.0);
}

#[test]
fn paths_keep_the_numbers_of_the_drawing() {
    // None of these is exact in `f32`, which would be off by 2e-6 here.
    let got = drawn("<path d='M0.1 0.1h59.7v10.3h-59.7z'/>").region.bounds();
    assert!((got.width() - 59.7).abs() < 1e-9 && (got.height() - 10.3).abs() < 1e-9, "{got:?}");
    let got = drawn("<polygon points='0.1,0.1 59.8,0.1 59.8,10.4'/>").region.bounds();
    assert!((got.width() - 59.7).abs() < 1e-9 && (got.height() - 10.3).abs() < 1e-9, "{got:?}");
}

#[test]
fn a_square_scaled_to_its_width_is_exact() {
    let svg = page("<path d='M1.7 2.3h17.3v17.3h-17.3z'/>");
    for scale in [Scale::Width(60.0), Scale::Height(60.0)] {
        let got = read_svg(svg.as_bytes(), scale).expect("a square");
        let b = got.region.bounds();
        assert!((b.width() - 60.0).abs() < 1e-7, "{}", b.width());
        assert!((b.height() - 60.0).abs() < 1e-7, "{}", b.height());
        assert!(b.min.norm() < 1e-12);
    }
}

#[test]
fn circles_and_ellipses() {
    check("<circle cx='50' cy='50' r='30'/>", PI * 900.0, (60.0, 60.0), 2.0 * PI * 30.0);
    check("<ellipse cx='50' cy='50' rx='40' ry='10'/>", PI * 400.0, (80.0, 20.0), 200.0);
    check("<ellipse cx='50' cy='50' rx='5'/>", PI * 25.0, (10.0, 10.0), 40.0);
}

#[test]
fn a_rounded_rectangle() {
    let corners = (4.0 - PI) * 5.0 * 8.0;
    check(
        "<rect x='1' y='2' width='60' height='40' rx='5' ry='8'/>",
        2400.0 - corners,
        (60.0, 40.0),
        60.0,
    );
    check("<rect width='20' height='10' rx='99'/>", PI * 50.0, (20.0, 10.0), 60.0);
}

#[test]
fn polygons_and_polylines() {
    check("<polygon points='0,0 30,0 0,40'/>", 600.0, (30.0, 40.0), 0.0);
    check("<polyline points='0 0 30 0 0 40'/>", 600.0, (30.0, 40.0), 0.0);
}

#[test]
fn every_command_of_a_path() {
    check("M0 0".to_path("H30V20H0Z").as_str(), 600.0, (30.0, 20.0), 0.0);
    check("m1 1".to_path("h30v20h-30z").as_str(), 600.0, (30.0, 20.0), 0.0);
    // A parabola's segment is two thirds of its box.
    check("M0 20".to_path("Q15 -20 30 20z").as_str(), 400.0, (30.0, 20.0), 60.0);
    // Two of them in opposite directions.
    check("M0 20".to_path("q15 -20 30 0t30 0").as_str(), 400.0, (60.0, 20.0), 80.0);
    // With evenly spaced x, y = 60·t·(1−t): the integral over 0..30 is 300.
    check("M0 0".to_path("C10 20 20 20 30 0z").as_str(), 300.0, (30.0, 15.0), 50.0);
    check("M0 0".to_path("c10 20 20 20 30 0s20 -20 30 0z").as_str(), 600.0, (60.0, 30.0), 100.0);
}

#[test]
fn arcs_of_a_path() {
    let half = PI * 450.0;
    check("M10 50".to_path("A30 30 0 0 1 70 50z").as_str(), half, (60.0, 30.0), 100.0);
    // A slot: a half disc added at one end, none taken away at the other.
    check(
        "M20 20".to_path("h40a10 10 0 0 1 0 20h-40a10 10 0 0 1 0-20z").as_str(),
        800.0 + PI * 100.0,
        (60.0, 20.0),
        70.0,
    );
    // Radii too small for their ends grow (SVG 1.1, F.6.6).
    check("M10 50".to_path("A1 1 0 0 1 70 50z").as_str(), half, (60.0, 30.0), 100.0);
    // Three quarters of a disc and the triangle to its chord.
    check("M50 20".to_path("A20 20 0 1 1 30 0z").as_str(), PI * 300.0 + 200.0, (40.0, 40.0), 100.0);
}

trait ToPath {
    fn to_path(&self, rest: &str) -> String;
}

impl ToPath for str {
    fn to_path(&self, rest: &str) -> String {
        format!("<path d='{self}{rest}'/>")
    }
}

#[test]
fn transforms_and_groups() {
    check(
        "<g transform='translate(5 5)'><g transform='scale(2 3)'><rect width='10' height='10'/></g></g>",
        600.0,
        (20.0, 30.0),
        0.0,
    );
    let diagonal = 20.0 * 2.0_f64.sqrt();
    check(
        "<rect transform='rotate(45)' width='20' height='20'/>",
        400.0,
        (diagonal, diagonal),
        0.0,
    );
    check("<rect transform='skewX(45)' width='20' height='20'/>", 400.0, (40.0, 20.0), 0.0);
    check("<circle transform='matrix(2 0 0 .5 1 1)' r='10'/>", PI * 100.0, (40.0, 10.0), 100.0);
    check(
        "<svg x='5' y='5' width='20' height='20' viewBox='0 0 2 2'><rect width='1' height='2'/></svg>",
        200.0,
        (10.0, 20.0),
        0.0,
    );
}

#[test]
fn copies_by_use_and_symbol() {
    check(
        "<defs><rect id='a' width='10' height='10'/></defs><use href='#a'/><use xlink:href='#a' x='20'/>",
        200.0,
        (30.0, 10.0),
        0.0,
    );
    check(
        "<symbol id='s' viewBox='0 0 1 1'><circle cx='.5' cy='.5' r='.5'/></symbol>\
           <use href='#s' width='30' height='30'/>",
        PI * 225.0,
        (30.0, 30.0),
        100.0,
    );
    check(
        "<defs><path id='p' d='M0 0A10 10 0 0 1 20 0z'/></defs><use href='#p' transform='scale(2)'/>",
        PI * 200.0,
        (40.0, 20.0),
        70.0,
    );
}

#[test]
fn units_are_those_of_css() {
    let width = |attributes: &str, shape: &str| {
        let svg = format!("<svg xmlns=\"http://www.w3.org/2000/svg\" {attributes}>{shape}</svg>");
        let got = read_svg(svg.as_bytes(), Scale::AsDrawn).expect(attributes);
        got.region.bounds().width()
    };
    let unit = "<rect width='1' height='1'/>";
    // The page in a real unit, the shape in units of the viewBox.
    for (page, expect) in [
        ("width='60mm' viewBox='0 0 1 1'", 60.0),
        ("width='60mm' height='60mm' viewBox='0 0 1 1'", 60.0),
        ("height='6cm' viewBox='0 0 1 1'", 60.0),
        ("width='2in' viewBox='0 0 1 1'", 50.8),
        ("width='72pt' viewBox='0 0 1 1'", 25.4),
        ("width='6pc' viewBox='0 0 1 1'", 25.4),
        ("width='96px' viewBox='0 0 1 1'", 25.4),
        ("width='96' viewBox='0 0 1 1'", 25.4),
        ("width='60mm' height='90mm' viewBox='0 0 1 1'", 60.0),
    ] {
        let got = width(page, unit);
        assert!((got - expect).abs() < 2e-6, "{page}: {got}");
    }
    // The shape in a real unit, the page in none: a unit is a pixel, 96 to the inch.
    for (shape, expect) in [
        ("<rect width='96' height='9'/>", 25.4),
        ("<rect width='60mm' height='9'/>", 60.0),
        ("<rect width='1in' height='9'/>", 25.4),
    ] {
        let got = width("", shape);
        assert!((got - expect).abs() < 1e-5, "{shape}: {got}");
    }
    // A share of the viewBox.
    let got = width("width='60mm' viewBox='0 0 1 1'", "<rect width='50%' height='1'/>");
    assert!((got - 30.0).abs() < 1e-5, "{got}");
}

#[test]
fn scaling_takes_the_true_width_of_curves() {
    let svg = page("<circle cx='12' cy='12' r='10'/>");
    let got = read_svg(svg.as_bytes(), Scale::Width(60.0)).expect("a circle");
    assert!((got.region.bounds().width() - 60.0).abs() < 1e-6);
    assert!((got.region.area() - PI * 900.0).abs() < 2.0 * PI * 30.0 * 0.001);
    assert!(got.region.area() < PI * 900.0);
    // Only what shows counts: here a quarter of the circle, by a clip path.
    let svg = page(
        "<clipPath id='c'><rect width='12' height='12'/></clipPath>\
                    <circle cx='12' cy='12' r='10' clip-path='url(#c)'/>",
    );
    let got = read_svg(svg.as_bytes(), Scale::Height(60.0)).expect("a quarter");
    let b = got.region.bounds();
    assert!((b.width() - 60.0).abs() < 1e-3 && (b.height() - 60.0).abs() < 1e-3, "{b:?}");
    assert!((got.region.area() - PI * 900.0).abs() < 60.0 * PI * 0.001);
}

#[test]
fn up_is_up() {
    // A triangle that stands on its base: the page's y goes down, the region's up.
    let got = drawn("<polygon points='0,30 40,30 20,0'/>");
    assert!(got.region.contains(geometry::Point::new(5.0, 2.0)));
    assert!(!got.region.contains(geometry::Point::new(5.0, 28.0)));
}
