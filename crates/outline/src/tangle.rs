//! Whether polygons cross themselves so often that uniting them would take minutes.

use geometry::{Bounds, Point};

use crate::{OutlineError, limits};

/// Pairs of edges that are looked at.
const SAMPLES: u64 = 100_000;

/// Fewer hits than this may be chance.
const MIN_HITS: u64 = 4;

/// Edges so few that all their pairs together are no more than may cross.
const FEW: usize = 1_000;

/// Estimates how often edges cross, from pairs spread evenly by Fibonacci hashing (Knuth, The Art
/// of Computer Programming 3, 6.4): the same pairs every time.
pub(crate) fn check(rings: &[Vec<Point>]) -> Result<(), OutlineError> {
    let edges: Vec<(Point, Point)> = rings
        .iter()
        .flat_map(|r| r.iter().copied().zip(r.iter().copied().cycle().skip(1)))
        .collect();
    if edges.len() <= FEW {
        return Ok(());
    }
    let n = edges.len() as u64;
    let spread = |k: u64, by: u64| (((k.wrapping_mul(by) >> 32) * n) >> 32) as usize;
    let hits = (1..=SAMPLES)
        .filter(|k| {
            let i = spread(*k, 0x9E37_79B9_7F4A_7C15);
            let j = spread(*k, 0xC2B2_AE3D_27D4_EB4F);
            i != j && cross(edges[i], edges[j])
        })
        .count() as u64;
    let crossings = (n * (n - 1) / 2 / SAMPLES).saturating_mul(hits);
    if hits >= MIN_HITS && crossings > limits::CROSSINGS {
        return Err(OutlineError::TooTangled { crossings });
    }
    Ok(())
}

/// Whether two edges cross at an inner point of both.
fn cross(e: (Point, Point), f: (Point, Point)) -> bool {
    if !Bounds::of([e.0, e.1]).meets(Bounds::of([f.0, f.1])) {
        return false;
    }
    let side = |a: Point, b: Point, p: Point| (b - a).cross(p - a);
    let apart = |a: Point, b: Point, c: Point, d: Point| side(a, b, c) * side(a, b, d) < 0.0;
    apart(e.0, e.1, f.0, f.1) && apart(f.0, f.1, e.0, e.1)
}
