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
fn a_stone_goes_into_the_largest_spot_of_a_zone_where_the_largest_lies_across_a_border() {
    let room = Room::new();
    let mut tried = 0;
    for step in 0..40 {
        let opened = sign(&room, 5.0 + f64::from(step) * 0.2);
        let shown = board(&room, &opened);
        let across = &shown.bare_spots[0];
        if shown.zone_spots.contains(across) || across.diameter_mm < 4.3 {
            continue;
        }
        let (by_hand, _) = set_at(&room, &opened, across);
        if by_hand > 0 {
            continue;
        }
        tried += 1;
        let opened = sign(&room, 5.0 + f64::from(step) * 0.2);
        let (by_hand, wrong) = set_at(&room, &opened, &shown.zone_spots[0]);
        assert_eq!((by_hand, wrong), (1, vec![]), "band of {} mm", 5.0 + f64::from(step) * 0.2);
    }
    assert!(tried > 0, "some border leaves a spot that no zone can take");
}
