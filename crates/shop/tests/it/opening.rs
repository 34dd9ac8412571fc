//! What opening refuses, and that many may use one shop.

use crate::support::{badges, badges_at_the_bench, line, opening, press, shop};
use shop::{Moved, NewPress, Pressed, Shop, ShopError};
use std::fs;
use std::path::Path;

fn refusal(path: &Path) -> ShopError {
    let clock = crate::support::SetClock::new();
    match Shop::open(path, opening(&clock)) {
        Ok(_) => panic!("{} was opened", path.display()),
        Err(error) => error,
    }
}

#[test]
fn a_shop_can_be_shared_between_threads() {
    fn shared<T: Send + Sync>(_: &T) {}
    let kept = shop();
    shared(&kept.shop);
    let setting = badges_at_the_bench(&kept.shop, &badges(&kept.shop), "s").id;
    std::thread::scope(|scope| {
        for t in 0..8 {
            let shop = &kept.shop;
            scope.spawn(move || {
                for i in 0..20 {
                    let entries = vec![line(&format!("e{t}-{i}"), Moved::Used, 1)];
                    let new = press(&format!("p{t}-{i}"), Pressed::RowDone);
                    shop.press(setting, &NewPress { entries, ..new }).unwrap();
                    let written = shop.presses(setting, None).unwrap();
                    assert!(written.iter().any(|p| p.nonce == format!("p{t}-{i}")));
                }
            });
        }
    });
    assert_eq!(kept.shop.presses(setting, None).unwrap().len(), 160);
    assert_eq!(kept.shop.stock(false).unwrap()[0].on_hand, -160);
}

#[test]
fn it_is_kept_as_promised() {
    let kept = shop();
    let raw = kept.raw();
    let mode: String = raw.pragma_query_value(None, "journal_mode", |row| row.get(0)).unwrap();
    let version: i64 = raw.pragma_query_value(None, "user_version", |row| row.get(0)).unwrap();
    assert_eq!((mode.as_str(), version), ("wal", 1));
    drop(raw);
    let path = kept.shop.path().to_owned();
    drop(kept.shop);
    let bytes = fs::read(&path).unwrap();
    assert_eq!(bytes[68..72], *b"stly", "where SQLite keeps whose file it is");
    assert!(!path.with_extension("db-wal").exists(), "the log is emptied at the end");
}

#[test]
fn a_second_opener_is_refused_and_told_of_the_first() {
    let kept = shop();
    let first = refusal(kept.shop.path());
    assert!(first.to_string().ends_with(&format!("process {}", std::process::id())), "{first}");
    kept.shop.set_address("http://127.0.0.1:7171").unwrap();
    match refusal(kept.shop.path()) {
        ShopError::Locked { holder: Some(holder), .. } => {
            assert_eq!(holder.pid, std::process::id());
            assert_eq!(holder.address, "http://127.0.0.1:7171");
            assert_eq!(holder.since_ms, crate::support::EVENING_MS);
        }
        other => panic!("{other:?}"),
    }
    kept.opened_anew(); // and it is free again afterwards
}

#[test]
fn a_folder_that_is_missing_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let error = refusal(&folder.path().join("nowhere/shop.db"));
    assert!(matches!(error, ShopError::FolderMissing { .. }), "{error:?}");
    assert!(error.to_string().contains("nowhere"), "{error}");
}

#[test]
fn a_newer_database_is_refused_and_not_touched() {
    let kept = shop();
    kept.raw().pragma_update(None, "user_version", 7).unwrap();
    let path = kept.shop.path().to_owned();
    drop(kept.shop);
    let before = fs::read(&path).unwrap();
    let error = refusal(&path);
    assert!(matches!(error, ShopError::Newer { found: 7, known: 1, .. }), "{error:?}");
    assert_eq!(fs::read(&path).unwrap(), before);
}

#[test]
fn another_programs_database_is_refused_and_not_touched() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("songs.db");
    let raw = rusqlite::Connection::open(&path).unwrap();
    raw.execute("CREATE TABLE song (name TEXT)", []).unwrap();
    drop(raw);
    let before = fs::read(&path).unwrap();
    let error = refusal(&path);
    assert!(matches!(error, ShopError::NotOurs { .. }), "{error:?}");
    assert_eq!(fs::read(&path).unwrap(), before);
}

#[test]
fn what_is_no_database_is_refused_and_left() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shop.db");
    for text in ["name = \"lantern festival\"\n".repeat(200), "SQLite format 3\0".repeat(64)] {
        fs::write(&path, &text).unwrap();
        let error = refusal(&path);
        assert!(matches!(error, ShopError::Damaged { .. }), "{error:?}");
        assert!(error.hint().contains("restore a backup"));
        assert_eq!(fs::read(&path).unwrap(), text.as_bytes());
    }
}

#[test]
fn a_damaged_database_is_refused_wherever_the_damage_is() {
    let kept = shop();
    let order = badges(&kept.shop);
    for i in 0..200 {
        kept.shop.write(&[line(&format!("n{i}"), Moved::Received, 1)]).unwrap();
    }
    kept.shop.add_outline(order.document.id, "star.svg", &[7; 9000]).unwrap();
    let path = kept.shop.path().to_owned();
    drop(kept.shop);
    let sound = fs::read(&path).unwrap();
    let page = usize::from(u16::from_be_bytes([sound[16], sound[17]]));
    let pages = sound.len() / page;
    let mut refused = 0;
    for n in 0..pages {
        let mut spoilt = sound.clone();
        spoilt[n * page..][..page.min(200)].fill(0xA5);
        fs::write(&path, &spoilt).unwrap();
        let clock = crate::support::SetClock::new();
        match Shop::open(&path, opening(&clock)) {
            Ok(_) => {} // the middle of a blob: any bytes are sound there
            Err(ShopError::Damaged { .. } | ShopError::NotOurs { .. }) => {
                refused += 1;
                assert_eq!(fs::read(&path).unwrap(), spoilt, "page {n}");
            }
            Err(other) => panic!("page {n}: {other:?}"),
        }
    }
    assert!(pages > 20 && refused >= pages - 3, "{refused} of {pages}");
    fs::write(&path, &sound[..sound.len() / 2]).unwrap();
    assert!(matches!(refusal(&path), ShopError::Damaged { .. }));
}
