//! Edges moved so far inwards that the region keeps within the true curves.
//!
//! Corners of the flattened outline lie on the curves. Where a curve bulges away from the region,
//! its chord is inside already. Where it bulges into the region, the chord reaches over it: such
//! an edge goes inwards by the bulge, and its ends to where it meets its neighbours. Straight
//! edges stay on their line.

use std::collections::HashMap;

use geometry::boolean::{self, FillRule};
use geometry::{Bounds, Point, Region};

use crate::flatten::{CHORD_MM, Chord};
use crate::unite::{polygons, signed_area, turned_left};

/// Bulges up to this stay, mm: a tenth of what the promise of a lay allows.
const STAYS_MM: f64 = 1e-7;

/// Moved edges go this much further, mm, which covers what rounding the corners takes.
const EXTRA_MM: f64 = 2e-7;

/// A corner on a chord is no further from it than this, mm.
const ON_CHORD_MM: f64 = 1e-7;

/// Sine of a turn to the left too slight for the moved edges to run into each other.
const SLIGHT_TURN: f64 = 0.3;

/// How much of its length an edge may lose at one end.
const MOST_OF_EDGE: f64 = 0.45;

/// The region within the curves, and a bound on how far its edge is from theirs, mm.
pub(crate) fn hold(region: &Region, chords: &[Chord]) -> (Region, f64) {
    let sources = Sources::new(chords);
    let mut moved = Moved::default();
    for ring in polygons(region) {
        moved.ring(&ring, &sources);
    }
    if !moved.any {
        return (region.clone(), moved.deviation);
    }
    match moved.region() {
        Some(region) => (region, moved.deviation),
        // Only an outline thinner than its bulges could vanish.
        None => (region.clone(), moved.deviation.max(CHORD_MM)),
    }
}

/// Chords, found by their ends, or by the upright strips of the plane they touch.
struct Sources<'a> {
    chords: &'a [Chord],
    ends: HashMap<[u64; 2], Vec<usize>>,
    strips: Vec<Vec<usize>>,
    left: f64,
    strip_width: f64,
}

/// Strips across an outline; an upright edge in one of them has few neighbours.
const STRIPS: usize = 2_000;

fn bits(p: Point) -> [u64; 2] {
    [(p.x + 0.0).to_bits(), (p.y + 0.0).to_bits()]
}

/// How far a curve leaves an edge of the region.
#[derive(Clone, Copy, Default)]
struct Bulge {
    inwards: f64,
    outwards: f64,
}

impl<'a> Sources<'a> {
    fn new(chords: &'a [Chord]) -> Sources<'a> {
        let mut ends: HashMap<[u64; 2], Vec<usize>> = HashMap::new();
        let bounds = Bounds::of(chords.iter().flat_map(|c| [c.from, c.to]));
        let strip_width = (bounds.width() / STRIPS as f64).max(1e-3);
        let strips = vec![Vec::new(); STRIPS];
        let mut sources =
            Sources { chords, ends: HashMap::new(), strips, left: bounds.min.x, strip_width };
        for (i, c) in chords.iter().enumerate() {
            ends.entry(bits(c.from)).or_default().push(i);
            ends.entry(bits(c.to)).or_default().push(i);
            let (a, b) = (c.from.x.min(c.to.x), c.from.x.max(c.to.x));
            for strip in sources.strip(a - ON_CHORD_MM)..=sources.strip(b + ON_CHORD_MM) {
                sources.strips[strip].push(i);
            }
        }
        sources.ends = ends;
        sources
    }

    fn strip(&self, x: f64) -> usize {
        // `as` takes what is left of the first strip into it.
        (((x - self.left) / self.strip_width) as usize).min(STRIPS - 1)
    }

    /// The bulge of the edge from `a` to `b`, region on its left; none where it is straight.
    fn bulge(&self, a: Point, b: Point) -> Bulge {
        let of_end = |p: Point| self.ends.get(&bits(p)).map_or(&[][..], Vec::as_slice);
        let mut found = Bulge::default();
        let (at_a, at_b) = (of_end(a), of_end(b));
        for i in at_a.iter().chain(at_b) {
            self.take(*i, a, b, &mut found);
        }
        // Between two crossings an edge has no end of a chord.
        if at_a.is_empty() && at_b.is_empty() {
            for i in self.strips.get(self.strip(a.lerp(b, 0.5).x)).into_iter().flatten() {
                self.take(*i, a, b, &mut found);
            }
        }
        found
    }

    /// Takes in the bulge of a chord if the edge lies along it.
    fn take(&self, i: usize, a: Point, b: Point, found: &mut Bulge) {
        let Some(c) = self.chords.get(i) else { return };
        let middle = a.lerp(b, 0.5);
        let along = on_segment(middle, c.from, c.to) || on_segment(c.from.lerp(c.to, 0.5), a, b);
        if !along || off_line(a, c) > ON_CHORD_MM || off_line(b, c) > ON_CHORD_MM {
            return;
        }
        let same_way = (c.to - c.from).dot(b - a) > 0.0;
        let (inwards, outwards) = if same_way { (c.left, c.right) } else { (c.right, c.left) };
        found.inwards = found.inwards.max(inwards);
        found.outwards = found.outwards.max(outwards);
    }
}

fn on_segment(p: Point, a: Point, b: Point) -> bool {
    geometry::Segment::line(a, b).distance(p) <= ON_CHORD_MM
}

fn off_line(p: Point, c: &Chord) -> f64 {
    let d = (c.to - c.from).normalised();
    d.cross(p - c.from).abs()
}

/// An edge and how far it has to go to its left.
#[derive(Clone, Copy)]
struct Edge {
    from: Point,
    to: Point,
    along: Point,
    by: f64,
}

impl Edge {
    fn shifted(&self, p: Point) -> Point {
        p + self.along.left() * self.by
    }

    fn length(&self) -> f64 {
        self.from.distance(self.to)
    }
}

#[derive(Default)]
struct Moved {
    exteriors: Vec<Vec<Point>>,
    holes: Vec<Vec<Point>>,
    /// Strips to be cut off where an edge is too short for its corner to move.
    strips: Vec<Vec<Point>>,
    deviation: f64,
    any: bool,
}

impl Moved {
    fn ring(&mut self, corners: &[Point], sources: &Sources<'_>) {
        let mut outwards = 0.0_f64;
        let edges: Vec<Edge> = corners
            .iter()
            .zip(corners.iter().cycle().skip(1))
            .map(|(a, b)| {
                let bulge = sources.bulge(*a, *b);
                outwards = outwards.max(bulge.outwards);
                let by = if bulge.inwards > STAYS_MM { bulge.inwards + EXTRA_MM } else { 0.0 };
                Edge { from: *a, to: *b, along: (*b - *a).normalised(), by }
            })
            .collect();
        let most = edges.iter().map(|e| e.by).fold(0.0, f64::max);
        self.any |= most > 0.0;
        let mut ring = Vec::with_capacity(corners.len());
        let mut tips = 0.0_f64;
        for (i, next) in edges.iter().enumerate() {
            let before = &edges[(i + edges.len() - 1) % edges.len()];
            tips = tips.max(self.corner(before, next, &mut ring));
        }
        // A place on the curve is within its bulge of the chord, the chord within its shift or
        // that of its corners of the edge.
        self.deviation = self.deviation.max(outwards.max(most) + tips);
        if signed_area(corners) > 0.0 {
            self.exteriors.push(ring);
        } else {
            self.holes.push(ring);
        }
    }

    /// Adds the corner between two edges; returns how far the old corner is from the new edges.
    fn corner(&mut self, before: &Edge, next: &Edge, ring: &mut Vec<Point>) -> f64 {
        let p = next.from;
        if before.by == 0.0 && next.by == 0.0 {
            ring.push(p);
            return 0.0;
        }
        let turn = before.along.cross(next.along);
        let meet = meeting(before, next, turn);
        if let Some(by) = meet {
            let room = |e: &Edge| by.dot(e.along).abs() <= MOST_OF_EDGE * e.length();
            if room(before) && room(next) {
                ring.push(p + by);
                // The old corner's foot lies on one of the new edges, or its tip is lost.
                let foot = by.dot(before.along) >= 0.0 || by.dot(next.along) <= 0.0;
                return if foot { before.by.max(next.by) } else { by.norm() };
            }
        }
        if turn <= 0.0 || (turn < SLIGHT_TURN && before.along.dot(next.along) > 0.0) {
            // Inside a reflex corner, or one hardly turned, the region has room for a step.
            ring.push(before.shifted(p));
            ring.push(next.shifted(p));
            return before.by.max(next.by);
        }
        ring.push(p);
        for e in [before, next].into_iter().filter(|e| e.by > 0.0) {
            self.strips.push(vec![e.from, e.to, e.shifted(e.to), e.shifted(e.from)]);
        }
        // The tip is lost as far as the moved edges' meeting, or both edges with it.
        let whole = before.length().max(next.length());
        meet.map_or(whole, |by| by.norm())
    }

    fn region(&self) -> Option<Region> {
        let mut region = boolean::clean(&self.exteriors, FillRule::NonZero).ok()?;
        for cut in [&self.holes, &self.strips] {
            if cut.is_empty() {
                continue;
            }
            // Holes that moved may run into one another; turned round, they unite.
            let cut: Vec<Vec<Point>> = cut.iter().cloned().map(turned_left).collect();
            let cut = boolean::clean(&cut, FillRule::NonZero).ok()?;
            region = boolean::difference(&region, &cut)?;
        }
        Some(region)
    }
}

/// From the old corner to where the two moved edges meet, if they are not parallel.
fn meeting(before: &Edge, next: &Edge, turn: f64) -> Option<Point> {
    if turn.abs() < 1e-9 {
        // In line: both move alike, or not at all.
        let same = (before.by - next.by).abs() < 1e-12 && before.along.dot(next.along) > 0.0;
        return same.then(|| next.along.left() * next.by);
    }
    // d·left(u) = by for both edges.
    Some((next.along * before.by - before.along * next.by) / turn)
}
