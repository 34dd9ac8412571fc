//! Fillers: smaller kinds set into the bare spots.

use crate::zone_lay::{disc_radius, keep, pitch_mm};
use crate::{Piece, Place, Stone, Zone};
use geometry::{Disc, DiscGrid, Point, Region, Walls, spots};
use std::collections::HashMap;

/// Rounds after which we stop looking; each sets at least one stone, and two or three do nearly
/// all.
const ROUNDS_MAX: usize = 32;

/// Adds the zone's fillers to its stones, in the row after the last: into the middle of each bare
/// spot the largest filler that goes in, until none goes in anywhere. They stay off what was
/// `cleared` by hand.
pub(crate) fn add(
    piece: &Piece,
    zone: &Zone,
    zone_idx: usize,
    cleared: &[Disc],
    stones: &mut Vec<Stone>,
) {
    let mut fillers: Vec<(f64, usize)> =
        zone.fillers.iter().map(|&k| (disc_radius(&piece.kinds[k], zone), k)).collect();
    fillers.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    let Some(&(least, _)) = fillers.last() else { return };
    let row = stones.iter().map(|s| s.row).max().unwrap_or(0) + 1;
    let keep = keep(zone);
    let walls = Walls::new(&zone.region, |tag| keep[usize::from(tag).min(2)]);
    for _ in 0..ROUNDS_MAX {
        let spots = candidates(piece, zone, stones, cleared, walls.keep_max(), least);
        let set = stones.iter().map(|s| disc_of(piece, zone, s)).chain(cleared.iter().copied());
        let set = DiscGrid::new(set.collect());
        let mut fresh = Fresh::new(fillers[0].0);
        let before = stones.len();
        for at in spots {
            let beside = set.gap(at, 2.0 * fillers[0].0).unwrap_or(f64::INFINITY);
            // Where it just fits, rounding must not say no.
            let room = walls.room(at).min(beside).min(fresh.room(at)) + 1e-9;
            let Some(&(radius, kind)) = fillers.iter().find(|f| f.0 <= room) else { continue };
            fresh.add(Disc { centre: at, radius });
            let place = Place::on_plane(at);
            stones.push(Stone {
                place,
                kind: kind as u32,
                zone: zone_idx as u32,
                row,
                by_hand: false,
            });
        }
        if stones.len() == before {
            return;
        }
    }
}

/// Middles of bare spots in which a disc of radius `least` may go, the likeliest first.
///
/// The search for empty circles looks at the edges themselves, while a filler keeps `keep` from the
/// blank's own edges and nothing from others. Discs made smaller by what is kept, and circles by as
/// much, are right along own edges; discs as they are, along shared ones; stones as drawn, for the
/// bare spots that the zone reports.
fn candidates(
    piece: &Piece,
    zone: &Zone,
    stones: &[Stone],
    cleared: &[Disc],
    keep: f64,
    least: f64,
) -> Vec<Point> {
    let edges = Walls::new(&zone.region, |_| 0.0);
    let drawn = |s: &Stone| piece.kinds[s.kind as usize].reach_mm / 2.0;
    let smallest = stones.iter().map(|s| disc_of(piece, zone, s).radius).fold(keep, f64::min);
    let by = |radius: &dyn Fn(&Stone) -> f64, less: f64, floor: f64| {
        let disc = |s: &Stone| Disc { centre: s.place.point(), radius: radius(s) };
        let bare = |d: &Disc| Disc { radius: (d.radius - less).max(0.0), ..*d };
        let discs = stones.iter().map(disc).chain(cleared.iter().map(bare));
        let discs = DiscGrid::new(discs.collect());
        spots::at_least(&edges, &discs, floor - 1e-9)
    };
    let kept = |s: &Stone| disc_of(piece, zone, s).radius - smallest;
    let whole = |s: &Stone| disc_of(piece, zone, s).radius;
    let mut found = by(&kept, smallest, least + smallest);
    let shared = zone.region.segments().any(|s| s.tag != crate::EDGE_OWN);
    if shared && smallest > 0.0 {
        found.extend(by(&whole, 0.0, least));
    }
    found.extend(by(&drawn, 0.0, least));
    found.into_iter().map(|c| c.centre).collect()
}

/// The largest kind of the piece that would go in at `p`, a place in `region` beside `stones`, with
/// the spacing of the zone there and the margin of its edges.
pub(crate) fn largest_that_goes_in(
    piece: &Piece,
    region: &Region,
    stones: &[Stone],
    drawn: &DiscGrid,
    p: Point,
) -> Option<usize> {
    let zone = piece.zones.iter().find(|z| z.region.contains(p)).or(piece.zones.first())?;
    let keep = keep(zone);
    let largest = piece.kinds.iter().map(|k| disc_radius(k, zone)).fold(0.0, f64::max);
    let wall = region
        .segments()
        .map(|s| s.distance(p) - keep[usize::from(s.tag).min(2)])
        .fold(f64::INFINITY, f64::min);
    let room = drawn
        .around(p, 2.0 * largest)
        .map(|i| {
            let own = &piece.zones[stones[i].zone as usize];
            let d = disc_of(piece, own, &stones[i]);
            d.centre.distance(p) - d.radius
        })
        .fold(wall, f64::min);
    (0..piece.kinds.len()).filter(|&k| disc_radius(&piece.kinds[k], zone) <= room + 1e-9).max_by(
        |&a, &b| {
            let pitch = |k: usize| pitch_mm(&piece.kinds[k], zone.gauge);
            // Of kinds of one size the first: `max_by` would take the last.
            pitch(a).total_cmp(&pitch(b)).then(b.cmp(&a))
        },
    )
}

/// The disc that stands for a stone where distances are kept.
pub(crate) fn disc_of(piece: &Piece, zone: &Zone, s: &Stone) -> Disc {
    Disc { centre: s.place.point(), radius: disc_radius(&piece.kinds[s.kind as usize], zone) }
}

/// Discs set in this round, by cell; looked up, never walked.
struct Fresh {
    side: f64,
    cells: HashMap<(i64, i64), Vec<Disc>>,
}

impl Fresh {
    fn new(radius_max: f64) -> Fresh {
        Fresh { side: 2.0 * radius_max, cells: HashMap::new() }
    }

    fn cell(&self, p: Point) -> (i64, i64) {
        ((p.x / self.side).floor() as i64, (p.y / self.side).floor() as i64)
    }

    fn add(&mut self, d: Disc) {
        self.cells.entry(self.cell(d.centre)).or_default().push(d);
    }

    /// Distance to the nearest, if it is within a cell's side; else infinite.
    fn room(&self, p: Point) -> f64 {
        let (x, y) = self.cell(p);
        let near = (-1..=1).flat_map(|i| (-1..=1).map(move |j| (x + i, y + j)));
        near.filter_map(|c| self.cells.get(&c))
            .flatten()
            .map(|d| d.centre.distance(p) - d.radius)
            .fold(f64::INFINITY, f64::min)
    }
}
