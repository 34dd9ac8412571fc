//! Zones as regions: what each has of the blank.
//!
//! Zones are cut in the document's order, and each takes from what those before it left: where
//! outlines overlap, the earlier one wins. The zone that is the rest comes last. Every edge of a
//! zone that is an edge of the blank is tagged [`EDGE_OWN`](lay::EDGE_OWN), every other one
//! [`EDGE_SHARED`], whether or not a zone lies beyond it.

use super::blank::placed_region;
use super::loader::Loader;
use crate::document::Fault;
use crate::document::model::{Arrangement, BandEdge, BandWidth, Zone, ZonePlace};
use geometry::shapes::Side;
use geometry::{Point, Region, Ring, boolean, shapes};
use lay::{EDGE_SHARED, Finding, Kind};
use planning::stretches::ZoneRole;

/// A part smaller than this is not worth a zone, mm².
const NOTHING_MM2: f64 = 0.01;
/// Insets follow the true edge within 0.003 mm; a band of rows is wider by more than that, or its
/// last row would not go in.
const BAND_ALLOWANCE_MM: f64 = 0.01;

/// The region of each zone (`None` where nothing is left for it) and what is worth knowing about
/// their files.
///
/// # Errors
/// Every file that gives no outline.
#[expect(clippy::type_complexity, reason = "a pair of lists, named in the text above")]
pub(super) fn zone_regions(
    zones: &[Zone],
    blank: &Region,
    margin_mm: f64,
    kinds: &[Kind],
    loader: &dyn Loader,
) -> Result<(Vec<Option<Region>>, Vec<Finding>), Vec<Fault>> {
    let mut free = Some(blank.clone());
    let mut regions = vec![None; zones.len()];
    let (mut faults, mut findings) = (vec![], vec![]);
    for (zone, region) in zones.iter().zip(&mut regions) {
        let Some(left) = &free else { break };
        let (inside, outside) = match &zone.place {
            ZonePlace::Rest => continue,
            ZonePlace::Outline(placed) => {
                let height = blank.bounds().height();
                match placed_region(placed, height, Side::Inside, loader) {
                    Ok((outline, found)) => {
                        findings.extend(found);
                        let outline = outline.tagged(EDGE_SHARED);
                        (boolean::intersection(left, &outline), boolean::difference(left, &outline))
                    }
                    Err(fault) => {
                        faults.push(*fault);
                        continue;
                    }
                }
            }
            ZonePlace::Band(width, edge) => {
                let width_mm = band_mm(*width, zone, margin_mm, kinds);
                match core(blank, width_mm, *edge) {
                    Some(core) => {
                        (boolean::difference(left, &core), boolean::intersection(left, &core))
                    }
                    None => (Some(left.clone()), None),
                }
            }
        };
        *region = worth(inside);
        free = worth(outside);
    }
    let rest = zones.iter().position(|z| z.place == ZonePlace::Rest);
    if let Some(rest) = rest {
        regions[rest] = free;
    }
    if faults.is_empty() { Ok((regions, findings)) } else { Err(faults) }
}

fn worth(region: Option<Region>) -> Option<Region> {
    region.filter(|r| r.area() >= NOTHING_MM2)
}

/// What a band leaves in the middle; `None` if it covers everything.
fn core(blank: &Region, width_mm: f64, edge: BandEdge) -> Option<Region> {
    let of = match edge {
        BandEdge::Every => Some(blank.clone()),
        BandEdge::Outside => Region::new(outermost(blank)).ok(),
        BandEdge::Holes => with_holes_only(blank, width_mm),
    };
    boolean::inset(&of?, width_mm, EDGE_SHARED)
}

/// The exteriors that lie in no other exterior.
fn outermost(blank: &Region) -> Vec<Ring> {
    let exteriors: Vec<&Ring> = blank.rings().iter().filter(|r| !r.is_hole()).collect();
    let lies_in = |ring: &Ring, other: &Ring| {
        ring.segments.first().is_some_and(|s| other.winding(s.from) != 0)
    };
    let outer = |(i, ring): &(usize, &&Ring)| {
        exteriors.iter().enumerate().all(|(j, other)| j == *i || !lies_in(ring, other))
    };
    exteriors.iter().enumerate().filter(outer).map(|(_, ring)| (*ring).clone()).collect()
}

/// A box far around the blank with the blank's holes: only they are near anything.
fn with_holes_only(blank: &Region, width_mm: f64) -> Option<Region> {
    let around = blank.bounds().grown(2.0 * width_mm + 10.0);
    let middle = around.centre();
    let frame = shapes::rectangle(around.width(), around.height()).moved(middle);
    let holes = blank.rings().iter().filter(|r| r.is_hole()).cloned();
    Region::new(frame.rings().iter().cloned().chain(holes).collect()).ok()
}

/// How wide a band is. So many rows need their stones, the spacing between them, the margin on
/// one side and half the spacing on the other.
fn band_mm(width: BandWidth, zone: &Zone, margin_mm: f64, kinds: &[Kind]) -> f64 {
    let n = match width {
        BandWidth::Mm(mm) => return mm,
        BandWidth::Rows(n) => f64::from(n),
    };
    let stones = zone.mix.iter().filter_map(|p| kinds.get(p.kind));
    let d = stones.map(|k| lay::pitch_mm(k, zone.gauge)).fold(0.0, f64::max);
    let rows = match zone.arrangement {
        Arrangement::Honeycomb(_) => d + (n - 1.0) * (d + zone.spacing) * 3f64.sqrt() / 2.0,
        _ => n * d + (n - 1.0) * zone.spacing,
    };
    margin_mm + rows + zone.spacing / 2.0 + BAND_ALLOWANCE_MM
}

/// The arrangement in the blank's frame.
pub(super) fn arrangement(arrangement: Arrangement, height_mm: f64) -> lay::Arrangement {
    match arrangement {
        Arrangement::Honeycomb(rows) => lay::Arrangement::Honeycomb(rows),
        Arrangement::Square(rows) => lay::Arrangement::Square(rows),
        Arrangement::Scatter { ring_holes } => {
            lay::Arrangement::Scatter(lay::Scatter { ring_holes })
        }
        Arrangement::Rings { centre, staggered, nested, around_holes } => {
            let centre: Option<Point> = centre.map(|c| super::blank::in_frame(c, height_mm));
            lay::Arrangement::Rings(lay::Rings { centre, staggered, nested, around_holes })
        }
    }
}

/// What a zone is to the bench order: bands come before what lies within them.
pub(super) fn role(place: &ZonePlace) -> ZoneRole {
    match place {
        ZonePlace::Band(_, BandEdge::Holes) => ZoneRole::AroundHoles,
        ZonePlace::Band(..) => ZoneRole::Border,
        ZonePlace::Rest | ZonePlace::Outline(_) => ZoneRole::Inner,
    }
}
