//! One zone, from its description to its stones.

use crate::lattice::{self, Ground, Lattice, Rowed};
use crate::seat::Seat;
use crate::{
    Arrangement, BareSpot, Finding, Gauge, Kind, MixPart, Piece, Place, Stone, Stopped, Watch,
    Zone, ZoneLay, bare_edge, changes, colour, fillers, findings, rings, rounded, scatter,
};
use geometry::{Disc, DiscGrid, Region, Walls, spots};

/// How many bare spots a zone reports.
const BARE_SPOTS: usize = 8;

/// The sizes that an arrangement of the zone works with, largest first.
///
/// Rows and rings know one size only, that of the largest kind; smaller kinds lie loosely in it.
pub(crate) struct Sizes {
    /// Half the pitch diameter plus half the spacing, mm.
    pub(crate) radii: Vec<f64>,
    /// For each size, the parts of the mix that have it.
    pub(crate) parts: Vec<Vec<usize>>,
}

impl Sizes {
    fn new(zone: &Zone, kinds: &[Kind]) -> Sizes {
        let radius = |p: &MixPart| disc_radius(&kinds[p.kind], zone);
        if !matches!(zone.arrangement, Arrangement::Scatter(_)) {
            let largest = zone.mix.iter().map(radius).fold(0.0, f64::max);
            return Sizes { radii: vec![largest], parts: vec![(0..zone.mix.len()).collect()] };
        }
        let mut radii: Vec<f64> = zone.mix.iter().map(radius).collect();
        radii.sort_by(|a, b| b.total_cmp(a));
        radii.dedup();
        let of = |r: &f64| (0..zone.mix.len()).filter(|&p| radius(&zone.mix[p]) == *r).collect();
        Sizes { parts: radii.iter().map(of).collect(), radii }
    }
}

/// The diameter that keeps stones of `kind` apart, mm.
pub fn pitch_mm(kind: &Kind, gauge: Gauge) -> f64 {
    match gauge {
        Gauge::Fit => kind.fit_mm,
        Gauge::Reach => kind.reach_mm,
    }
}

/// Radius of the disc that stands for a stone: with half of the spacing round it, two stones keep
/// their distance just when their discs do not overlap.
pub(crate) fn disc_radius(kind: &Kind, zone: &Zone) -> f64 {
    (pitch_mm(kind, zone.gauge) + zone.spacing_mm) / 2.0
}

/// The distances that a zone's discs keep from its edges: a disc is half a spacing larger than its
/// stone.
pub(crate) fn keep(zone: &Zone) -> [f64; 3] {
    [zone.margin_mm - zone.spacing_mm / 2.0, 0.0, 0.0]
}

/// Where stones of one zone go, before they are coloured, filled up and checked.
#[derive(Clone, Debug)]
pub struct Arranged {
    /// The places, in the order of setting.
    pub seats: Vec<Seat>,
    /// What the choice of rows cost or gained, in a sentence.
    pub note: Option<String>,
    /// What is left at the far edges of evened rows, mm.
    pub(crate) left_over: f64,
}

/// Finds the places of zone `zone_idx` of `piece`.
pub fn arrange(piece: &Piece, zone_idx: usize, watch: &dyn Watch) -> Result<Arranged, Stopped> {
    let zone = &piece.zones[zone_idx];
    let sizes = Sizes::new(zone, &piece.kinds);
    let ground = Ground { region: &zone.region, keep: keep(zone), radius: sizes.radii[0] };
    let rowed = |which, rows| -> Result<Arranged, Stopped> {
        let rowed: Rowed = lattice::lattice(ground, which, rows, watch)?;
        let note = lattice::note(ground, which, rows, &rowed);
        Ok(Arranged { seats: rowed.seats, note: Some(note), left_over: rowed.left_over })
    };
    let plain = |seats| Arranged { seats, note: None, left_over: 0.0 };
    Ok(match zone.arrangement {
        Arrangement::Honeycomb(rows) => rowed(Lattice::Honeycomb, rows)?,
        Arrangement::Square(rows) => rowed(Lattice::Square, rows)?,
        Arrangement::Rings(options) => plain(rings::rings(ground, options, watch)?),
        Arrangement::Scatter(options) => {
            let wanted = |(&radius, parts): (&f64, &Vec<usize>)| scatter::ScatterSize {
                radius,
                share: parts.iter().map(|&p| zone.mix[p].share).sum(),
            };
            let wanted: Vec<_> = sizes.radii.iter().zip(&sizes.parts).map(wanted).collect();
            let walls = ground.walls(0.0);
            let laid = scatter::scatter(
                &zone.region,
                &walls,
                &wanted,
                options.ring_holes,
                zone.seed,
                watch,
            )?;
            plain(laid.seats)
        }
    })
}

/// Lays one zone with the piece's changes by hand that are its `own`: its stones, what is still
/// bare, and what is worth knowing.
pub(crate) fn lay_zone(
    piece: &Piece,
    zone_idx: usize,
    own: &[usize],
    watch: &dyn Watch,
) -> Result<(Vec<Stone>, ZoneLay, Vec<Finding>), Stopped> {
    let zone = &piece.zones[zone_idx];
    let sizes = Sizes::new(zone, &piece.kinds);
    let arranged = arrange(piece, zone_idx, watch)?;
    let kinds = colour::kinds(
        &arranged.seats,
        zone.colouring,
        &zone.mix,
        &sizes.parts,
        &sizes.radii,
        zone.seed ^ COLOUR_SALT,
    );
    let stone = |(s, kind): (&Seat, u32)| Stone {
        place: Place::on_plane(s.centre),
        kind,
        zone: zone_idx as u32,
        row: s.row,
        by_hand: false,
    };
    let mut stones: Vec<Stone> = arranged.seats.iter().zip(kinds).map(stone).collect();
    let mut found = findings::of_arrangement(piece, zone, &stones, arranged.left_over);
    let arranged_any = !stones.is_empty();
    let changed = changes::of_arrangement(piece, zone_idx, own, &mut stones);
    let n_mixed = stones.len();
    if watch.stopped() {
        return Err(Stopped);
    }
    fillers::add(piece, zone, zone_idx, &changed.cleared, &mut stones);
    let n_added = stones.len() - n_mixed;
    let changed = changes::of_fillers(piece, zone_idx, changed, n_added, &mut stones);
    if watch.stopped() {
        return Err(Stopped);
    }
    let n_fillers = stones.len() - n_mixed;
    let lay = ZoneLay { n_fillers, ..measure(piece, zone, &stones, arranged.note) };
    if arranged_any {
        found.extend(findings::of_bareness(piece, zone, &lay));
    } else if n_mixed == 0 {
        found.push(findings::zone_empty(piece, zone));
    }
    found.extend(changed);
    found.extend(findings::unsound(piece, zone, &stones));
    Ok((stones, lay, found))
}

/// Keeps the draws of a colouring apart from those of its arrangement.
const COLOUR_SALT: u64 = 0x0c01_0a21;

/// What the zone's stones cover and leave bare.
fn measure(piece: &Piece, zone: &Zone, stones: &[Stone], note: Option<String>) -> ZoneLay {
    let edges = Walls::new(&zone.region, |_| 0.0);
    ZoneLay {
        n_rows: stones.iter().map(|s| s.row).max().unwrap_or(0),
        n_fillers: 0,
        coverage: stone_area(piece, stones) / zone.region.area(),
        bare_spots: bare_spots(piece, &zone.region, stones),
        bare_edge: bare_edge::share(piece, zone, &edges, &drawn_discs(piece, stones)),
        note,
    }
}

/// Area of stones as drawn, mm².
pub(crate) fn stone_area(piece: &Piece, stones: &[Stone]) -> f64 {
    // From 0: the sum of nothing is −0.
    stones.iter().fold(0.0, |sum, s| {
        let drawn = piece.kinds[s.kind as usize].reach_mm;
        sum + std::f64::consts::FRAC_PI_4 * drawn * drawn
    })
}

/// The largest bare spots that `stones` leave in a region, largest first.
pub(crate) fn bare_spots(piece: &Piece, region: &Region, stones: &[Stone]) -> Vec<BareSpot> {
    let discs = drawn_discs(piece, stones);
    let edges = Walls::new(region, |_| 0.0);
    let spot = |c: &spots::EmptyCircle| BareSpot {
        place: Place::on_plane(c.centre),
        diameter_mm: rounded(2.0 * c.radius),
        takes: fillers::largest_that_goes_in(piece, region, stones, &discs, c.centre),
    };
    let mut found: Vec<BareSpot> =
        spots::largest(&edges, &discs, BARE_SPOTS).iter().map(spot).collect();
    // The search takes radii for equal that rounding may tell apart.
    found.sort_by(|a, b| b.diameter_mm.total_cmp(&a.diameter_mm));
    found
}

fn drawn_discs(piece: &Piece, stones: &[Stone]) -> DiscGrid {
    let disc = |s: &Stone| {
        let radius = piece.kinds[s.kind as usize].reach_mm / 2.0;
        Disc { centre: s.place.point(), radius }
    };
    DiscGrid::new(stones.iter().map(disc).collect())
}
