//! From a piece to its stones.

use crate::zone_lay;
use crate::zone_lay::lay_zone;
use crate::{Piece, PieceLay, Stopped, Watch, changes, findings};
use rayon::prelude::*;

/// Lays every zone of `piece`.
///
/// Zones are independent and laid side by side; the result is the same on any number of threads.
pub fn lay_piece(piece: &Piece, watch: &dyn Watch) -> Result<PieceLay, Stopped> {
    let changes::ByZone { of_zone: own, found } = changes::by_zone(piece);
    let each: Result<Vec<_>, Stopped> =
        own.into_par_iter().enumerate().map(|(i, own)| lay_zone(piece, i, &own, watch)).collect();
    let mut lay = PieceLay {
        chart: piece.chart,
        stones: vec![],
        zones: vec![],
        coverage: 0.0,
        bare_spots: vec![],
        findings: vec![],
    };
    for (stones, zone, findings) in each? {
        lay.stones.extend(stones);
        lay.zones.push(zone);
        lay.findings.extend(findings);
    }
    lay.coverage = zone_lay::stone_area(piece, &lay.stones) / piece.blank.area();
    lay.bare_spots = match piece.zones.as_slice() {
        // A single zone that is the whole blank was searched already.
        [zone] if zone.region == piece.blank => lay.zones[0].bare_spots.clone(),
        [] => vec![],
        _ => zone_lay::bare_spots(piece, &piece.blank, &lay.stones),
    };
    lay.findings.extend(found);
    lay.findings.extend(findings::bare_between_zones(piece, &lay));
    lay.findings.extend(findings::zones_too_close(piece, &lay.stones));
    Ok(lay)
}
