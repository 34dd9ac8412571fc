//! A stroke as the curve round the band it covers.

use std::f64::consts::PI;

use kurbo::{
    Affine, Arc, BezPath, Cap, CubicBez, Join, PathEl, Point, Rect, Shape as _, Stroke, StrokeOpts,
    Vec2,
};

use crate::{OutlineError, flatten, limits};

/// How far the curve round a band may leave the true one, mm. Its edges are shifted by as much, so
/// that the outline stays within.
pub(crate) const STROKE_MM: f64 = 0.000_02;

/// A stroke in millimetres: what it covers is what any of its parts encloses.
pub(crate) struct Stroked {
    /// The band along each subpath, with butt caps, and bevels in place of round joins; each by
    /// the non-zero rule.
    pub bands: Vec<BezPath>,
    /// Round caps, round joins and dots: convex, each a part of its own.
    pub rounds: Vec<BezPath>,
}

/// What `pen` covers along `curve`. Widths go through `place` as the curve does: a stretched
/// circle's band is stretched too.
///
/// Round caps and joins are drawn here: kurbo has them within 0.00027 of their radius whatever
/// tolerance is asked, more than a thousandth of a millimetre on a band 8 mm wide.
///
/// # Errors
/// `TooManyDashes`.
pub(crate) fn outlined(
    curve: &BezPath,
    pen: &Stroke,
    place: Affine,
    tolerance_mm: f64,
) -> Result<Stroked, OutlineError> {
    let mut pen = checked_dashes(curve, pen)?;
    let stretch = stretch(place);
    if !(stretch.is_finite() && stretch > 0.0 && pen.width > 0.0) {
        return Ok(Stroked { bands: Vec::new(), rounds: Vec::new() });
    }
    let dots = dots(curve, &pen);
    let dashed: BezPath = if pen.dash_pattern.is_empty() {
        curve.clone()
    } else {
        kurbo::dash(curve.iter(), pen.dash_offset, &pen.dash_pattern).collect()
    };
    pen.dash_pattern.clear();
    let tolerance = tolerance_mm / stretch;
    let mut rounds = rounds(&dashed, &pen, tolerance);
    rounds.extend(dots);
    if pen.join == Join::Round {
        pen.join = Join::Bevel;
    }
    if pen.start_cap == Cap::Round {
        pen = pen.with_caps(Cap::Butt);
    }
    let mut bands: Vec<BezPath> = apart(&dashed)
        .iter()
        .map(|part| kurbo::stroke(part, &pen, &StrokeOpts::default(), tolerance))
        .collect();
    for band in &mut bands {
        band.apply_affine(place);
    }
    for round in &mut rounds {
        round.apply_affine(place);
    }
    Ok(Stroked { bands, rounds })
}

/// The subpaths of a curve as curves of their own.
fn apart(curve: &BezPath) -> Vec<BezPath> {
    let (mut parts, mut start): (Vec<BezPath>, Point) = (Vec::new(), Point::ORIGIN);
    let mut closed = true;
    for element in curve.elements() {
        if let PathEl::MoveTo(p) = element {
            start = *p;
            parts.push(BezPath::new());
        } else if closed {
            // After it is closed, a curve goes on from where it began.
            parts.push(BezPath::from_vec(vec![PathEl::MoveTo(start)]));
        }
        closed = matches!(element, PathEl::ClosePath);
        if let Some(part) = parts.last_mut() {
            part.push(*element);
        }
    }
    parts
}

/// The round caps and joins along a curve.
fn rounds(curve: &BezPath, pen: &Stroke, tolerance: f64) -> Vec<BezPath> {
    let (caps, joins) = (pen.start_cap == Cap::Round, pen.join == Join::Round);
    let r = pen.width / 2.0;
    // A bevel is within r·angle²/8 of a slight round join, on the inside.
    let least_turn = (8.0 * tolerance / r).sqrt();
    let mut found = Vec::new();
    if !caps && !joins {
        return found;
    }
    for subpath in flatten::subpaths(curve) {
        // Each piece with its directions at both ends.
        let pieces: Vec<(&CubicBez, Vec2, Vec2)> = subpath
            .pieces
            .iter()
            .map(|p| (&p.cubic, flatten::end_tangents(&p.cubic)))
            .filter(|(_, (first, _))| *first != Vec2::ZERO)
            .map(|(c, (first, last))| (c, first.normalize(), last.normalize()))
            .collect();
        let (Some(first), Some(last)) = (pieces.first(), pieces.last()) else { continue };
        if joins {
            let pairs = pieces.windows(2).map(|w| (w[0].2, w[1].1, w[1].0.p0));
            let seam = subpath.closed.then_some((last.2, first.1, first.0.p0));
            found
                .extend(pairs.chain(seam).filter_map(|(a, b, at)| join((a, b), at, r, least_turn)));
        }
        if caps && !subpath.closed {
            found.push(disc(first.0.p0, first.1 * r));
            found.push(disc(last.0.p3, last.2 * r));
        }
    }
    found
}

/// The sector outside the corner between two directions.
fn join((a, b): (Vec2, Vec2), at: Point, r: f64, least_turn: f64) -> Option<BezPath> {
    let turn = libm::atan2(a.cross(b), a.dot(b));
    if turn.abs() < least_turn {
        return None;
    }
    let side = if turn > 0.0 { -r } else { r };
    let spoke = Vec2::new(-a.y, a.x) * side;
    let mut sector = BezPath::new();
    sector.move_to(at);
    sector.line_to(at + spoke);
    sector.extend(arc(at, spoke, 0.0, turn));
    sector.close_path();
    Some(sector)
}

/// A whole disc, `along` from its centre to one end of the half that a cap needs: corners lie
/// where the band's edges touch it.
fn disc(at: Point, along: Vec2) -> BezPath {
    let spoke = Vec2::new(-along.y, along.x);
    let mut disc = BezPath::new();
    disc.move_to(at + spoke);
    disc.extend(arc(at, spoke, 0.0, PI));
    disc.extend(arc(at, spoke, PI, PI));
    disc.close_path();
    disc
}

/// An arc round `at` from where `spoke` is turned by `from`, over `sweep`.
fn arc(at: Point, spoke: Vec2, from: f64, sweep: f64) -> impl Iterator<Item = PathEl> {
    let place = Affine::new([spoke.x, spoke.y, -spoke.y, spoke.x, at.x, at.y]);
    Arc::new(Point::ORIGIN, (1.0, 1.0), from, sweep, 0.0).append_iter(1e-9).map(move |e| place * e)
}

/// The most a transform stretches a length: its largest singular value.
pub(crate) fn stretch(place: Affine) -> f64 {
    let [a, b, c, d, ..] = place.as_coeffs();
    let squares = a * a + b * b + c * c + d * d;
    let det = a * d - b * c;
    let spread = (squares * squares - 4.0 * det * det).max(0.0).sqrt();
    ((squares + spread) / 2.0).sqrt()
}

fn checked_dashes(curve: &BezPath, pen: &Stroke) -> Result<Stroke, OutlineError> {
    let mut pen = pen.clone();
    let period: f64 = pen.dash_pattern.iter().sum();
    if pen.dash_pattern.is_empty() {
        return Ok(pen);
    }
    if !(period.is_finite() && period > 0.0) {
        pen.dash_pattern.clear();
        return Ok(pen);
    }
    let dashes = rough_length(curve) / period * pen.dash_pattern.len() as f64;
    if dashes > limits::DASHES as f64 {
        // `as` saturates, which is all an estimate needs.
        return Err(OutlineError::TooManyDashes { dashes: dashes as u64 });
    }
    // A large offset is walked dash by dash.
    pen.dash_offset %= 2.0 * period;
    Ok(pen)
}

/// The length of the legs between ends and handles, never less than the curve's.
fn rough_length(curve: &BezPath) -> f64 {
    let (mut at, mut start, mut length) = (Point::ORIGIN, Point::ORIGIN, 0.0);
    for element in curve.elements() {
        let (legs, end): (&[Point], Point) = match element {
            PathEl::MoveTo(p) => {
                start = *p;
                (&[], *p)
            }
            PathEl::LineTo(p) => (&[], *p),
            PathEl::QuadTo(c, p) => (&[*c], *p),
            PathEl::CurveTo(c, d, p) => (&[*c, *d], *p),
            PathEl::ClosePath => (&[], start),
        };
        if !matches!(element, PathEl::MoveTo(_)) {
            for p in legs.iter().chain([&end]) {
                length += (*p - at).hypot();
                at = *p;
            }
        }
        at = end;
    }
    length
}

/// Subpaths without length show as dots if the caps are round or square (SVG 2, 13.5.4).
fn dots(curve: &BezPath, pen: &Stroke) -> Vec<BezPath> {
    let mut dots = Vec::new();
    if pen.start_cap == Cap::Butt {
        return dots;
    }
    let r = pen.width / 2.0;
    for subpath in flatten::subpaths(curve) {
        let Some(at) = subpath.pieces.first().map(|p| p.cubic.p0) else { continue };
        let stays = |c: &CubicBez| [c.p1, c.p2, c.p3].iter().all(|p| *p == at);
        if !subpath.pieces.iter().all(|p| stays(&p.cubic)) {
            continue;
        }
        dots.push(match pen.start_cap {
            Cap::Round => disc(at, Vec2::new(r, 0.0)),
            _ => Rect::from_center_size(at, (2.0 * r, 2.0 * r)).to_path(1.0),
        });
    }
    dots
}
