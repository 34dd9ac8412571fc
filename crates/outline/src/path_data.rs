//! The `d` attribute of a path as a curve in `f64`, arcs followed closely.

use kurbo::{Arc, BezPath, Point, SvgArc, Vec2};
use svgtypes::{PathParser, PathSegment};

/// How far the cubics that stand for an elliptical arc may leave it, in parts of its radius: below
/// what a coordinate of a drawing resolves.
const ARC_ERROR: f64 = 1e-9;

/// Coordinates and radii of arcs beyond this are refused: readers of drawings cut an arc into
/// pieces by its size, and one of 1e300 units would never end.
pub(crate) const MAX_ARC: f64 = 1e9;

/// A path as it is drawn.
#[derive(Default)]
pub(crate) struct PathData {
    /// The curve up to the first fault, in the units of the drawing, y down.
    pub path: BezPath,
    /// What is wrong with the rest, if there is a rest that could not be read.
    pub fault: Option<Fault>,
}

/// Why the rest of a path was left out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Fault {
    /// The text is no path data from somewhere on.
    Unreadable,
    /// An arc is larger than [`MAX_ARC`].
    HugeArc,
}

/// Reads path data; an error ends the path but keeps what came before it, as SVG 1.1 F.2 says.
pub(crate) fn read(d: &str) -> PathData {
    let mut pen = Pen::default();
    for segment in PathParser::from(d) {
        let Ok(segment) = segment else {
            return PathData { path: pen.path, fault: Some(Fault::Unreadable) };
        };
        if !pen.follow(segment) {
            return PathData { path: pen.path, fault: Some(Fault::HugeArc) };
        }
    }
    PathData { path: pen.path, fault: None }
}

/// What the smooth commands mirror.
#[derive(Clone, Copy, Default)]
enum Handle {
    #[default]
    None,
    Cubic(Point),
    Quad(Point),
}

#[derive(Default)]
struct Pen {
    path: BezPath,
    at: Point,
    start: Point,
    handle: Handle,
    closed: bool,
}

impl Pen {
    /// Draws one command; `false` if it is an arc too large to follow.
    fn follow(&mut self, segment: PathSegment) -> bool {
        let base = if segment.is_abs() { Vec2::ZERO } else { self.at.to_vec2() };
        let place = |x: f64, y: f64| Point::new(x, y) + base;
        if self.closed
            && !matches!(segment, PathSegment::MoveTo { .. } | PathSegment::ClosePath { .. })
        {
            self.path.move_to(self.start);
        }
        self.closed = false;
        let mut handle = Handle::None;
        match segment {
            PathSegment::MoveTo { x, y, .. } => {
                self.at = place(x, y);
                self.start = self.at;
                self.path.move_to(self.at);
            }
            PathSegment::LineTo { x, y, .. } => self.line_to(place(x, y)),
            PathSegment::HorizontalLineTo { x, .. } => {
                self.line_to(Point::new(x + base.x, self.at.y));
            }
            PathSegment::VerticalLineTo { y, .. } => {
                self.line_to(Point::new(self.at.x, y + base.y));
            }
            PathSegment::CurveTo { x1, y1, x2, y2, x, y, .. } => {
                handle = self.cubic_to(place(x1, y1), place(x2, y2), place(x, y));
            }
            PathSegment::SmoothCurveTo { x2, y2, x, y, .. } => {
                let first = match self.handle {
                    Handle::Cubic(h) => mirrored(h, self.at),
                    _ => self.at,
                };
                handle = self.cubic_to(first, place(x2, y2), place(x, y));
            }
            PathSegment::Quadratic { x1, y1, x, y, .. } => {
                handle = self.quad_to(place(x1, y1), place(x, y));
            }
            PathSegment::SmoothQuadratic { x, y, .. } => {
                let middle = match self.handle {
                    Handle::Quad(h) => mirrored(h, self.at),
                    _ => self.at,
                };
                handle = self.quad_to(middle, place(x, y));
            }
            PathSegment::EllipticalArc {
                rx, ry, x_axis_rotation, large_arc, sweep, x, y, ..
            } => {
                let arc = SvgArc {
                    from: self.at,
                    to: place(x, y),
                    radii: Vec2::new(rx, ry),
                    x_rotation: x_axis_rotation * (std::f64::consts::PI / 180.0),
                    large_arc,
                    sweep,
                };
                if !self.arc_to(&arc) {
                    return false;
                }
            }
            PathSegment::ClosePath { .. } => {
                self.path.close_path();
                self.at = self.start;
                self.closed = true;
            }
        }
        self.handle = handle;
        true
    }

    fn line_to(&mut self, to: Point) {
        self.path.line_to(to);
        self.at = to;
    }

    fn cubic_to(&mut self, c1: Point, c2: Point, to: Point) -> Handle {
        self.path.curve_to(c1, c2, to);
        self.at = to;
        Handle::Cubic(c2)
    }

    fn quad_to(&mut self, c: Point, to: Point) -> Handle {
        self.path.quad_to(c, to);
        self.at = to;
        Handle::Quad(c)
    }

    fn arc_to(&mut self, arc: &SvgArc) -> bool {
        let numbers = [arc.from.x, arc.from.y, arc.to.x, arc.to.y, arc.radii.x, arc.radii.y];
        if !numbers.iter().all(|n| n.abs() <= MAX_ARC) {
            return false;
        }
        let Some(whole) = Arc::from_svg_arc(arc) else {
            self.line_to(arc.to);
            return true;
        };
        let reach = whole.radii.x.max(whole.radii.y);
        let mut pieces: Vec<_> = whole.append_iter(reach * ARC_ERROR).collect();
        // The arc ends where the drawing says, not where rounding takes it.
        if let Some(kurbo::PathEl::CurveTo(_, _, end)) = pieces.last_mut() {
            *end = arc.to;
        }
        self.path.extend(pieces);
        self.at = arc.to;
        true
    }
}

fn mirrored(handle: Point, at: Point) -> Point {
    at + (at - handle)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The path in the notation of the drawing, coordinates absolute.
    fn check(d: &str, expect: &str) {
        assert_eq!(read(d).path.to_svg(), expect, "{d}");
    }

    #[test]
    fn commands_become_absolute() {
        check("M1 2l3 4h5v6H0V0z", "M1,2 L4,6 L9,6 L9,12 L0,12 L0,0 Z");
        check("m1 2 3 4", "M1,2 L4,6");
        check("M1 1h1zl1 1", "M1,1 L2,1 Z M1,1 L2,2");
    }

    #[test]
    fn smooth_commands_mirror_their_own_kind_only() {
        check("M0 0C1 1 2 2 3 0S5 1 6 0", "M0,0 C1,1 2,2 3,0 C4,-2 5,1 6,0");
        check("M0 0Q1 1 2 0T4 0t2 0", "M0,0 Q1,1 2,0 Q3,-1 4,0 Q5,1 6,0");
        check("M0 0Q1 1 2 0S3 3 4 0", "M0,0 Q1,1 2,0 C2,0 3,3 4,0");
    }

    #[test]
    fn a_fault_keeps_what_came_before() {
        let got = read("M0 0L1 1 NaN 5");
        assert_eq!(got.fault, Some(Fault::Unreadable));
        assert_eq!(got.path.to_svg(), "M0,0 L1,1");
        assert_eq!(read("M0 0A1e300 1e300 0 1 1 1 1").fault, Some(Fault::HugeArc));
    }

    #[test]
    fn an_arc_keeps_to_its_circle() {
        let path = read("M10 0A10 10 0 0 1 -10 0").path;
        for segment in path.segments() {
            for i in 0..=20 {
                let p = kurbo::ParamCurve::eval(&segment, f64::from(i) / 20.0);
                assert!((p.to_vec2().hypot() - 10.0).abs() < 3e-8, "{p:?}");
            }
        }
    }
}
