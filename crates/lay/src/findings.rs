//! What is worth knowing about the lay of a zone.

use crate::fillers::disc_of;
use crate::zone_lay::{keep, pitch_mm};
use crate::{
    Arrangement, BareSpot, Change, Finding, Gauge, Piece, PieceLay, Place, Rows, Severity, Stone,
    Zone, ZoneLay,
};
use geometry::{DiscGrid, TOLERANCE_MM, Walls, spots};

/// Share of a zone's edge that may be bare before we say so.
const BARE_EDGE_MAX: f64 = 0.10;

/// What is worth knowing about the arrangement of one zone, in a fixed order. `stones` are its own,
/// before anything is changed by hand, without fillers.
pub(crate) fn of_arrangement(
    piece: &Piece,
    zone: &Zone,
    stones: &[Stone],
    left_over: f64,
) -> Vec<Finding> {
    let mut found = vec![];
    if stones.is_empty() {
        return found;
    }
    found.extend(spacing_too_tight(piece, zone));
    found.extend(sizes_mixed(piece, zone));
    found.extend(shares_missed(piece, zone, stones));
    if left_over > 0.01 {
        found.push(even_limit(zone, left_over));
    }
    found.extend(row_run(piece, zone, stones));
    found
}

/// What is worth knowing about what a zone leaves bare.
pub(crate) fn of_bareness(piece: &Piece, zone: &Zone, lay: &ZoneLay) -> Vec<Finding> {
    let mut found = vec![];
    found.extend(bare_spot(piece, zone, lay));
    if lay.bare_edge > BARE_EDGE_MAX {
        found.push(bare_edge(zone, lay));
    }
    found
}

fn finding(
    code: &'static str,
    severity: Severity,
    zone: &Zone,
    text: String,
    hint: &str,
) -> Finding {
    Finding::new(code, severity, text, hint).in_zone(&zone.name)
}

/// Millimetres for people: two decimals, trailing zeros dropped.
pub(crate) fn mm(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    format!("{text} mm")
}

fn percent(share: f64) -> String {
    format!("{:.1} %", share * 100.0)
}

/// No stone at all.
pub(crate) fn zone_empty(piece: &Piece, zone: &Zone) -> Finding {
    let pitch = |m: &crate::MixPart| pitch_mm(&piece.kinds[m.kind], zone.gauge);
    let narrowest = zone.mix.iter().map(pitch).fold(f64::INFINITY, f64::min);
    let edges = Walls::new(&zone.region, |_| 0.0);
    let widest = spots::largest(&edges, &DiscGrid::new(vec![]), 1);
    let mut f = finding(
        "lay.zone-empty",
        Severity::Serious,
        zone,
        format!("no stone has room in zone `{}`", zone.name),
        "take a smaller stone, a smaller margin, or a wider zone",
    );
    f.measured = widest.first().map(|c| format!("widest place {}", mm(2.0 * c.radius)));
    f.place = widest.first().map(|c| Place::on_plane(c.centre));
    let margin = zone.margin_mm.max(zone.spacing_mm / 2.0);
    f.wanted = Some(format!("stone {} and twice the margin {}", mm(narrowest), mm(margin)));
    f
}

/// Set by touch, stones are kept apart by their mean: the larger ones of the bag need the spacing.
fn spacing_too_tight(piece: &Piece, zone: &Zone) -> Option<Finding> {
    if zone.gauge == Gauge::Fit {
        return None;
    }
    let excess = |m: &crate::MixPart| piece.kinds[m.kind].fit_mm - piece.kinds[m.kind].reach_mm;
    let worst = zone.mix.iter().map(excess).fold(0.0, f64::max);
    if zone.spacing_mm >= worst - 1e-9 {
        return None;
    }
    let mut f = finding(
        "lay.spacing-tight",
        Severity::Warning,
        zone,
        "the spacing is tighter than the bag's tolerance: the largest stones push their row on"
            .into(),
        "set by a sheet (`set_by = \"sheet\"`), or widen the spacing to what is wanted",
    );
    f.measured = Some(format!("spacing {}", mm(zone.spacing_mm)));
    f.wanted = Some(format!("at least {}", mm(worst)));
    Some(f)
}

fn sizes_mixed(piece: &Piece, zone: &Zone) -> Option<Finding> {
    if matches!(zone.arrangement, Arrangement::Scatter(_)) {
        return None;
    }
    let pitch = |m: &crate::MixPart| pitch_mm(&piece.kinds[m.kind], zone.gauge);
    let largest = zone.mix.iter().map(pitch).fold(0.0, f64::max);
    let smallest = zone.mix.iter().map(pitch).fold(f64::INFINITY, f64::min);
    if largest - smallest <= 0.05 {
        return None;
    }
    let mut f = finding(
        "lay.sizes-mixed",
        Severity::Note,
        zone,
        "rows and rings go by the largest size, so that smaller stones lie loosely".into(),
        "use one size in rows and rings, or a scatter for several",
    );
    f.measured = Some(format!("{} to {}", mm(smallest), mm(largest)));
    f.wanted = Some("one size".into());
    Some(f)
}

/// Shares by count are held within 2 points or one stone, whichever is wider. Stripes and turns by
/// row follow their own rule, so that only scatters and random colourings are asked.
fn shares_missed(piece: &Piece, zone: &Zone, stones: &[Stone]) -> Option<Finding> {
    let by_share = zone.colouring == crate::Colouring::Random
        || (matches!(zone.arrangement, Arrangement::Scatter(_)) && one_kind_a_size(piece, zone));
    if !by_share {
        return None;
    }
    let n = stones.len() as f64;
    let off = |m: &crate::MixPart| {
        let count = stones.iter().filter(|s| s.kind as usize == m.kind).count() as f64;
        (count / n, (count / n - m.share).abs())
    };
    let worst = zone.mix.iter().map(|m| (m, off(m))).fold(
        None,
        |w: Option<(&crate::MixPart, (f64, f64))>, x| match w {
            Some(w) if w.1.1 >= x.1.1 => Some(w),
            _ => Some(x),
        },
    )?;
    let (part, (share, missed)) = worst;
    // Rounding several kinds to whole stones may move one by a little more than half a stone.
    if missed <= (0.02_f64).max(1.0 / n) + 1e-12 {
        return None;
    }
    let mut f = finding(
        "lay.share-missed",
        Severity::Warning,
        zone,
        format!("`{}` does not come out at its share", piece.kinds[part.kind].name),
        "give the larger sizes less, or the zone more room: a large stone finds few places between small ones",
    );
    f.measured = Some(percent(share));
    f.wanted = Some(format!("{} by count, within 2 points", percent(part.share)));
    Some(f)
}

fn one_kind_a_size(piece: &Piece, zone: &Zone) -> bool {
    let pitch = |m: &crate::MixPart| pitch_mm(&piece.kinds[m.kind], zone.gauge);
    let same = |a: &crate::MixPart| zone.mix.iter().filter(|b| pitch(b) == pitch(a)).count();
    zone.mix.iter().all(|m| same(m) == 1)
}

fn even_limit(zone: &Zone, left_over: f64) -> Finding {
    let open = match zone.arrangement {
        Arrangement::Honeycomb(Rows::Even { open_mm, .. })
        | Arrangement::Square(Rows::Even { open_mm, .. }) => open_mm,
        _ => 0.0,
    };
    let mut f = finding(
        "lay.even-limit",
        Severity::Warning,
        zone,
        "the spacing may not be opened far enough for the rows to reach across".into(),
        "allow more with `open`, change the size, or trim the blank",
    );
    f.measured = Some(format!("{} left at the far edge", mm(left_over)));
    f.wanted = Some(format!("none, opening by at most {}", mm(open)));
    f
}

/// Touching stones add up: n of them measure n · mean ± 2 s √n.
fn row_run(piece: &Piece, zone: &Zone, stones: &[Stone]) -> Option<Finding> {
    if zone.gauge == Gauge::Fit || matches!(zone.arrangement, Arrangement::Scatter(_)) {
        return None;
    }
    let mut longest = (0, 0);
    for run in stones.chunk_by(|a, b| a.row == b.row) {
        if run.len() > longest.0 {
            longest = (run.len(), run[0].row);
        }
    }
    let (n, row) = longest;
    let largest = zone.mix.iter().map(|m| &piece.kinds[m.kind]);
    let kind = largest.max_by(|a, b| a.reach_mm.total_cmp(&b.reach_mm))?;
    let run = n as f64 * (kind.reach_mm + zone.spacing_mm) - zone.spacing_mm;
    let mut f = finding(
        "lay.row-run",
        Severity::Note,
        zone,
        format!("set by touch, the {n} stones of row {row} may come out longer or shorter"),
        "lay one row dry and measure it before the adhesive is opened",
    );
    let spread = 2.0 * kind.spread_mm * (n as f64).sqrt();
    f.measured = Some(format!("{} ± {}", mm(run), mm(spread)));
    Some(f)
}

fn bare_spot(piece: &Piece, zone: &Zone, lay: &ZoneLay) -> Option<Finding> {
    let spot = lay.bare_spots.iter().find(|s| s.takes.is_some() && !is_cleared(piece, s))?;
    let kind = spot.takes?;
    let own = zone.mix.iter().any(|m| m.kind == kind) || zone.fillers.contains(&kind);
    let mut f = finding(
        "lay.bare-spot",
        if own { Severity::Warning } else { Severity::Note },
        zone,
        format!("a bare spot takes one more `{}`", piece.kinds[kind].name),
        match zone.arrangement {
            Arrangement::Honeycomb(_) | Arrangement::Square(_) => {
                "name it under `fillers`, or turn and shift the rows for the most stones"
            }
            _ => "name it under `fillers`",
        },
    );
    f.place = Some(spot.place);
    f.measured = Some(format!("{} across", mm(spot.diameter_mm)));
    let wanted = pitch_mm(&piece.kinds[kind], zone.gauge);
    f.wanted = Some(format!("less than a stone of {} and its spacing", mm(wanted)));
    Some(f)
}

/// Whether the maker wants a spot bare: it was cleared by hand.
fn is_cleared(piece: &Piece, spot: &BareSpot) -> bool {
    piece.changes.iter().any(|change| match change {
        Change::Clear { at } => at.point().distance(spot.place.point()) < spot.diameter_mm / 2.0,
        _ => false,
    })
}

fn bare_edge(zone: &Zone, lay: &ZoneLay) -> Finding {
    let mut f = finding(
        "lay.bare-edge",
        Severity::Note,
        zone,
        "part of the edge has room for a whole row of stones beside it".into(),
        match zone.arrangement {
            Arrangement::Honeycomb(_) | Arrangement::Square(_) => {
                "even out the rows, turn them, or give the edge a band of its own"
            }
            _ => "take a smaller size, or give the edge a band of its own",
        },
    );
    f.measured = Some(format!("{} of the edge", percent(lay.bare_edge)));
    f.wanted = Some(format!("at most {}", percent(BARE_EDGE_MAX)));
    f
}

/// Our own promise, looked at once more on the finished lay: inside, and apart.
pub(crate) fn unsound(piece: &Piece, zone: &Zone, stones: &[Stone]) -> Option<Finding> {
    let keep = keep(zone);
    let walls = Walls::new(&zone.region, |tag| keep[usize::from(tag).min(2)]);
    let discs = DiscGrid::new(stones.iter().map(|s| disc_of(piece, zone, s)).collect());
    let crossing = discs.discs().iter().find_map(|d| {
        let over = d.radius - walls.room(d.centre);
        (over > TOLERANCE_MM).then_some((d.centre, over))
    });
    let (at, over) = crossing.or_else(|| overlap(&discs))?;
    Some(broken_promise(Some(zone.name.clone()), at, over))
}

/// The first two discs that overlap: where, and by how much.
fn overlap(discs: &DiscGrid) -> Option<(geometry::Point, f64)> {
    discs.discs().iter().enumerate().find_map(|(i, d)| {
        discs.around(d.centre, d.radius + discs.radius_max()).find_map(|j| {
            let e = discs.discs()[j];
            let over = d.radius + e.radius - d.centre.distance(e.centre);
            (j != i && over > TOLERANCE_MM).then_some((d.centre, over))
        })
    })
}

/// A bare spot across the border of zones, wider than any within one, into which a kind goes.
pub(crate) fn bare_between_zones(piece: &Piece, lay: &PieceLay) -> Option<Finding> {
    if piece.zones.len() < 2 {
        return None;
    }
    let spot = lay.bare_spots.first()?;
    let kind = &piece.kinds[spot.takes?];
    if is_cleared(piece, spot) {
        return None;
    }
    let within = lay.zones.iter().filter_map(|z| z.bare_spots.first());
    let widest = within.map(|s| s.diameter_mm).fold(0.0, f64::max);
    if spot.diameter_mm <= widest + 0.01 {
        return None;
    }
    Some(Finding {
        code: "lay.bare-between",
        severity: Severity::Note,
        zone: None,
        place: Some(spot.place),
        measured: Some(format!("{} across", mm(spot.diameter_mm))),
        wanted: None,
        text: format!("between zones a bare spot takes one more `{}`", kind.name),
        hint: "zones are laid each for itself: set this one by hand, or move the border".into(),
    })
}

/// The same promise between the stones of different zones.
pub(crate) fn zones_too_close(piece: &Piece, stones: &[Stone]) -> Option<Finding> {
    if piece.zones.len() < 2 {
        return None;
    }
    let disc = |s: &Stone| disc_of(piece, &piece.zones[s.zone as usize], s);
    let (at, over) = overlap(&DiscGrid::new(stones.iter().map(disc).collect()))?;
    Some(broken_promise(None, at, over))
}

fn broken_promise(zone: Option<String>, at: geometry::Point, over: f64) -> Finding {
    Finding {
        code: "lay.unsound",
        severity: Severity::Serious,
        zone,
        place: Some(Place::on_plane(at)),
        measured: Some(format!("{over:.9} mm too close")),
        wanted: Some(format!("at most {TOLERANCE_MM} mm")),
        text: "this lay breaks our promise: a stone is too close to another or to an edge".into(),
        hint: "do not set it; please send us the document, this is our mistake".into(),
    }
}
