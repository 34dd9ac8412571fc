//! A closed boundary.

use crate::{Bounds, Point, Segment};

/// A closed chain of segments, each starting where the one before it ends.
///
/// An exterior runs counter-clockwise, a hole clockwise: the inside of the region is on the left.
#[derive(Clone, Debug, PartialEq)]
pub struct Ring {
    /// The pieces, in order.
    pub segments: Vec<Segment>,
}

impl Ring {
    /// A ring of straight lines through the points, closed.
    pub fn polygon(points: &[Point]) -> Ring {
        let segments = points
            .iter()
            .zip(points.iter().cycle().skip(1))
            .filter(|(a, b)| a != b)
            .map(|(a, b)| Segment::line(*a, *b))
            .collect();
        Ring { segments }
    }

    /// Area, positive for a counter-clockwise ring.
    pub fn signed_area(&self) -> f64 {
        // Relative to a corner: far from the origin the terms would cancel badly.
        let Some(first) = self.segments.first() else { return 0.0 };
        let o = first.from;
        let terms = self.segments.iter().map(|s| s.mapped(&|p| p - o, 1.0).area_term());
        terms.sum::<f64>() / 2.0
    }

    /// Whether it bounds a hole.
    pub fn is_hole(&self) -> bool {
        self.signed_area() < 0.0
    }

    /// Length of the way round.
    pub fn perimeter(&self) -> f64 {
        self.segments.iter().map(Segment::length).sum()
    }

    /// The smallest upright box around it.
    pub fn bounds(&self) -> Bounds {
        self.segments.iter().fold(Bounds::EMPTY, |b, s| b.union(s.bounds()))
    }

    /// The same ring walked the other way.
    #[must_use]
    pub fn reversed(&self) -> Ring {
        Ring { segments: self.segments.iter().rev().map(Segment::reversed).collect() }
    }

    /// How often the ring goes round `p`, counter-clockwise positive.
    pub fn winding(&self, p: Point) -> i32 {
        self.segments.iter().map(|s| s.winding(p)).sum()
    }

    /// Distance from `p` to the line itself.
    pub fn distance(&self, p: Point) -> f64 {
        self.segments.iter().map(|s| s.distance(p)).fold(f64::INFINITY, f64::min)
    }

    /// Straight pieces that leave the ring by at most `tolerance` mm; corners are kept.
    ///
    /// Arcs become chords of an inscribed polygon.
    pub fn flattened(&self, tolerance: f64) -> Vec<Point> {
        let mut points = Vec::with_capacity(self.segments.len());
        for s in &self.segments {
            let n = chords(s, tolerance);
            points.extend((0..n).map(|i| s.point_at(f64::from(i) / f64::from(n))));
        }
        points
    }
}

/// How many chords follow `s` within `tolerance`.
pub(crate) fn chords(s: &Segment, tolerance: f64) -> u32 {
    let crate::Curve::Arc { radius, .. } = s.curve else { return 1 };
    let step = 2.0 * libm::acos((1.0 - tolerance / radius).clamp(-1.0, 1.0));
    // 4,096 chords to a half turn: finer than any tolerance we ask for at workshop size.
    ((s.sweep().abs() / step).ceil() as u32).clamp(1, 4096)
}
