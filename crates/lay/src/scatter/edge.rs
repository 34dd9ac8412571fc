//! The edges of a zone as things that a stone can touch: lines, arcs and corners.

use super::tangent::Locus;
use geometry::{Curve, Point, Region, Segment, Walls};

/// One thing of the zone's edge that a stone can touch.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Edge {
    keep: f64,
    form: Form,
}

#[derive(Clone, Copy, Debug)]
enum Form {
    Line {
        from: Point,
        along: Point,
        length: f64,
    },
    Arc {
        piece: Segment,
        centre: Point,
        radius: f64,
        ccw: bool,
    },
    /// A corner that points into the zone, between the directions of arrival and departure.
    Corner {
        at: Point,
        arriving: Point,
        leaving: Point,
    },
}

/// How far, in mm, a centre may lie beyond the end of an edge and still count as touching it:
/// neighbours share their ends, so this only has to be above rounding.
const BEYOND: f64 = 1e-9;

impl Edge {
    /// Where the centre of a disc of `radius` lies when it touches this edge from inside the zone.
    pub(crate) fn locus(&self, radius: f64) -> Option<Locus> {
        let off = self.keep + radius;
        match self.form {
            Form::Line { from, along, .. } => {
                Some(Locus::Line { through: from + along.left() * off, along })
            }
            Form::Arc { centre, radius, ccw, .. } => {
                let radius = if ccw { radius - off } else { radius + off };
                (radius > 0.0).then_some(Locus::Circle { centre, radius })
            }
            Form::Corner { at, .. } => Some(Locus::Circle { centre: at, radius: off }),
        }
    }

    /// Whether a point of the locus lies beside the edge and not beyond its ends.
    pub(crate) fn spans(&self, p: Point) -> bool {
        match self.form {
            Form::Line { from, along, length } => {
                (-BEYOND..=length + BEYOND).contains(&(p - from).dot(along))
            }
            Form::Arc { piece, centre, radius, .. } => {
                piece.distance(p) <= (p.distance(centre) - radius).abs() + BEYOND
            }
            Form::Corner { at, arriving, leaving } => {
                (p - at).dot(arriving) >= -BEYOND && (p - at).dot(leaving) <= BEYOND
            }
        }
    }

    /// The centre of a disc of `radius` that touches the edge `t` of the way along it.
    pub(crate) fn beside(&self, t: f64, radius: f64) -> Option<Point> {
        let off = self.keep + radius;
        match self.form {
            Form::Line { from, along, length } => {
                Some(from + along * (length * t) + along.left() * off)
            }
            Form::Arc { piece, centre, radius, ccw } => {
                let k = if ccw { radius - off } else { radius + off } / radius;
                (k >= -BEYOND).then(|| centre + (piece.point_at(t) - centre) * k)
            }
            Form::Corner { .. } => None,
        }
    }

    /// Distance from `p` to the edge, mm.
    pub(crate) fn distance(&self, p: Point) -> f64 {
        match self.form {
            Form::Line { from, along, length } => {
                p.distance(from + along * (p - from).dot(along).clamp(0.0, length))
            }
            Form::Arc { piece, .. } => piece.distance(p),
            Form::Corner { at, .. } => p.distance(at),
        }
    }

    /// The direction of the edge at the point nearest to `p`, the zone on the left.
    pub(crate) fn direction_at(&self, p: Point) -> Point {
        match self.form {
            Form::Line { along, .. } => along,
            Form::Arc { centre, ccw, .. } => {
                let left = (p - centre).left();
                if ccw { left } else { -left }
            }
            // A corner is gone round clockwise: the zone lies on the left all the way.
            Form::Corner { at, .. } => -(p - at).left(),
        }
    }
}

/// Every edge of `region`, and for each segment the range of edges that belong to it.
pub(crate) struct Edges {
    edges: Vec<Edge>,
    first: Vec<u32>,
}

impl Edges {
    /// The edges of `region`; `walls` are the walls of the same region.
    pub(crate) fn new(region: &Region, walls: &Walls) -> Edges {
        let mut all = Edges { edges: vec![], first: vec![] };
        let mut base = 0;
        for ring in region.rings() {
            let n = ring.segments.len();
            for (i, s) in ring.segments.iter().enumerate() {
                all.first.push(all.edges.len() as u32);
                let keep = walls.keep(base + i);
                all.edges.extend(form_of(s).map(|form| Edge { keep, form }));
                let next = (i + 1) % n;
                all.edges.extend(corner(s, &ring.segments[next]).map(|form| {
                    let keep = keep.max(walls.keep(base + next));
                    Edge { keep, form }
                }));
            }
            base += n;
        }
        all.first.push(all.edges.len() as u32);
        all
    }

    /// The edges that belong to segment `i`: the piece itself and the corner at its end.
    pub(crate) fn of(&self, i: usize) -> &[Edge] {
        &self.edges[self.first[i] as usize..self.first[i + 1] as usize]
    }

    /// The number of segments.
    pub(crate) fn n_segments(&self) -> usize {
        self.first.len() - 1
    }
}

fn form_of(s: &Segment) -> Option<Form> {
    match s.curve {
        Curve::Line => {
            let length = s.length();
            let along = (s.to - s.from).normalised();
            (length > 0.0).then_some(Form::Line { from: s.from, along, length })
        }
        Curve::Arc { centre, radius, ccw } => {
            (radius > 0.0).then_some(Form::Arc { piece: *s, centre, radius, ccw })
        }
    }
}

/// The corner between two segments, if it points into the zone.
fn corner(a: &Segment, b: &Segment) -> Option<Form> {
    let arriving = direction(a, a.to);
    let leaving = direction(b, b.from);
    // Two smooth joins in a row leave no corner to touch.
    (arriving.cross(leaving) < -1e-12).then_some(Form::Corner { at: a.to, arriving, leaving })
}

/// Whether `b` follows `a` and goes on in about the same direction.
pub(crate) fn goes_on_smoothly(a: &Segment, b: &Segment) -> bool {
    let (arriving, leaving) = (direction(a, a.to), direction(b, b.from));
    // 0.1 rad: a bend that a stone does not feel as a corner.
    a.to == b.from && arriving.cross(leaving).abs() < 0.1 && arriving.dot(leaving) > 0.0
}

fn direction(s: &Segment, at: Point) -> Point {
    match s.curve {
        Curve::Line => (s.to - s.from).normalised(),
        Curve::Arc { centre, ccw, .. } => {
            let left = (at - centre).normalised().left();
            if ccw { left } else { -left }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::tangent::meet;
    use super::*;
    use geometry::{Ring, shapes};

    /// A zone with every kind of edge: straight, hollow and bulging arcs, corners both ways.
    fn region() -> Region {
        let p = Point::new;
        let outside = Ring {
            segments: vec![
                Segment::line(p(-20.0, -10.0), p(20.0, -10.0)),
                Segment::arc(p(20.0, -10.0), p(20.0, 10.0), p(20.0, 0.0), 10.0, true),
                Segment::line(p(20.0, 10.0), p(5.0, 10.0)),
                Segment::arc(p(5.0, 10.0), p(-5.0, 10.0), p(0.0, 10.0), 5.0, false),
                Segment::line(p(-5.0, 10.0), p(-20.0, 10.0)),
                Segment::line(p(-20.0, 10.0), p(-10.0, 0.0)),
                Segment::line(p(-10.0, 0.0), p(-20.0, -10.0)),
            ],
        };
        let hole = shapes::circle(4.0).moved(p(12.0, 0.0)).rings()[0].reversed();
        Region::new(vec![outside, hole]).unwrap()
    }

    #[test]
    fn a_disc_that_touches_an_edge_and_another_disc_has_its_radius_to_both() {
        let region = region();
        let keep = 0.25;
        let walls = Walls::new(&region, |_| keep);
        let edges = Edges::new(&region, &walls);
        let all: Vec<Edge> = (0..edges.n_segments()).flat_map(|i| edges.of(i)).copied().collect();
        let corners = all.iter().filter(|e| matches!(e.form, Form::Corner { .. })).count();
        // Only the notch on the left points into the zone.
        assert_eq!(corners, 1);
        let (mut touching, r) = (vec![0; all.len()], 0.7);
        for x in -40..60 {
            for y in -20..20 {
                let other = Point::new(f64::from(x) * 0.5, f64::from(y) * 0.5);
                let about = Locus::Circle { centre: other, radius: 1.1 + r };
                for (i, edge) in all.iter().enumerate() {
                    let Some(locus) = edge.locus(r) else { continue };
                    for p in meet(about, locus).into_iter().flatten() {
                        assert!((p.distance(other) - 1.8).abs() < 1e-9);
                        if edge.spans(p) && region.contains(p) {
                            assert!((edge.distance(p) - keep - r).abs() < 1e-9);
                            // No edge of the region is nearer than the one it touches says.
                            assert!(region.clearance(p) <= r + keep + 1e-9);
                            touching[i] += usize::from(walls.room(p) >= r - 1e-9);
                        }
                    }
                }
            }
        }
        assert!(touching.iter().all(|&n| n > 0), "an edge that nothing touches: {touching:?}");
    }

    #[test]
    fn a_disc_beside_an_edge_touches_it() {
        let region = region();
        let walls = Walls::new(&region, |_| 0.25);
        let edges = Edges::new(&region, &walls);
        for i in 0..edges.n_segments() {
            for edge in edges.of(i) {
                for t in [0.0, 0.3, 1.0] {
                    let Some(p) = edge.beside(t, 0.7) else { continue };
                    assert!((walls.segments()[i].distance(p) - 0.95).abs() < 1e-9);
                    let ahead = p + edge.direction_at(p).normalised() * 1e-3;
                    assert!(ahead.distance(p) > 0.9e-3);
                }
            }
        }
    }
}
