//! Blanks as regions: outlines, and the holes in them.
//!
//! A blank's frame has the lower left corner of its bounding box at the origin, y up. What the
//! maker writes counts to the right and down from the top left corner, so that a place
//! (right, down) is the point (right, height − down).

use super::loader::Loader;
use crate::document::Fault;
use crate::document::model::{Blank, FileScale, Form, Outline, Placed, Spot};
use geometry::shapes::{self, Side};
use geometry::{Point, Region, boolean};
use lay::{EDGE_OWN, Finding, Severity};
use outline::Scale;

/// A part of a hole or zone smaller than this does not count as on the blank, mm².
const NOTHING_MM2: f64 = 0.01;

/// The region of a blank, its edges tagged [`EDGE_OWN`], and what is worth knowing about its files.
///
/// # Errors
/// Every file that gives no outline, every hole that lies outside, or that leaves nothing.
pub(super) fn blank_region(
    blank: &Blank,
    loader: &dyn Loader,
) -> Result<(Region, Vec<Finding>), Vec<Fault>> {
    let mut faults = vec![];
    let mut findings = vec![];
    let mut region = match outline_region(&blank.outline, Side::Inside, loader) {
        Ok((region, found)) => {
            findings.extend(found);
            Some(at_origin(&region))
        }
        Err(fault) => {
            faults.push(*fault);
            None
        }
    };
    let whole = region.clone();
    for hole in &blank.holes {
        let height = whole.as_ref().map_or(0.0, |w| w.bounds().height());
        match placed_region(hole, height, Side::Outside, loader) {
            Ok((cut, found)) => {
                findings.extend(found);
                if let (Some(whole), Some(left)) = (&whole, region.take()) {
                    region = without_hole(whole, left, &cut, hole, &mut faults);
                }
            }
            Err(fault) => faults.push(*fault),
        }
    }
    match region {
        Some(region) if faults.is_empty() => Ok((at_origin(&region).tagged(EDGE_OWN), findings)),
        _ => Err(faults),
    }
}

/// What a hole leaves; where the hole is a fault, what was there before.
fn without_hole(
    whole: &Region,
    left: Region,
    cut: &Region,
    hole: &Placed,
    faults: &mut Vec<Fault>,
) -> Option<Region> {
    let spot = &hole.outline.spot;
    let fault = |text: &str| Fault::new(&spot.place, spot.span.clone(), text);
    let size = whole.bounds();
    let inside = boolean::intersection(whole, cut).map_or(0.0, |r| r.area());
    if inside < NOTHING_MM2 {
        let hint = format!(
            "the blank is {} × {} mm; `at` is the middle of the hole, to the right and down from \
             the top left corner",
            units::trimmed(size.width(), 2),
            units::trimmed(size.height(), 2)
        );
        faults.push(fault("this hole lies outside the blank").with_hint(hint));
        return Some(left);
    }
    let rest = boolean::difference(&left, cut).filter(|r| r.area() >= NOTHING_MM2);
    if rest.is_none() {
        faults.push(fault("this hole leaves nothing of the blank").with_hint("make it smaller"));
        return Some(left);
    }
    rest
}

/// An outline turned and moved to its place on something `height` mm high.
pub(super) fn placed_region(
    placed: &Placed,
    height: f64,
    side: Side,
    loader: &dyn Loader,
) -> Result<(Region, Vec<Finding>), Box<Fault>> {
    let (region, findings) = outline_region(&placed.outline, side, loader)?;
    let turned =
        if placed.turn_deg == 0.0 { region } else { region.turned(placed.turn_deg.to_radians()) };
    Ok((turned.moved(in_frame(placed.at, height)), findings))
}

/// A place as the maker writes it, in the frame of something `height` mm high.
pub(super) fn in_frame(at: (f64, f64), height: f64) -> Point {
    Point::new(at.0, height - at.1)
}

fn at_origin(region: &Region) -> Region {
    region.moved(-region.bounds().min)
}

/// An outline with the middle of its bounding box at the origin.
fn outline_region(
    outline: &Outline,
    side: Side,
    loader: &dyn Loader,
) -> Result<(Region, Vec<Finding>), Box<Fault>> {
    let (region, findings) = match &outline.form {
        Form::File { file, scale, spot } => file_region(file, *scale, spot, loader)?,
        form => (shape_region(form, side), vec![]),
    };
    let middle = region.bounds().centre();
    Ok((region.moved(-middle), findings))
}

fn shape_region(form: &Form, side: Side) -> Region {
    match form {
        Form::Rectangle { width, height } => shapes::rectangle(*width, *height),
        Form::RoundedRectangle { width, height, corner } => {
            shapes::rounded_rectangle(*width, *height, *corner)
        }
        Form::Circle { diameter } => shapes::circle(*diameter),
        Form::Ellipse { width, height } => shapes::ellipse(*width, *height, side),
        Form::RegularPolygon { corners, across } => shapes::regular_polygon(*corners, *across),
        Form::Star { tips, across, inner } => shapes::star(*tips, *across, *inner),
        Form::Heart { width, height } => shapes::heart(*width, *height),
        Form::Polygon { points } => {
            let up: Vec<Point> = points.iter().map(|p| Point::new(p.0, -p.1)).collect();
            shapes::polygon(&up)
        }
        // Files are read before this is called.
        Form::File { .. } => shapes::rectangle(1.0, 1.0),
    }
}

fn file_region(
    file: &str,
    scale: FileScale,
    spot: &Spot,
    loader: &dyn Loader,
) -> Result<(Region, Vec<Finding>), Box<Fault>> {
    let fault = |text: String, hint: &str| {
        Box::new(Fault::new(&spot.place, spot.span.clone(), text).with_hint(hint))
    };
    let bytes = loader.load(file).map_err(|e| fault(format!("`{file}`: {e}"), e.hint()))?;
    let scale = match scale {
        FileScale::Width(mm) => Scale::Width(mm),
        FileScale::Height(mm) => Scale::Height(mm),
        FileScale::AsDrawn => Scale::AsDrawn,
    };
    let imported =
        outline::read_svg(&bytes, scale).map_err(|e| fault(format!("`{file}`: {e}"), e.hint()))?;
    let findings = imported.remarks.iter().map(|r| finding(file, r)).collect();
    Ok((imported.region, findings))
}

fn finding(file: &str, remark: &outline::Remark) -> Finding {
    use outline::Remark;
    let severity = match remark {
        Remark::NotPainted { .. } | Remark::SpeckDropped { .. } | Remark::ShapeSkipped { .. } => {
            Severity::Note
        }
        _ => Severity::Warning,
    };
    Finding::new(remark.code(), severity, format!("`{file}`: {remark}"), remark.hint())
}
