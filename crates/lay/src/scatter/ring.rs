//! A ring of stones round each hole, set before everything else.

use super::edge::{Edge, Edges};
use super::field::{Field, TOUCH};
use super::tangent::{Locus, meet};
use geometry::{Point, Region};
use rand::Rng;
use rand_chacha::ChaCha8Rng;

/// How many rings are tried round a hole, at most and at least; the one that closes best is kept.
const TRIES: (usize, usize) = (12, 2);
/// Edges looked at for each stone over all tries: a hole of many edges is tried less often.
const EDGES: usize = 20_000;
/// How many starting places are tried for each.
const STARTS: usize = 8;

/// The segments of each hole of `region`, as ranges of its segments.
pub(crate) fn holes(region: &Region) -> Vec<std::ops::Range<usize>> {
    let mut from = 0;
    let mut holes = vec![];
    for ring in region.rings() {
        let to = from + ring.segments.len();
        if ring.is_hole() {
            holes.push(from..to);
        }
        from = to;
    }
    holes
}

/// What a ring is made of.
pub(crate) struct RingMaker<'a, 'w> {
    /// Walls, and the stones already placed.
    pub(crate) field: &'a mut Field<'w>,
    /// Every edge of the zone.
    pub(crate) edges: &'a Edges,
    /// The radius of each form, mm.
    pub(crate) radii: &'a [f64],
    /// The share by count of each form.
    pub(crate) shares: &'a [f64],
}

impl RingMaker<'_, '_> {
    /// Stones (form, centre) round the hole made of these segments, each touching the hole's edge
    /// and the stone before it. Of several tries, the one whose last gap is smallest for what it
    /// covers.
    pub(crate) fn around(
        &mut self,
        hole: std::ops::Range<usize>,
        rng: &mut ChaCha8Rng,
    ) -> Vec<(usize, Point)> {
        let edges = self.edges;
        let edges: Vec<Edge> = hole.flat_map(|s| edges.of(s)).copied().collect();
        let mut best: (f64, Vec<(usize, Point)>) = (f64::INFINITY, vec![]);
        if edges.is_empty() {
            return vec![];
        }
        let tries = (EDGES / edges.len().max(1)).clamp(TRIES.1, TRIES.0);
        for _ in 0..tries {
            let ring = self.walk(&edges, rng);
            let bare = self.open_gap(&ring);
            // The same stones in another order close alike: rounding must not choose.
            if bare < best.0 - 1e-9 || best.1.is_empty() {
                best = (bare, ring);
            }
        }
        best.1
    }

    /// Width of the gap between the last stone and the first as a part of the way that the ring
    /// covers; rings of one or two stones, which cannot close, come after all others.
    fn open_gap(&self, ring: &[(usize, Point)]) -> f64 {
        let (Some(&(f, p)), Some(&(g, q))) = (ring.first(), ring.last()) else {
            return f64::INFINITY;
        };
        let covered: f64 = ring.iter().map(|&(form, _)| 2.0 * self.radii[form]).sum();
        if ring.len() < 3 {
            return f64::MAX / (1.0 + covered);
        }
        (p.distance(q) - self.radii[f] - self.radii[g]) / covered
    }

    fn walk(&mut self, edges: &[Edge], rng: &mut ChaCha8Rng) -> Vec<(usize, Point)> {
        let mut ring: Vec<(usize, Point)> = vec![];
        let mut count = vec![0usize; self.radii.len()];
        for _ in 0..STARTS {
            let edge = edges[below(rng, edges.len())];
            let form = self.by_need(&count, 0, rng)[0];
            let place = edge.beside(fraction(rng), self.radii[form]);
            if let Some(p) = place.filter(|&p| self.fits(form, p, &ring)) {
                ring.push((form, p));
                count[form] += 1;
                break;
            }
        }
        while let Some(&(last_form, last)) = ring.last() {
            let needed = self.by_need(&count, ring.len(), rng);
            let found = needed.into_iter().find_map(|form| {
                self.next_place(edges, last_form, last, form, &ring).map(|p| (form, p))
            });
            let Some((form, p)) = found else { break };
            ring.push((form, p));
            count[form] += 1;
        }
        ring
    }

    /// Where a stone of `form` touches the last one and the hole, further on round the hole.
    fn next_place(
        &mut self,
        edges: &[Edge],
        last_form: usize,
        last: Point,
        form: usize,
        ring: &[(usize, Point)],
    ) -> Option<Point> {
        let r = self.radii[form];
        let about = Locus::Circle { centre: last, radius: self.radii[last_form] + r };
        let on = edges.iter().min_by(|a, b| a.distance(last).total_cmp(&b.distance(last)))?;
        let onward = on.direction_at(last);
        let mut found: Option<(f64, Point)> = None;
        for edge in edges {
            let Some(locus) = edge.locus(r) else { continue };
            for p in meet(about, locus).into_iter().flatten() {
                let ahead = (p - last).dot(onward);
                let better = ahead > 0.0 && found.is_none_or(|f| ahead > f.0);
                if better && edge.spans(p) && self.fits(form, p, ring) {
                    found = Some((ahead, p));
                }
            }
        }
        found.map(|f| f.1)
    }

    fn fits(&mut self, form: usize, p: Point, ring: &[(usize, Point)]) -> bool {
        let r = self.radii[form];
        let apart = |&(g, q): &(usize, Point)| p.distance(q) >= r + self.radii[g] - TOUCH;
        ring.iter().all(apart) && self.field.free(p, r) && self.field.inside(p, r)
    }

    /// The forms, the one furthest behind its share first; by up to one stone at random.
    fn by_need(&self, count: &[usize], n: usize, rng: &mut ChaCha8Rng) -> Vec<usize> {
        let mut need: Vec<(f64, usize)> = self
            .shares
            .iter()
            .enumerate()
            .map(|(i, share)| (share * (n + 1) as f64 - count[i] as f64 + fraction(rng), i))
            .collect();
        need.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        need.into_iter().map(|(_, i)| i).collect()
    }
}

/// A number in 0..1.
pub(crate) fn fraction(rng: &mut ChaCha8Rng) -> f64 {
    f64::from(rng.next_u32()) / 4_294_967_296.0
}

/// A whole number below `n`, which must not be 0.
fn below(rng: &mut ChaCha8Rng, n: usize) -> usize {
    ((fraction(rng) * n as f64) as usize).min(n - 1)
}
