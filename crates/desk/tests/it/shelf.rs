//! The shelf at the desk: what runs short, what is written once, what comes and goes with the demo.

use crate::desk_over;
use app::adopt::{self, Entry};
use app::edit::{Change, Path};
use desk::{
    Desk, DeskError, MoveSort, NewOrder, NewStone, PieceAsked, ShelfAsked, ShelfBy, StonesMoved,
};
use std::sync::Arc;
use std::time::{Duration, Instant};

fn received(nonce: &str, stone: &str, lot: &str, amount: i64) -> StonesMoved {
    StonesMoved {
        nonce: nonce.to_owned(),
        what: MoveSort::Received,
        stone: stone.to_owned(),
        lot: lot.to_owned(),
        amount,
        ..StonesMoved::default()
    }
}

fn with_tin(desk: &Desk) {
    let tin = NewStone { name: "tin".to_owned(), size: "SS16".to_owned(), colour: None };
    desk.new_stone(&tin).unwrap();
}

/// An order of one badge covered with tin, and how many stones it takes.
fn badge(desk: &Arc<Desk>) -> (desk::Opened, i64) {
    let order = desk.new_order(&NewOrder { name: "Quay sign".to_owned(), due: None }).unwrap();
    let asked = PieceAsked {
        name: "badge".to_owned(),
        quantity: Some(3),
        shape: Some("circle".to_owned()),
        width: Some("30 mm".to_owned()),
        arrangement: "honeycomb".to_owned(),
        stones: vec!["tin".to_owned()],
        ..PieceAsked::default()
    };
    let opened = desk.add_piece(order.document.id, order.revision.id, &asked).unwrap();
    let laid = desk.lay(opened.piece(1).unwrap(), &lay::Unwatched).unwrap();
    let stones = 3 * i64::try_from(laid.lay.stones.len()).unwrap();
    (opened, stones)
}

#[test]
fn a_stone_runs_short_by_what_open_orders_still_need() {
    let (desk, _folder) = desk_over();
    with_tin(&desk);
    let (order, needed) = badge(&desk);
    assert!(needed > 30);
    assert_eq!(desk.shelf_stone("tin").unwrap().missing, needed);
    desk.move_stones(&[received("a", "tin", "", 10)]).unwrap();
    assert_eq!(desk.shelf_stone("tin").unwrap().missing, needed - 10);
    // What is set is neither there nor needed any more.
    let used = StonesMoved {
        what: MoveSort::Used,
        order: Some(order.document.id.0),
        ..received("b", "tin", "", 4)
    };
    desk.move_stones(&[used]).unwrap();
    let tin = desk.shelf_stone("tin").unwrap();
    assert_eq!((tin.on_hand, tin.needed, tin.missing), (6, needed - 4, needed - 10));
    desk.shop().put_away(order.document.id).unwrap();
    assert_eq!(desk.shelf_stone("tin").unwrap().missing, 0, "an order put away needs nothing");
}

#[test]
fn orders_that_are_not_laid_are_counted_in_the_background() {
    let (desk, folder) = desk_over();
    with_tin(&desk);
    let (_, needed) = badge(&desk);
    drop(desk);
    let desk = crate::desk_in(&folder);
    let shelf = desk.shelf(&ShelfAsked { by: ShelfBy::Short, ..ShelfAsked::default() }).unwrap();
    assert_eq!((shelf.waiting, shelf.stones[0].needed), (1, 0), "nothing was laid yet");
    desk.begin_counting().unwrap();
    let until = Instant::now() + Duration::from_secs(60);
    while desk.shelf(&ShelfAsked::default()).unwrap().waiting > 0 && Instant::now() < until {
        std::thread::sleep(Duration::from_millis(20));
    }
    assert_eq!(desk.shelf_stone("tin").unwrap().needed, needed);
}

#[test]
fn an_order_keeps_each_copy_from_one_lot_as_its_plan_gives_them() {
    let (desk, _folder) = desk_over();
    with_tin(&desk);
    let (order, needed) = badge(&desk);
    let copy = needed / 3;
    // Two copies from one lot and the third from the other; none fits into what is left of both.
    desk.move_stones(&[
        received("a", "tin", "A", 2 * copy + copy / 2),
        received("b", "tin", "B", copy + copy / 2),
    ])
    .unwrap();
    let plan = desk.plan(&order, &lay::Unwatched).unwrap();
    let once = desk.shelf_nonce(order.document.id).unwrap();
    let kept = desk.hold(&order, &plan, &once).unwrap();
    assert_eq!(desk.hold(&order, &plan, &once).unwrap(), 0, "once");
    let held = desk.shop().held(order.document.id).unwrap();
    let of = |lot: &str| held.iter().find(|h| h.lot == lot).unwrap().stones;
    assert!(of("A") >= 2 * copy && of("B") >= copy, "{held:?}");
    assert_eq!(of("A") + of("B"), i64::try_from(kept).unwrap());
    assert!(plan.purchase.lots.iter().all(|l| l.mixed == 0), "no copy is of two shades");
}

#[test]
fn packs_of_a_stone_without_a_pack_are_refused() {
    let (desk, _folder) = desk_over();
    with_tin(&desk);
    let packs = StonesMoved { packs: true, ..received("a", "tin", "", 2) };
    assert!(matches!(desk.move_stones(std::slice::from_ref(&packs)), Err(DeskError::Unfit { .. })));
    let workshop = desk.workshop().unwrap();
    let set = Change::Set { path: "kind.1.pack".parse().unwrap(), value: "144".to_owned() };
    desk.change(workshop.document.id, workshop.revision.id, &[set], "pack", None).unwrap();
    desk.move_stones(&[packs]).unwrap();
    assert_eq!(desk.shelf_stone("tin").unwrap().on_hand, 288);
}

fn workshop_entries(desk: &Desk) -> Vec<Entry> {
    adopt::entries(&desk.workshop().unwrap().revision.text).unwrap()
}

#[test]
fn the_demo_leaves_nothing_behind_and_comes_back_whole() {
    let (desk, _folder) = desk_over();
    let before = workshop_entries(&desk);
    desk.show_demo().unwrap();
    let with = workshop_entries(&desk);
    let on_hand = desk.shelf(&ShelfAsked::default()).unwrap().stones;
    assert!(with.len() > before.len() && on_hand.iter().any(|s| s.on_hand > 0));
    desk.remove_demo().unwrap();
    assert_eq!(workshop_entries(&desk), before);
    assert!(desk.shop().stock(false).unwrap().is_empty(), "its stones are taken back");
    desk.show_demo().unwrap();
    assert_eq!(workshop_entries(&desk), with);
    let again = desk.shelf(&ShelfAsked::default()).unwrap().stones;
    let counts = |all: &[desk::ShelfStone]| {
        all.iter().map(|s| (s.name.clone(), s.on_hand)).collect::<Vec<_>>()
    };
    assert_eq!(counts(&again), counts(&on_hand));
}

#[test]
fn what_was_changed_or_is_used_stays_when_the_demo_goes() {
    let (desk, _folder) = desk_over();
    desk.show_demo().unwrap();
    let workshop = desk.workshop().unwrap();
    let number =
        |name: &str| 1 + workshop.order.kinds.iter().position(|k| k.kind.name == name).unwrap();
    let foam = Path::root().key("kind").number(number("foam")).key("pack");
    let set = Change::Set { path: foam, value: "720".to_owned() };
    desk.change(workshop.document.id, workshop.revision.id, &[set], "pack", None).unwrap();
    let order = desk.new_order(&NewOrder { name: "Quay sign".to_owned(), due: None }).unwrap();
    let asked = PieceAsked {
        name: "badge".to_owned(),
        shape: Some("circle".to_owned()),
        width: Some("30 mm".to_owned()),
        arrangement: "honeycomb".to_owned(),
        stones: vec!["dew".to_owned()],
        ..PieceAsked::default()
    };
    desk.add_piece(order.document.id, order.revision.id, &asked).unwrap();
    desk.remove_demo().unwrap();
    let left = workshop_entries(&desk);
    let kind = |name: &str| Entry::Kind(name.to_owned());
    assert!(left.contains(&kind("foam")), "changed");
    assert!(left.contains(&kind("dew")), "used by another order");
    assert!(!left.contains(&kind("sea glass")) && !left.contains(&kind("coral")));
    assert!(desk.open(order.document.id).is_ok());
}

#[test]
fn what_is_no_outline_is_not_kept() {
    let (desk, _folder) = desk_over();
    let order = desk.new_order(&NewOrder { name: "Quay sign".to_owned(), due: None }).unwrap();
    let id = order.document.id;
    for bytes in
        [&b"lantern"[..], b"<svg xmlns='http://www.w3.org/2000/svg'/>", &[0xff, 0xd8, 0xff]]
    {
        let refused = desk.add_outline(id, "C:\\drawings\\gull.svg", bytes).unwrap_err();
        assert!(refused.to_string().starts_with("`gull.svg`: "), "{refused}");
        assert!(refused.hint().is_some());
    }
    assert!(desk.shop().outlines(id).unwrap().is_empty());
    let circle = b"<svg xmlns='http://www.w3.org/2000/svg'><circle cx='12' cy='12' r='10'/></svg>";
    assert_eq!(desk.add_outline(id, "../gull.svg", circle).unwrap(), "gull.svg");
}
