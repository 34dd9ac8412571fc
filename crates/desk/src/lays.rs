//! Lays kept in memory: what was laid once is not laid again while there is room.

use crate::recent::Recent;
use app::laying::LaidPiece;
use app::order::OrderPiece;
use lay::{Stopped, Watch};
use sha2::{Digest, Sha256};
use std::fmt::Write;
use std::sync::Arc;

/// So many stones are kept, over all lays: some 40 MB.
const MOST_STONES: usize = 400_000;
/// So many lays are kept.
const MOST_LAYS: usize = 400;

/// Lays by what they depend on.
pub(crate) struct Lays(Recent<Key, Arc<LaidPiece>>);

type Key = [u8; 32];

impl Default for Lays {
    fn default() -> Lays {
        Lays(Recent::new(MOST_LAYS, MOST_STONES, |laid| laid.lay.stones.len()))
    }
}

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
        let stopped = || watch.stopped().then_some(Stopped);
        self.0.get(key(asked), stopped, || {
            let mut lay = lay::lay_piece(&asked.piece, watch)?;
            lay.findings.splice(0..0, asked.findings.iter().cloned());
            if watch.stopped() {
                return Err(Stopped);
            }
            Ok(Arc::new(LaidPiece { asked: asked.clone(), lay }))
        })
    }

    /// Whether the lay of `asked` is there already.
    pub(crate) fn has(&self, asked: &OrderPiece) -> bool {
        self.0.find(&key(asked)).is_some()
    }
}

/// What a lay depends on, in short. `Debug` prints every field, and floats so that they read back.
pub(crate) fn key(asked: &OrderPiece) -> Key {
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
