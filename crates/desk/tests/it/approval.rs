//! The customer's yes: tied to the lay and the price, and plain about what changed since.

use crate::{BADGES, Room};
use app::edit::{Change, Path};
use desk::{ApprovalState, Bundle, Desk, NewYes, Opened, Quote};
use lay::Unwatched;

fn set(desk: &Desk, opened: &Opened, path: &str, value: &str) -> Opened {
    let path: Path = path.parse().unwrap();
    let change = Change::Set { path, value: value.to_owned() };
    desk.change(opened.document.id, opened.revision.id, &[change], "changed", None).unwrap()
}

fn quote(desk: &Desk, opened: &Opened) -> Quote {
    let plan = desk.plan(opened, &Unwatched).unwrap();
    desk.quote(opened, &plan).unwrap()
}

fn yes(quote: &Quote, nonce: &str) -> NewYes {
    NewYes {
        nonce: nonce.to_owned(),
        hash: quote.hash.clone(),
        price: quote.price(),
        who: "Ines".to_owned(),
        how: "at the counter".to_owned(),
        note: String::new(),
    }
}

#[test]
fn the_hash_goes_by_stones_and_copies_and_by_nothing_else() {
    let room = Room::new();
    let opened = room.order();
    let hash = |o: &Opened| room.desk.lay_hash(&o.order, &Unwatched).unwrap();
    let first = hash(&opened);
    assert_eq!(first.len(), 64);
    for (path, value) in [
        ("order", "Lantern badges, second letter"),
        ("price.margin", "40 %"),
        ("workshop.loss", "5 %"),
        ("piece.1.blank_price", "0.90"),
    ] {
        let changed = set(&room.desk, &opened, path, value);
        assert_eq!(hash(&changed), first, "{path}");
        room.desk.undo(opened.document.id, changed.revision.id).unwrap();
    }
    let noted = BADGES.replace("# for the marshals", "# for the marshals, by Friday");
    let noted = room.desk.import(&Bundle { text: noted, files: vec![] }).unwrap();
    assert_eq!(hash(&noted), first, "a note moves no stone");
    for (path, value) in [
        ("piece.1.zone.1.spacing", "0.3 mm"),
        ("piece.2.quantity", "2"),
        ("piece.1.blank.width", "41 mm"),
        ("kind.1.colour", "#2a9d90"),
    ] {
        let changed = set(&room.desk, &opened, path, value);
        assert_ne!(hash(&changed), first, "{path}");
        room.desk.undo(opened.document.id, changed.revision.id).unwrap();
    }
}

#[test]
fn the_hash_is_made_of_the_hashes_that_the_file_of_the_lay_has() {
    use sha2::{Digest, Sha256};
    let room = Room::new();
    let opened = room.order();
    let file = room.desk.lay_all(&opened, &Unwatched).unwrap().file().unwrap();
    let lines: String =
        file.pieces.iter().map(|p| format!("{} {}\n", p.hash, p.quantity)).collect();
    let wanted: String = Sha256::digest(lines).iter().map(|b| format!("{b:02x}")).collect();
    assert_eq!(room.desk.lay_hash(&opened.order, &Unwatched).unwrap(), wanted);
}

#[test]
fn a_yes_stands_until_lay_or_price_change_and_stands_again_when_they_are_taken_back() {
    let room = Room::new();
    let opened = room.order();
    assert_eq!(room.desk.approval_state(&opened).unwrap(), ApprovalState::Open);
    let quoted = quote(&room.desk, &opened);
    room.desk.say_yes(&opened, &quoted, &yes(&quoted, "a")).unwrap();
    let stands =
        |o: &Opened| matches!(room.desk.approval_state(o).unwrap(), ApprovalState::Stands { .. });
    assert!(stands(&opened));
    let named = set(&room.desk, &opened, "order", "Lantern badges, for Ines");
    room.desk.plan(&named, &Unwatched).unwrap();
    assert!(stands(&named), "a name changes neither");

    let more = set(&room.desk, &named, "piece.1.quantity", "6");
    room.desk.plan(&more, &Unwatched).unwrap();
    let ApprovalState::Differs { changed, yes } = room.desk.approval_state(&more).unwrap() else {
        panic!("it differs")
    };
    assert_eq!(changed[0], "copies of `badge`: 6 instead of 4");
    assert!(changed[1].contains(&yes.price) && changed[1].contains("the price"), "{changed:?}");

    let back = room.desk.undo(opened.document.id, more.revision.id).unwrap();
    assert!(stands(&back));
    let wider = set(&room.desk, &back, "piece.2.zone.1.spacing", "0.21 mm");
    room.desk.plan(&wider, &Unwatched).unwrap();
    let ApprovalState::Differs { changed, .. } = room.desk.approval_state(&wider).unwrap() else {
        panic!("it differs")
    };
    assert!(changed.contains(&"the lay of `plate`".to_owned()), "{changed:?}");
    let dearer = room.desk.undo(opened.document.id, wider.revision.id).unwrap();
    let dearer = set(&room.desk, &dearer, "price.margin", "35 %");
    room.desk.plan(&dearer, &Unwatched).unwrap();
    let ApprovalState::Differs { changed, .. } = room.desk.approval_state(&dearer).unwrap() else {
        panic!("it differs")
    };
    assert!(changed.len() == 1 && changed[0].starts_with("the price: "), "{changed:?}");
}

#[test]
fn whether_it_fits_is_not_told_before_the_order_is_laid() {
    let room = Room::new();
    let opened = room.order();
    let quoted = quote(&room.desk, &opened);
    room.desk.say_yes(&opened, &quoted, &yes(&quoted, "a")).unwrap();
    let wider = set(&room.desk, &opened, "piece.1.zone.1.spacing", "0.4 mm");
    let state = room.desk.approval_state(&wider).unwrap();
    assert!(matches!(state, ApprovalState::NotKnownYet { .. }), "{state:?}");
}

#[test]
fn a_yes_to_something_else_is_not_written() {
    let room = Room::new();
    let opened = room.order();
    let quoted = quote(&room.desk, &opened);
    let other = NewYes { price: "1.00 EUR".to_owned(), ..yes(&quoted, "a") };
    assert!(room.desk.say_yes(&opened, &quoted, &other).is_err());
    let other = NewYes { hash: "0".repeat(64), ..yes(&quoted, "a") };
    assert!(room.desk.say_yes(&opened, &quoted, &other).is_err());
    let nobody = NewYes { who: " ".to_owned(), ..yes(&quoted, "a") };
    assert!(room.desk.say_yes(&opened, &quoted, &nobody).is_err());
    assert_eq!(room.desk.approval_state(&opened).unwrap(), ApprovalState::Open);
}

#[test]
fn a_yes_sent_twice_is_one_and_a_withdrawal_is_kept_beside_it() {
    let room = Room::new();
    let opened = room.order();
    let quoted = quote(&room.desk, &opened);
    let first = room.desk.say_yes(&opened, &quoted, &yes(&quoted, "a")).unwrap();
    let again = room.desk.say_yes(&opened, &quoted, &yes(&quoted, "a")).unwrap();
    assert_eq!(first, again);
    assert!(room.desk.withdraw_yes(&opened, first.id + 1, "Ines", "", "").is_err());
    room.desk.withdraw_yes(&opened, first.id, "Ines", "on the phone", "too dear").unwrap();
    let ApprovalState::Withdrawn { yes: kept, by } = room.desk.approval_state(&opened).unwrap()
    else {
        panic!("it is withdrawn")
    };
    assert_eq!(kept, first);
    assert_eq!((by.who.as_str(), by.note.as_str()), ("Ines", "too dear"));
    room.desk.say_yes(&opened, &quoted, &yes(&quoted, "b")).unwrap();
    assert!(matches!(room.desk.approval_state(&opened).unwrap(), ApprovalState::Stands { .. }));
}

#[test]
fn a_quote_says_no_private_cost() {
    let room = Room::new();
    let opened = room.order();
    let quoted = quote(&room.desk, &opened);
    let plan = room.desk.plan(&opened, &Unwatched).unwrap();
    let price = plan.price.as_ref().unwrap();
    assert_eq!((quoted.gross, quoted.net), (price.charged.gross, price.charged.net));
    assert_eq!(quoted.pieces.iter().map(|p| p.net).sum::<rust_decimal::Decimal>(), quoted.net);
    let json = serde_json::to_string(&quoted).unwrap();
    for private in [price.cost, price.profit, price.floor] {
        assert!(!json.contains(&format!("\"{private}\"")), "{private} in {json}");
    }
}
