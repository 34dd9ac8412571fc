//! Backups while in use, and back.

use crate::support::{badges, change, integrity, line, opening, shop};
use shop::{Moved, Shop, ShopError};
use std::fs;
use std::sync::atomic::{AtomicBool, Ordering::SeqCst};

#[test]
fn a_backup_made_while_lines_are_written_is_whole() {
    let kept = shop();
    badges(&kept.shop);
    let done = AtomicBool::new(false);
    std::thread::scope(|scope| {
        scope.spawn(|| {
            let mut n = 0;
            while !done.load(SeqCst) {
                let lines = [0, 1, 2].map(|i| line(&format!("n{n}-{i}"), Moved::Received, 1));
                kept.shop.write(&lines).unwrap();
                n += 1;
            }
        });
        let backups =
            [0, 1, 2, 3, 4].map(|i| kept.shop.backup(&kept.file(&format!("{i}.db")), false));
        done.store(true, SeqCst);
        backups.into_iter().for_each(|backup| backup.unwrap());
    });
    let mut last = -1;
    for i in 0..5 {
        let path = kept.file(&format!("{i}.db"));
        assert_eq!(integrity(&path), "ok");
        let backup = Shop::open(&path, opening(&kept.clock)).unwrap();
        assert_eq!(backup.check().unwrap(), []);
        let n = backup.stock(true).unwrap().first().map_or(0, |s| s.on_hand);
        assert!(n % 3 == 0 && n >= last, "{n} after {last}");
        last = n;
    }
    assert!(last > 0);
}

#[test]
fn a_backup_overwrites_nothing_unasked() {
    let kept = shop();
    let to = kept.file("backup.db");
    fs::write(&to, "mine").unwrap();
    assert!(matches!(kept.shop.backup(&to, false), Err(ShopError::Exists { .. })));
    assert_eq!(fs::read(&to).unwrap(), b"mine");
    kept.shop.backup(&to, true).unwrap();
    assert_eq!(integrity(&to), "ok");
    let itself = kept.shop.backup(kept.shop.path(), true);
    assert!(matches!(itself, Err(ShopError::Exists { .. })), "{itself:?}");
    let nowhere = kept.shop.backup(&kept.file("nowhere/backup.db"), false);
    assert!(matches!(nowhere, Err(ShopError::FolderMissing { .. })), "{nowhere:?}");
    let left: Vec<_> = fs::read_dir(kept.folder.path())
        .unwrap()
        .map(|e| e.unwrap().file_name().into_string().unwrap())
        .filter(|name| name.starts_with(".stonelay"))
        .collect();
    assert!(left.is_empty(), "{left:?}");
}

#[test]
fn a_restore_puts_the_backup_in_place_and_keeps_what_was_there() {
    let kept = shop();
    let order = badges(&kept.shop);
    let backup = kept.file("backup.db");
    kept.shop.backup(&backup, false).unwrap();
    let id = order.document.id;
    kept.shop.revise(id, order.revision.id, &change("later", "2", "later")).unwrap();
    let path = kept.shop.path().to_owned();
    let opening = opening(&kept.clock);
    let busy = Shop::restore(&backup, &path, &opening);
    assert!(matches!(busy, Err(ShopError::Locked { .. })), "{busy:?}");
    assert_eq!(kept.shop.head(id).unwrap().document.name, "later");
    drop(kept.shop);

    for ending in ["", "-2"] {
        let restored = Shop::restore(&backup, &path, &opening).unwrap();
        let aside = restored.replaced.unwrap();
        let name = aside.file_name().unwrap().to_str().unwrap();
        assert_eq!(name, format!("shop-replaced-2026-09-30-171500{ending}.db"));
        assert_eq!(integrity(&aside), "ok");
        let was = if ending.is_empty() { "later" } else { "lantern festival" };
        let aside = Shop::open(&aside, opening.clone()).unwrap();
        assert_eq!(aside.head(id).unwrap().document.name, was);
    }
    let shop = Shop::open(&path, opening).unwrap();
    assert_eq!(shop.head(id).unwrap(), order);
    assert!(backup.is_file());
}

#[test]
fn a_restore_refuses_what_is_not_a_sound_backup_and_changes_nothing() {
    let kept = shop();
    badges(&kept.shop);
    for i in 0..200 {
        kept.shop.write(&[line(&format!("n{i}"), Moved::Received, 1)]).unwrap();
    }
    let backup = kept.file("backup.db");
    kept.shop.backup(&backup, false).unwrap();
    let path = kept.shop.path().to_owned();
    drop(kept.shop);
    let before = fs::read(&path).unwrap();
    let refused = |bytes: &[u8]| {
        let bad = kept.folder.path().join("bad.db");
        fs::write(&bad, bytes).unwrap();
        let error = Shop::restore(&bad, &path, &opening(&kept.clock)).unwrap_err();
        assert_eq!(fs::read(&path).unwrap(), before);
        assert!(error.to_string().contains("bad.db"), "names the backup: {error}");
        error
    };
    let sound = fs::read(&backup).unwrap();
    assert!(matches!(refused(b""), ShopError::Damaged { .. }));
    assert!(matches!(refused(b"no database at all"), ShopError::Damaged { .. }));
    assert!(matches!(refused(&sound[..sound.len() / 2]), ShopError::Damaged { .. }));
    let mut spoilt = sound.clone();
    spoilt[4096 * 20..][..4096].fill(0xA5);
    assert!(matches!(refused(&spoilt), ShopError::Damaged { .. }));
    let mut newer = sound.clone();
    newer[60..64].copy_from_slice(&9u32.to_be_bytes());
    assert!(matches!(refused(&newer), ShopError::Newer { found: 9, .. }));
    let mut strange = sound;
    strange[68..72].copy_from_slice(b"song");
    assert!(matches!(refused(&strange), ShopError::NotOurs { .. }));
    let missing = Shop::restore(&kept.folder.path().join("x.db"), &path, &opening(&kept.clock));
    assert!(matches!(missing, Err(ShopError::FileMissing { .. })), "{missing:?}");
}

#[test]
fn a_damaged_database_is_set_aside_by_a_restore() {
    let kept = shop();
    let order = badges(&kept.shop);
    let backup = kept.file("backup.db");
    kept.shop.backup(&backup, false).unwrap();
    let path = kept.shop.path().to_owned();
    drop(kept.shop);
    fs::write(&path, "damaged").unwrap();
    let log = kept.folder.path().join("shop.db-wal");
    fs::write(&log, "its log").unwrap();
    let restored = Shop::restore(&backup, &path, &opening(&kept.clock)).unwrap();
    let aside = restored.replaced.unwrap();
    assert_eq!(fs::read(&aside).unwrap(), b"damaged");
    let shop = Shop::open(&path, opening(&kept.clock)).unwrap();
    assert_eq!(shop.head(order.document.id).unwrap(), order);
}
