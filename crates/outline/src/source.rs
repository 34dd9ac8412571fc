//! The exact curves of a drawing, found again behind what its reader makes of them.
//!
//! `usvg` resolves styles, transforms, `use` and markers, but its paths are in `f32` and its arcs
//! are cubics within 0.1 user units: too coarse for a thousandth of a millimetre on a drawing of
//! 24 units. The path data of the file is therefore kept beside it in `f64`, and each path that
//! comes out of `usvg` is looked up by the very numbers `usvg` must have made of that data.
//! Circles, ellipses and rounded rectangles are known by the quarter arcs they consist of.

use std::collections::HashMap;

use kurbo::{Affine, Arc, BezPath, Point, Vec2};
use svgtypes::{PointsParser, SimplePathSegment, SimplifyingPathParser};
use usvg::tiny_skia_path::{Path, PathBuilder, PathSegment};

use crate::path_data;

/// The handle of the cubic that stands for a quarter of a circle, 4/3·tan(π/8).
const QUARTER_HANDLE: f64 = 0.552_284_749_830_793_4;

/// How far, in parts of the radius, a handle in `f32` may differ from [`QUARTER_HANDLE`].
const QUARTER_SLACK: f64 = 2e-6;

/// The curves of a file's `d` and `points` attributes.
#[derive(Default)]
pub(crate) struct Sources {
    exact: HashMap<Vec<u32>, BezPath>,
}

impl Sources {
    /// Remembers path data and its curve.
    pub(crate) fn add_path(&mut self, d: &str, curve: BezPath) {
        if let Some(path) = as_read_elsewhere(d) {
            self.exact.entry(key(&path)).or_insert(curve);
        }
    }

    /// Remembers the corners of a polyline or polygon.
    pub(crate) fn add_points(&mut self, points: &str, closed: bool) {
        let (mut curve, mut builder) = (BezPath::new(), PathBuilder::new());
        for (x, y) in PointsParser::from(points) {
            if builder.is_empty() {
                builder.move_to(x as f32, y as f32);
                curve.move_to((x, y));
            } else {
                builder.line_to(x as f32, y as f32);
                curve.line_to((x, y));
            }
        }
        if closed && !builder.is_empty() {
            builder.close();
            curve.close_path();
        }
        if let Some(path) = builder.finish() {
            self.exact.entry(key(&path)).or_insert(curve);
        }
    }

    /// The curve behind a path of `usvg`.
    pub(crate) fn curve(&self, path: &Path) -> BezPath {
        match self.exact.get(&key(path)) {
            Some(curve) => curve.clone(),
            None => widened(path),
        }
    }
}

/// The path `usvg` makes of path data: the same crates, the same order.
fn as_read_elsewhere(d: &str) -> Option<Path> {
    let mut builder = PathBuilder::new();
    for segment in SimplifyingPathParser::from(d) {
        match segment.ok() {
            None => break,
            Some(SimplePathSegment::MoveTo { x, y }) => builder.move_to(x as f32, y as f32),
            Some(SimplePathSegment::LineTo { x, y }) => builder.line_to(x as f32, y as f32),
            Some(SimplePathSegment::Quadratic { x1, y1, x, y }) => {
                builder.quad_to(x1 as f32, y1 as f32, x as f32, y as f32);
            }
            Some(SimplePathSegment::CurveTo { x1, y1, x2, y2, x, y }) => {
                let [x1, y1, x2, y2, x, y] = [x1, y1, x2, y2, x, y].map(|v| v as f32);
                builder.cubic_to(x1, y1, x2, y2, x, y);
            }
            Some(SimplePathSegment::ClosePath) => builder.close(),
        }
    }
    builder.finish()
}

/// The path as a sequence of bits: a mark for each command, then its coordinates.
fn key(path: &Path) -> Vec<u32> {
    let mut bits = Vec::with_capacity(path.len() * 5);
    for segment in path.segments() {
        let (mark, points): (u32, &[usvg::tiny_skia_path::Point]) = match &segment {
            PathSegment::MoveTo(p) => (0, &[*p]),
            PathSegment::LineTo(p) => (1, &[*p]),
            PathSegment::QuadTo(c, p) => (2, &[*c, *p]),
            PathSegment::CubicTo(c, d, p) => (3, &[*c, *d, *p]),
            PathSegment::Close => (4, &[]),
        };
        bits.push(mark);
        bits.extend(points.iter().flat_map(|p| [p.x.to_bits(), p.y.to_bits()]));
    }
    bits
}

/// The path in `f64`, quarter arcs along the axes as the arcs they are.
fn widened(path: &Path) -> BezPath {
    let point = |p: usvg::tiny_skia_path::Point| Point::new(f64::from(p.x), f64::from(p.y));
    let (mut curve, mut at) = (BezPath::new(), Point::ORIGIN);
    for segment in path.segments() {
        match segment {
            PathSegment::MoveTo(p) => {
                at = point(p);
                curve.move_to(at);
            }
            PathSegment::LineTo(p) => {
                at = point(p);
                curve.line_to(at);
            }
            PathSegment::QuadTo(c, p) => {
                at = point(p);
                curve.quad_to(point(c), at);
            }
            PathSegment::CubicTo(c, d, p) => {
                let (c, d, to) = (point(c), point(d), point(p));
                match quarter(at, c, d, to) {
                    Some(arc) => curve.extend(arc),
                    None => curve.curve_to(c, d, to),
                }
                at = to;
            }
            PathSegment::Close => curve.close_path(),
        }
    }
    curve
}

/// The quarter of an upright ellipse that a cubic stands for, if it does, in pieces close to it.
fn quarter(from: Point, c: Point, d: Point, to: Point) -> Option<Vec<kurbo::PathEl>> {
    let radii = Vec2::new((to.x - from.x).abs(), (to.y - from.y).abs());
    let reach = radii.x.max(radii.y);
    let slack = QUARTER_SLACK * reach.max(from.to_vec2().hypot()).max(to.to_vec2().hypot());
    let near = |a: f64, b: f64| (a - b).abs() <= slack;
    let step = to - from;
    // It leaves along one axis and arrives along the other.
    let horizontal = near(c.y, from.y) && near(d.x, to.x);
    let vertical = near(c.x, from.x) && near(d.y, to.y);
    let (first, last) = (c - from, to - d);
    let fits = if horizontal {
        near(first.x, QUARTER_HANDLE * step.x) && near(last.y, QUARTER_HANDLE * step.y)
    } else {
        vertical && near(first.y, QUARTER_HANDLE * step.y) && near(last.x, QUARTER_HANDLE * step.x)
    };
    if !fits || radii.x <= 0.0 || radii.y <= 0.0 {
        return None;
    }
    let centre = if horizontal { Point::new(from.x, to.y) } else { Point::new(to.x, from.y) };
    // Every point of the quarter is centre + spoke·cos + side·sin.
    let (spoke, side) = (from - centre, to - centre);
    let place = Affine::new([spoke.x, spoke.y, side.x, side.y, centre.x, centre.y]);
    let unit = Arc::new(Point::ORIGIN, (1.0, 1.0), 0.0, std::f64::consts::FRAC_PI_2, 0.0);
    let mut pieces: Vec<kurbo::PathEl> = unit.append_iter(1e-9).map(|e| place * e).collect();
    if let Some(kurbo::PathEl::CurveTo(_, _, end)) = pieces.last_mut() {
        *end = to;
    }
    Some(pieces)
}

/// Reads path data and remembers its curve.
pub(crate) fn remember(sources: &mut Sources, d: &str) -> Option<path_data::Fault> {
    let read = path_data::read(d);
    if read.fault != Some(path_data::Fault::HugeArc) {
        sources.add_path(d, read.path);
    }
    read.fault
}
