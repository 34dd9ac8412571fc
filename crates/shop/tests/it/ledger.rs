//! The ledger and the stock that follows from it.

use crate::support::{badges, change, line, shop};
use rust_decimal::Decimal;
use shop::{DocumentId, LedgerPage, Moved, NewEntry, ShopError, StoneRenamed};

fn of(order: DocumentId, entry: NewEntry) -> NewEntry {
    NewEntry { order: Some(order), ..entry }
}

#[test]
fn each_line_moves_what_it_says() {
    let kept = shop();
    let shop = &kept.shop;
    let order = badges(shop).document.id;
    let priced = NewEntry {
        unit_price: Some(Decimal::new(400, 4)),
        supplier: Some("Quayside Stones".into()),
        ..line("1", Moved::Received, 1440)
    };
    let lines = [
        priced,
        of(order, line("2", Moved::Reserved, 300)),
        of(order, line("3", Moved::Used, 200)),
        of(order, line("4", Moved::Lost, 150)),
        line("5", Moved::Lost, 10),
        line("6", Moved::Counted, 1000),
        of(order, line("7", Moved::Reserved, 50)),
        of(order, line("8", Moved::Released, 20)),
    ];
    let written = shop.write(&lines).unwrap();
    let moved: Vec<[i64; 4]> = written
        .iter()
        .map(|e| [e.on_hand_change, e.reserved_change, e.on_hand_after, e.reserved_after])
        .collect();
    assert_eq!(
        moved,
        [
            [1440, 0, 1440, 0],
            [0, 300, 1440, 300],
            [-200, -200, 1240, 100],
            [-150, -100, 1090, 0], // the order held only 100 more
            [-10, 0, 1080, 0],
            [-80, 0, 1000, 0],
            [0, 50, 1000, 50],
            [0, -20, 1000, 30],
        ]
    );
    let stock = shop.stock(false).unwrap();
    assert_eq!((stock[0].on_hand, stock[0].reserved, stock[0].free()), (1000, 30, 970));
    assert_eq!(stock[0].unit_price.unwrap().to_string(), "0.0400");
    assert_eq!(shop.held(order).unwrap()[0].stones, 30);
    assert_eq!(shop.check().unwrap(), []);
    let ledger = shop.ledger(&LedgerPage { limit: 100, ..LedgerPage::default() }).unwrap();
    assert!(ledger.iter().rev().eq(written.iter()), "{ledger:?}");
    assert_eq!(ledger[2].said, lines[5]);
}

#[test]
fn the_same_nonce_again_is_the_same_line() {
    let kept = shop();
    let first = kept.shop.write(&[line("n", Moved::Received, 5)]).unwrap();
    kept.clock.pass(5000);
    let again = kept.shop.write(&[line("n", Moved::Received, 5)]).unwrap();
    assert_eq!(first, again);
    assert_eq!(kept.shop.stock(false).unwrap()[0].on_hand, 5);
    let other = kept.shop.write(&[line("n", Moved::Received, 6)]);
    assert!(matches!(other, Err(ShopError::NonceReused { .. })), "{other:?}");
    let twice = [line("m", Moved::Received, 1), line("m", Moved::Received, 1)];
    let written = kept.shop.write(&twice).unwrap();
    assert_eq!(written[0], written[1]);
    assert_eq!(kept.shop.stock(false).unwrap()[0].on_hand, 6);
}

#[test]
fn several_lines_are_written_all_or_none() {
    let kept = shop();
    let order = badges(&kept.shop).document.id;
    let lines = [line("1", Moved::Received, 5), of(order, line("2", Moved::Released, 1))];
    match kept.shop.write(&lines) {
        Err(ShopError::NotHeld { held: 0, wanted: 1, .. }) => {}
        other => panic!("{other:?}"),
    }
    assert_eq!(kept.shop.stock(true).unwrap(), []);
    assert_eq!(kept.shop.stones().unwrap(), [""; 0]);
}

#[test]
fn a_wrong_count_shows_and_a_new_one_mends_it() {
    let kept = shop();
    let used =
        kept.shop.write(&[line("1", Moved::Received, 5), line("2", Moved::Used, 8)]).unwrap();
    assert_eq!(used.iter().map(shop::Entry::short).collect::<Vec<_>>(), [false, true]);
    assert_eq!(kept.shop.stock(false).unwrap()[0].on_hand, -3);
    let counted = kept.shop.write(&[line("3", Moved::Counted, 0)]).unwrap();
    assert_eq!((counted[0].on_hand_change, counted[0].said.stones), (3, 0));
    assert_eq!(kept.shop.stock(false).unwrap(), []);
    assert_eq!(kept.shop.stock(true).unwrap().len(), 1);
}

#[test]
fn what_cannot_be_written_says_why() {
    let kept = shop();
    let refused = |entry: NewEntry| kept.shop.write(&[entry]).unwrap_err().to_string();
    assert_eq!(refused(line("1", Moved::Used, 0)), "`stones` must be 1 or more: 0");
    assert_eq!(refused(line("1", Moved::Counted, -1)), "`stones` must be 0 or more: -1");
    assert_eq!(refused(line("", Moved::Used, 1)), "`nonce` must not be empty: ");
    let price = Some(Decimal::NEGATIVE_ONE);
    let cheap = NewEntry { unit_price: price, ..line("1", Moved::Received, 1) };
    assert_eq!(refused(cheap), "`unit price` must be 0 or more: -1");
    assert!(refused(line("1", Moved::Reserved, 1)).contains("`order` is wanted"));
    assert!(refused(line("1", Moved::TakenBack, 1)).contains("by the program alone"));
    assert!(refused(line("1", Moved::Received, i64::MAX)).contains("1,000,000,000"));
    let nowhere = of(DocumentId(99), line("1", Moved::Reserved, 1));
    assert_eq!(refused(nowhere), "no such document: 99");
}

#[test]
fn a_stone_keeps_its_lines_under_another_name() {
    let kept = shop();
    let coral = NewEntry { stone: "coral".into(), ..line("2", Moved::Received, 2) };
    let written = kept.shop.write(&[line("1", Moved::Received, 5), coral]).unwrap();
    let renamed =
        |from, to| kept.shop.rename_stone(&StoneRenamed { from, to, text: None, preference: None });
    renamed("amber", "honey").unwrap();
    assert_eq!(kept.shop.stones().unwrap(), ["coral", "honey"]);
    let page = LedgerPage { stone: Some("honey"), limit: 9, ..LedgerPage::default() };
    let ledger = kept.shop.ledger(&page).unwrap();
    assert_eq!((ledger.len(), ledger[0].id), (1, written[0].id));
    assert_eq!(kept.shop.ledger(&LedgerPage { stone: Some("amber"), ..page }).unwrap(), []);
    let taken = renamed("honey", "coral");
    assert!(matches!(taken, Err(ShopError::Taken { .. })), "{taken:?}");
    assert!(matches!(renamed("x", "y"), Err(ShopError::Unknown { .. })));
    // A retry from before the new name is still the same line.
    assert_eq!(kept.shop.write(&[line("1", Moved::Received, 5)]).unwrap()[0].id, written[0].id);
}

#[test]
fn a_new_name_stands_in_ledger_text_and_preferences_or_in_none() {
    let kept = shop();
    kept.shop.write(&[line("1", Moved::Received, 5)]).unwrap();
    kept.shop.set_preference("level:amber", Some("40")).unwrap();
    let workshop = badges(&kept.shop);
    let id = workshop.document.id;
    let renamed = |at| StoneRenamed {
        from: "amber",
        to: "honey",
        text: Some((id, at, change("lantern festival", "honey", "named"))),
        preference: Some(("level:amber", "level:honey")),
    };
    let second = kept.shop.revise(id, workshop.revision.id, &change("a", "2", "wider")).unwrap();
    let stale = kept.shop.rename_stone(&renamed(workshop.revision.id));
    assert!(matches!(stale, Err(ShopError::HeadMoved { .. })), "{stale:?}");
    assert_eq!(kept.shop.stones().unwrap(), ["amber"], "nothing is half renamed");
    assert_eq!(kept.shop.preference("level:amber").unwrap().as_deref(), Some("40"));
    let head = kept.shop.rename_stone(&renamed(second.revision.id)).unwrap().unwrap();
    assert_eq!(
        (head.revision.text.as_str(), head.revision.parent),
        ("honey", Some(second.revision.id))
    );
    assert_eq!(kept.shop.stones().unwrap(), ["honey"]);
    let kept_level = |key| kept.shop.preference(key).unwrap();
    assert_eq!(
        (kept_level("level:honey").as_deref(), kept_level("level:amber")),
        (Some("40"), None)
    );
}

#[test]
fn pages_of_the_ledger_follow_one_another() {
    let kept = shop();
    let order = badges(&kept.shop).document.id;
    let lines: Vec<NewEntry> = (0..25)
        .map(|i| {
            let entry = line(&format!("n{i}"), Moved::Received, i + 1);
            if i % 2 == 0 { of(order, entry) } else { entry }
        })
        .collect();
    kept.shop.write(&lines).unwrap();
    for (order, n) in [(None, 25), (Some(order), 13)] {
        let (mut seen, mut before) = (Vec::new(), None);
        loop {
            let page = LedgerPage { order, before, limit: 10, stone: Some("amber") };
            let page = kept.shop.ledger(&page).unwrap();
            let Some(last) = page.last() else { break };
            before = Some(last.id);
            seen.extend(page.iter().map(|e| e.id));
        }
        assert_eq!(seen.len(), n);
        assert!(seen.windows(2).all(|pair| pair[0] > pair[1]), "{seen:?}");
    }
}

#[test]
fn a_stock_that_other_hands_changed_is_found() {
    let kept = shop();
    let order = badges(&kept.shop).document.id;
    kept.shop
        .write(&[line("1", Moved::Received, 5), of(order, line("2", Moved::Reserved, 2))])
        .unwrap();
    assert_eq!(kept.shop.check().unwrap(), []);
    let raw = kept.raw();
    for (sql, what) in [
        ("UPDATE stock SET on_hand = 6", "on the shelf: 6 kept, 5 by the lines"),
        ("UPDATE stock SET on_hand = 5, reserved = 3", "reserved: 3 kept, 2 by the lines"),
        ("UPDATE stock SET reserved = 2", ""),
        ("UPDATE held SET stones = 1", "held for an order: 1 kept, 2 by the lines"),
    ] {
        raw.execute(sql, []).unwrap();
        let found: Vec<String> = kept.shop.check().unwrap().into_iter().map(|d| d.what).collect();
        assert_eq!(found.join("; "), what);
    }
}
