//! Changes by hand: sound whatever they ask for, made in their order, and nothing else moves.

use crate::laws::{a_piece, assert_sound};
use crate::support::{kind, lay, piece, zone};
use geometry::{Point, Region, Ring, Segment, shapes};
use lay::{
    Along, Arrangement, Change, EDGE_OWN, EDGE_SHARED, Piece, PieceLay, Place, Rows, Scatter,
    Severity, Stone, pitch_mm,
};
use proptest::prelude::*;
use proptest::sample::Index;

const HONEYCOMB: Arrangement = Arrangement::Honeycomb(Rows::Locked(Along::Bottom));

fn at(x: f64, y: f64) -> Place {
    Place::on_plane(Point::new(x, y))
}

fn set(place: Place, kind: usize) -> Change {
    Change::Set { place, kind }
}

fn clear(at: Place) -> Change {
    Change::Clear { at }
}

fn recolour(at: Place, kind: usize) -> Change {
    Change::Recolour { at, kind }
}

/// What is asked, before it is known where stones lie: which stone, how far off it, what, and the
/// kind.
type Ask = (Index, f64, f64, u8, usize);

fn asks() -> impl Strategy<Value = Vec<Ask>> {
    let off = || prop_oneof![3 => Just(0.0), 3 => -1.5..1.5_f64, 1 => -9.0..9.0_f64];
    prop::collection::vec((any::<Index>(), off(), off(), 0..3_u8, 0..4_usize), 0..14)
}

/// Changes about the stones that a piece has without them.
fn changes(before: &PieceLay, asks: &[Ask]) -> Vec<Change> {
    let change = |(which, dx, dy, what, kind): &Ask| {
        let stone = before.stones.get(which.index(before.stones.len().max(1)));
        let p = stone.map_or(Point::ORIGIN, |s| s.place.point());
        let place = at(p.x + dx, p.y + dy);
        match what {
            0 => set(place, *kind),
            1 => clear(place),
            _ => recolour(place, *kind),
        }
    };
    asks.iter().map(change).collect()
}

fn changed(piece: &Piece, changes: Vec<Change>) -> PieceLay {
    lay(&Piece { changes, ..piece.clone() })
}

/// Stones as they can be compared, whatever their order.
fn sorted(stones: &[Stone]) -> Vec<(f64, f64, u32, bool)> {
    let mut all: Vec<_> =
        stones.iter().map(|s| (s.place.u, s.place.v, s.kind, s.by_hand)).collect();
    all.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    all
}

/// The slow twin: every change against every stone and edge, by the definition.
fn by_definition(piece: &Piece, mut stones: Vec<Stone>, changes: &[Change]) -> Vec<Stone> {
    let zone = &piece.zones[0];
    let pitch = |kind: usize| pitch_mm(&piece.kinds[kind], zone.gauge);
    let missing_at_edge =
        |p: Point, kind: usize| pitch(kind) / 2.0 + zone.margin_mm - zone.region.clearance(p);
    let missing_beside = |p: Point, kind: usize, s: &Stone| {
        (pitch(kind) + pitch(s.kind as usize)) / 2.0 + zone.spacing_mm - s.place.point().distance(p)
    };
    let covering = |stones: &[Stone], p: Point| {
        stones.iter().position(|s| {
            s.place.point().distance(p) <= piece.kinds[s.kind as usize].reach_mm / 2.0
        })
    };
    for change in changes {
        match *change {
            Change::Set { place, kind } => {
                let p = place.point();
                let too_close = |s: &Stone| missing_beside(p, kind, s) > 5e-7;
                let taken = stones.iter().any(|s| s.by_hand && too_close(s));
                if missing_at_edge(p, kind) <= 5e-7 && !taken {
                    stones.retain(|s| !too_close(s));
                    stones.push(Stone { place, kind: kind as u32, zone: 0, row: 1, by_hand: true });
                }
            }
            Change::Clear { at } => {
                if let Some(i) = covering(&stones, at.point()) {
                    stones.remove(i);
                }
            }
            Change::Recolour { at, kind } => {
                let Some(i) = covering(&stones, at.point()) else { continue };
                let p = stones[i].place.point();
                let others = stones.iter().enumerate().filter(|o| o.0 != i);
                let missing = others
                    .map(|o| missing_beside(p, kind, o.1))
                    .fold(missing_at_edge(p, kind), f64::max);
                if missing <= 5e-7 || pitch(kind) <= pitch(stones[i].kind as usize) {
                    stones[i].kind = kind as u32;
                }
            }
        }
    }
    stones
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 160, failure_persistence: None, rng_seed: proptest::test_runner::RngSeed::Fixed(17), ..ProptestConfig::default() })]

    #[test]
    fn whatever_is_changed_stones_keep_apart_and_inside(piece in a_piece(), asks in asks()) {
        let changes = changes(&lay(&piece), &asks);
        let lay = changed(&piece, changes.clone());
        assert_sound(&piece, &lay);
        prop_assert!(lay.findings.iter().all(|f| f.code != "lay.unsound"));
        let rows: Vec<u32> = lay.stones.iter().map(|s| s.row).collect();
        prop_assert!(rows.is_sorted());
        prop_assert!(rows.first().is_none_or(|r| *r == 1));
        prop_assert!(rows.windows(2).all(|w| w[1] - w[0] <= 1));
        prop_assert_eq!(lay.zones[0].n_rows, rows.last().copied().unwrap_or(0));
        // The same changes, the same stones in the same order.
        prop_assert_eq!(&lay.stones, &changed(&piece, changes.clone()).stones);
        // Fillers are the last, and none was set by hand.
        let own = lay.stones.len() - lay.zones[0].n_fillers;
        prop_assert!(lay.stones[own..].iter().all(|s| !s.by_hand));
        // What is set is there, or was cleared since, or a finding says why not.
        for (no, change) in changes.iter().enumerate() {
            let Change::Set { place, .. } = change else { continue };
            let there = lay.stones.iter().any(|s| s.by_hand && s.place == *place);
            let named = format!("change {} by hand: ", no + 1);
            let said = lay.findings.iter().any(|f| f.text.starts_with(&named));
            let cleared = changes[no + 1..].iter().any(|c| matches!(c, Change::Clear { .. }));
            prop_assert!(there || said || cleared, "{change:?} is lost");
        }
    }

    #[test]
    fn changes_are_what_their_definition_says(piece in a_piece(), asks in asks()) {
        let mut piece = piece;
        piece.zones[0].fillers.clear();
        let before = lay(&piece);
        let changes = changes(&before, &asks);
        let expect = by_definition(&piece, before.stones.clone(), &changes);
        let lay = changed(&piece, changes);
        prop_assert_eq!(sorted(&lay.stones), sorted(&expect));
    }

    #[test]
    fn stones_that_no_change_speaks_of_stay_as_they_are(piece in a_piece(), asks in asks()) {
        let mut piece = piece;
        piece.zones[0].fillers.clear();
        let before = lay(&piece);
        let changes = changes(&before, &asks);
        let lay = changed(&piece, changes.clone());
        // Two of the largest stones and a spacing: nothing farther off is reached.
        let reach = 2.0 * 3.2 + 0.5;
        let far = |s: &&Stone| {
            changes.iter().all(|c| c.place().point().distance(s.place.point()) > reach)
        };
        let same = |a: &Stone, b: &Stone| Stone { row: 0, ..*a } == Stone { row: 0, ..*b };
        let kept: Vec<&Stone> = lay.stones.iter().filter(far).collect();
        let own: Vec<&Stone> = before.stones.iter().filter(far).collect();
        prop_assert_eq!(kept.len(), own.len());
        // In the same order too.
        prop_assert!(kept.iter().zip(&own).all(|(a, b)| same(a, b)));
    }

    #[test]
    fn a_stone_is_found_under_its_own_middle(piece in a_piece()) {
        let lay = lay(&piece);
        for (i, s) in lay.stones.iter().enumerate() {
            prop_assert_eq!(lay.stone_at(&piece, s.place.u, s.place.v), Some(i));
        }
        prop_assert_eq!(lay.stone_at(&piece, 1e4, 0.0), None);
    }
}

/// A badge of 20 × 20 mm in rows of 2 mm stones that touch; kinds of 2, 3, 2 and 0.7 mm.
fn badge(fillers: &[usize]) -> Piece {
    let mut all = zone(shapes::rectangle(20.0, 20.0), HONEYCOMB, &[1.0]);
    all.fillers = fillers.to_vec();
    let named = |name: &str, mm| lay::Kind { name: name.into(), ..kind(mm, mm) };
    let kinds = [("tide", 2.0), ("ember", 3.0), ("coral", 2.0), ("dew", 0.7)];
    piece(kinds.map(|(name, mm)| named(name, mm)).to_vec(), vec![all])
}

fn codes(lay: &PieceLay) -> Vec<&'static str> {
    lay.findings.iter().map(|f| f.code).filter(|c| c.starts_with("lay.by-hand")).collect()
}

#[test]
fn a_set_stone_takes_the_place_of_those_in_its_way_and_their_row() {
    let piece = badge(&[]);
    let before = lay(&piece);
    let middle = before.stones[before.stones.len() / 2];
    let lay = changed(&piece, vec![set(middle.place, 1)]);
    // 3 mm on a lattice of 2 mm: the stone itself and the six round it.
    assert_eq!(lay.stones.len(), before.stones.len() - 7 + 1);
    let i = lay.stones.iter().position(|s| s.by_hand).unwrap();
    assert_eq!(lay.stones[i], Stone { kind: 1, by_hand: true, ..middle });
    // It is set between its neighbours in the row.
    let x = |i: usize| lay.stones[i].place.u;
    assert!(x(i - 1) < x(i) && x(i) < x(i + 1), "{} {} {}", x(i - 1), x(i), x(i + 1));
    assert_eq!(lay.stone_at(&piece, middle.place.u + 1.4, middle.place.v), Some(i));
    assert!(codes(&lay).is_empty(), "{:?}", lay.findings);
}

#[test]
fn a_stone_pinned_where_it_lies_keeps_its_neighbours() {
    let piece = badge(&[]);
    let before = lay(&piece);
    let pins = before.stones.iter().map(|s| set(s.place, s.kind as usize)).collect();
    let lay = changed(&piece, pins);
    let pinned: Vec<Stone> = before.stones.iter().map(|s| Stone { by_hand: true, ..*s }).collect();
    assert!(lay.stones == pinned, "stones or their order changed");
}

#[test]
fn a_move_is_a_clear_and_a_set() {
    let piece = badge(&[]);
    let before = lay(&piece);
    let corner = before.stones[0];
    // Half a millimetre off covers the old place again: what comes later holds.
    let to = at(corner.place.u, corner.place.v);
    let gone = changed(&piece, vec![set(to, 0), clear(corner.place)]);
    assert_eq!(gone.stones.len(), before.stones.len() - 1);
    let moved = changed(&piece, vec![clear(corner.place), set(to, 0)]);
    assert_eq!(moved.stones.len(), before.stones.len());
    assert!(codes(&moved).is_empty() && codes(&gone).is_empty());
}

#[test]
fn what_is_cleared_stays_bare_of_fillers_and_is_no_finding() {
    let piece = badge(&[3]);
    let before = lay(&piece);
    let own = before.stones.len() - before.zones[0].n_fillers;
    assert!(before.zones[0].n_fillers > 0);
    let middle = before.stones[own / 2];
    let lay = changed(&piece, vec![clear(middle.place)]);
    assert_eq!(lay.stones.len(), before.stones.len() - 1);
    let spot = lay.zones[0].bare_spots[0];
    assert!(spot.place.point().distance(middle.place.point()) < 1e-6, "{spot:?}");
    assert!(spot.takes.is_some());
    let said = |l: &PieceLay| l.findings.iter().any(|f| f.code == "lay.bare-spot");
    assert_eq!(said(&lay), said(&before));
}

#[test]
fn fillers_are_changed_one_by_one() {
    let piece = badge(&[3]);
    let before = lay(&piece);
    let n = before.stones.len();
    let lay = changed(&piece, vec![clear(before.stones[n - 2].place)]);
    assert_eq!(lay.stones[..n - 2], before.stones[..n - 2]);
    assert_eq!(lay.stones[n - 2..], before.stones[n - 1..]);
    assert_eq!(lay.zones[0].n_fillers, before.zones[0].n_fillers - 1);
    let lay = changed(&piece, vec![recolour(before.stones[n - 2].place, 0)]);
    assert_eq!(codes(&lay), ["lay.by-hand-no-room"]);
    assert_eq!(lay.stones, before.stones);
}

#[test]
fn fillers_keep_clear_of_what_is_set() {
    let piece = badge(&[3]);
    let before = lay(&piece);
    let middle = before.stones[(before.stones.len() - before.zones[0].n_fillers) / 2];
    let lay = changed(&piece, vec![set(middle.place, 1)]);
    assert_sound(&piece, &lay);
    // Six stones are left out, and their places filled round the large one.
    assert!(lay.zones[0].n_fillers > before.zones[0].n_fillers);
}

#[test]
fn what_cannot_be_done_is_said_and_left() {
    let piece = badge(&[]);
    let before = lay(&piece);
    let lay = changed(
        &piece,
        vec![
            set(at(-9.0, 0.0), 1),
            set(at(0.0, 0.0), 1),
            set(at(2.4, 0.0), 1),
            clear(at(30.0, 0.0)),
            recolour(before.stones[0].place, 1),
            recolour(at(1.45, 1.45), 0),
            set(at(11.0, 0.0), 0),
        ],
    );
    let said: Vec<String> = lay
        .findings
        .iter()
        .filter(|f| f.code.starts_with("lay.by-hand"))
        .map(|f| {
            let zone = f.zone.as_deref().unwrap_or("nowhere");
            let figures = [&f.measured, &f.wanted].map(|v| v.clone().unwrap_or_default());
            assert_eq!(f.severity == Severity::Note, f.code == "lay.by-hand-nothing");
            format!("{} ({zone}): {} [{}]", f.code, f.text, figures.join("; "))
        })
        .collect();
    assert_eq!(
        said,
        [
            "lay.by-hand-outside (all): change 1 by hand: `ember` is not set: it would not lie \
             wholly within its zone [0.5 mm missing; a margin of 0 mm kept]",
            "lay.by-hand-too-close (all): change 3 by hand: `ember` is not set: it would be too \
             close to one set before it [0.6 mm missing; 0 mm from edge to edge]",
            "lay.by-hand-no-room (all): change 5 by hand: there is no room for `ember`: the stone \
             stays `tide` [0.5 mm missing; 3 mm across and 0 mm round it]",
            "lay.by-hand-nothing (all): change 6 by hand: no stone covers this spot, so that none \
             is recoloured [; ]",
            "lay.by-hand-nothing (nowhere): change 4 by hand: no stone covers this spot: it is \
             clear already [; ]",
            "lay.by-hand-outside (nowhere): change 7 by hand: `tide` is not set: its place lies in \
             no zone [2 mm missing; wholly within a zone]",
        ]
    );
    assert_eq!(lay.stones.iter().filter(|s| s.by_hand).count(), 1);
}

/// Two halves of a badge, left and right of x = 0.
fn halves() -> Piece {
    let half = |west: f64, east: f64| {
        let ring = Ring::polygon(&[
            Point::new(west, -6.0),
            Point::new(east, -6.0),
            Point::new(east, 6.0),
            Point::new(west, 6.0),
        ]);
        let border = |s: &Segment| {
            if s.from.x == 0.0 && s.to.x == 0.0 { EDGE_SHARED } else { EDGE_OWN }
        };
        let segments = ring.segments.iter().map(|s| s.tagged(border(s))).collect();
        Region::new(vec![Ring { segments }]).unwrap()
    };
    let scatter = Arrangement::Scatter(Scatter { ring_holes: true });
    let zones =
        vec![zone(half(-9.0, 0.0), HONEYCOMB, &[1.0]), zone(half(0.0, 9.0), scatter, &[1.0])];
    let blank = shapes::rectangle(18.0, 12.0);
    Piece { blank, ..piece(vec![kind(2.0, 2.0), kind(3.0, 3.0)], zones) }
}

#[test]
fn a_stone_belongs_to_the_zone_of_its_middle_and_may_not_reach_into_the_next() {
    let piece = halves();
    let before = lay(&piece);
    let lay = changed(&piece, vec![set(at(-0.9, 0.0), 0), set(at(3.0, 0.0), 1)]);
    assert_eq!(codes(&lay), ["lay.by-hand-outside"]);
    let by_hand: Vec<&Stone> = lay.stones.iter().filter(|s| s.by_hand).collect();
    assert_eq!(by_hand.iter().map(|s| (s.zone, s.kind)).collect::<Vec<_>>(), [(1, 1)]);
    // The other zone does not notice.
    let first = |l: &PieceLay| l.stones.iter().filter(|s| s.zone == 0).copied().collect::<Vec<_>>();
    assert_eq!(first(&lay), first(&before));
}

#[test]
fn a_zone_in_which_nothing_has_room_may_be_set_by_hand() {
    let mut piece = badge(&[]);
    piece.zones[0].mix[0].kind = 1;
    piece.zones[0].region = shapes::rectangle(8.0, 2.5);
    piece.blank = piece.zones[0].region.clone();
    assert_eq!(lay(&piece).findings[0].code, "lay.zone-empty");
    let lay = changed(&piece, vec![set(at(0.0, 0.0), 0), set(at(3.0, 0.0), 2)]);
    assert_eq!(lay.stones.iter().map(|s| s.row).collect::<Vec<_>>(), [1, 1]);
    assert!(lay.findings.iter().all(|f| f.code != "lay.zone-empty"));
}

#[test]
fn changes_all_over_a_large_piece_are_all_made() {
    let mut piece = badge(&[]);
    piece.zones[0].region = shapes::rectangle(300.0, 240.0);
    piece.blank = piece.zones[0].region.clone();
    let before = lay(&piece);
    assert!(before.stones.len() > 20_000, "{}", before.stones.len());
    let spread = before.stones.iter().step_by(before.stones.len() / 200);
    let changes: Vec<Change> = spread.map(|s| set(s.place, 2)).collect();
    let lay = changed(&piece, changes.clone());
    assert_eq!(lay.stones.len(), before.stones.len());
    assert_eq!(lay.stones.iter().filter(|s| s.by_hand).count(), changes.len());
}
