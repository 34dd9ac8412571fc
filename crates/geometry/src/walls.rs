//! The edges of a region, indexed, with the distance that each wants kept.

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
    /// Square cells, absent where there are few segments.
    cells: Option<Cells>,
}

#[derive(Clone, Debug)]
struct Buckets {
    start: Vec<u32>,
    items: Vec<u32>,
}

#[derive(Clone, Debug)]
struct Cells {
    side: f64,
    nx: usize,
    ny: usize,
    buckets: Buckets,
}

/// Below this many segments, looking at all of them is quicker than looking up which.
const FEW: usize = 24;

impl Walls {
    /// The walls of `region`; `keep` tells, by a segment's tag, the distance to keep from it, mm.
    pub fn new(region: &Region, keep: impl Fn(u8) -> f64) -> Walls {
        let segments: Vec<Segment> = region.segments().copied().collect();
        let keep: Vec<f64> = segments.iter().map(|s| keep(s.tag)).collect();
        let bounds = region.bounds();
        let n_bands = (segments.len() / 2).clamp(1, 4096);
        let bands = Buckets::new(n_bands, &segments, |s| {
            let b = s.bounds();
            let i = |y: f64| band_of(y, bounds, n_bands);
            i(b.min.y)..=i(b.max.y)
        });
        let cells = (segments.len() > FEW).then(|| Cells::new(&segments, bounds));
        let keep_max = keep.iter().copied().fold(0.0, f64::max);
        Walls { segments, keep, bounds, keep_max, bands, cells }
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

    /// Radius of the largest disc at `p` that keeps every distance; negative outside (there it is
    /// minus the distance to the nearest edge, less what it wants kept).
    pub fn room(&self, p: Point) -> f64 {
        let (nearest, _) = self.nearest(p);
        if self.contains(p) { nearest } else { -(nearest.abs()) }
    }

    /// The smallest (distance − keep) over all edges at `p`, and the index of its segment.
    /// Does not ask which side `p` lies on.
    pub fn nearest(&self, p: Point) -> (f64, usize) {
        let value = |i: usize| self.segments[i].distance(p) - self.keep[i];
        let better = |best: (f64, usize), i: usize| {
            let v = value(i);
            if v < best.0 || (v == best.0 && i < best.1) { (v, i) } else { best }
        };
        let none = (f64::INFINITY, usize::MAX);
        let Some(cells) = &self.cells else {
            return (0..self.segments.len()).fold(none, better);
        };
        let (cx, cy) = cells.cell_of(p, self.bounds);
        // A point outside the box is at least this far from every cell.
        let outside = self.bounds.distance(p);
        let mut best = none;
        for ring in 0..=cells.nx.max(cells.ny) {
            let reached = outside.max((ring as f64 - 1.0) * cells.side) - self.keep_max;
            if reached > best.0 {
                break;
            }
            cells.for_ring(cx, cy, ring, |items| {
                best = items.iter().fold(best, |b, &i| better(b, i as usize));
            });
        }
        best
    }

    /// Indices of the segments that come within `reach` of `p` (their true distance, not less
    /// what is to be kept), each once, in order.
    pub fn within(&self, p: Point, reach: f64) -> Vec<usize> {
        let near = |i: &usize| self.segments[*i].distance(p) <= reach;
        let Some(cells) = &self.cells else {
            return (0..self.segments.len()).filter(near).collect();
        };
        let mut found = Vec::new();
        let corner = Point::new(reach, reach);
        let (x0, y0) = cells.cell_of(p - corner, self.bounds);
        let (x1, y1) = cells.cell_of(p + corner, self.bounds);
        for y in y0..=y1 {
            for x in x0..=x1 {
                found.extend(cells.buckets.at(y * cells.nx + x).iter().map(|&i| i as usize));
            }
        }
        found.sort_unstable();
        found.dedup();
        found.retain(near);
        found
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

impl Cells {
    fn new(segments: &[Segment], bounds: Bounds) -> Cells {
        let total: f64 = segments.iter().map(Segment::length).sum();
        let n = segments.len() as f64;
        // About two cells to a segment along the edge, and never more than 4 n cells in all.
        let by_area = (bounds.width() * bounds.height() / (4.0 * n)).sqrt();
        let side = (total / n).max(by_area).max(1e-9);
        let nx = ((bounds.width() / side) as usize + 1).min(1 << 12);
        let ny = ((bounds.height() / side) as usize + 1).min(1 << 12);
        let mut cells = Cells { side, nx, ny, buckets: Buckets { start: vec![0], items: vec![] } };
        cells.buckets = Buckets::new(nx * ny, segments, |s| {
            // Every cell whose square the segment really comes near, not its whole box: a long
            // slanting edge would otherwise stand in every cell.
            let b = s.bounds();
            let (x0, y0) = cells.cell_of(b.min, bounds);
            let (x1, y1) = cells.cell_of(b.max, bounds);
            let reach = side * std::f64::consts::FRAC_1_SQRT_2 * 1.000_001;
            let s = *s;
            (y0..=y1).flat_map(move |y| (x0..=x1).map(move |x| (x, y))).filter_map(move |(x, y)| {
                let mid = Point::new(x as f64 + 0.5, y as f64 + 0.5) * side + bounds.min;
                (s.distance(mid) <= reach).then_some(y * nx + x)
            })
        });
        cells
    }

    fn cell_of(&self, p: Point, bounds: Bounds) -> (usize, usize) {
        let q = (p - bounds.min) / self.side;
        ((q.x as usize).min(self.nx - 1), (q.y as usize).min(self.ny - 1))
    }

    /// Calls `f` with the bucket of each cell at Chebyshev distance `ring` from (`cx`, `cy`).
    fn for_ring(&self, cx: usize, cy: usize, ring: usize, mut f: impl FnMut(&[u32])) {
        let (cx, cy, k) = (cx as isize, cy as isize, ring as isize);
        let (nx, ny) = (self.nx as isize, self.ny as isize);
        for y in (cy - k).max(0)..=(cy + k).min(ny - 1) {
            let edge_row = (y - cy).abs() == k;
            let step = if edge_row || k == 0 { 1 } else { 2 * k };
            let mut x = cx - k;
            while x <= cx + k {
                if (0..nx).contains(&x) {
                    f(self.buckets.at((y * nx + x) as usize));
                }
                x += step;
            }
        }
    }
}
