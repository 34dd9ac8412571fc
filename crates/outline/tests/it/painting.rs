//! Fill rules, holes, unions, strokes, clips, and what is not painted.

use std::f64::consts::PI;

use crate::support::{check, drawn, refused};

/// The five-pointed star {5/2} drawn in one go, circumradius 1. Its points are those of a regular
/// pentagon; the pentagon in its middle is smaller by the square of the golden ratio.
fn star(rule: &str) -> String {
    let corner = |k: f64| {
        let a = PI / 2.0 + k * 4.0 * PI / 5.0;
        format!("{:.12} {:.12}", 50.0 + 40.0 * libm::cos(a), 50.0 - 40.0 * libm::sin(a))
    };
    let corners: Vec<String> = (0..5).map(|k| corner(f64::from(k))).collect();
    format!("<polygon fill-rule='{rule}' points='{}'/>", corners.join(" "))
}

#[test]
fn a_self_crossing_star_by_both_rules() {
    let golden = (1.0 + 5.0_f64.sqrt()) / 2.0;
    let pentagon = |r: f64| 2.5 * r * r * libm::sin(2.0 * PI / 5.0);
    let inner = pentagon(40.0 / (golden * golden));
    // Five tips, each an isosceles triangle on a side of the inner pentagon, height ratio known:
    // the tips and the pentagon together are the decagon of both circles.
    let decagon = 5.0 * 40.0 * (40.0 / (golden * golden)) * libm::sin(PI / 5.0);
    let nonzero = drawn(&star("nonzero")).region;
    let evenodd = drawn(&star("evenodd")).region;
    assert!((nonzero.area() - decagon).abs() < 1e-4, "{} {decagon}", nonzero.area());
    assert!((evenodd.area() - (decagon - inner)).abs() < 1e-4, "{}", evenodd.area());
    assert!(nonzero.contains(nonzero.bounds().centre()));
    assert!(!evenodd.contains(evenodd.bounds().centre()));
}

#[test]
fn holes_by_direction_and_by_rule() {
    let ring = 2500.0 - PI * 100.0;
    let hole = "M35 25a10 10 0 1 0 -20 0a10 10 0 1 0 20 0z";
    let got = drawn(&format!("<path d='M0 0h50v50h-50z{hole}'/>"));
    assert_eq!(got.region.rings().len(), 2);
    assert!(got.region.area() <= ring && got.region.area() > ring - 0.07, "{}", got.region.area());
    let same_way = "M35 25a10 10 0 1 1 -20 0a10 10 0 1 1 20 0z";
    let filled = drawn(&format!("<path d='M0 0h50v50h-50z{same_way}'/>"));
    assert!((filled.region.area() - 2500.0).abs() < 1e-6);
    check(
        &format!("<path fill-rule='evenodd' d='M0 0h50v50h-50z{same_way}'/>"),
        ring,
        (50.0, 50.0),
        63.0,
    );
}

#[test]
fn several_shapes_are_united() {
    check(
        "<rect width='20' height='20'/><rect x='10' y='10' width='20' height='20'/>",
        700.0,
        (30.0, 30.0),
        0.0,
    );
    let apart = drawn("<rect width='20' height='20'/><rect x='30' width='20' height='20'/>");
    assert_eq!(apart.region.rings().len(), 2);
    // Against each other's direction, too.
    check("<path d='M0 0h20v20h-20z'/><path d='M10 0v20h20v-20z'/>", 600.0, (30.0, 20.0), 0.0);
    // Two that touch along an edge are one.
    let touching = drawn("<rect width='20' height='20'/><rect x='20' width='20' height='20'/>");
    assert_eq!(touching.region.rings().len(), 1);
    // Subpaths that touch in a corner.
    check("<path d='M0 0h20v20h-20zM20 20h20v20h-20z'/>", 800.0, (40.0, 40.0), 0.0);
}

#[test]
fn strokes_are_bands() {
    let line =
        |more: &str| format!("<path d='M20 50h40' stroke='black' stroke-width='10' {more}/>");
    check(&line(""), 400.0, (40.0, 10.0), 0.0);
    check(&line("stroke-linecap='square'"), 500.0, (50.0, 10.0), 0.0);
    check(&line("stroke-linecap='round'"), 400.0 + PI * 25.0, (50.0, 10.0), 32.0);
    check(&line("stroke-dasharray='10 5'"), 300.0, (40.0, 10.0), 0.0);
    // A dot: a line without length, round caps.
    check(
        "<path d='M50 50h0' stroke='black' stroke-width='10' stroke-linecap='round'/>",
        PI * 25.0,
        (10.0, 10.0),
        32.0,
    );
    // The frame of a rectangle, with each kind of corner.
    let frame = |join: &str| {
        format!(
            "<rect x='20' y='20' width='40' height='30' fill='none' stroke='red' stroke-width='10' \
         stroke-linejoin='{join}'/>"
        )
    };
    check(&frame("miter"), 50.0 * 40.0 - 30.0 * 20.0, (50.0, 40.0), 0.0);
    check(&frame("round"), 1400.0 - (4.0 - PI) * 25.0, (50.0, 40.0), 32.0);
    check(&frame("bevel"), 1400.0 - 4.0 * 12.5, (50.0, 40.0), 0.0);
    // A ring.
    check(
        "<circle cx='50' cy='50' r='25' fill='none' stroke='red' stroke-width='10'/>",
        PI * (900.0 - 400.0),
        (60.0, 60.0),
        2.0 * PI * 50.0,
    );
    // Fill and stroke together.
    check(
        "<rect x='20' y='20' width='40' height='30' stroke='red' stroke-width='2'/>",
        42.0 * 32.0,
        (42.0, 32.0),
        0.0,
    );
    // A band goes through the transform of its shape.
    check(
        "<path transform='scale(1 2)' d='M20 20h40' stroke='black' stroke-width='10'/>",
        800.0,
        (40.0, 20.0),
        0.0,
    );
}

#[test]
fn lines_drawn_forth_and_back_enclose_nothing() {
    check("<path d='M10 10h20v10h-20zM30 20L90 83L30 20z'/>", 200.0, (20.0, 10.0), 0.0);
    // As part of the ring, at an angle where rounding gives the hair a width.
    let got = drawn("<path transform='rotate(33)' d='M10 10h20v10H61H10z'/>").region;
    assert!((got.area() - 200.0).abs() < 1e-4, "{}", got.area());
    assert!(got.bounds().width() < 25.0, "{:?}", got.bounds());
}

#[test]
fn clip_paths_cut() {
    check(
        "<clipPath id='c'><rect width='30' height='30'/></clipPath>\
           <rect width='60' height='20' clip-path='url(#c)'/>",
        600.0,
        (30.0, 20.0),
        0.0,
    );
    check(
        "<clipPath id='c'><circle cx='0' cy='0' r='20'/></clipPath>\
           <g clip-path='url(#c)'><rect width='60' height='60'/></g>",
        PI * 100.0,
        (20.0, 20.0),
        32.0,
    );
    // A symbol shows nothing beyond its frame.
    check(
        "<symbol id='s' viewBox='0 0 10 10'><rect width='99' height='5'/></symbol>\
           <use href='#s' width='10' height='10'/>",
        50.0,
        (10.0, 5.0),
        0.0,
    );
}

#[test]
fn what_is_not_painted_does_not_count() {
    let hidden = [
        "<rect width='90' height='90' fill='none'/>",
        "<rect width='90' height='90' display='none'/>",
        "<rect width='90' height='90' visibility='hidden'/>",
        "<rect width='90' height='90' opacity='0'/>",
        "<rect width='90' height='90' fill-opacity='0'/>",
        "<g opacity='0'><rect width='90' height='90'/></g>",
        "<g style='display:none'><rect width='90' height='90'/></g>",
        "<style>.guide{fill:none}</style><rect class='guide' width='90' height='90'/>",
        "<defs><rect width='90' height='90'/></defs>",
        "<switch><g systemLanguage='xx'><rect width='90' height='90'/></g></switch>",
    ];
    for shape in hidden {
        check(&format!("{shape}<rect width='20' height='10'/>"), 200.0, (20.0, 10.0), 0.0);
        refused(shape);
    }
}

#[test]
fn any_paint_counts() {
    for paint in ["white", "url(#g)", "#fff0f0", "rgb(1,2,3)", "currentColor"] {
        check(
            &format!(
                "<linearGradient id='g'><stop offset='0' stop-color='red'/><stop offset='1'/>\
            </linearGradient><rect width='20' height='10' fill='{paint}'/>"
            ),
            200.0,
            (20.0, 10.0),
            0.0,
        );
    }
}
