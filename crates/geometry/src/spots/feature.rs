//! The things that an empty circle may touch: discs and edges.

use crate::{Curve, Disc, DiscGrid, Point, Segment, Walls};

/// Everything an empty circle may touch, by index: first the discs, then the edges.
pub(super) struct Features {
    discs: Vec<Disc>,
    edges: Vec<Edge>,
}

struct Edge {
    segment: Segment,
    /// Whether its start sticks into the region, so that a circle may touch just that point.
    corner: bool,
}

/// A thing as an equation, relative to some origin.
#[derive(Clone, Copy, Debug)]
pub(super) enum Primitive {
    /// |p − centre| = distance + radius; the radius is negative for an arc seen from within.
    Circle { centre: Point, radius: f64 },
    /// normal · p − offset = distance.
    Line { normal: Point, offset: f64 },
}

/// How the distance from a thing grows around a point.
pub(super) enum Slope {
    /// In this direction; anywhere within some reach the direction differs by an angle whose sine
    /// is at most the second value times the reach.
    Towards(Point, f64),
    /// From the centre of an arc, away from its start, its middle and its end.
    Apex([Point; 3]),
    /// Not known: too near, or at a place where it breaks.
    Unclear,
}

impl Features {
    pub(super) fn new(walls: &Walls, discs: &DiscGrid) -> Features {
        // In the order of their cells: neighbours in the plane become neighbours in memory.
        let discs = discs.in_cells().map(|i| discs.discs()[i]).collect();
        let mut edges: Vec<Edge> = Vec::with_capacity(walls.segments().len());
        let segments = walls.segments();
        let mut ring_start = 0;
        for (i, s) in segments.iter().enumerate() {
            let ends_ring = segments.get(i + 1).is_none_or(|n| n.from != s.to);
            let before = if i == ring_start { ring_end(segments, i) } else { i - 1 };
            let joined = i > ring_start
                && edges.last_mut().is_some_and(|last| prolong(&mut last.segment, s));
            if !joined {
                edges.push(Edge { segment: *s, corner: sticks_in(&segments[before], s) });
            }
            if ends_ring {
                ring_start = i + 1;
            }
        }
        Features { discs, edges }
    }

    pub(super) fn len(&self) -> usize {
        self.discs.len() + self.edges.len()
    }

    pub(super) fn is_edge(&self, i: u32) -> bool {
        i as usize >= self.discs.len()
    }

    /// Distance from `p` to thing `i`; negative in a disc, never for an edge.
    pub(super) fn value(&self, i: u32, p: Point) -> f64 {
        match self.discs.get(i as usize) {
            Some(d) => d.centre.distance(p) - d.radius,
            None => self.edge(i).segment.distance(p),
        }
    }

    fn edge(&self, i: u32) -> &Edge {
        &self.edges[i as usize - self.discs.len()]
    }

    /// How the distance from thing `i` grows within `reach` of `p`.
    pub(super) fn slope(&self, i: u32, p: Point, reach: f64) -> Slope {
        let from_point = |q: Point| {
            let d = p - q;
            let n = d.norm();
            if n > reach { Slope::Towards(d / n, 1.0 / n) } else { Slope::Unclear }
        };
        if let Some(disc) = self.discs.get(i as usize) {
            return from_point(disc.centre);
        }
        let s = &self.edge(i).segment;
        // From behind, an edge is near by one of its ends, if at all.
        let from_end = || {
            let (from, to) = (p.distance(s.from), p.distance(s.to));
            match (from - to).abs() >= 2.0 * reach {
                true => from_point(if from < to { s.from } else { s.to }),
                false => Slope::Unclear,
            }
        };
        match s.curve {
            Curve::Line => {
                let (along, len) = (s.to - s.from, s.length());
                let t = (p - s.from).dot(along) / len;
                if along.cross(p - s.from) < -reach * len {
                    from_end()
                } else if t < -reach {
                    from_point(s.from)
                } else if t > len + reach {
                    from_point(s.to)
                } else if t >= reach && t <= len - reach {
                    Slope::Towards(along.left() / len, 0.0)
                } else {
                    // Beside an end: the direction swings no faster than about that end.
                    let d = p - s.closest(p);
                    let n = d.norm();
                    let least = n - reach;
                    if least > reach { Slope::Towards(d / n, 1.0 / least) } else { Slope::Unclear }
                }
            }
            Curve::Arc { centre, radius, ccw } => {
                let d = p - centre;
                let n = d.norm();
                if ccw && n <= 1e-9 && reach <= 1e-9 {
                    let from = |t: f64| (centre - s.point_at(t)) / radius;
                    return Slope::Apex([from(0.0), from(0.5), from(1.0)]);
                }
                let turn = if ccw { 1.0 } else { -1.0 };
                // How far `p` is within the sector: distance from the nearer ray that bounds it.
                let (a, b) = ((s.from - centre) / radius, (s.to - centre) / radius);
                let within = (turn * a.cross(d)).min(turn * d.cross(b));
                let behind = turn * (n - radius);
                if behind > reach || within <= -reach {
                    from_end()
                } else if within >= reach && n > reach {
                    Slope::Towards(d * (-turn / n), 1.0 / n)
                } else {
                    Slope::Unclear
                }
            }
        }
    }

    /// The equations of thing `i`, relative to `origin`.
    pub(super) fn primitives(&self, i: u32, origin: Point, out: &mut Vec<Primitive>) {
        if let Some(d) = self.discs.get(i as usize) {
            out.push(Primitive::Circle { centre: d.centre - origin, radius: d.radius });
            return;
        }
        let Edge { segment: s, corner } = self.edge(i);
        match s.curve {
            Curve::Line => {
                let normal = (s.to - s.from).left().normalised();
                let offset = normal.dot(s.from - origin);
                out.push(Primitive::Line { normal, offset });
            }
            Curve::Arc { centre, radius, ccw } => {
                let radius = if ccw { -radius } else { radius };
                out.push(Primitive::Circle { centre: centre - origin, radius });
            }
        }
        if *corner {
            out.push(Primitive::Circle { centre: s.from - origin, radius: 0.0 });
        }
    }
}

/// The last segment of the ring that begins at `start`.
fn ring_end(segments: &[Segment], start: usize) -> usize {
    (start..segments.len() - 1)
        .find(|&i| segments[i + 1].from != segments[i].to)
        .unwrap_or(segments.len() - 1)
}

/// Makes one of two edges in a line, or says that they are none.
fn prolong(last: &mut Segment, next: &Segment) -> bool {
    if last.curve != Curve::Line || next.curve != Curve::Line {
        return false;
    }
    let whole = next.to - last.from;
    let off = whole.normalised().cross(next.from - last.from).abs();
    let onwards = (last.to - last.from).dot(next.to - next.from) > 0.0;
    if onwards && off < 1e-10 {
        last.to = next.to;
    }
    onwards && off < 1e-10
}

/// Whether the boundary turns right, away from the region, or back, between two segments.
fn sticks_in(before: &Segment, after: &Segment) -> bool {
    let (i, o) = (direction(before, true), direction(after, false));
    i.cross(o) < -1e-9 || i.dot(o) < 0.0
}

/// The unit direction of a segment at its start or end.
fn direction(s: &Segment, at_end: bool) -> Point {
    match s.curve {
        Curve::Line => (s.to - s.from).normalised(),
        Curve::Arc { centre, ccw, .. } => {
            let out = (if at_end { s.to } else { s.from }) - centre;
            (if ccw { out.left() } else { -out.left() }).normalised()
        }
    }
}
