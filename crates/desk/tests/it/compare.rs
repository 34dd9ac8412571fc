//! A piece in several ways: bounded, each by itself, and taken like any change.

use crate::{BADGES, Room};
use app::edit::Change;
use desk::{Bundle, CompareAsked, DeskError, LAID, Laid, MOST_WAYS, NewStone, Way};
use lay::{Unwatched, Watch};
use planning::spare::NEED_LIMIT;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::Duration;

fn asked(laid: &[Laid], stones: &[&str]) -> CompareAsked {
    let stones = stones.iter().map(|s| (*s).to_owned()).collect();
    CompareAsked { zone: None, laid: laid.to_vec(), stones }
}

#[test]
fn what_stands_is_first_with_the_figures_of_its_lay() {
    let room = Room::new();
    let opened = room.order();
    let made = room.desk.compare(&opened, 1, &CompareAsked::default(), &Unwatched).unwrap();
    assert!(made.candidates[0].way.is_as_written());
    let laid = room.desk.lay(opened.piece(1).unwrap(), &Unwatched).unwrap();
    let figures = made.candidates[0].figures.as_ref().unwrap();
    assert_eq!(figures.stones, laid.lay.stones.len() as u64);
    assert!((figures.coverage - laid.lay.coverage).abs() < 1e-12);
    assert_eq!(made.copies, 4);
    assert!(
        made.candidates.len() > 4 && made.candidates.iter().all(|c| c.wrong.is_none()),
        "{made:?}"
    );
}

#[test]
fn a_piece_alone_costs_what_an_order_of_it_alone_costs() {
    let room = Room::new();
    let opened = room.order();
    let made = room.desk.compare(&opened, 1, &CompareAsked::default(), &Unwatched).unwrap();
    let from = BADGES.find("[[piece]]\nname = \"plate\"").unwrap();
    let to = BADGES.find("[workshop]").unwrap();
    let text = format!("{}{}", &BADGES[..from], &BADGES[to..]);
    let alone = room.desk.import(&Bundle { text, files: vec![] }).unwrap();
    let plan = room.desk.plan(&alone, &Unwatched).unwrap();
    let (figures, price) =
        (made.candidates[0].figures.as_ref().unwrap(), plan.price.as_ref().unwrap());
    assert_eq!(figures.cost, Some(price.cost));
    assert_eq!(figures.price, Some(price.suggested));
    assert_eq!(figures.hours_min, Some(plan.hours.total_min));
}

#[test]
fn every_way_can_be_laid_and_taken_and_taken_back() {
    let room = Room::new();
    let opened = room.order();
    for laid in LAID {
        let way = Way { zone: 1, laid, stones: Some("ember".to_owned()) };
        let before = room.desk.open(opened.document.id).unwrap();
        let tried = room.desk.lay_way(&before, 1, &way, &Unwatched).unwrap();
        let taken = room.desk.take_way(opened.document.id, before.revision.id, 1, &way).unwrap();
        let stands = room.desk.lay(taken.piece(1).unwrap(), &Unwatched).unwrap();
        assert_eq!(stands.lay.stones, tried.lay.stones, "{}", laid.name());
        assert!(taken.revision.text.contains("# for the marshals"));
        let back = room.desk.undo(opened.document.id, taken.revision.id).unwrap();
        assert_eq!(back.revision.text, before.revision.text);
    }
}

#[test]
fn a_way_is_a_list_of_changes_of_the_document() {
    let room = Room::new();
    let opened = room.order();
    let way = Way { zone: 1, laid: Laid::RingsNested, stones: Some("ember".to_owned()) };
    let changes = way.changes(1);
    assert!(changes.iter().all(|c| matches!(c, Change::Set { .. } | Change::Clear { .. })));
    let (id, from) = (opened.document.id, opened.revision.id);
    let changed = room.desk.change(id, from, &changes, "by hand", None).unwrap();
    let tried = room.desk.lay_way(&opened, 1, &way, &Unwatched).unwrap();
    let stands = room.desk.lay(changed.piece(1).unwrap(), &Unwatched).unwrap();
    assert_eq!(stands.lay.stones, tried.lay.stones);
}

#[test]
fn no_more_than_some_ways_are_laid_side_by_side() {
    let room = Room::new();
    let opened = room.order();
    let all = asked(&LAID, &["", "sea glass", "ember"]);
    let made = room.desk.compare(&opened, 2, &all, &Unwatched).unwrap();
    assert_eq!(made.candidates.len(), MOST_WAYS);
    assert_eq!(made.candidates.len() + made.left_out, LAID.len() * 3);
}

#[test]
fn one_way_without_a_plan_spoils_no_other() {
    let room = Room::new();
    let of = |quantity: usize| {
        let plate = format!("name = \"plate\"\nquantity = {quantity}");
        let text = BADGES
            .replace("name = \"plate\"", &plate)
            .replace("diameter = \"30 mm\"", "diameter = \"140 mm\"");
        room.desk.import(&Bundle { text, files: vec![] }).unwrap()
    };
    let stones = |laid| {
        let way = Way { zone: 1, laid, stones: None };
        room.desk.lay_way(&of(1), 2, &way, &Unwatched).unwrap().lay.stones.len()
    };
    // So many copies that honeycomb takes more stones of one kind than any order may, and square
    // rows do not.
    let (most, fewer) = (stones(Laid::Honeycomb), stones(Laid::Square));
    let quantity = NEED_LIMIT as usize / most + 1;
    assert!(quantity * fewer < NEED_LIMIT as usize * 99 / 100);
    let all = asked(&[Laid::Honeycomb, Laid::Square], &[""]);
    let made = room.desk.compare(&of(quantity), 2, &all, &Unwatched).unwrap();
    let by = |laid| made.candidates.iter().find(|c| c.way.laid == laid).unwrap();
    assert_eq!(by(Laid::Square).wrong, None);
    assert!(by(Laid::Square).figures.as_ref().unwrap().hours_min.is_some());
    assert!(by(Laid::Honeycomb).wrong.is_some(), "{made:?}");
    let figures = by(Laid::Honeycomb).figures.as_ref().unwrap();
    assert_eq!((figures.stones, figures.hours_min), (most as u64, None));
}

#[test]
fn stones_of_the_workshop_are_taken_over_with_the_way() {
    let room = Room::new();
    let opened = room.order();
    let foam = NewStone { name: "foam".to_owned(), size: "SS10".to_owned(), colour: None };
    room.desk.new_stone(&foam).unwrap();
    let way = Way { zone: 1, laid: Laid::AsWritten, stones: Some("foam".to_owned()) };
    let made =
        room.desk.compare(&opened, 1, &asked(&[Laid::AsWritten], &["foam"]), &Unwatched).unwrap();
    assert!(made.candidates.iter().any(|c| c.way == way && c.figures.is_some()), "{made:?}");
    let taken = room.desk.take_way(opened.document.id, opened.revision.id, 1, &way).unwrap();
    assert!(taken.order.kinds.iter().any(|k| k.kind.name == "foam"));
    assert_eq!(taken.piece(1).unwrap().piece.kinds[0].name, "foam");
    let nobody = Way { stones: Some("gold".to_owned()), ..way };
    let wrong = room.desk.take_way(taken.document.id, taken.revision.id, 1, &nobody).unwrap_err();
    assert!(wrong.to_string().contains("gold"));
}

#[test]
fn it_can_be_stopped_and_begun_again() {
    struct After(AtomicUsize);
    impl Watch for After {
        fn step(&self, _: &str, _: usize, _: usize) {
            self.0.fetch_add(1, Ordering::Relaxed);
        }
        fn stopped(&self) -> bool {
            self.0.load(Ordering::Relaxed) > 2
        }
    }
    let room = Room::new();
    let opened = room.order();
    let made = room.desk.compare(&opened, 1, &CompareAsked::default(), &After(AtomicUsize::new(0)));
    assert!(matches!(made, Err(DeskError::Stopped)), "{made:?}");
    let job = room.desk.begin_compare(&opened, 1, &CompareAsked::default()).unwrap();
    let made = job.wait(Duration::from_secs(120)).expect("it ends").unwrap();
    assert!(made.candidates.len() > 1);
    assert!(job.progress().over);
}
