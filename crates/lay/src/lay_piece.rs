//! From a piece to its stones.

use crate::zone_lay::lay_zone;
use crate::{Piece, PieceLay, Stopped, Watch, findings};
use rayon::prelude::*;

/// Lays every zone of `piece`.
///
/// Zones are independent and laid side by side; the result is the same on any number of threads.
pub fn lay_piece(piece: &Piece, watch: &dyn Watch) -> Result<PieceLay, Stopped> {
    let each: Result<Vec<_>, Stopped> =
        (0..piece.zones.len()).into_par_iter().map(|i| lay_zone(piece, i, watch)).collect();
    let mut lay = PieceLay { chart: piece.chart, stones: vec![], zones: vec![], findings: vec![] };
    for (stones, zone, found) in each? {
        lay.stones.extend(stones);
        lay.zones.push(zone);
        lay.findings.extend(found);
    }
    lay.findings.extend(findings::zones_too_close(piece, &lay.stones));
    Ok(lay)
}
