//! Laying an order: every piece, with what is worth knowing about it.

use crate::document::terms::Terms;
use crate::order::{Order, OrderPiece, ShelfKind};
use export::json::{JsonError, LayFile};
use lay::{Finding, PieceLay, Stopped, Watch};

/// Name and version of the program, as it stands in files. Hashes do not depend on it.
pub const ENGINE: &str = concat!("stonelay ", env!("CARGO_PKG_VERSION"));

/// An order with every piece laid.
#[derive(Clone, Debug)]
pub struct LaidOrder {
    /// The order's name.
    pub name: String,
    /// Its pieces, in the document's order.
    pub pieces: Vec<LaidPiece>,
    /// Every kind of the order, in the document's order.
    pub kinds: Vec<ShelfKind>,
    /// What a plan needs beside the pieces.
    pub terms: Terms,
}

/// A piece and its lay.
#[derive(Clone, Debug)]
pub struct LaidPiece {
    /// What was asked for.
    pub asked: OrderPiece,
    /// What came out. Its findings include those on the document and its outlines, first.
    pub lay: PieceLay,
}

impl LaidPiece {
    /// Stones of every kind of the piece, in the order of its kinds.
    pub fn counts(&self) -> Vec<usize> {
        let mut counts = vec![0; self.asked.piece.kinds.len()];
        self.lay.stones.iter().for_each(|s| counts[s.kind as usize] += 1);
        counts
    }

    /// The kinds it has stones of, and how many of each.
    pub fn kinds_used(&self) -> impl Iterator<Item = (&lay::Kind, u64)> {
        let counts = self.counts().into_iter().map(|n| n as u64);
        self.asked.piece.kinds.iter().zip(counts).filter(|k| k.1 > 0)
    }

    /// Index of the stone that covers a place, counted to the right and down from the top left
    /// corner of the blank's box, mm.
    pub fn stone_at(&self, right_mm: f64, down_mm: f64) -> Option<usize> {
        let corner = self.asked.piece.blank.bounds();
        self.lay.stone_at(&self.asked.piece, corner.min.x + right_mm, corner.max.y - down_mm)
    }

    /// Everything worth knowing about it.
    pub fn findings(&self) -> &[Finding] {
        &self.lay.findings
    }
}

impl LaidOrder {
    /// Stones in all pieces and copies.
    pub fn total(&self) -> usize {
        self.pieces.iter().map(|p| p.lay.stones.len() * p.asked.quantity as usize).sum()
    }

    /// Stones of every kind over all pieces and copies, by name, in the order of first use.
    pub fn by_kind(&self) -> Vec<(&lay::Kind, usize)> {
        let mut all: Vec<(&lay::Kind, usize)> = vec![];
        for p in &self.pieces {
            for (kind, n) in p.asked.piece.kinds.iter().zip(p.counts()) {
                let n = n * p.asked.quantity as usize;
                match all.iter_mut().find(|a| a.0.name == kind.name) {
                    Some(a) => a.1 += n,
                    None => all.push((kind, n)),
                }
            }
        }
        all
    }

    /// The order as the JSON file that other programs read.
    ///
    /// # Errors
    /// A number in it is not finite.
    pub fn file(&self) -> Result<LayFile, JsonError> {
        let laid: Vec<_> =
            self.pieces.iter().map(|p| (&p.asked.piece, &p.lay, p.asked.quantity)).collect();
        LayFile::new(&self.name, &laid, ENGINE)
    }
}

/// Lays every piece of `order`, one after the other; zones of a piece are laid side by side.
///
/// # Errors
/// The watcher stopped it.
pub fn lay_order(mut order: Order, watch: &dyn Watch) -> Result<LaidOrder, Stopped> {
    let asked_pieces = std::mem::take(&mut order.pieces);
    let total = asked_pieces.len();
    let mut pieces = Vec::with_capacity(total);
    for (i, asked) in asked_pieces.into_iter().enumerate() {
        watch.step(&asked.piece.name, i, total);
        let mut lay = lay::lay_piece(&asked.piece, watch)?;
        lay.findings.splice(0..0, asked.findings.iter().cloned());
        pieces.push(LaidPiece { asked, lay });
    }
    if watch.stopped() {
        return Err(Stopped);
    }
    let Order { name, kinds, terms, .. } = order;
    Ok(LaidOrder { name, pieces, kinds, terms })
}
