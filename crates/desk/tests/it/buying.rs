//! What a purchase leads to on the shelf.

use crate::Room;
use desk::Arrived;
use lay::Unwatched;

#[test]
fn what_arrived_lies_on_the_shelf_once_and_is_not_bought_again() {
    let room = Room::new();
    let opened = room.order();
    let plan = room.desk.plan(&opened, &Unwatched).unwrap();
    let line = plan.purchase.lines.iter().find(|l| l.kind == "sea glass").unwrap();
    let arrived = Arrived {
        nonce: format!("{} line 0", room.desk.shelf_nonce(opened.document.id).unwrap()),
        stone: line.kind.clone(),
        lot: "L9".to_owned(),
        stones: line.stones,
        unit_price: Some("0.0167".parse().unwrap()),
        supplier: Some(line.supplier.clone()),
        who: "Bo".to_owned(),
    };
    room.desk.arrived(&opened, &arrived).unwrap();
    room.desk.arrived(&opened, &arrived).unwrap();
    let stock = room.desk.shop().stock(false).unwrap();
    assert_eq!(stock.len(), 1);
    assert_eq!((stock[0].lot.as_str(), stock[0].on_hand), ("L9", line.stones as i64));
    let after = room.desk.plan(&opened, &Unwatched).unwrap();
    assert!(after.purchase.lines.iter().all(|l| l.kind != "sea glass"));
    assert!(after.answer.packs < plan.answer.packs);
}

#[test]
fn what_an_order_keeps_no_other_gets_until_it_is_released() {
    let room = Room::new();
    let (first, second) = (room.order(), room.order());
    let nonce = |n: &str| format!("{} {n}", room.desk.shelf_nonce(first.document.id).unwrap());
    let arrived = Arrived {
        nonce: "came".to_owned(),
        stone: "sea glass".to_owned(),
        stones: 2000,
        ..Arrived::default()
    };
    room.desk.arrived(&first, &arrived).unwrap();
    let plan = room.desk.plan(&first, &Unwatched).unwrap();
    let need = plan.purchase.kinds.iter().find(|k| k.kind == "sea glass").unwrap().from_stock;
    let once = nonce("hold");
    assert_eq!(room.desk.hold(&first, &plan, &once).unwrap(), need);
    let holdings = room.desk.holdings(&first, &plan).unwrap();
    let sea = holdings.iter().find(|h| h.stone == "sea glass").unwrap();
    assert_eq!((sea.held, sea.wanted), (need, need));
    assert_eq!(room.desk.hold(&first, &plan, &nonce("hold")).unwrap(), 0, "nothing more is wanted");

    let other = room.desk.plan(&second, &Unwatched).unwrap();
    let lot = other.purchase.stock.iter().find(|s| s.kind == "sea glass").unwrap();
    assert_eq!(lot.reserved, need, "the other order sees it as kept");
    let own = room.desk.plan(&first, &Unwatched).unwrap();
    assert_eq!(own.purchase.stock[0].used, need, "its own order still has it");

    assert_eq!(room.desk.release(&first, &nonce("release")).unwrap(), need);
    assert!(room.desk.shop().held(first.document.id).unwrap().is_empty());
    assert!(room.desk.shop().check().unwrap().is_empty());
}

#[test]
fn stones_that_the_order_does_not_have_or_none_at_all_are_refused() {
    let room = Room::new();
    let opened = room.order();
    let of = |stone: &str, stones| Arrived {
        nonce: "n".to_owned(),
        stone: stone.to_owned(),
        stones,
        ..Arrived::default()
    };
    assert!(room.desk.arrived(&opened, &of("gold", 10)).is_err());
    assert!(room.desk.arrived(&opened, &of("ember", 0)).is_err());
    assert!(room.desk.arrived(&opened, &of("ember", u64::MAX)).is_err());
    assert!(room.desk.shop().stock(true).unwrap().is_empty());
}

#[test]
fn a_price_of_a_stone_without_end_plans_as_any_other() {
    let room = Room::new();
    let opened = room.order();
    // 2.50 for 144 stones: 0.01736111…
    let price = rust_decimal::Decimal::new(250, 2) / rust_decimal::Decimal::from(144);
    let line = shop::NewEntry {
        nonce: "endless".to_owned(),
        what: shop::Moved::Received,
        stone: "sea glass".to_owned(),
        lot: "L1".to_owned(),
        stones: 144,
        unit_price: Some(price),
        supplier: None,
        order: None,
        piece: None,
        who: String::new(),
        why: String::new(),
    };
    room.desk.shop().write(&[line]).unwrap();
    assert!(room.desk.plan(&opened, &lay::Unwatched).is_ok());
}
