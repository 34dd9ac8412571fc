//! The index of discs and the upright boxes, against looking at all.

use crate::support::{close, point, random};
use geometry::{Bounds, Disc, DiscGrid, Point};
use rand::RngExt;

/// Discs all over, in clumps, in a row, on one another, none.
fn crowds() -> Vec<Vec<Disc>> {
    let rng = &mut random(1);
    let mut disc = |centre| Disc { centre, radius: rng.random_range(0.0..3.0) };
    let rng = &mut random(2);
    let spread: Vec<Disc> = (0..700).map(|_| disc(point(rng, 40.0))).collect();
    let clumps = (0..300).map(|k| {
        let middle = Point::new(f64::from(k % 3) * 1000.0, f64::from(k % 2) * 500.0);
        disc(middle + point(rng, 2.0))
    });
    let clumps = clumps.collect();
    let row = (0..200).map(|k| disc(Point::new(f64::from(k), 7.0))).collect();
    let column = (0..200).map(|k| disc(Point::new(-3.0, f64::from(k) * 0.1))).collect();
    let same = (0..50).map(|_| disc(Point::new(1.0, 2.0))).collect();
    vec![spread, clumps, row, column, same, vec![disc(Point::ORIGIN)], vec![]]
}

#[test]
fn around_holds_all_that_lie_within_reach() {
    for discs in crowds() {
        let grid = DiscGrid::new(discs.clone());
        assert_eq!(grid.discs(), discs);
        let rng = &mut random(3);
        for k in 0..300 {
            let p = point(rng, [5.0, 60.0, 2000.0][k % 3]);
            let reach = rng.random_range(0.0..[1.0, 20.0, 3000.0][k / 3 % 3]);
            let mut found: Vec<usize> = grid.around(p, reach).collect();
            found.sort_unstable();
            assert!(found.windows(2).all(|w| w[0] < w[1]), "each once");
            for (i, d) in discs.iter().enumerate() {
                if d.centre.distance(p) <= reach {
                    assert!(found.binary_search(&i).is_ok(), "{i} is missing at {p:?}");
                }
            }
        }
    }
}

#[test]
fn gap_is_the_distance_to_the_nearest_rim() {
    for discs in crowds() {
        let grid = DiscGrid::new(discs.clone());
        let most = discs.iter().map(|d| d.radius).fold(0.0, f64::max);
        assert_eq!(grid.radius_max(), most);
        let rng = &mut random(4);
        for _ in 0..300 {
            let p = point(rng, 60.0);
            let reach = rng.random_range(0.0..30.0);
            let slow = discs.iter().map(|d| d.centre.distance(p) - d.radius);
            let slow = slow.filter(|g| *g < reach).min_by(f64::total_cmp);
            assert_eq!(grid.gap(p, reach), slow);
        }
        let all = grid.around(Point::ORIGIN, f64::INFINITY).count();
        assert_eq!(all, discs.len());
    }
}

#[test]
fn an_index_stays_small() {
    // A million discs in a row must not make a million rows of cells.
    let row = (0..1_000_000).map(|k| Disc { centre: Point::new(f64::from(k), 0.0), radius: 0.5 });
    let grid = DiscGrid::new(row.collect());
    let near = grid.around(Point::new(5e5, 0.0), 2.0).count();
    assert!((5..=8).contains(&near), "{near}");
}

#[test]
fn boxes_hold_what_they_are_made_of() {
    assert!(Bounds::EMPTY.is_empty() && Bounds::of([]).is_empty());
    assert_eq!((Bounds::EMPTY.width(), Bounds::EMPTY.height()), (0.0, 0.0));
    let rng = &mut random(5);
    for _ in 0..100 {
        let points: Vec<Point> = (0..5).map(|_| point(rng, 9.0)).collect();
        let b = Bounds::of(points.iter().copied());
        assert!(points.iter().all(|p| b.distance(*p) == 0.0));
        assert_eq!(b.union(Bounds::EMPTY), b);
        assert_eq!(Bounds::EMPTY.union(b), b);
        let p = point(rng, 30.0);
        let corners = [b.min, b.max, Point::new(b.min.x, b.max.y), Point::new(b.max.x, b.min.y)];
        let far = corners.iter().map(|c| c.distance(p)).fold(0.0, f64::max);
        close(b.farthest(p), far, 1e-12);
        let clamped = Point::new(p.x.clamp(b.min.x, b.max.x), p.y.clamp(b.min.y, b.max.y));
        close(b.distance(p), clamped.distance(p), 1e-12);
        assert_eq!(b.meets(Bounds::of([p])), b.distance(p) == 0.0);
        assert!(b.grown(b.distance(p)).grown(1e-9).distance(p) == 0.0);
        close(b.centre().distance(b.min), b.centre().distance(b.max), 1e-12);
    }
}
