//! Outlines: ready-made shapes, polygons, files; and where they come to lie.

use super::model::{FileScale, Form, Outline, Placed};
use super::value::Limits;
use super::walk::{Fields, Node};
use units::trimmed;

#[derive(Clone, Copy)]
enum ShapeName {
    Rectangle,
    RoundedRectangle,
    Circle,
    Ellipse,
    RegularPolygon,
    Polygon,
    Star,
    Heart,
}

const SHAPES: &[(&str, ShapeName)] = &[
    ("rectangle", ShapeName::Rectangle),
    ("rounded rectangle", ShapeName::RoundedRectangle),
    ("circle", ShapeName::Circle),
    ("ellipse", ShapeName::Ellipse),
    ("regular polygon", ShapeName::RegularPolygon),
    ("polygon", ShapeName::Polygon),
    ("star", ShapeName::Star),
    ("heart", ShapeName::Heart),
];

/// Most corners of a polygon that is written down; a file may have more.
const MAX_CORNERS: usize = 2000;

/// Reads an outline: either `shape` and its measures, or `file`.
pub(super) fn outline(fields: &mut Fields<'_, '_>) -> Option<Outline> {
    let form = match (fields.has("shape"), fields.has("file")) {
        (true, true) => {
            usual_keys(fields);
            fields.misplaced(
                "file",
                "an outline has either a shape or a file",
                "leave one of the two out",
            );
            None
        }
        (false, true) => file(fields),
        _ => {
            let node = fields.need("shape", "`shape = \"circle\"`, or `file = \"gull.svg\"`")?;
            shape(fields, node.choice("shape", SHAPES))
        }
    };
    Some(Outline { form: form?, spot: fields.spot.clone() })
}

fn side(fields: &mut Fields<'_, '_>, key: &'static str) -> Option<f64> {
    let node = fields.need(key, &format!("`{key} = \"60 mm\"`"))?;
    node.length(Limits::SIDE, "\"60 mm\"")
}

/// Where it is not known which keys belong, none of the usual ones is reported as unknown.
fn usual_keys(fields: &mut Fields<'_, '_>) {
    for key in [
        "shape", "width", "height", "corner", "diameter", "corners", "across", "points", "tips",
        "inner",
    ] {
        fields.get(key);
    }
}

fn shape(fields: &mut Fields<'_, '_>, name: Option<ShapeName>) -> Option<Form> {
    let Some(name) = name else {
        usual_keys(fields);
        return None;
    };
    match name {
        ShapeName::Rectangle => {
            fields.call("a rectangle");
            let (width, height) = (side(fields, "width"), side(fields, "height"));
            Some(Form::Rectangle { width: width?, height: height? })
        }
        ShapeName::RoundedRectangle => rounded_rectangle(fields),
        ShapeName::Circle => {
            fields.call("a circle");
            Some(Form::Circle { diameter: side(fields, "diameter")? })
        }
        ShapeName::Ellipse => {
            fields.call("an ellipse");
            let (width, height) = (side(fields, "width"), side(fields, "height"));
            Some(Form::Ellipse { width: width?, height: height? })
        }
        ShapeName::RegularPolygon => {
            fields.call("a regular polygon");
            let corners = fields.need("corners", "`corners = 6`");
            let corners = corners.and_then(|n| n.whole(3..361, "it like 6"));
            let across = side(fields, "across");
            Some(Form::RegularPolygon { corners: corners? as u32, across: across? })
        }
        ShapeName::Polygon => polygon(fields),
        ShapeName::Star => star(fields),
        ShapeName::Heart => heart(fields),
    }
}

fn rounded_rectangle(fields: &mut Fields<'_, '_>) -> Option<Form> {
    fields.call("a rounded rectangle");
    let (width, height) = (side(fields, "width"), side(fields, "height"));
    let node = fields.need("corner", "the radius of its corners, like `corner = \"4 mm\"`");
    let corner = node.clone().and_then(|n| n.length(Limits::GAP, "\"4 mm\""));
    let (width, height, corner) = (width?, height?, corner?);
    let largest = width.min(height) / 2.0;
    if corner > largest {
        let text = format!("a corner of {} mm does not go into this rectangle", trimmed(corner, 3));
        return node?.wrong(
            text,
            format!("it is at most half the shorter side: {} mm", trimmed(largest, 3)),
        );
    }
    Some(Form::RoundedRectangle { width, height, corner })
}

fn star(fields: &mut Fields<'_, '_>) -> Option<Form> {
    fields.call("a star");
    let tips = fields.need("tips", "`tips = 5`").and_then(|n| n.whole(3..181, "it like 5"));
    let across = side(fields, "across");
    let inner = match fields.get("inner") {
        None => Some(0.4),
        Some(node) => match node.share() {
            Some(s) if !(0.05..=0.95).contains(&s) => {
                node.wrong("out of range", "the inner circle is 5 % to 95 % of the outer one")
            }
            s => s,
        },
    };
    Some(Form::Star { tips: tips? as u32, across: across?, inner: inner? })
}

fn heart(fields: &mut Fields<'_, '_>) -> Option<Form> {
    fields.call("a heart");
    let (width, height) = (side(fields, "width"), side(fields, "height"));
    let (width, height) = (width?, height?);
    if !(0.75..=2.0).contains(&(height / width)) {
        fields.wrong(
            format!("no heart is {} mm wide and {} mm high", trimmed(width, 3), trimmed(height, 3)),
            "its height is three quarters to twice its width",
        );
        return None;
    }
    Some(Form::Heart { width, height })
}

fn polygon(fields: &mut Fields<'_, '_>) -> Option<Form> {
    fields.call("a polygon");
    let example =
        "`points = [[\"0 mm\", \"0 mm\"], [\"30 mm\", \"0 mm\"], [\"15 mm\", \"20 mm\"]]`";
    let node = fields.need("points", example)?;
    let corners = node.list("corner", &format!("it like {example}"))?;
    if !(3..=MAX_CORNERS).contains(&corners.len()) {
        let text = format!("a polygon cannot have {} corners", corners.len());
        return node
            .wrong(text, format!("it has 3 to {MAX_CORNERS}; a finer outline comes from a file"));
    }
    let read: Vec<Option<(f64, f64)>> = corners.iter().map(Node::point).collect();
    let points: Vec<(f64, f64)> = read.into_iter().collect::<Option<_>>()?;
    check_polygon(&node, points)
}

fn check_polygon(node: &Node<'_, '_>, mut points: Vec<(f64, f64)>) -> Option<Form> {
    points.dedup();
    while points.len() > 1 && points.first() == points.last() {
        points.pop();
    }
    if encloses_nothing(&points) {
        return node.wrong(
            "this polygon encloses nothing: its corners lie on one line, or on one spot",
            "give at least three corners that go round something",
        );
    }
    if let Some((i, j)) = crossing(&points) {
        let n = points.len();
        let text = format!(
            "this polygon crosses itself: side {} to {} meets side {} to {}",
            i + 1,
            (i + 1) % n + 1,
            j + 1,
            (j + 1) % n + 1
        );
        return node.wrong(text, "give the corners in order, once round");
    }
    let by = |f: fn(&(f64, f64)) -> f64| {
        let values = || points.iter().map(f);
        values().fold(f64::MIN, f64::max) - values().fold(f64::MAX, f64::min)
    };
    let largest = by(|p| p.0).max(by(|p| p.1));
    if largest > Limits::SIDE.1 {
        return node.wrong(
            format!("{} mm is too large", trimmed(largest, 3)),
            "each side is at most 5000 mm",
        );
    }
    Some(Form::Polygon { points })
}

/// Whether every corner is within 0.01 mm of the line through the two that are farthest apart in
/// the first one's view.
fn encloses_nothing(points: &[(f64, f64)]) -> bool {
    let Some(first) = points.first() else { return true };
    let from_first = |p: &(f64, f64)| (p.0 - first.0, p.1 - first.1);
    let length = |d: (f64, f64)| (d.0 * d.0 + d.1 * d.1).sqrt();
    let far = points
        .iter()
        .map(from_first)
        .fold((0.0, 0.0), |best, d| if length(d) > length(best) { d } else { best });
    let off_line = |d: (f64, f64)| (far.0 * d.1 - far.1 * d.0).abs() / length(far).max(1e-9);
    points.iter().map(from_first).all(|d| off_line(d) < 0.01)
}

/// The first two sides that meet elsewhere than at a shared corner, by the index of their starts.
fn crossing(points: &[(f64, f64)]) -> Option<(usize, usize)> {
    let n = points.len();
    let side = |i: usize| (points[i], points[(i + 1) % n]);
    let turn = |a: (f64, f64), b: (f64, f64), c: (f64, f64)| {
        (b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0)
    };
    // c is known to be on the line through a and b.
    let between = |a: (f64, f64), b: (f64, f64), c: (f64, f64)| {
        c.0 >= a.0.min(b.0) && c.0 <= a.0.max(b.0) && c.1 >= a.1.min(b.1) && c.1 <= a.1.max(b.1)
    };
    let meet = |i: usize, j: usize| {
        let ((a, b), (c, d)) = (side(i), side(j));
        let (c_side, d_side) = (turn(a, b, c), turn(a, b, d));
        let (a_side, b_side) = (turn(c, d, a), turn(c, d, b));
        let neighbours = j == i + 1 || (i == 0 && j == n - 1);
        if neighbours {
            // They share a corner; they meet elsewhere only if one runs back along the other.
            let (far, shared, other) = if j == i + 1 { (a, b, d) } else { (b, a, c) };
            let back = (far.0 - shared.0) * (other.0 - shared.0)
                + (far.1 - shared.1) * (other.1 - shared.1);
            return turn(far, shared, other) == 0.0 && back > 0.0;
        }
        (c_side * d_side < 0.0 && a_side * b_side < 0.0)
            || (c_side == 0.0 && between(a, b, c))
            || (d_side == 0.0 && between(a, b, d))
            || (a_side == 0.0 && between(c, d, a))
            || (b_side == 0.0 && between(c, d, b))
    };
    (0..n).find_map(|i| (i + 1..n).find(|&j| meet(i, j)).map(|j| (i, j)))
}

fn file(fields: &mut Fields<'_, '_>) -> Option<Form> {
    fields.call("an outline from a file");
    let node = fields.get("file")?;
    let path = node.text("the name of a file in quotes", "it like \"gull.svg\"").and_then(|t| {
        if t.trim().is_empty() || t.chars().any(char::is_control) || t.len() > 1000 {
            return node.wrong("this is no name of a file", "write it like `file = \"gull.svg\"`");
        }
        Some(t.to_owned())
    });
    let width = fields.get("width");
    let height = fields.get("height");
    let scale = match (&width, &height) {
        (Some(_), Some(height)) => height.wrong(
            "a file is scaled to a width or to a height, not to both",
            "leave one out: the other side follows from the drawing",
        ),
        (Some(n), None) => n.length(Limits::SIDE, "\"60 mm\"").map(FileScale::Width),
        (None, Some(n)) => n.length(Limits::SIDE, "\"60 mm\"").map(FileScale::Height),
        (None, None) => Some(FileScale::AsDrawn),
    };
    Some(Form::File { file: path?, scale: scale?, spot: node.spot })
}

/// Reads an outline with `at` and `turn`.
pub(super) fn placed(fields: &mut Fields<'_, '_>) -> Option<Placed> {
    let outline = outline(fields);
    let at = fields.need("at", "where its middle comes, like `at = [\"30 mm\", \"5 mm\"]`");
    let at = at.and_then(|n| n.point());
    let turn_deg = fields.get("turn").map_or(Some(0.0), |n| n.angle());
    Some(Placed { outline: outline?, at: at?, turn_deg: turn_deg? })
}

#[cfg(test)]
mod tests {
    use super::crossing;

    #[test]
    fn sides_that_meet_are_found_and_shared_corners_are_not() {
        let square = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
        assert_eq!(crossing(&square), None);
        let bow_tie = [(0.0, 0.0), (1.0, 1.0), (1.0, 0.0), (0.0, 1.0)];
        assert_eq!(crossing(&bow_tie), Some((0, 2)));
        let spike = [(0.0, 0.0), (2.0, 0.0), (1.0, 0.0), (1.0, 1.0)];
        assert_eq!(crossing(&spike), Some((0, 1)));
        let touching = [(0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (2.0, 0.0), (0.0, 2.0)];
        assert_eq!(crossing(&touching), Some((0, 2)));
    }
}
