//! Documents: revisions, undo and redo, lists, outline files, the demo order.

use crate::support::{badges, badges_at_the_bench, change, line, press, shop};
use shop::{
    Asked, By, Change, DocumentId, Head, Moved, NewApproval, NewEntry, NewPress, NewRepair,
    Pressed, Shop, ShopError, Sort,
};

/// Undo from where the document stands.
fn undo(shop: &Shop, id: DocumentId) -> Result<Option<Head>, ShopError> {
    shop.undo(id, shop.head(id)?.revision.id)
}

/// Redo from where the document stands.
fn redo(shop: &Shop, id: DocumentId) -> Result<Option<Head>, ShopError> {
    shop.redo(id, shop.head(id)?.revision.id)
}

#[test]
fn a_text_comes_back_byte_for_byte() {
    let kept = shop();
    let text = "# mine\r\nname = \"Lampe „Süd“\"\t\n\n";
    let head = kept.shop.create(Sort::Order, &change("Lampe „Süd“", text, "taken"), false).unwrap();
    assert_eq!(kept.shop.head(head.document.id).unwrap().revision.text, text);
    assert_eq!(kept.shop.revision(head.revision.id).unwrap(), head.revision);
    assert_eq!((head.revision.number, head.revision.parent), (1, None));
}

#[test]
fn a_change_from_an_old_revision_is_refused_with_the_head() {
    let kept = shop();
    let first = badges(&kept.shop);
    let id = first.document.id;
    let second = kept.shop.revise(id, first.revision.id, &change("a", "2", "wider")).unwrap();
    assert_eq!((second.revision.number, second.document.name.as_str()), (2, "a"));
    match kept.shop.revise(id, first.revision.id, &change("a", "3", "redder")) {
        Err(ShopError::HeadMoved { head, .. }) => assert_eq!(*head, second),
        other => panic!("{other:?}"),
    }
    assert_eq!(kept.shop.history(id, None, 9).unwrap().len(), 2);
}

#[test]
fn a_change_that_changes_nothing_is_no_revision() {
    let kept = shop();
    let first = badges(&kept.shop);
    let text = first.revision.text.clone();
    let same = change("lantern festival", &text, "nothing");
    assert_eq!(kept.shop.revise(first.document.id, first.revision.id, &same).unwrap(), first);
}

#[test]
fn undo_and_redo_go_back_and_forth_and_nothing_is_lost() {
    let kept = shop();
    let one = badges(&kept.shop);
    let id = one.document.id;
    let shop = &kept.shop;
    assert_eq!(undo(shop, id).unwrap(), None);
    let two = shop.revise(id, one.revision.id, &change("a", "2", "wider")).unwrap();
    let three = shop.revise(id, two.revision.id, &change("b", "3", "redder")).unwrap();
    let ways = shop.ways(id).unwrap();
    assert_eq!((ways.undo.as_deref(), ways.redo), (Some("redder"), None));
    assert_eq!(undo(shop, id).unwrap().unwrap().revision, two.revision);
    assert_eq!(shop.head(id).unwrap().document.name, "a");
    assert_eq!(undo(shop, id).unwrap().unwrap().revision, one.revision);
    assert_eq!(shop.ways(id).unwrap().redo.as_deref(), Some("wider"));
    assert_eq!(redo(shop, id).unwrap().unwrap().revision, two.revision);
    assert_eq!(redo(shop, id).unwrap().unwrap().revision, three.revision);
    assert_eq!(redo(shop, id).unwrap(), None);

    // Another way on from the second: redo leads to where one came from last.
    undo(shop, id).unwrap();
    let four = shop.revise(id, two.revision.id, &change("c", "4", "greener")).unwrap();
    assert_eq!(four.revision.parent, Some(two.revision.id));
    undo(shop, id).unwrap();
    assert_eq!(redo(shop, id).unwrap().unwrap().revision, four.revision);
    let stands: Vec<(i64, bool)> =
        shop.history(id, None, 9).unwrap().iter().map(|s| (s.number, s.stands)).collect();
    assert_eq!(stands, [(4, true), (3, false), (2, true), (1, true)]);
    let older = shop.history(id, Some(three.revision.id), 1).unwrap();
    assert_eq!(older.iter().map(|s| s.number).collect::<Vec<_>>(), [2]);
    assert_eq!(shop.revision(three.revision.id).unwrap().text, "3");
}

#[test]
fn changes_that_belong_together_are_one_step() {
    let kept = shop();
    let one = badges(&kept.shop);
    let id = one.document.id;
    let mut from = one.revision.id;
    for (text, together) in [("a", None), ("b", Some("drag 1")), ("c", Some("drag 1"))] {
        let change = Change { together, ..change("a", text, text) };
        from = kept.shop.revise(id, from, &change).unwrap().revision.id;
    }
    assert_eq!(kept.shop.ways(id).unwrap().undo.as_deref(), Some("b"));
    assert_eq!(undo(&kept.shop, id).unwrap().unwrap().revision.text, "a");
    assert_eq!(kept.shop.ways(id).unwrap().redo.as_deref(), Some("b"));
    assert_eq!(redo(&kept.shop, id).unwrap().unwrap().revision.text, "c");
}

#[test]
fn undo_that_is_asked_twice_from_one_revision_is_done_once() {
    let kept = shop();
    let one = badges(&kept.shop);
    let id = one.document.id;
    let two = kept.shop.revise(id, one.revision.id, &change("a", "2", "wider")).unwrap();
    let three = kept.shop.revise(id, two.revision.id, &change("b", "3", "redder")).unwrap();
    kept.shop.undo(id, three.revision.id).unwrap();
    for again in [kept.shop.undo(id, three.revision.id), kept.shop.redo(id, one.revision.id)] {
        match again {
            Err(ShopError::HeadMoved { head, .. }) => assert_eq!(head.revision, two.revision),
            other => panic!("{other:?}"),
        }
    }
    assert_eq!(kept.shop.head(id).unwrap().revision, two.revision);
    assert_eq!(redo(&kept.shop, id).unwrap().unwrap().revision, three.revision);
}

#[test]
fn undo_is_kept_over_a_restart() {
    let kept = shop();
    let one = badges(&kept.shop);
    let id = one.document.id;
    kept.shop.revise(id, one.revision.id, &change("a", "2", "wider")).unwrap();
    undo(&kept.shop, id).unwrap();
    let kept = kept.opened_anew();
    assert_eq!(kept.shop.head(id).unwrap().revision, one.revision);
    assert_eq!(redo(&kept.shop, id).unwrap().unwrap().revision.text, "2");
}

#[test]
fn lists_are_searched_and_paged_in_their_order() {
    let kept = shop();
    let mut ids = Vec::new();
    for (name, due, words) in [
        ("Badges", Some("2026-10-09"), "marshal"),
        ("Parade sign", None, "HARBOUR Österlund"),
        ("Drum hoop", Some("2026-10-01"), "harbour"),
    ] {
        kept.clock.pass(1000);
        let first = Change { due_day: due, words, ..change(name, name, "taken") };
        ids.push(kept.shop.create(Sort::Order, &first, false).unwrap().document.id);
    }
    let names = |asked: &Asked<'_>| -> Vec<String> {
        kept.shop.documents(asked).unwrap().into_iter().map(|d| d.name).collect()
    };
    let all = Asked::default();
    assert_eq!(names(&all), ["Drum hoop", "Parade sign", "Badges"]);
    let due = Asked { by: By::Due, ..all.clone() };
    assert_eq!(names(&due), ["Drum hoop", "Badges", "Parade sign"]);
    assert_eq!(names(&Asked { search: "harbour SIGN", ..all.clone() }), ["Parade sign"]);
    assert_eq!(names(&Asked { search: "österLUND", ..all.clone() }), ["Parade sign"]);
    assert_eq!(names(&Asked { search: "2026-10-09", ..all.clone() }), ["Badges"]);
    assert_eq!(names(&Asked { search: "100%", ..all.clone() }), [""; 0]);
    for asked in [&all, &due] {
        let (mut paged, mut after) = (Vec::new(), None);
        loop {
            let page = kept.shop.documents(&Asked { after, limit: 1, ..asked.clone() }).unwrap();
            let Some(last) = page.last() else { break };
            after = Some(last.id);
            paged.extend(page.into_iter().map(|d| d.name));
        }
        assert_eq!(paged, names(asked));
    }
    kept.shop.put_away(ids[0]).unwrap();
    assert_eq!(names(&all), ["Drum hoop", "Parade sign"]);
    assert_eq!(names(&Asked { put_away: true, ..all.clone() }), ["Badges"]);
    assert_eq!(kept.shop.count_documents(Sort::Order, true).unwrap(), 1);
    kept.shop.bring_back(ids[0]).unwrap();
    assert_eq!(kept.shop.count_documents(Sort::Order, false).unwrap(), 3);
}

#[test]
fn the_workshop_has_one_document() {
    let kept = shop();
    assert_eq!(kept.shop.workshop().unwrap(), None);
    let own = kept.shop.create(Sort::Workshop, &change("workshop", "1", "begun"), false).unwrap();
    assert_eq!(kept.shop.workshop().unwrap(), Some(own.clone()));
    match kept.shop.create(Sort::Workshop, &change("another", "1", "begun"), false) {
        Err(ShopError::WorkshopTaken { document }) => assert_eq!(document, own.document.id),
        other => panic!("{other:?}"),
    }
    assert_eq!(kept.shop.documents(&Asked::default()).unwrap(), []);
}

#[test]
fn an_outline_file_is_never_overwritten() {
    let kept = shop();
    let id = badges(&kept.shop).document.id;
    let add = |name: &str, bytes: &[u8]| kept.shop.add_outline(id, name, bytes).unwrap();
    assert_eq!(add("star.svg", b"one"), "star.svg");
    assert_eq!(add("star.svg", b"one"), "star.svg");
    assert_eq!(add("star.svg", b"two"), "star-2.svg");
    assert_eq!(add("star.svg", b"two"), "star-2.svg");
    assert_eq!(add("star.svg", b"three"), "star-3.svg");
    assert_eq!(add("star", b"four"), "star");
    assert_eq!(add("star", b"five"), "star-2");
    assert_eq!(kept.shop.outline(id, "star.svg").unwrap(), b"one");
    assert_eq!(kept.shop.outline(id, "star-3.svg").unwrap(), b"three");
    assert_eq!(kept.shop.outlines(id).unwrap().len(), 5);
    assert!(matches!(kept.shop.outline(id, "moon.svg"), Err(ShopError::Unknown { .. })));
    assert!(matches!(kept.shop.add_outline(id, " ", b"x"), Err(ShopError::BadValue { .. })));
}

#[test]
fn only_the_demo_order_can_be_removed_and_its_stones_come_back() {
    let kept = shop();
    let shop = &kept.shop;
    let kept_order = badges(shop);
    let demo = shop.create(Sort::Order, &change("demo", "1", "begun"), true).unwrap();
    let id = demo.document.id;
    assert!(matches!(shop.remove_demo(kept_order.document.id), Err(ShopError::NotDemo { .. })));
    shop.write(&[line("n1", Moved::Received, 500)]).unwrap();
    let for_demo =
        |nonce: &str, what, stones| NewEntry { order: Some(id), ..line(nonce, what, stones) };
    shop.write(&[for_demo("n2", Moved::Reserved, 100)]).unwrap();
    let next = shop.revise(id, demo.revision.id, &change("demo", "2", "wider")).unwrap();
    undo(shop, id).unwrap();
    shop.add_outline(id, "star.svg", b"x").unwrap();
    let setting = badges_at_the_bench(shop, &next, "s1");
    let entries = vec![for_demo("n3", Moved::Used, 40)];
    shop.press(setting.id, &NewPress { entries, ..press("p1", Pressed::RowDone) }).unwrap();
    shop.add_repair(&NewRepair {
        nonce: "r1".into(),
        setting: setting.id,
        copy: 1,
        place_no: 3,
        kind: "amber".into(),
        lot: "L7".into(),
        adhesive: "gel".into(),
        price: "2.00".into(),
        why: "knocked off".into(),
        entries: Vec::new(),
    })
    .unwrap();
    let yes = NewApproval {
        nonce: "a1".into(),
        document: id,
        revision: next.revision.id,
        hash: "c0ffee".into(),
        price: "84.00".into(),
        valid_until: None,
        who: "the harbour master".into(),
        how: "at the counter".into(),
        note: String::new(),
    };
    let yes = shop.approve(&yes).unwrap();
    shop.withdraw(yes.id, "the harbour master", "by letter", "").unwrap();
    assert_eq!(shop.stock(false).unwrap()[0].on_hand, 460);

    shop.remove_demo(id).unwrap();
    assert!(matches!(shop.head(id), Err(ShopError::Unknown { .. })));
    for table in ["setting", "setting_lot", "press", "repair", "approval", "outline", "redo"] {
        let count = format!("SELECT count(*) FROM {table}");
        let n: i64 = kept.raw().query_row(&count, [], |row| row.get(0)).unwrap();
        assert_eq!(n, 0, "{table}");
    }
    let stock = shop.stock(true).unwrap();
    assert_eq!((stock[0].on_hand, stock[0].reserved), (500, 0));
    assert_eq!(shop.held(id).unwrap(), []);
    assert_eq!(shop.check().unwrap(), []);
    let again = shop.create(Sort::Order, &change("demo", "1", "begun"), true).unwrap();
    assert!(again.document.id > id, "a number is never given twice");
    assert_eq!(shop.head(kept_order.document.id).unwrap(), kept_order);
}

#[test]
fn the_database_itself_refuses_to_change_what_is_only_added() {
    let kept = shop();
    let order = badges(&kept.shop);
    let setting = badges_at_the_bench(&kept.shop, &order, "s1");
    kept.shop.add_outline(order.document.id, "star.svg", b"x").unwrap();
    let entries = vec![line("n1", Moved::Received, 5)];
    kept.shop.press(setting.id, &NewPress { entries, ..press("p1", Pressed::Begun) }).unwrap();
    let raw = kept.raw();
    for sql in [
        "DELETE FROM entry",
        "UPDATE entry SET stones = 6",
        "DELETE FROM press",
        "UPDATE press SET stones = 6",
        "DELETE FROM revision",
        "UPDATE revision SET text = ''",
        "UPDATE outline SET bytes = x'00'",
        "DELETE FROM outline",
        "UPDATE setting SET frozen = x'00'",
        "DELETE FROM setting_lot",
        "DELETE FROM setting",
        "UPDATE document SET demo = 1",
        "DELETE FROM document",
    ] {
        let refused = raw.execute(sql, []).unwrap_err().to_string();
        assert!(refused.contains("stay") || refused.contains("may go"), "{sql}: {refused}");
    }
}
