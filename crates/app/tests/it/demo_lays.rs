//! The demonstration order, laid.

use crate::demo_files;
use app::order::open;
use lay::{Severity, Unwatched, lay_piece};

/// Quick to lay, and every piece comes out with stones and without a serious finding.
#[test]
fn every_piece_of_the_demonstration_can_be_laid() {
    let (name, text) = app::demo::FILES[0];
    let order = open(name, text.as_bytes(), &demo_files()).unwrap();
    let mut total = 0;
    for piece in &order.pieces {
        let laid = lay_piece(&piece.piece, &Unwatched).unwrap();
        for (i, zone) in piece.piece.zones.iter().enumerate() {
            let stones = laid.stones.iter().filter(|s| s.zone as usize == i).count();
            assert!(stones >= 50, "{} › {}: {stones}", piece.piece.name, zone.name);
        }
        let serious: Vec<_> =
            laid.findings.iter().filter(|f| f.severity == Severity::Serious).collect();
        assert!(serious.is_empty(), "{}: {serious:?}", piece.piece.name);
        total += laid.stones.len();
    }
    assert!((1_500..12_000).contains(&total), "{total} stones");
}
