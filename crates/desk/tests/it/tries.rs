//! Other figures beside those that stand, and kept.

use crate::{BADGES, Room};
use desk::{Beside, Bundle, Tries};
use lay::Unwatched;

fn tries() -> Tries {
    Tries {
        loss: Some(0.08),
        rate_per_h: Some(210.0),
        margin: Some("0.42".parse().unwrap()),
        temperature_c: Some(17.5),
    }
}

#[test]
fn what_is_kept_is_what_was_tried() {
    let room = Room::new();
    let opened = room.order();
    let stands = room.desk.plan(&opened, &Unwatched).unwrap();
    let tried = room.desk.plan_with(&opened, &tries(), &Unwatched).unwrap();
    let kept = room.desk.keep_tries(opened.document.id, opened.revision.id, &tries()).unwrap();
    assert!(kept.revision.text.contains("# for the marshals"));
    let after = room.desk.plan(&kept, &Unwatched).unwrap();
    assert!(
        Beside::of(&tried, &after).iter().all(|b| !b.differs),
        "{:?}",
        Beside::of(&tried, &after)
    );
    assert_eq!(tried.price, after.price);
    let beside = Beside::of(&stands, &tried);
    for figure in ["stones to have", "at the bench", "margin", "to charge"] {
        assert!(beside.iter().any(|b| b.figure == figure && b.differs), "{figure}: {beside:?}");
    }
    assert_eq!(kept.revision.what, "loss 8 %, 210 stones an hour, margin 42 %, 17.5 °C");
}

#[test]
fn a_mark_up_gives_way_to_the_margin_that_is_kept() {
    let room = Room::new();
    let text = BADGES.replace("margin = \"30 %\"\ntax", "markup = \"60 %\"\ntax");
    let opened = room.desk.import(&Bundle { text, files: vec![] }).unwrap();
    let margin = Tries { margin: Some("0.25".parse().unwrap()), ..Tries::default() };
    let kept = room.desk.keep_tries(opened.document.id, opened.revision.id, &margin).unwrap();
    assert!(!kept.revision.text.contains("markup"));
    let price = room.desk.plan(&kept, &Unwatched).unwrap().price.clone().unwrap();
    assert!(price.margin.unwrap() >= "0.25".parse().unwrap());
}

#[test]
fn a_loss_with_its_trust_keeps_the_trust() {
    let room = Room::new();
    let text = BADGES.replace("loss = \"3 %\"", "loss = { rate = \"3 %\", trust = 800 }");
    let opened = room.desk.import(&Bundle { text, files: vec![] }).unwrap();
    let loss = Tries { loss: Some(0.05), ..Tries::default() };
    let kept = room.desk.keep_tries(opened.document.id, opened.revision.id, &loss).unwrap();
    assert_eq!(kept.order.terms.workshop.trust, Some(800));
    assert_eq!(kept.order.terms.workshop.loss, Some(0.05));
}

#[test]
fn nothing_tried_is_nothing_to_keep() {
    let room = Room::new();
    let opened = room.order();
    let kept = room.desk.keep_tries(opened.document.id, opened.revision.id, &Tries::default());
    assert!(kept.is_err());
    assert_eq!(room.desk.open(opened.document.id).unwrap().revision.id, opened.revision.id);
}
