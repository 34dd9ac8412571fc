//! Setting by the desk: frozen lays, copies, rates that reach the plan.

use desk::bench::{Act, BeginAsked, PressAsked};
use desk::{Bundle, Desk, DeskError, Opened};
use jiff::tz::TimeZone;
use lay::Unwatched;
use shop::{Clock, Opening, SettingId, Shop};
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};

const ORDER: &str = r##"
stonelay = 1
order = "Lantern badges"

[[kind]]
name = "sea glass"
size = "SS16"
colour = "#2a9d8f"

[[adhesive]]
name = "clear gel"
sort = "solvent gel"
open = "10 min"

[[piece]]
name = "badge"
quantity = 4
margin = "0.5 mm"
blank = { shape = "rectangle", width = "40 mm", height = "24 mm" }
adhesive = "clear gel"
arrangement = "square"
mix = "sea glass"
"##;

/// A clock that a test moves.
struct Hands(AtomicI64);

impl Clock for Hands {
    fn wall_ms(&self) -> i64 {
        1_780_000_000_000 + self.0.load(Ordering::SeqCst)
    }
    fn monotonic_ms(&self) -> i64 {
        self.0.load(Ordering::SeqCst)
    }
}

struct Bench {
    desk: Desk,
    hands: Arc<Hands>,
}

fn bench(path: &Path) -> Bench {
    let hands = Arc::new(Hands(AtomicI64::new(0)));
    let clock: Arc<dyn Clock> = hands.clone();
    let opening = Opening { clock: Arc::clone(&clock), ..Opening::default() };
    let shop = Arc::new(Shop::open(path, opening).unwrap());
    Bench { desk: Desk::new(shop, clock, TimeZone::UTC).unwrap(), hands }
}

impl Bench {
    fn order(&self) -> Opened {
        self.desk.import(&Bundle { text: ORDER.to_owned(), files: vec![] }).unwrap()
    }

    fn begin(
        &self,
        opened: &Opened,
        nonce: &str,
        copies: (u32, u32),
    ) -> Result<SettingId, DeskError> {
        let asked = BeginAsked {
            nonce: nonce.to_owned(),
            number: 1,
            first: Some(copies.0),
            last: Some(copies.1),
            lots: vec![],
        };
        let begun = self.desk.begin_setting_now(opened.document.id, opened.revision.id, &asked);
        begun.map(|s| s.id)
    }

    /// Presses what is next, `after_ms` after the press before.
    fn tap(&self, setting: SettingId, act: Act, after_ms: i64) -> PressAsked {
        self.hands.0.fetch_add(after_ms, Ordering::SeqCst);
        let at = self.desk.at_bench(setting).unwrap();
        let nonce = format!("{setting}-{}", at.course.presses());
        let asked = at.press(act, &nonce);
        self.desk.press(setting, &asked).unwrap();
        asked
    }
}

#[test]
fn what_is_frozen_stays_when_the_order_changes() {
    let dir = tempfile::tempdir().unwrap();
    let b = bench(&dir.path().join("shop.db"));
    let opened = b.order();
    let setting = b.begin(&opened, "a", (1, 2)).unwrap();
    let before = b.desk.at_bench(setting).unwrap().frozen;
    let text = ORDER.replace("\"square\"", "\"honeycomb\"");
    let changed = b.desk.replace(opened.document.id, opened.revision.id, &text).unwrap();
    assert_eq!(b.desk.at_bench(setting).unwrap().frozen, before);
    assert!(
        matches!(b.begin(&opened, "b", (3, 3)), Err(DeskError::Meanwhile { .. })),
        "an old page"
    );
    let next = b.begin(&changed, "c", (3, 4)).unwrap();
    assert_ne!(b.desk.at_bench(next).unwrap().frozen.hash, before.hash);
    let rows: usize = before.stretches.iter().flat_map(|s| &s.rows).map(|r| r.places.len()).sum();
    assert_eq!(rows, before.stones.kind.len(), "every stone is in one row");
}

#[test]
fn the_same_form_twice_begins_once() {
    let dir = tempfile::tempdir().unwrap();
    let b = bench(&dir.path().join("shop.db"));
    let opened = b.order();
    let setting = b.begin(&opened, "a", (1, 2)).unwrap();
    assert_eq!(b.begin(&opened, "a", (1, 2)).unwrap(), setting);
    assert!(matches!(b.begin(&opened, "b", (2, 3)), Err(DeskError::Unfit { .. })));
    assert_eq!(b.desk.shop().settings(opened.document.id).unwrap().len(), 1);
}

#[test]
fn a_pace_kept_at_the_bench_is_the_pace_of_the_next_plan() {
    let dir = tempfile::tempdir().unwrap();
    let b = bench(&dir.path().join("shop.db"));
    let opened = b.order();
    let before = b.desk.plan(&opened, &Unwatched).unwrap().hours.paces[0].usual_per_h;
    let setting = b.begin(&opened, "a", (1, 1)).unwrap();
    let frozen = b.desk.at_bench(setting).unwrap().frozen;
    for stretch in &frozen.stretches {
        b.tap(setting, Act::Glue, 60_000);
        for row in &stretch.rows {
            // Six seconds a stone: 600 an hour.
            b.tap(setting, Act::Done, 6_000 * row.places.len() as i64);
        }
    }
    let rates = b.desk.rates().unwrap();
    assert!((rates.pace[0].mean_s - 6.0).abs() < 1e-9);
    assert_eq!(rates.left_out, desk::rates::LeftOut::default());
    let after = b.desk.plan(&opened, &Unwatched).unwrap().hours.paces[0].usual_per_h;
    // The usual pace counts as 1,000 stones beside those that were set.
    let n = frozen.stones.kind.len() as f64;
    let wanted = (1000.0 + n) / (1000.0 / before + n / 600.0);
    assert!((after - wanted).abs() < 1e-6 * wanted, "{before} became {after}, wanted {wanted}");
}

#[test]
fn the_demo_order_is_there_to_play_with_and_counts_for_nothing() {
    let dir = tempfile::tempdir().unwrap();
    let b = bench(&dir.path().join("shop.db"));
    let demo = b.desk.show_demo().unwrap();
    let setting = b.begin(&demo, "a", (1, 1)).unwrap();
    b.tap(setting, Act::Glue, 1_000);
    b.tap(setting, Act::Done, 60_000);
    assert!(b.desk.rates().unwrap().pace.is_empty());
    b.desk.remove_demo().unwrap();
    assert!(b.desk.rates().unwrap().loss.is_empty());
}
