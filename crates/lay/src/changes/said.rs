//! What is said of changes by hand that could not be made.

use crate::findings::mm;
use crate::zone_lay::{disc_radius, pitch_mm};
use crate::{Change, Finding, Piece, Severity, Zone};
use geometry::Walls;

/// How changes are called in findings: by their place in the document's list, from 1.
fn called(no: usize) -> String {
    format!("change {} by hand", no + 1)
}

fn finding(
    piece: &Piece,
    code: &'static str,
    severity: Severity,
    no: usize,
    text: &str,
    hint: &str,
) -> Finding {
    let place = Some(piece.changes[no].place());
    Finding { place, ..Finding::new(code, severity, format!("{}: {text}", called(no)), hint) }
}

/// What is missing, rounded up to what a maker can measure: to move by so much is enough.
fn missing_mm(missing: f64) -> String {
    format!("{} missing", mm((missing * 100.0 - 1e-6).ceil() / 100.0))
}

/// A change whose place lies in no zone.
pub(super) fn in_no_zone(piece: &Piece, walls: &[Walls], no: usize) -> Finding {
    let Change::Set { place, kind } = piece.changes[no] else {
        return nothing_there(piece, no);
    };
    let p = place.point();
    let missing =
        |(zone, walls): (&Zone, &Walls)| disc_radius(&piece.kinds[kind], zone) - walls.room(p);
    let zones = piece.zones.iter().zip(walls);
    let nearest = zones.map(missing).reduce(f64::min);
    let name = &piece.kinds[kind].name;
    let text = format!("`{name}` is not set: its place lies in no zone");
    let hint = "move it inwards, or take it out";
    let mut f = finding(piece, "lay.by-hand-outside", Severity::Warning, no, &text, hint);
    f.measured = nearest.map(missing_mm);
    f.wanted = Some("wholly within a zone".into());
    f
}

/// A stone that does not lie wholly within its zone.
pub(super) fn outside(piece: &Piece, zone: &Zone, no: usize, kind: usize, missing: f64) -> Finding {
    let name = &piece.kinds[kind].name;
    let text = format!("`{name}` is not set: it would not lie wholly within its zone");
    let hint = "move it inwards, or take a smaller kind";
    finding(piece, "lay.by-hand-outside", Severity::Warning, no, &text, hint)
        .in_zone(&zone.name)
        .with(missing_mm(missing), format!("a margin of {} kept", mm(zone.margin_mm)))
}

/// A stone too close to one set by hand before.
pub(super) fn too_close(
    piece: &Piece,
    zone: &Zone,
    no: usize,
    kind: usize,
    missing: f64,
) -> Finding {
    let name = &piece.kinds[kind].name;
    let text = format!("`{name}` is not set: it would be too close to one set before it");
    let hint = "move one of the two, or take it out";
    finding(piece, "lay.by-hand-too-close", Severity::Warning, no, &text, hint)
        .in_zone(&zone.name)
        .with(missing_mm(missing), format!("{} from edge to edge", mm(zone.spacing_mm)))
}

/// A stone of one kind that cannot become one of another, larger kind.
pub(super) fn no_room(
    piece: &Piece,
    zone: &Zone,
    no: usize,
    (from, to): (usize, usize),
    missing: f64,
) -> Finding {
    let kind = &piece.kinds[to];
    let stays = &piece.kinds[from].name;
    let text = format!("there is no room for `{}`: the stone stays `{stays}`", kind.name);
    let hint = "take a smaller kind, or set it: what is in its way is then left out";
    let wanted =
        format!("{} across and {} round it", mm(pitch_mm(kind, zone.gauge)), mm(zone.spacing_mm));
    finding(piece, "lay.by-hand-no-room", Severity::Warning, no, &text, hint)
        .in_zone(&zone.name)
        .with(missing_mm(missing), wanted)
}

/// A change to a stone that is not there.
pub(super) fn no_stone(piece: &Piece, zone_idx: usize, no: usize) -> Finding {
    nothing_there(piece, no).in_zone(&piece.zones[zone_idx].name)
}

fn nothing_there(piece: &Piece, no: usize) -> Finding {
    let text = match piece.changes[no] {
        Change::Recolour { .. } => "no stone covers this spot, so that none is recoloured",
        _ => "no stone covers this spot: it is clear already",
    };
    let hint = "move it to the middle of a stone, or take it out";
    finding(piece, "lay.by-hand-nothing", Severity::Note, no, text, hint)
}
