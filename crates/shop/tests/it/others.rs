//! Approvals, repairs, devices, preferences.

use crate::support::{EVENING_MS, badges, badges_at_the_bench, line, shop};
use shop::{Moved, NewApproval, NewRepair, RevisionId, ShopError};

#[test]
fn a_yes_stays_and_its_withdrawal_stands_beside_it() {
    let kept = shop();
    let order = badges(&kept.shop);
    let new = NewApproval {
        nonce: "a".into(),
        document: order.document.id,
        revision: order.revision.id,
        hash: "c0ffee".into(),
        price: "84.00".into(),
        valid_until: Some("2026-10-30".into()),
        who: "the harbour master".into(),
        how: "at the counter".into(),
        note: "amber, not coral".into(),
    };
    let yes = kept.shop.approve(&new).unwrap();
    assert_eq!((yes.withdraws, yes.at_ms, &yes.said), (None, EVENING_MS, &new));
    assert_eq!(kept.shop.approve(&new).unwrap(), yes);
    let other = kept.shop.approve(&NewApproval { price: "85.00".into(), ..new.clone() });
    assert!(matches!(other, Err(ShopError::NonceReused { .. })), "{other:?}");
    let nowhere = NewApproval { nonce: "b".into(), revision: RevisionId(77), ..new.clone() };
    assert!(matches!(kept.shop.approve(&nowhere), Err(ShopError::Unknown { .. })));

    let no = kept.shop.withdraw(yes.id, "the clerk", "by letter", "no money").unwrap();
    assert_eq!(no.withdraws, Some(yes.id));
    assert_eq!((no.said.who.as_str(), no.said.price.as_str()), ("the clerk", "84.00"));
    assert_eq!(kept.shop.withdraw(yes.id, "x", "y", "z").unwrap(), no);
    let of_a_no = kept.shop.withdraw(no.id, "x", "y", "z");
    assert!(matches!(of_a_no, Err(ShopError::Unknown { .. })), "{of_a_no:?}");
    assert_eq!(kept.shop.approvals(order.document.id).unwrap(), [yes, no]);
}

#[test]
fn a_repair_takes_its_stone_from_the_shelf_once() {
    let kept = shop();
    let order = badges(&kept.shop);
    let setting = badges_at_the_bench(&kept.shop, &order, "s").id;
    let new = NewRepair {
        nonce: "r".into(),
        setting,
        copy: 7,
        place_no: 41,
        kind: "amber".into(),
        lot: "L7".into(),
        adhesive: "gel".into(),
        price: "2.00".into(),
        why: "knocked off in the parade".into(),
        entries: vec![line("e", Moved::Used, 1)],
    };
    let repair = kept.shop.add_repair(&new).unwrap();
    assert_eq!(kept.shop.add_repair(&new).unwrap(), repair);
    assert_eq!((repair.copy, repair.place_no, repair.why.as_str()), (7, 41, new.why.as_str()));
    assert_eq!(kept.shop.stock(false).unwrap()[0].on_hand, -1);
    assert_eq!(kept.shop.repairs(order.document.id).unwrap(), [repair]);
    let nowhere = NewRepair { nonce: "q".into(), copy: 19, ..new };
    assert!(matches!(kept.shop.add_repair(&nowhere), Err(ShopError::BadValue { .. })));
}

#[test]
fn a_device_that_was_shut_out_stays_out() {
    let kept = shop();
    let device = kept.shop.pair_device("ab12", "tablet").unwrap();
    assert_eq!(kept.shop.device_with("ab12").unwrap(), Some(device.clone()));
    assert_eq!(kept.shop.device_with("ab13").unwrap(), None);
    assert!(matches!(kept.shop.pair_device("ab12", "x"), Err(ShopError::Taken { .. })));
    assert!(matches!(kept.shop.pair_device("", "x"), Err(ShopError::BadValue { .. })));
    kept.clock.pass(60_000);
    kept.shop.see_device(device.id).unwrap();
    assert_eq!(kept.shop.devices().unwrap()[0].seen_ms, device.made_ms + 60_000);
    kept.shop.revoke_device(device.id).unwrap();
    kept.clock.pass(60_000);
    kept.shop.revoke_device(device.id).unwrap();
    assert_eq!(kept.shop.device_with("ab12").unwrap(), None);
    assert_eq!(kept.shop.devices().unwrap()[0].revoked_ms, Some(device.made_ms + 60_000));
}

#[test]
fn a_preference_is_what_was_chosen_last() {
    let kept = shop();
    assert_eq!(kept.shop.preference("theme").unwrap(), None);
    for value in ["dark", "light"] {
        kept.shop.set_preference("theme", Some(value)).unwrap();
        assert_eq!(kept.shop.preference("theme").unwrap().as_deref(), Some(value));
    }
    kept.shop.set_preference("card", Some("3.78")).unwrap();
    assert_eq!(kept.shop.preferences().unwrap().len(), 2);
    kept.shop.set_preference("theme", None).unwrap();
    assert_eq!(kept.shop.preferences().unwrap(), [("card".to_owned(), "3.78".to_owned())]);
}
