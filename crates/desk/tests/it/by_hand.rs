//! Stones set by hand where there is room.

use crate::Room;
use desk::{Board, Bundle, HandOp, Opened};
use lay::Unwatched;

/// A sign with a band along its edge and the rest within; how wide the band is decides what is left
/// bare on both sides of the border.
fn sign(room: &Room, band_mm: f64) -> Opened {
    let text = format!(
        r##"
stonelay = 1
order = "Quay sign"

[[kind]]
name = "tin"
size = "SS16"
colour = "#808080"

[[piece]]
name = "sign"
margin = "0.5 mm"
blank = {{ shape = "rectangle", width = "50 mm", height = "34 mm" }}

[[piece.zone]]
name = "edge"
where = {{ band = "{band_mm} mm" }}
arrangement = "honeycomb"
mix = "tin"

[[piece.zone]]
name = "middle"
where = "rest"
arrangement = "honeycomb"
mix = "tin"
"##
    );
    room.desk.import(&Bundle { text, files: vec![] }).unwrap()
}

fn board(room: &Room, opened: &Opened) -> Board {
    let laid = room.desk.lay(opened.piece(1).unwrap(), &Unwatched).unwrap();
    Board::of(opened.revision.id.0, &laid, vec![])
}

/// Sets a stone at a spot; how many stones are set by hand then, and what is found wrong with it.
fn set_at(room: &Room, opened: &Opened, spot: &desk::Spot) -> (usize, Vec<String>) {
    let set = HandOp::Set { set: [spot.x, spot.y], kind: "tin".to_owned(), turn_deg: None };
    let from = opened.revision.id;
    let after = room.desk.by_hand(opened.document.id, from, 1, &[set]).unwrap();
    let laid = room.desk.lay(after.piece(1).unwrap(), &Unwatched).unwrap();
    let wrong = laid.lay.findings.iter().filter(|f| f.code.starts_with("lay.by-hand"));
    let by_hand = laid.lay.stones.iter().filter(|s| s.by_hand).count();
    (by_hand, wrong.map(|f| f.text.clone()).collect())
}

#[test]
fn every_spot_that_is_offered_takes_a_stone_and_none_lies_across_a_border() {
    let room = Room::new();
    let (mut across_borders, mut within) = (0, 0);
    for step in 0..40 {
        let band_mm = 5.0 + f64::from(step) * 0.2;
        let shown = board(&room, &sign(&room, band_mm));
        let across = &shown.bare_spots[0];
        if across.diameter_mm > 4.3 && set_at(&room, &sign(&room, band_mm), across).0 == 0 {
            across_borders += 1;
            assert!(!shown.zone_spots.contains(across), "band of {band_mm} mm");
        }
        for spot in &shown.zone_spots {
            within += 1;
            let (by_hand, wrong) = set_at(&room, &sign(&room, band_mm), spot);
            assert_eq!((by_hand, wrong), (1, vec![]), "band of {band_mm} mm");
        }
    }
    assert!(across_borders > 0, "some border leaves a spot that no zone can take");
    assert!(within > 0, "some zone has room for one more");
}
