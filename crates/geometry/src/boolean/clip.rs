//! Polygons through the outside clipping crate: the only file that names it.

use super::FillRule;
use crate::Point;
use clipper2_rust::{
    ClipType, Clipper64, ClipperOffset, EndType, FillRule as Fill, JoinType, Path64, Paths64,
    Point64,
};
use std::collections::BTreeMap;

/// Coordinates may be this large, mm: 10 km, where a step of the clipping grid is still exact.
pub const LIMIT_MM: f64 = 1e7;

/// Steps of the clipping grid to a millimetre.
const PER_MM: f64 = 1e8;

/// Steps of the offset's grid to a millimetre: coarser, because the crate takes its sines from the
/// machine, and a last bit must not show.
const OFFSET_PER_MM: f64 = 1e6;

/// What to make of two sets of polygons.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Operation {
    /// What the first set encloses by the rule; the second is empty.
    Clean(FillRule),
    Union,
    Intersection,
    Difference,
}

/// The operation on two sets of polygons. Corners that come in go out with their own coordinates.
pub(super) fn clip(op: Operation, a: &[Vec<Point>], b: &[Vec<Point>]) -> Vec<Vec<Point>> {
    let (kind, rule) = match op {
        Operation::Clean(FillRule::NonZero) => (ClipType::Union, Fill::NonZero),
        Operation::Clean(FillRule::EvenOdd) => (ClipType::Union, Fill::EvenOdd),
        Operation::Union => (ClipType::Union, Fill::NonZero),
        Operation::Intersection => (ClipType::Intersection, Fill::NonZero),
        Operation::Difference => (ClipType::Difference, Fill::NonZero),
    };
    let mut clipper = Clipper64::new();
    // Two collinear edges may carry different tags.
    clipper.set_preserve_collinear(!matches!(op, Operation::Clean(_)));
    clipper.add_subject(&to_grid(a, PER_MM));
    clipper.add_clip(&to_grid(b, PER_MM));
    let mut found = Paths64::new();
    clipper.execute(kind, rule, &mut found, None);
    let mut exact = BTreeMap::new();
    for p in b.iter().chain(a).flatten() {
        let q = grid_point(*p, PER_MM);
        exact.insert((q.x, q.y), *p);
    }
    let back = |q: &Point64| exact.get(&(q.x, q.y)).copied().unwrap_or(off_grid(q, PER_MM));
    found.iter().map(|path| path.iter().map(back).collect()).collect()
}

/// The polygons moved outwards by `d` (inwards if negative), corners rounded by chords within
/// `tolerance`; exteriors must run counter-clockwise, holes clockwise.
pub(super) fn offset(polygons: &[Vec<Point>], d: f64, tolerance: f64) -> Vec<Vec<Point>> {
    let mut offset = ClipperOffset::new(2.0, tolerance * OFFSET_PER_MM, false, false);
    offset.add_paths(&to_grid(polygons, OFFSET_PER_MM), JoinType::Round, EndType::Polygon);
    let mut found = Paths64::new();
    offset.execute(d * OFFSET_PER_MM, &mut found);
    let back = |q: &Point64| off_grid(q, OFFSET_PER_MM);
    found.iter().map(|path| path.iter().map(back).collect()).collect()
}

fn to_grid(polygons: &[Vec<Point>], per_mm: f64) -> Paths64 {
    let path = |p: &Vec<Point>| -> Path64 { p.iter().map(|q| grid_point(*q, per_mm)).collect() };
    polygons.iter().map(path).collect()
}

fn grid_point(p: Point, per_mm: f64) -> Point64 {
    Point64::new((p.x * per_mm).round() as i64, (p.y * per_mm).round() as i64)
}

fn off_grid(q: &Point64, per_mm: f64) -> Point {
    Point::new(q.x as f64 / per_mm, q.y as f64 / per_mm)
}
