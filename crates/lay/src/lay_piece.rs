//! From a piece to its stones.

use crate::{Piece, PieceLay, Stopped, Watch};

/// Lays every zone of `piece`.
pub fn lay_piece(piece: &Piece, watch: &dyn Watch) -> Result<PieceLay, Stopped> {
    if watch.stopped() {
        return Err(Stopped);
    }
    Ok(PieceLay { chart: piece.chart, stones: vec![], zones: vec![], findings: vec![] })
}
