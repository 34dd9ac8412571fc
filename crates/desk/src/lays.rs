//! Lays kept in memory: what was laid once is not laid again while there is room.

use app::laying::LaidPiece;
use app::order::OrderPiece;
use lay::{Stopped, Watch};
use sha2::{Digest, Sha256};
use std::collections::VecDeque;
use std::fmt::Write;
use std::sync::{Arc, Mutex, PoisonError};

/// So many stones are kept, over all lays: some 40 MB.
const MOST_STONES: usize = 400_000;
/// So many lays are kept.
const MOST_LAYS: usize = 400;

/// Lays by what they depend on; the one used longest ago goes first.
#[derive(Default)]
pub(crate) struct Lays(Mutex<Kept>);

#[derive(Default)]
struct Kept {
    stones: usize,
    /// Used longest ago first.
    lays: VecDeque<(Key, Arc<LaidPiece>)>,
}

type Key = [u8; 32];

impl Lays {
    /// The lay of `asked`: as kept, or laid now.
    ///
    /// # Errors
    /// The watcher stopped it.
    pub(crate) fn lay(
        &self,
        asked: &OrderPiece,
        watch: &dyn Watch,
    ) -> Result<Arc<LaidPiece>, Stopped> {
        let key = key(asked);
        if let Some(kept) = self.kept(&key) {
            return Ok(kept);
        }
        let mut lay = lay::lay_piece(&asked.piece, watch)?;
        lay.findings.splice(0..0, asked.findings.iter().cloned());
        if watch.stopped() {
            return Err(Stopped);
        }
        let laid = Arc::new(LaidPiece { asked: asked.clone(), lay });
        self.keep(key, &laid);
        Ok(laid)
    }

    /// Whether the lay of `asked` is there already.
    pub(crate) fn has(&self, asked: &OrderPiece) -> bool {
        self.kept(&key(asked)).is_some()
    }

    fn kept(&self, key: &Key) -> Option<Arc<LaidPiece>> {
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let at = kept.lays.iter().position(|(k, _)| k == key)?;
        let entry = kept.lays.remove(at)?;
        let laid = Arc::clone(&entry.1);
        kept.lays.push_back(entry);
        Some(laid)
    }

    fn keep(&self, key: Key, laid: &Arc<LaidPiece>) {
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if kept.lays.iter().any(|(k, _)| *k == key) {
            return;
        }
        kept.stones += laid.lay.stones.len();
        kept.lays.push_back((key, Arc::clone(laid)));
        while kept.lays.len() > 1 && (kept.stones > MOST_STONES || kept.lays.len() > MOST_LAYS) {
            let Some((_, gone)) = kept.lays.pop_front() else { break };
            kept.stones -= gone.lay.stones.len();
        }
    }
}

/// What a lay depends on, in short. `Debug` prints every field, and floats so that they read back.
fn key(asked: &OrderPiece) -> Key {
    struct Hashing(Sha256);
    impl Write for Hashing {
        fn write_str(&mut self, text: &str) -> std::fmt::Result {
            self.0.update(text.as_bytes());
            Ok(())
        }
    }
    let mut hashing = Hashing(Sha256::new());
    // Hashing never fails.
    let _ = write!(hashing, "{asked:?}");
    hashing.0.finalize().into()
}
