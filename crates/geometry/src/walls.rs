//! The edges of a region, indexed, with the distance that each wants kept.

use crate::box_tree::BoxTree;
use crate::{Bounds, Point, Region, Segment};

/// The edges of a [`Region`], indexed for many questions, each with a distance to keep from it.
///
/// *Room* at a point is the radius of the largest disc there that lies inside the region and
/// keeps every edge's distance: the smallest of (distance − keep) over all edges, negative
/// outside.
#[derive(Clone, Debug)]
pub struct Walls {
    segments: Vec<Segment>,
    keep: Vec<f64>,
    bounds: Bounds,
    keep_max: f64,
    /// Horizontal bands: which segments meet the height of each.
    bands: Buckets,
    /// Boxes around runs of segments.
    tree: BoxTree,
}

#[derive(Clone, Debug)]
struct Buckets {
    start: Vec<u32>,
    items: Vec<u32>,
}

impl Walls {
    /// The walls of `region`; `keep` tells, by a segment's tag, the distance to keep from it, mm.
    pub fn new(region: &Region, keep: impl Fn(u8) -> f64) -> Walls {
        let segments: Vec<Segment> = region.segments().copied().collect();
        let keep: Vec<f64> = segments.iter().map(|s| keep(s.tag)).collect();
        let bounds = region.bounds();
        // Bands of such a height that a segment stands in about four.
        let heights: f64 = segments.iter().map(|s| s.bounds().height()).sum();
        let n_bands = 4.0 * segments.len() as f64 * bounds.height() / heights.max(1e-9);
        let n_bands = (n_bands as usize).clamp(1, 4096.min(segments.len().max(2)));
        let bands = Buckets::new(n_bands, &segments, |s| {
            let b = s.bounds();
            let i = |y: f64| band_of(y, bounds, n_bands);
            i(b.min.y)..=i(b.max.y)
        });
        let tree = BoxTree::new(&segments, &keep);
        let keep_max = keep.iter().copied().fold(0.0, f64::max);
        Walls { segments, keep, bounds, keep_max, bands, tree }
    }

    /// The segments, in the region's order.
    pub fn segments(&self) -> &[Segment] {
        &self.segments
    }

    /// The distance to keep from segment `i`, mm.
    pub fn keep(&self, i: usize) -> f64 {
        self.keep[i]
    }

    /// The largest distance to keep from any segment, mm.
    pub fn keep_max(&self) -> f64 {
        self.keep_max
    }

    /// The smallest upright box around the region.
    pub fn bounds(&self) -> Bounds {
        self.bounds
    }

    /// Whether `p` lies inside the region; on the edge it may be either.
    pub fn contains(&self, p: Point) -> bool {
        if self.bounds.distance(p) > 0.0 {
            return false;
        }
        let band = self.bands.at(band_of(p.y, self.bounds, self.bands.len()));
        band.iter().map(|&i| self.segments[i as usize].winding(p)).sum::<i32>() > 0
    }

    /// Radius of the largest disc at `p` that keeps every distance. Negative outside: there it is
    /// minus the distance to an edge and what that wants kept, so that with nothing to keep it is
    /// the signed distance.
    pub fn room(&self, p: Point) -> f64 {
        let (nearest, i) = self.nearest(p);
        if self.contains(p) {
            return nearest;
        }
        -(nearest + 2.0 * self.keep.get(i).copied().unwrap_or(0.0))
    }

    /// The smallest (distance − keep) over all edges at `p`, and the index of its segment.
    /// Does not ask which side `p` lies on.
    pub fn nearest(&self, p: Point) -> (f64, usize) {
        self.tree.least(p, |i| self.segments[i].distance(p) - self.keep[i])
    }

    /// Indices of the segments that come within `reach` of `p` (their true distance, not less
    /// what is to be kept), each once, in order.
    pub fn within(&self, p: Point, reach: f64) -> Vec<usize> {
        let mut found = Vec::new();
        self.tree.visit(
            |b| b.distance(p) <= reach,
            |i| {
                if self.segments[i].distance(p) <= reach {
                    found.push(i);
                }
            },
        );
        found
    }

    /// Calls `f` with each segment that may come within `reach` of the circle of radius `rho`
    /// about `centre`, in order.
    pub(crate) fn near_circle(&self, centre: Point, rho: f64, reach: f64, f: impl FnMut(usize)) {
        let meets =
            |b: &Bounds| b.distance(centre) <= rho + reach && b.farthest(centre) >= rho - reach;
        self.tree.visit(meets, f);
    }

    /// Segments that come within `reach` of the horizontal line at `y`, possibly more than once
    /// and possibly a few that do not.
    pub(crate) fn near_row(&self, y: f64, reach: f64) -> impl Iterator<Item = usize> + '_ {
        let n = self.bands.len();
        let span = band_of(y - reach, self.bounds, n)..=band_of(y + reach, self.bounds, n);
        span.flat_map(|b| self.bands.at(b)).map(|&i| i as usize)
    }
}

fn band_of(y: f64, bounds: Bounds, n: usize) -> usize {
    let h = bounds.height();
    if h <= 0.0 {
        return 0;
    }
    // A cast saturates: below the box is band 0, above it the last.
    (((y - bounds.min.y) / h * n as f64) as usize).min(n - 1)
}

impl Buckets {
    fn new<R: Iterator<Item = usize>>(
        n: usize,
        segments: &[Segment],
        of: impl Fn(&Segment) -> R,
    ) -> Buckets {
        let mut start = vec![0u32; n + 1];
        for s in segments {
            of(s).for_each(|b| start[b + 1] += 1);
        }
        for b in 0..n {
            start[b + 1] += start[b];
        }
        let mut next = start.clone();
        let mut items = vec![0; start[n] as usize];
        for (i, s) in segments.iter().enumerate() {
            for b in of(s) {
                items[next[b] as usize] = i as u32;
                next[b] += 1;
            }
        }
        Buckets { start, items }
    }

    fn len(&self) -> usize {
        self.start.len() - 1
    }

    fn at(&self, b: usize) -> &[u32] {
        &self.items[self.start[b] as usize..self.start[b + 1] as usize]
    }
}
