//! The desk over a shop of its own for each test.

mod shelf;

use desk::Desk;
use jiff::tz::TimeZone;
use shop::{Opening, Shop, SystemClock};
use std::sync::Arc;
use tempfile::TempDir;

/// A desk over an empty shop, which goes with the folder.
pub(crate) fn desk_over() -> (Arc<Desk>, TempDir) {
    let folder = tempfile::tempdir().unwrap();
    (desk_in(&folder), folder)
}

/// A desk over the shop of a folder.
pub(crate) fn desk_in(folder: &TempDir) -> Arc<Desk> {
    let shop = Shop::open(&folder.path().join("shop.db"), Opening::default()).unwrap();
    Arc::new(Desk::new(Arc::new(shop), Arc::new(SystemClock), TimeZone::UTC).unwrap())
}
