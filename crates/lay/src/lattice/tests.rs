//! Rows worked by hand, and their slow twin.

use super::*;
use crate::Unwatched;
use geometry::shapes;

fn lay(region: &Region, radius: f64, which: Lattice, rows: Rows) -> Rowed {
    let ground = Ground { region, keep: [0.0; 3], radius };
    lattice(ground, which, rows, &Unwatched).unwrap()
}

const BOTTOM: Rows = Rows::Locked(Along::Bottom);

#[test]
fn a_strip_that_just_fits_is_filled() {
    // 20 touching stones of 3 mm in 60 mm, 13 rows of squares in 39 mm: no rounding may lose one.
    let r = shapes::rectangle(60.0, 39.0);
    assert_eq!(lay(&r, 1.5, Lattice::Square, BOTTOM).seats.len(), 20 * 13);
    let turned = r.turned(0.3);
    let rows = Rows::Locked(Along::Longest);
    assert_eq!(lay(&turned, 1.5, Lattice::Square, rows).seats.len(), 20 * 13);
}

#[test]
fn honeycomb_rows_alternate() {
    // Worked by hand: rows of 20 and 19, (40 − 3)/(3·√3/2) = 14.24, so 15 rows.
    let r = shapes::rectangle(60.0, 40.0);
    let rowed = lay(&r, 1.5, Lattice::Honeycomb, BOTTOM);
    assert_eq!(rowed.seats.len(), 8 * 20 + 7 * 19);
    assert_eq!(rowed.seats.last().unwrap().row, 15);
}

#[test]
fn locked_rows_start_at_their_edge() {
    let r = shapes::rectangle(61.0, 40.0);
    for (along, first) in [
        (Along::Bottom, Point::new(-29.0, -18.5)),
        (Along::Top, Point::new(29.0, 18.5)),
        (Along::Left, Point::new(-29.0, 18.5)),
        (Along::Right, Point::new(29.0, -18.5)),
    ] {
        let seats = lay(&r, 1.5, Lattice::Square, Rows::Locked(along)).seats;
        assert!(seats[0].centre.distance(first) < 1e-8, "{along:?}: {:?}", seats[0]);
    }
}

#[test]
fn most_is_never_fewer_than_locked() {
    for (w, h) in [(60.0, 40.0), (31.7, 22.3), (9.5, 50.0)] {
        let r = shapes::rounded_rectangle(w, h, 4.0);
        let most = lay(&r, 1.3, Lattice::Honeycomb, Rows::Most { steps: 600 });
        for along in [Along::Bottom, Along::Top, Along::Left, Along::Right, Along::Longest] {
            let locked = lay(&r, 1.3, Lattice::Honeycomb, Rows::Locked(along));
            assert!(most.seats.len() >= locked.seats.len(), "{w} × {h} {along:?}");
        }
    }
}

#[test]
fn best_shift_agrees_with_trying_many() {
    // The slow twin: 2,000 shifts, counted stone by stone.
    let r = shapes::star(5, 50.0, 0.45).turned(0.2);
    let ground = Ground { region: &r, keep: [0.0; 3], radius: 1.1 };
    let walls = ground.walls(0.0);
    for y0 in [-20.0, -19.3, -18.6] {
        let which = Lattice::Honeycomb;
        let grid = Grid { which, x0: 0.0, y0, pitch: 2.2, rise: which.row_pitch(2.2) };
        let (_, best) = most::best_along(&grid, &walls, 1.1);
        let slow = (0..2000)
            .map(|i| Grid { x0: 2.2 * f64::from(i) / 2000.0, ..grid }.seats(&walls, 1.1, 0.0).len())
            .max()
            .unwrap();
        assert!(best >= slow, "{best} < {slow}");
        assert!(best <= slow + 1, "{best} claims more than can be found near {slow}");
    }
}

#[test]
fn even_rows_meet_the_far_edges() {
    let r = shapes::rectangle(61.0, 41.0);
    let rows = Rows::Even { along: Along::Bottom, open_mm: 0.5 };
    for which in [Lattice::Square, Lattice::Honeycomb] {
        let rowed = lay(&r, 1.5, which, rows);
        let b = geometry::Bounds::of(rowed.seats.iter().map(|s| s.centre));
        assert!((b.width() - 58.0).abs() < 1e-6 && (b.height() - 38.0).abs() < 1e-6, "{b:?}");
        assert_eq!(rowed.left_over, 0.0);
        assert!(rowed.opened.0 > 0.0);
    }
}

#[test]
fn even_says_what_is_left_when_it_may_not_open_enough() {
    let r = shapes::rectangle(8.0, 41.0);
    let rows = Rows::Even { along: Along::Bottom, open_mm: 0.1 };
    let rowed = lay(&r, 1.5, Lattice::Square, rows);
    // One step of 3.1 in 5.0 mm.
    assert!((rowed.left_over - 1.9).abs() < 1e-8, "{}", rowed.left_over);
}

#[test]
fn nothing_fits_into_too_narrow_a_zone() {
    let r = shapes::rectangle(60.0, 2.9);
    for rows in [BOTTOM, Rows::Most { steps: 100 }, Rows::Even { along: Along::Top, open_mm: 1.0 }]
    {
        assert!(lay(&r, 1.5, Lattice::Honeycomb, rows).seats.is_empty());
    }
}

#[test]
fn most_finds_what_a_small_circle_holds() {
    // 2 stones in a circle of twice their radius, 7 in one of three times: closed forms.
    for (times, stones) in [(1.0, 1), (2.0, 2), (3.0, 7)] {
        let r = shapes::circle(2.0 * times);
        let most = lay(&r, 1.0, Lattice::Honeycomb, Rows::Most { steps: 300 });
        assert_eq!(most.seats.len(), stones, "{times}");
    }
}
