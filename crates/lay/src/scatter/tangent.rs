//! Closed forms: where a disc touches two things at once.

use geometry::Point;

/// Where the centre of a disc of a given radius may lie so that it touches one thing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Locus {
    /// The straight line through a point along a unit vector.
    Line {
        /// A point of it.
        through: Point,
        /// Its direction, of length 1.
        along: Point,
    },
    /// A circle.
    Circle {
        /// Its centre.
        centre: Point,
        /// Its radius, mm.
        radius: f64,
    },
}

/// Where two loci meet: the centres of the discs that touch both things.
///
/// Parallel lines and circles about one centre meet nowhere or everywhere; both count as nowhere.
/// Loci that just touch, up to rounding, meet once (given twice).
pub(crate) fn meet(a: Locus, b: Locus) -> [Option<Point>; 2] {
    match (a, b) {
        (Locus::Circle { centre: p, radius: r }, Locus::Circle { centre: q, radius: s }) => {
            circle_circle(p, r, q, s)
        }
        (Locus::Line { through, along }, Locus::Circle { centre, radius })
        | (Locus::Circle { centre, radius }, Locus::Line { through, along }) => {
            line_circle(through, along, centre, radius)
        }
        (Locus::Line { through: p, along: u }, Locus::Line { through: q, along: v }) => {
            [line_line(p, u, q, v), None]
        }
    }
}

/// Two circles meet on their radical line, `x` along the line of centres, `±√(r² − x²)` off it.
pub(crate) fn circle_circle(p: Point, r: f64, q: Point, s: f64) -> [Option<Point>; 2] {
    let d = q - p;
    let d2 = d.norm2();
    if d2 <= 0.0 {
        return [None, None];
    }
    let x = 0.5 * (1.0 + (r - s) * (r + s) / d2);
    let h2 = r * r / d2 - x * x;
    let Some(h) = root(h2, x * x) else { return [None, None] };
    let foot = p + d * x;
    let side = d.left() * h;
    [Some(foot + side), Some(foot - side)]
}

/// A line meets a circle `±√(r² − h²)` from the foot of the centre, `h` off the line.
fn line_circle(through: Point, along: Point, centre: Point, radius: f64) -> [Option<Point>; 2] {
    let from = centre - through;
    let t = from.dot(along);
    let h = from.cross(along);
    let Some(half) = root(radius * radius - h * h, h * h) else { return [None, None] };
    [Some(through + along * (t + half)), Some(through + along * (t - half))]
}

fn line_line(p: Point, u: Point, q: Point, v: Point) -> Option<Point> {
    let det = u.cross(v);
    // Directions within 1e-9 rad: they meet, if at all, further off than any workpiece reaches.
    (det.abs() > 1e-9).then(|| p + u * ((q - p).cross(v) / det))
}

/// √x, with what is negative only by rounding (relative to `scale`) taken as 0.
fn root(x: f64, scale: f64) -> Option<f64> {
    if x >= 0.0 { Some(x.sqrt()) } else { (x > -1e-13 * scale).then_some(0.0) }
}
