//! Concentric rings: each a whole number of stones, the slack spread evenly.

use crate::lattice::Ground;
use crate::seat::Seat;
use crate::{Rings, Stopped, Watch};
use geometry::{DiscGrid, Point, Region, Ring, Walls, boolean, shapes, spots};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// Tag of the edge round a hole that already has its own ring: nothing is to be kept from it.
const EDGE_RINGED: u8 = 2;

/// Lays rings as `options` say. Row 1 is the outermost; rings round holes come first.
pub(crate) fn rings(
    ground: Ground<'_>,
    options: Rings,
    watch: &dyn Watch,
) -> Result<Vec<Seat>, Stopped> {
    if watch.stopped() {
        return Err(Stopped);
    }
    let mut seats = vec![];
    let mut row = 0;
    let around = if options.around_holes { ring_holes(ground, &mut seats, &mut row) } else { None };
    let region = around.as_ref().unwrap_or(ground.region);
    let ground = Ground { region, ..ground };
    let walls = ground.walls(0.0);
    let Some((centre, room)) = middle(&walls, region, options.centre) else { return Ok(seats) };

    let r = ground.radius;
    let farthest = corners(region.bounds()).iter().map(|p| p.distance(centre)).fold(0.0, f64::max);
    let closes = |rho: f64| walls.spans_on_circle(centre, rho, r - 1e-9) == [(0.0, TAU)];
    let plan = match closed_band(room, farthest, r, closes) {
        Some(band) => Plan::in_band(band, r, options.nested, closes),
        None => Plan::new(room, r, options.nested, closes),
    };
    // Outside the closed rings only parts of rings fit: into corners, towards tips.
    let n_outside = ((farthest - plan.outermost()) / (2.0 * r)).max(0.0) as usize;
    let mut n_ring = 0;
    for i in (1..=n_outside).rev() {
        if watch.stopped() {
            return Err(Stopped);
        }
        let rho = plan.outermost() + i as f64 * 2.0 * r;
        n_ring += usize::from(lay_ring(
            &walls,
            centre,
            Circle { rho, count: None, phase: None },
            r,
            &mut seats,
            &mut row,
        ));
    }
    for (i, c) in plan.circles.iter().enumerate() {
        // In line means every ring starts straight above the centre.
        let stagger = if options.staggered && (n_ring + i) % 2 == 1 { 0.5 } else { 0.0 };
        let phase = c.phase.unwrap_or(stagger);
        lay_ring(&walls, centre, Circle { phase: Some(phase), ..*c }, r, &mut seats, &mut row);
    }
    Ok(seats)
}

/// One ring to lay.
#[derive(Clone, Copy, Debug)]
struct Circle {
    /// Radius on which the centres lie, mm.
    rho: f64,
    /// How many stones if it closes; `None` means as many as fit.
    count: Option<usize>,
    /// By which part of a step its start is turned from straight up, where that is settled.
    phase: Option<f64>,
}

/// The rings inside the largest circle that fits, outermost first.
struct Plan {
    circles: Vec<Circle>,
}

impl Plan {
    /// Rings for stones of radius `r` in a circle of radius `room`.
    ///
    /// The innermost is the centre closed by 1, 3, 4 or 5 stones, whichever lets the rings hold
    /// most; the radial slack is spread between the rings.
    fn new(room: f64, r: f64, nested: bool, closes: impl Fn(f64) -> bool) -> Plan {
        let outer = room - r;
        if outer < 0.0 {
            return Plan { circles: vec![] };
        }
        let (mut circles, inside) = if nested { nest(outer, r, closes) } else { (vec![], outer) };
        let centres =
            [0.0, r / libm::sin(PI / 3.0), r / libm::sin(PI / 4.0), r / libm::sin(PI / 5.0)];
        let choices = centres
            .into_iter()
            .filter(|&c| c <= inside + 1e-9)
            .map(|c| spread(inside, c.min(inside), r));
        let stones = |rhos: &[f64]| rhos.iter().map(|&rho| closed_count(rho, r)).sum::<usize>();
        let best = choices
            .fold(vec![], |best: Vec<f64>, c| if stones(&c) > stones(&best) { c } else { best });
        circles.extend(Plan::of(&best, r).circles);
        Plan { circles }
    }

    /// Rings round a hole, between the radii of the first and the last ring that close.
    fn in_band(
        (inner, outer): (f64, f64),
        r: f64,
        nested: bool,
        closes: impl Fn(f64) -> bool,
    ) -> Plan {
        let (mut circles, rest) = if nested { nest(outer, r, closes) } else { (vec![], outer) };
        if rest >= inner - 1e-9 {
            circles.extend(Plan::of(&spread(rest.max(inner), inner, r), r).circles);
        }
        Plan { circles }
    }

    /// Rings of these radii, each as full as it goes.
    fn of(rhos: &[f64], r: f64) -> Plan {
        let circle = |&rho: &f64| {
            let rho = if rho < 1e-9 { 0.0 } else { rho };
            Circle { rho, count: Some(closed_count(rho, r)), phase: None }
        };
        Plan { circles: rhos.iter().map(circle).collect() }
    }

    fn outermost(&self) -> f64 {
        self.circles.first().map_or(0.0, |c| c.rho)
    }
}

/// Where the centre lies in a hole: the widest band of radii on which whole rings go round it, as
/// the radii of its first and last ring. `None` if the centre is inside, or no ring closes.
///
/// Looks in steps of a quarter of the radius, so that a band narrower than that may be missed.
fn closed_band(
    room: f64,
    farthest: f64,
    r: f64,
    closes: impl Fn(f64) -> bool,
) -> Option<(f64, f64)> {
    if room >= r {
        return None;
    }
    let step = r / 4.0;
    let n = (farthest / step).ceil() as usize;
    let edge = |mut shut: f64, mut open: f64| {
        while (open - shut).abs() > 1e-10 {
            let mid = (open + shut) / 2.0;
            if closes(mid) { open = mid } else { shut = mid }
        }
        open
    };
    let mut best: Option<(f64, f64)> = None;
    let mut first = None;
    for i in 1..=n + 1 {
        let rho = i as f64 * step;
        match (first, closes(rho)) {
            (None, true) => first = Some(edge(rho - step, rho)),
            (Some(inner), false) => {
                let outer = edge(rho, rho - step);
                if best.is_none_or(|b| outer - inner > b.1 - b.0) {
                    best = Some((inner, outer));
                }
                first = None;
            }
            _ => {}
        }
    }
    best
}

/// Radii of rings from `inside` to the innermost at `centre`, outermost first: as many as keep a
/// stone's width between them, the slack spread evenly as far as no ring loses a stone by it.
fn spread(inside: f64, centre: f64, r: f64) -> Vec<f64> {
    let steps = ((inside - centre + 1e-9) / (2.0 * r)).floor() as usize;
    if steps == 0 {
        return vec![centre];
    }
    let pitch = (inside - centre) / steps as f64;
    let mut rhos = vec![centre];
    for k in (0..steps).rev() {
        let tight = inside - 2.0 * r * k as f64;
        let least = r / libm::sin(PI / closed_count(tight, r) as f64);
        let further = rhos[rhos.len() - 1] + 2.0 * r;
        rhos.push((inside - pitch * k as f64).max(least).max(further).min(tight));
    }
    rhos.reverse();
    rhos
}

/// How many touching stones of radius `r` a closed ring of radius `rho` holds: neighbours are
/// 2ρ·sin(π/n) apart.
fn closed_count(rho: f64, r: f64) -> usize {
    if rho < 1e-9 {
        return 1;
    }
    let ratio = r / rho;
    if ratio > 1.0 + 1e-12 {
        return 1;
    }
    (PI / libm::asin(ratio.min(1.0)) + 1e-9).floor() as usize
}

/// Pairs of rings of equal count from the outside in, the inner one nested into the outer one.
/// Returns them and the largest radius left for further rings.
///
/// Neighbours in the two rings are half a step apart: ρ₁² + ρ₂² − 2ρ₁ρ₂·cos(π/n) = (2r)².
fn nest(outer: f64, r: f64, closes: impl Fn(f64) -> bool) -> (Vec<Circle>, f64) {
    let mut circles = vec![];
    let mut rho = outer;
    loop {
        // Only closed rings can keep step: where a hole cuts one, the rest does not nest.
        let pair = nested_pair(rho, r).filter(|p| closes(rho) && closes(p.1));
        let Some((n, inner)) = pair else { return (circles, rho) };
        circles.push(Circle { rho, count: Some(n), phase: Some(0.0) });
        circles.push(Circle { rho: inner, count: Some(n), phase: Some(0.5) });
        let next = inner - 2.0 * r;
        if next < 0.0 {
            return (circles, next);
        }
        rho = next;
    }
}

/// The most stones that two nested rings can share, and the radius of the inner one. `None` where
/// nesting would not bring it closer than a stone.
fn nested_pair(rho: f64, r: f64) -> Option<(usize, f64)> {
    for n in (6..=closed_count(rho, r)).rev() {
        let half = PI / n as f64;
        let across = rho * libm::sin(half);
        let d2 = 4.0 * r * r - across * across;
        if d2 < 0.0 {
            return None;
        }
        let inner = rho * libm::cos(half) - d2.sqrt();
        if inner > 0.0 && closed_count(inner, r) >= n {
            return (rho - inner < 2.0 * r).then_some((n, inner));
        }
    }
    None
}

/// Adds the stones of one ring, or of what fits of it; says whether there was any.
fn lay_ring(
    walls: &Walls,
    centre: Point,
    c: Circle,
    r: f64,
    seats: &mut Vec<Seat>,
    row: &mut u32,
) -> bool {
    let before = seats.len();
    let mut angles: Vec<f64> = vec![];
    if c.rho < 1e-9 {
        if walls.room(centre) >= r - 1e-9 {
            angles.push(0.0);
        }
    } else {
        let spans = walls.spans_on_circle(centre, c.rho, r - 1e-9);
        match (spans.as_slice(), c.count) {
            ([(_, whole)], _) if *whole == TAU && spans[0].0 == 0.0 => {
                let n = c.count.unwrap_or_else(|| closed_count(c.rho, r));
                let step = TAU / n as f64;
                // Clockwise from the top, as one reads a clock.
                angles
                    .extend((0..n).map(|i| FRAC_PI_2 - (i as f64 + c.phase.unwrap_or(0.0)) * step));
            }
            _ => angles.extend(spans.iter().rev().flat_map(|&s| on_span(s, c.rho, r))),
        }
    }
    let apart = 2.0 * r - 1e-9;
    let number = *row + 1;
    for a in angles {
        let at = centre + Point::unit(a) * c.rho;
        // Two stretches may end closer together than a stone: the later one gives way.
        let clear = |s: &Seat| s.centre.distance(at) >= apart;
        let last = seats.last().filter(|_| seats.len() > before);
        if last.is_none_or(clear) && seats.get(before).is_none_or(clear) {
            let column = (seats.len() - before) as i64;
            seats.push(Seat { centre: at, size: 0, column, row: number });
        }
    }
    *row += u32::from(seats.len() > before);
    seats.len() > before
}

/// Stones on a stretch of a ring, clockwise, spread evenly from end to end.
fn on_span((from, to): (f64, f64), rho: f64, r: f64) -> Vec<f64> {
    let step = 2.0 * libm::asin((r / rho).min(1.0));
    let n = ((to - from + 1e-9 / rho) / step).floor() as usize;
    if n == 0 {
        return vec![(from + to) / 2.0];
    }
    (0..=n).map(|i| to - (to - from) * i as f64 / n as f64).collect()
}

/// The centre of the rings and the radius of the largest circle about it.
fn middle(walls: &Walls, region: &Region, wanted: Option<Point>) -> Option<(Point, f64)> {
    let box_middle = region.bounds().centre();
    let hole = region.rings().iter().find(|h| h.is_hole() && h.winding(box_middle) != 0);
    if let Some(p) = wanted.or(hole.map(|h| circle_round(h).0)) {
        return Some((p, walls.room(p)));
    }
    let nothing = DiscGrid::new(vec![]);
    let largest = spots::largest(walls, &nothing, 1).first().map(|c| c.centre)?;
    // In a long zone the largest circle may lie anywhere along it: then the middle is meant.
    let middle_is_as_good = walls.room(box_middle) >= walls.room(largest) - 1e-3;
    let centre = if middle_is_as_good { box_middle } else { largest };
    Some((centre, walls.room(centre)))
}

fn corners(b: geometry::Bounds) -> [Point; 4] {
    [b.min, Point::new(b.max.x, b.min.y), b.max, Point::new(b.min.x, b.max.y)]
}

/// A ring of stones round every hole, and the region that is left when those are taken out.
///
/// A hole that is no circle is ringed as the circle round it.
fn ring_holes(ground: Ground<'_>, seats: &mut Vec<Seat>, row: &mut u32) -> Option<Region> {
    let r = ground.radius;
    let walls = ground.walls(0.0);
    let mut left = ground.region.clone();
    for hole in ground.region.rings().iter().filter(|h| h.is_hole()) {
        let (centre, radius) = circle_round(hole);
        let keep = hole.segments.iter().map(|s| ground.keep(s.tag)).fold(0.0, f64::max);
        let rho = radius + keep + r;
        let from = seats.len();
        lay_ring(&walls, centre, Circle { rho, count: None, phase: None }, r, seats, row);
        drop_overlapping(seats, from, r);
        let taken = shapes::circle(2.0 * (rho + r)).tagged(EDGE_RINGED).moved(centre);
        left = boolean::difference(&left, &taken)?;
    }
    Some(left)
}

/// Takes out of the stones from `from` on those that lie on earlier ones: rings of two holes may
/// meet.
fn drop_overlapping(seats: &mut Vec<Seat>, from: usize, r: f64) {
    let (earlier, ring) = seats.split_at(from);
    let clear = |s: &Seat| earlier.iter().all(|e| e.centre.distance(s.centre) >= 2.0 * r - 1e-9);
    let ring: Vec<Seat> = ring.iter().copied().filter(clear).collect();
    seats.truncate(from);
    seats.extend(ring);
}

/// The circle of a round hole, or one round all of a hole of another form.
fn circle_round(hole: &Ring) -> (Point, f64) {
    if let geometry::Curve::Arc { centre, radius, .. } = hole.segments[0].curve {
        let same = |s: &geometry::Segment| matches!(s.curve, geometry::Curve::Arc { centre: c, .. } if c.distance(centre) < 1e-9);
        if hole.segments.iter().all(same) {
            return (centre, radius);
        }
    }
    let centre = hole.bounds().centre();
    let far = |s: &geometry::Segment| {
        (0..=8).map(|i| s.point_at(f64::from(i) / 8.0).distance(centre)).fold(0.0, f64::max)
    };
    (centre, hole.segments.iter().map(far).fold(0.0, f64::max))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Unwatched;

    const PLAIN: Rings =
        Rings { centre: Some(Point::ORIGIN), staggered: false, nested: false, around_holes: false };

    fn lay(region: &Region, radius: f64, options: Rings) -> Vec<Seat> {
        let ground = Ground { region, keep: [0.0; 3], radius };
        rings(ground, options, &Unwatched).unwrap()
    }

    fn counts(seats: &[Seat]) -> Vec<usize> {
        seats.chunk_by(|a, b| a.row == b.row).map(<[Seat]>::len).collect()
    }

    fn closest(seats: &[Seat]) -> f64 {
        let pairs =
            seats.iter().enumerate().flat_map(|(i, a)| seats[..i].iter().map(move |b| (a, b)));
        pairs.map(|(a, b)| a.centre.distance(b.centre)).fold(f64::INFINITY, f64::min)
    }

    #[test]
    fn the_centre_is_closed_by_what_fits() {
        // Closed forms: k touching discs of radius 1 close a circle of radius 1 + 1/sin(π/k);
        // 2.1547 for 3, 2.4142 for 4, 2.7013 for 5, and 3 for 6 round 1.
        for (room, wanted) in [
            (1.0, vec![1]),
            (2.155, vec![3]),
            (2.4143, vec![4]),
            (2.7014, vec![5]),
            (3.0, vec![6, 1]),
        ] {
            let seats = lay(&shapes::circle(2.0 * room), 1.0, PLAIN);
            assert_eq!(counts(&seats), wanted, "room {room}");
            assert!(closest(&seats) >= 2.0 - 1e-6);
        }
    }

    #[test]
    fn rings_of_a_disc_hold_their_stones() {
        // n = ⌊π / asin(r/ρ)⌋ at ρ = 9, 7, 5, 3 for r = 1, worked by hand, and one in the centre.
        let seats = lay(&shapes::circle(20.0), 1.0, PLAIN);
        assert_eq!(counts(&seats), [28, 21, 15, 9, 1]);
        assert!(closest(&seats) >= 2.0 - 1e-6);
    }

    #[test]
    fn a_long_zone_is_ringed_from_its_middle() {
        let region = shapes::rectangle(60.0, 20.0);
        let seats = lay(&region, 1.0, Rings { centre: None, ..PLAIN });
        let mean = seats.iter().fold(Point::ORIGIN, |sum, s| sum + s.centre) / seats.len() as f64;
        assert!(mean.norm() < 0.5, "{mean:?}");
    }

    #[test]
    fn what_an_edge_wants_kept_is_kept() {
        // 0.5 mm of margin round nine stones' width: the first ring is half a millimetre in.
        let region = shapes::circle(21.0);
        let options = Rings { centre: None, ..PLAIN };
        let ground = Ground { region: &region, keep: [0.5, 0.0, 0.0], radius: 1.0 };
        let seats = rings(ground, options, &Unwatched).unwrap();
        assert_eq!(counts(&seats), [28, 21, 15, 9, 1]);
        // With a spacing but no margin a disc reaches over the edge: one stone that just fits.
        let region = shapes::circle(2.0);
        let ground = Ground { region: &region, keep: [-0.1, 0.0, 0.0], radius: 1.1 };
        assert_eq!(rings(ground, options, &Unwatched).unwrap().len(), 1);
    }

    #[test]
    fn nesting_brings_rings_of_equal_count_closer() {
        let region = shapes::circle(60.0);
        let nested = lay(&region, 1.5, Rings { nested: true, ..PLAIN });
        let counts = counts(&nested);
        assert_eq!(counts[0], counts[1]);
        assert!(closest(&nested) >= 3.0 - 1e-6);
        let radius = |row: u32| nested.iter().find(|s| s.row == row).unwrap().centre.norm();
        assert!(radius(1) - radius(2) < 3.0 - 0.1);
    }

    #[test]
    fn corners_outside_the_largest_circle_get_parts_of_rings() {
        let region = shapes::rectangle(40.0, 40.0);
        let seats = lay(&region, 1.0, PLAIN);
        assert!(seats.iter().any(|s| s.centre.norm() > 21.0));
        assert!(closest(&seats) >= 2.0 - 1e-6);
        assert!(seats.iter().all(|s| region.clearance(s.centre) >= 1.0 - 1e-6));
    }

    #[test]
    fn a_hoop_is_filled_from_edge_to_edge() {
        // 10 mm of band hold five rings of 2 mm, wherever the multiples of 2 mm fall.
        let region = boolean::difference(&shapes::circle(101.0), &shapes::circle(81.0)).unwrap();
        for centre in [None, Some(Point::ORIGIN)] {
            let seats = lay(&region, 1.0, Rings { centre, ..PLAIN });
            assert_eq!(counts(&seats).len(), 5);
            assert!(closest(&seats) >= 2.0 - 1e-6);
        }
    }

    #[test]
    fn rings_of_a_hoop_nest() {
        // 5.8 mm of band: two plain rings of 2 mm and a bare rim, or three, two of which nest.
        let region = boolean::difference(&shapes::circle(101.0), &shapes::circle(89.4)).unwrap();
        let plain = lay(&region, 1.0, PLAIN);
        let nested = lay(&region, 1.0, Rings { nested: true, ..PLAIN });
        assert_eq!((counts(&plain).len(), counts(&nested).len()), (2, 3));
        assert!(closest(&nested) >= 2.0 - 1e-6);
        assert!(nested.iter().all(|s| region.clearance(s.centre) >= 1.0 - 1e-6));
    }

    #[test]
    fn holes_get_rings_of_their_own() {
        let hole = shapes::circle(6.0).moved(Point::new(10.0, 0.0));
        let region = boolean::difference(&shapes::circle(50.0), &hole).unwrap();
        let seats = lay(&region, 1.0, Rings { around_holes: true, ..PLAIN });
        let beside = seats.iter().filter(|s| s.row == 1);
        assert!(
            beside.clone().all(|s| (s.centre.distance(Point::new(10.0, 0.0)) - 4.0).abs() < 1e-9)
        );
        assert_eq!(beside.count(), 12);
        assert!(closest(&seats) >= 2.0 - 1e-6);
    }
}
