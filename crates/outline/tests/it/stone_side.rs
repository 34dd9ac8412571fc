//! The region keeps within the true outline and follows it within a thousandth of a millimetre.
//!
//! The true outline is known in closed form, or evaluated from the curve by kurbo, another party's
//! code. The importer's own flattening has no part in it.

use geometry::{Point, Region, TOLERANCE_MM};
use kurbo::{BezPath, ParamCurve};
use outline::{Imported, Scale, read_svg};

use crate::support::{drawn, page};

/// Asserts that no corner and no place along an edge satisfies `outside` by more than the
/// tolerance; `outside` gives the distance beyond the true outline, negative within.
fn keeps_within(what: &str, region: &Region, outside: impl Fn(Point) -> f64) {
    for s in region.segments() {
        for k in 0..=8 {
            let p = s.point_at(f64::from(k) / 8.0);
            assert!(outside(p) <= TOLERANCE_MM, "{what}: {p:?} is {} outside", outside(p));
        }
    }
}

/// Asserts that the edge of the region comes near every place of the true outline.
fn follows(what: &str, got: &Imported, truth: &[Point]) {
    assert!(got.deviation_mm <= 0.001, "{what}: {}", got.deviation_mm);
    let walls = geometry::Walls::new(&got.region, |_| 0.0);
    for p in truth {
        let (d, _) = walls.nearest(*p);
        assert!(d.abs() <= got.deviation_mm + TOLERANCE_MM, "{what}: {p:?} is {d} off");
    }
}

fn circle(centre: Point, r: f64) -> Vec<Point> {
    (0..5000)
        .map(|k| centre + Point::unit(f64::from(k) * std::f64::consts::TAU / 5000.0) * r)
        .collect()
}

#[test]
fn a_disc_and_a_hole() {
    let c = Point::new(30.0, 30.0);
    let disc = drawn("<circle cx='50' cy='50' r='30'/>");
    keeps_within("disc", &disc.region, |p| p.distance(c) - 30.0);
    follows("disc", &disc, &circle(c, 30.0));

    let ring = drawn(
        "<path fill-rule='evenodd' d='M20 20h60v60h-60zM70 50a20 20 0 0 0-40 0 20 20 0 0 0 40 0z'/>",
    );
    keeps_within("hole", &ring.region, |p| 20.0 - p.distance(c));
    follows("hole", &ring, &circle(c, 20.0));
    let b = ring.region.bounds();
    assert!((b.width() - 60.0).abs() < 1e-12 && (b.height() - 60.0).abs() < 1e-12, "{b:?}");
}

#[test]
fn a_stroked_ring() {
    let ring = drawn("<circle cx='50' cy='50' r='25' fill='none' stroke='red' stroke-width='10'/>");
    let c = ring.region.bounds().centre();
    keeps_within("band", &ring.region, |p| (p.distance(c) - 25.0).abs() - 5.0);
    follows("band, outside", &ring, &circle(c, 30.0));
    follows("band, inside", &ring, &circle(c, 20.0));
}

#[test]
fn round_caps_and_joins() {
    // Everything within 4 of a bent line.
    let got = drawn(
        "<path d='M20 20L60 30L50 70' fill='none' stroke='red' stroke-width='8' \
         stroke-linecap='round' stroke-linejoin='round'/>",
    );
    let low = Point::new(16.0, 26.0);
    let at = |x: f64, y: f64| Point::new(x, 100.0 - y) - low;
    let legs = [(at(20.0, 20.0), at(60.0, 30.0)), (at(60.0, 30.0), at(50.0, 70.0))]
        .map(|(a, b)| geometry::Segment::line(a, b));
    let far = |p: Point| legs.iter().map(|s| s.distance(p)).fold(f64::INFINITY, f64::min);
    keeps_within("bent band", &got.region, |p| far(p) - 4.0);
    for s in got.region.segments() {
        assert!(far(s.from) > 3.999, "{:?}", s.from);
    }
}

#[test]
fn hollows_between_discs() {
    // A square with a quarter disc bitten from each corner: concave all round, with sharp tips.
    let body = "<path d='M50 10A40 40 0 0 0 90 50A40 40 0 0 0 50 90A40 40 0 0 0 10 50A40 40 0 0 0 50 10z'/>";
    let got = drawn(body);
    let corners =
        [(0.0, 0.0), (80.0, 0.0), (0.0, 80.0), (80.0, 80.0)].map(|(x, y)| Point::new(x, y));
    // The tips have no width: the region is short of them by what `deviation_mm` says, and lies
    // with its own box at the origin.
    let off = (80.0 - got.region.bounds().width()) / 2.0;
    assert!((0.0..0.05).contains(&off), "{off}");
    assert!(got.deviation_mm >= off && got.deviation_mm < 0.05, "{} {off}", got.deviation_mm);
    let region = got.region.moved(Point::new(off, off));
    keeps_within("star", &region, |p| {
        corners.iter().map(|c| 40.0 - p.distance(*c)).fold(f64::NEG_INFINITY, f64::max)
    });
}

#[test]
fn two_discs_united() {
    let got = drawn("<circle cx='30' cy='50' r='20'/><circle cx='55' cy='50' r='20'/>");
    let (a, b) = (Point::new(20.0, 20.0), Point::new(45.0, 20.0));
    keeps_within("pair", &got.region, |p| p.distance(a).min(p.distance(b)) - 20.0);
    let apart = |c: Point, other: Point| -> Vec<Point> {
        circle(c, 20.0).into_iter().filter(|p| p.distance(other) > 20.0).collect()
    };
    follows("pair", &got, &apart(a, b));
    follows("pair", &got, &apart(b, a));
}

#[test]
fn a_path_of_cubics_both_ways_round() {
    let waves = [
        "M10 50C20 10 40 10 50 50S80 90 90 50C90 95 60 99 50 80S10 95 10 50z",
        "M10 10Q50 40 90 10Q60 50 90 90Q50 60 10 90Q40 50 10 10z",
        "M50 90Q10 60 20 30T50 30Q70 20 80 30T50 90z",
    ];
    for d in waves {
        let svg = page(&format!("<path d='{d}'/>"));
        let got = read_svg(svg.as_bytes(), Scale::AsDrawn).expect(d);
        let curve = BezPath::from_svg(d).expect(d);
        let bounds = kurbo::Shape::bounding_box(&curve);
        // A tip is short by up to the deviation, and the region's own box is at the origin; the
        // drawings with tips at the box are symmetrical.
        let box_ = got.region.bounds();
        let off_x = (bounds.width() - box_.width()) / 2.0;
        let off_y = (bounds.height() - box_.height()) / 2.0;
        let place = |p: kurbo::Point| Point::new(p.x - bounds.x0 - off_x, bounds.y1 - p.y - off_y);
        let truth: Vec<Point> = curve
            .segments()
            .flat_map(|s| (0..2000).map(move |k| s.eval(f64::from(k) / 2000.0)))
            .map(place)
            .collect();
        follows(d, &got, &truth);
        // Dense places of the curve lie on the edge or outside of the region.
        let walls = geometry::Walls::new(&got.region, |_| 0.0);
        for p in &truth {
            let (depth, _) = walls.nearest(*p);
            let depth = if got.region.contains(*p) { depth } else { 0.0 };
            assert!(depth <= TOLERANCE_MM, "{d}: the curve is {depth} inside at {p:?}");
        }
    }
}
