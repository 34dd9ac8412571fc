//! Databases of every version that landed.

use crate::support::{SetClock, opening, shop};
use rusqlite::Connection;
use shop::{Asked, LedgerPage, Shop};

const V1: &str = include_str!("../versions/v1.sql");

/// Every table, index and trigger, as it was made.
fn schema(raw: &Connection) -> Vec<String> {
    raw.prepare("SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL ORDER BY type, name")
        .unwrap()
        .query_map([], |row| row.get(0))
        .unwrap()
        .collect::<Result<_, _>>()
        .unwrap()
}

#[test]
fn the_first_version_opens_with_everything_in_it() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("v1.db");
    let raw = Connection::open(&path).unwrap();
    raw.execute_batch(V1).unwrap();
    drop(raw);
    let shop = Shop::open(&path, opening(&SetClock::new())).unwrap();
    let orders = shop.documents(&Asked::default()).unwrap();
    let names: Vec<&str> = orders.iter().map(|d| d.name.as_str()).collect();
    assert_eq!(names, ["lantern festival", "demo"]);
    let id = orders[0].id;
    assert_eq!(shop.head(id).unwrap().revision.number, 1);
    assert_eq!(
        shop.redo(id, shop.head(id).unwrap().revision.id).unwrap().unwrap().revision.text,
        "name = \"lantern night\"\n"
    );
    assert_eq!(shop.outlines(id).unwrap(), ["star-2.svg", "star.svg"]);
    let stock = shop.stock(true).unwrap();
    assert_eq!((stock[0].on_hand, stock[0].reserved), (1427, 88));
    assert_eq!(stock[0].unit_price.unwrap().to_string(), "0.0400");
    assert_eq!(shop.check().unwrap(), []);
    let page = LedgerPage { limit: 9, ..LedgerPage::default() };
    assert_eq!(shop.ledger(&page).unwrap().len(), 4);
    let setting = &shop.settings(id).unwrap()[0];
    assert_eq!(shop.frozen(setting.id).unwrap(), b"lay");
    assert_eq!(shop.presses(setting.id, None).unwrap()[1].since_ms, Some(40_000));
    assert_eq!(shop.repairs(id).unwrap().len(), 1);
    assert_eq!(shop.approvals(id).unwrap().len(), 2);
    assert_eq!(shop.devices().unwrap().len(), 1);
    assert_eq!(shop.preference("theme").unwrap().as_deref(), Some("dark"));
    assert!(shop.workshop().unwrap().is_some());
    shop.remove_demo(orders[1].id).unwrap();

    let fresh = crate::support::shop();
    let raw = Connection::open(&path).unwrap();
    assert_eq!(schema(&raw), schema(&fresh.raw()));
}

#[test]
fn a_fresh_database_has_what_the_files_of_all_versions_say() {
    let kept = shop();
    let (made, dumped) = (schema(&kept.raw()), {
        let raw = Connection::open_in_memory().unwrap();
        raw.execute_batch(V1).unwrap();
        schema(&raw)
    });
    assert!(made.len() > 40, "{}", made.len());
    assert_eq!(made, dumped);
}
