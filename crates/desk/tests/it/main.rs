//! The desk over a shop of its own for each test.

#![expect(clippy::unwrap_used, reason = "a helper of tests may fail the test")]

mod approval;
mod bench;
mod buying;
mod by_hand;
mod compare;
mod shelf;
mod tries;

use desk::{Bundle, Desk, Opened};
use jiff::tz::TimeZone;
use shop::{Clock, Opening, Shop};
use std::sync::Arc;

/// Always the same moment: the first of December 2026 at noon.
struct Still;

impl Clock for Still {
    fn wall_ms(&self) -> i64 {
        1_796_126_400_000
    }

    fn monotonic_ms(&self) -> i64 {
        0
    }
}

/// A desk over a shop of its own; everything goes when it is dropped.
pub(crate) struct Room {
    pub(crate) desk: Arc<Desk>,
    _folder: tempfile::TempDir,
}

impl Room {
    pub(crate) fn new() -> Room {
        let folder = tempfile::tempdir().unwrap();
        let opening = Opening { clock: Arc::new(Still), ..Opening::default() };
        let shop = Shop::open(&folder.path().join("shop.db"), opening).unwrap();
        let desk = Desk::new(Arc::new(shop), Arc::new(Still), TimeZone::UTC).unwrap();
        Room { desk: Arc::new(desk), _folder: folder }
    }

    /// An order of two pieces, with everything that a plan needs.
    pub(crate) fn order(&self) -> Opened {
        let bundle = Bundle { text: BADGES.to_owned(), files: vec![] };
        self.desk.import(&bundle).unwrap()
    }
}

/// Badges for the marshals of a lantern festival, and one plate.
pub(crate) const BADGES: &str = include_str!("../badges.toml");

/// A desk over an empty shop, which goes with the folder.
pub(crate) fn desk_over() -> (Arc<Desk>, tempfile::TempDir) {
    let folder = tempfile::tempdir().unwrap();
    (desk_in(&folder), folder)
}

/// A desk over the shop of a folder.
pub(crate) fn desk_in(folder: &tempfile::TempDir) -> Arc<Desk> {
    let shop = Shop::open(&folder.path().join("shop.db"), Opening::default()).unwrap();
    Arc::new(Desk::new(Arc::new(shop), Arc::new(shop::SystemClock), TimeZone::UTC).unwrap())
}
