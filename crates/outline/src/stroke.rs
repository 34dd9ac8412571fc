//! A stroke as the curve round the band it covers.

use kurbo::{Affine, BezPath, Cap, Circle, PathEl, Point, Rect, Shape as _, Stroke, StrokeOpts};

use crate::{OutlineError, limits};

/// How far the curve round a band may leave the true one, mm. Its edges are shifted by as much, so
/// that the outline stays within.
pub(crate) const STROKE_MM: f64 = 0.000_02;

/// The curve round the band that `pen` draws along `curve`, in millimetres; to be filled by the
/// non-zero rule. Widths go through `place` as the curve does: a stretched circle's band is
/// stretched too.
///
/// # Errors
/// `TooManyDashes`.
pub(crate) fn outlined(
    curve: &BezPath,
    pen: &Stroke,
    place: Affine,
    tolerance_mm: f64,
) -> Result<BezPath, OutlineError> {
    let pen = checked_dashes(curve, pen)?;
    let stretch = stretch(place);
    if !(stretch.is_finite() && stretch > 0.0) {
        return Ok(BezPath::new());
    }
    let tolerance = tolerance_mm / stretch;
    let mut band = kurbo::stroke(curve, &pen, &StrokeOpts::default(), tolerance);
    band.extend(dots(curve, &pen, tolerance));
    band.apply_affine(place);
    Ok(band)
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
fn dots(curve: &BezPath, pen: &Stroke, tolerance: f64) -> Vec<PathEl> {
    let mut dots = Vec::new();
    if pen.start_cap == Cap::Butt {
        return dots;
    }
    let elements = curve.elements();
    let starts = elements.iter().enumerate().filter_map(|(i, e)| match e {
        PathEl::MoveTo(p) => Some((i, *p)),
        _ => None,
    });
    for (i, at) in starts {
        let rest = elements[i + 1..].iter().take_while(|e| !matches!(e, PathEl::MoveTo(_)));
        let mut rest = rest.peekable();
        let stays = |e: &PathEl| match e {
            PathEl::LineTo(p) => *p == at,
            PathEl::QuadTo(c, p) => *c == at && *p == at,
            PathEl::CurveTo(c, d, p) => *c == at && *d == at && *p == at,
            PathEl::ClosePath | PathEl::MoveTo(_) => true,
        };
        if rest.peek().is_none() || !rest.all(stays) {
            continue;
        }
        let r = pen.width / 2.0;
        match pen.start_cap {
            Cap::Round => dots.extend(Circle::new(at, r).path_elements(tolerance)),
            _ => dots.extend(Rect::from_center_size(at, (2.0 * r, 2.0 * r)).path_elements(1.0)),
        }
    }
    dots
}
