//! A shop in a folder of its own, clocks that can be set, and this program started once more.

use shop::{
    Change, Clock, Head, Moved, NewEntry, NewPress, NewSetting, Opening, Pressed, Setting, Shop,
    Sort,
};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering::SeqCst};
use tempfile::TempDir;

/// Clocks that stand still until they are moved.
pub(crate) struct SetClock {
    wall_ms: AtomicI64,
    monotonic_ms: AtomicI64,
}

/// 30 September 2026, 17:15 UTC.
pub(crate) const EVENING_MS: i64 = 1_790_788_500_000;

impl SetClock {
    pub(crate) fn new() -> Arc<Self> {
        Arc::new(Self { wall_ms: AtomicI64::new(EVENING_MS), monotonic_ms: AtomicI64::new(0) })
    }

    /// Both clocks go on.
    pub(crate) fn pass(&self, ms: i64) {
        self.wall_ms.fetch_add(ms, SeqCst);
        self.monotonic_ms.fetch_add(ms, SeqCst);
    }

    /// Somebody sets the clock on the wall.
    pub(crate) fn set_wall(&self, ms: i64) {
        self.wall_ms.store(ms, SeqCst);
    }
}

impl Clock for SetClock {
    fn wall_ms(&self) -> i64 {
        self.wall_ms.load(SeqCst)
    }

    fn monotonic_ms(&self) -> i64 {
        self.monotonic_ms.load(SeqCst)
    }
}

/// A shop with clocks that can be set, and the folder it goes with.
pub(crate) struct Kept {
    pub(crate) folder: TempDir,
    pub(crate) shop: Shop,
    pub(crate) clock: Arc<SetClock>,
}

pub(crate) fn opening(clock: &Arc<SetClock>) -> Opening {
    Opening { clock: Arc::clone(clock) as Arc<dyn Clock>, ..Opening::default() }
}

/// A new shop.
pub(crate) fn shop() -> Kept {
    let folder = tempfile::tempdir().unwrap();
    let clock = SetClock::new();
    let shop = Shop::open(&folder.path().join("shop.db"), opening(&clock)).unwrap();
    Kept { folder, shop, clock }
}

impl Kept {
    pub(crate) fn file(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// Closed and opened once more.
    pub(crate) fn opened_anew(self) -> Self {
        let Self { folder, shop, clock } = self;
        drop(shop);
        let shop = Shop::open(&folder.path().join("shop.db"), opening(&clock)).unwrap();
        Self { folder, shop, clock }
    }

    /// The database, past the shop.
    pub(crate) fn raw(&self) -> rusqlite::Connection {
        rusqlite::Connection::open(self.shop.path()).unwrap()
    }
}

/// A change to a text of that name.
pub(crate) fn change<'a>(name: &'a str, text: &'a str, what: &'a str) -> Change<'a> {
    Change { text, name, what, ..Change::default() }
}

/// An order of badges.
pub(crate) fn badges(shop: &Shop) -> Head {
    let text = "name = \"lantern festival\"\n";
    shop.create(Sort::Order, &change("lantern festival", text, "taken"), false).unwrap()
}

/// Eighteen badges at the bench.
pub(crate) fn badges_at_the_bench(shop: &Shop, order: &Head, nonce: &str) -> Setting {
    shop.begin_setting(&NewSetting {
        nonce: nonce.to_owned(),
        document: order.document.id,
        revision: order.revision.id,
        piece_index: 0,
        piece: "badge".to_owned(),
        first_copy: 1,
        last_copy: 18,
        lay_hash: "c0ffee".to_owned(),
        engine: "stonelay 0.1.0".to_owned(),
        frozen: b"lay".to_vec(),
        lots: vec![("amber".to_owned(), "L7".to_owned())],
    })
    .unwrap()
}

/// A line about amber of lot L7.
pub(crate) fn line(nonce: &str, what: Moved, stones: i64) -> NewEntry {
    NewEntry {
        nonce: nonce.to_owned(),
        what,
        stone: "amber".to_owned(),
        lot: "L7".to_owned(),
        stones,
        unit_price: None,
        supplier: None,
        order: None,
        piece: None,
        who: "the maker".to_owned(),
        why: String::new(),
    }
}

/// A press on the first copy.
pub(crate) fn press(nonce: &str, what: Pressed) -> NewPress {
    NewPress {
        nonce: nonce.to_owned(),
        device: "tablet".to_owned(),
        copy: 1,
        stretch: Some(0),
        row: Some(0),
        what,
        kind: None,
        place_no: None,
        stones: None,
        grams: None,
        text: None,
        entries: Vec::new(),
    }
}

/// `PRAGMA integrity_check` of a file.
pub(crate) fn integrity(path: &Path) -> String {
    let raw = rusqlite::Connection::open(path).unwrap();
    raw.query_row("PRAGMA integrity_check", [], |row| row.get(0)).unwrap()
}

const PART: &str = "SHOP_TEST_PART";
const FILE: &str = "SHOP_TEST_FILE";

/// What this program is to do, if a test has started it once more.
pub(crate) fn part() -> Option<(String, PathBuf)> {
    Some((std::env::var(PART).ok()?, std::env::var_os(FILE)?.into()))
}

/// This program once more, in a process of its own, to play `part` of the test `test` on `file`.
/// A test that does this asks [`part`] first.
pub(crate) fn once_more(program: &Path, test: &str, part: &str, file: &Path) -> Command {
    let mut command = Command::new(program);
    command
        .args(["--exact", test, "--nocapture", "--test-threads", "1"])
        .env(PART, part)
        .env(FILE, file)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped());
    command
}

pub(crate) fn this_program() -> PathBuf {
    std::env::current_exe().unwrap()
}
