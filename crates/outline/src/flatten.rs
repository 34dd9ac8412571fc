//! Curves into chords, each with a bound on how far the curve leaves it, and to which side.

use geometry::Point;
use kurbo::{BezPath, CubicBez, ParamCurve, ParamCurveExtrema, PathEl};

use crate::{OutlineError, limits};

/// The furthest a curve may leave its chord, mm.
pub(crate) const CHORD_MM: f64 = 0.000_4;

/// The same for chords that end in a corner, mm: there an edge that has to move inwards takes the
/// tip of the corner with it, the further the sharper the corner.
const CORNER_CHORD_MM: f64 = 0.000_001;

/// Sine of the turn from which on two curves meet in a corner.
const CORNER_SINE: f64 = 0.15;

/// How often a curve is halved at most; it has no kink finer than this.
const MAX_HALVINGS: u32 = 24;

/// A straight piece that stands for a piece of a curve.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Chord {
    /// Where it starts.
    pub from: Point,
    /// Where it ends.
    pub to: Point,
    /// How far the curve bulges to the left of it at most, mm.
    pub left: f64,
    /// And to the right, mm.
    pub right: f64,
}

/// Closed polygons in place of a curve.
#[derive(Default)]
pub(crate) struct Flat {
    /// One for each subpath.
    pub rings: Vec<Vec<Point>>,
    /// Those of their edges that stand for something curved.
    pub chords: Vec<Chord>,
}

/// How finely to flatten.
#[derive(Clone, Copy)]
pub(crate) struct Fineness {
    /// The furthest a curve may leave its chord, mm.
    pub chord_mm: f64,
    /// The same where curves meet in a corner, mm.
    pub corner_mm: f64,
    /// How far the curve itself may be off, mm: added to every bulge.
    pub slack_mm: f64,
}

impl Fineness {
    /// As fine as an outline has to be.
    pub(crate) const FINAL: Fineness =
        Fineness { chord_mm: CHORD_MM, corner_mm: CORNER_CHORD_MM, slack_mm: 0.0 };
}

/// Flattens a curve in millimetres. Ends of the pieces lie on the curve; so do its extremes.
///
/// # Errors
/// `TooDetailed` once the corners exceed what is read.
pub(crate) fn flatten(curve: &BezPath, fineness: Fineness) -> Result<Flat, OutlineError> {
    let mut flat = Flat::default();
    let mut corners = 0;
    for subpath in subpaths(curve) {
        let ring = flatten_subpath(&subpath.pieces, fineness, &mut flat.chords);
        corners += ring.len();
        if corners > limits::CORNERS {
            return Err(OutlineError::TooDetailed);
        }
        flat.rings.push(ring);
    }
    Ok(flat)
}

/// One piece of a curve; a line has its handles at its ends.
#[derive(Clone, Copy)]
pub(crate) struct Piece {
    /// The piece.
    pub cubic: CubicBez,
    /// Whether it is a line.
    pub straight: bool,
}

/// A part of a curve drawn without lifting the pen.
#[derive(Default)]
pub(crate) struct Subpath {
    /// Its pieces, each beginning where the one before it ends.
    pub pieces: Vec<Piece>,
    /// Whether the drawing closes it.
    pub closed: bool,
}

/// The parts of a curve that have any piece.
pub(crate) fn subpaths(curve: &BezPath) -> Vec<Subpath> {
    let (mut all, mut now) = (Vec::new(), Subpath::default());
    let (mut at, mut start) = (kurbo::Point::ORIGIN, kurbo::Point::ORIGIN);
    let line = |a: kurbo::Point, b: kurbo::Point| Piece {
        cubic: CubicBez::new(a, a, b, b),
        straight: true,
    };
    for element in curve.elements() {
        match *element {
            PathEl::MoveTo(p) => {
                all.push(std::mem::take(&mut now));
                (at, start) = (p, p);
            }
            PathEl::LineTo(p) => {
                now.pieces.push(line(at, p));
                at = p;
            }
            PathEl::QuadTo(c, p) => {
                let cubic = kurbo::QuadBez::new(at, c, p).raise();
                now.pieces.push(Piece { cubic, straight: false });
                at = p;
            }
            PathEl::CurveTo(c, d, p) => {
                now.pieces.push(Piece { cubic: CubicBez::new(at, c, d, p), straight: false });
                at = p;
            }
            PathEl::ClosePath => {
                if at != start {
                    now.pieces.push(line(at, start));
                }
                at = start;
                now.closed = true;
            }
        }
    }
    all.push(now);
    all.retain(|subpath| !subpath.pieces.is_empty());
    all
}

fn flatten_subpath(pieces: &[Piece], fineness: Fineness, chords: &mut Vec<Chord>) -> Vec<Point> {
    let mut ring: Vec<Point> = Vec::with_capacity(pieces.len() * 4);
    let n = pieces.len();
    for (i, piece) in pieces.iter().enumerate() {
        let from = point(piece.cubic.p0);
        if ring.last() != Some(&from) {
            ring.push(from);
        }
        if piece.straight {
            ring.push(point(piece.cubic.p3));
            continue;
        }
        let sharp = Ends {
            start: is_corner(&pieces[(i + n - 1) % n].cubic, &piece.cubic),
            end: is_corner(&piece.cubic, &pieces[(i + 1) % n].cubic),
        };
        let mut follower = Follower { fineness, ring: &mut ring, chords };
        follower.follow_between_extremes(piece.cubic, sharp);
    }
    ring
}

#[derive(Clone, Copy)]
struct Ends {
    start: bool,
    end: bool,
}

/// Whether the second piece leaves in another direction than the first arrives in.
fn is_corner(first: &CubicBez, second: &CubicBez) -> bool {
    let (a, b) = (end_tangents(first).1, end_tangents(second).0);
    let scale = a.hypot() * b.hypot();
    a.dot(b) < 0.0 || a.cross(b).abs() > CORNER_SINE * scale || (first.p3 - second.p0).hypot() > 0.0
}

/// Directions at both ends; where a handle lies on its end, the next one counts. Zero for a piece
/// without extent.
pub(crate) fn end_tangents(c: &CubicBez) -> (kurbo::Vec2, kurbo::Vec2) {
    let long = |v: &kurbo::Vec2| v.hypot2() > 1e-24;
    let first = [c.p1 - c.p0, c.p2 - c.p0, c.p3 - c.p0];
    let last = [c.p3 - c.p2, c.p3 - c.p1, c.p3 - c.p0];
    (
        first.into_iter().find(long).unwrap_or_default(),
        last.into_iter().find(long).unwrap_or_default(),
    )
}

struct Follower<'a> {
    fineness: Fineness,
    ring: &'a mut Vec<Point>,
    chords: &'a mut Vec<Chord>,
}

impl Follower<'_> {
    fn follow_between_extremes(&mut self, cubic: CubicBez, sharp: Ends) {
        let mut cuts: Vec<f64> = vec![0.0];
        cuts.extend(cubic.extrema().into_iter().filter(|t| *t > 1e-6 && *t < 1.0 - 1e-6));
        cuts.push(1.0);
        let last = cuts.len() - 2;
        let mut from = cubic.p0;
        for (i, pair) in cuts.windows(2).enumerate() {
            let mut part = cubic.subsegment(pair[0]..pair[1]);
            // Neighbours share their end to the last bit.
            part.p0 = from;
            if i == last {
                part.p3 = cubic.p3;
            }
            from = part.p3;
            let sharp = Ends { start: sharp.start && i == 0, end: sharp.end && i == last };
            self.follow(part, sharp, 0);
        }
    }

    fn follow(&mut self, cubic: CubicBez, sharp: Ends, halvings: u32) {
        let (left, right) = bulges(&cubic);
        let limit =
            if sharp.start || sharp.end { self.fineness.corner_mm } else { self.fineness.chord_mm };
        let fits = left.max(right) <= limit && advances(&cubic);
        if !fits && halvings < MAX_HALVINGS {
            let (a, b) = cubic.subdivide();
            self.follow(a, Ends { end: false, ..sharp }, halvings + 1);
            self.follow(b, Ends { start: false, ..sharp }, halvings + 1);
            return;
        }
        let (from, to) = (point(cubic.p0), point(cubic.p3));
        if from == to {
            return;
        }
        let slack = self.fineness.slack_mm;
        self.chords.push(Chord { from, to, left: left + slack, right: right + slack });
        self.ring.push(to);
    }
}

/// Bounds on how far a cubic leaves its chord to the left and to the right.
///
/// The distance f from the chord is 0 at both ends and its second derivative F is linear in t, so
/// |f| ≤ t(1−t)/2 · max F of the sign that bends it that way; t(1−t) ≤ 1/4.
fn bulges(c: &CubicBez) -> (f64, f64) {
    let chord = c.p3 - c.p0;
    let bend = [
        6.0 * ((c.p0.to_vec2() - 2.0 * c.p1.to_vec2()) + c.p2.to_vec2()),
        6.0 * ((c.p1.to_vec2() - 2.0 * c.p2.to_vec2()) + c.p3.to_vec2()),
    ];
    let length = chord.hypot();
    if length < 1e-12 {
        let most = bend[0].hypot().max(bend[1].hypot()) / 8.0;
        return (most, most);
    }
    // cross(chord, v) is positive to the left in a frame with y up.
    let f = bend.map(|v| chord.cross(v) / length);
    let left = (-f[0]).max(-f[1]).max(0.0) / 8.0;
    let right = f[0].max(f[1]).max(0.0) / 8.0;
    (left, right)
}

/// Whether a cubic goes from end to end without turning back along its chord, or is too short to
/// matter.
fn advances(c: &CubicBez) -> bool {
    let chord = c.p3 - c.p0;
    let legs = [c.p1 - c.p0, c.p2 - c.p1, c.p3 - c.p2];
    legs.iter().all(|leg| leg.dot(chord) >= 0.0) || legs.iter().all(|leg| leg.hypot() < 1e-6)
}

fn point(p: kurbo::Point) -> Point {
    // Adding 0 turns −0 into 0, so that equal points have equal bits.
    Point::new(p.x + 0.0, p.y + 0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bulges_bound_the_curve_and_name_its_side() {
        // To the left of a chord along x, by 3/4 of the handles' height.
        let c = CubicBez::new((0.0, 0.0), (0.25, 0.1), (0.75, 0.1), (1.0, 0.0));
        let (left, right) = bulges(&c);
        assert!((0.075..0.08).contains(&left), "{left}");
        assert_eq!(right, 0.0);
    }

    #[test]
    fn a_chord_is_as_close_as_asked() {
        let mut curve = BezPath::new();
        curve.move_to((0.0, 0.0));
        curve.curve_to((10.0, 40.0), (-20.0, 30.0), (30.0, 5.0));
        let flat = flatten(&curve, Fineness::FINAL).expect("few corners");
        assert!(flat.chords.iter().all(|c| c.left.max(c.right) <= CHORD_MM));
        assert!(flat.chords.len() > 100 && flat.chords.len() < 1000, "{}", flat.chords.len());
    }

    #[test]
    fn a_curve_that_turns_back_reaches_its_tip() {
        let mut curve = BezPath::new();
        curve.move_to((0.0, 0.0));
        curve.curve_to((20.0, 20.0), (-10.0, -10.0), (10.0, 10.0));
        let flat = flatten(&curve, Fineness::FINAL).expect("few corners");
        let far = flat.rings[0].iter().map(|p| p.x).fold(0.0, f64::max);
        assert!(far >= 10.0);
        assert!(flat.rings[0].len() > 2);
    }
}
