//! What every scatter promises.

use super::{ScatterSize, scatter};
use crate::Unwatched;
use crate::seat::Seat;
use geometry::{Point, Region, Walls, shapes};

/// The mix of the speed and coverage targets: (diameter mm, share).
const MIX: &[(f64, f64)] = &[(6.4, 0.1), (4.7, 0.2), (3.9, 0.3), (2.8, 0.4)];

fn sizes(mix: &[(f64, f64)]) -> Vec<ScatterSize> {
    mix.iter().map(|&(d, share)| ScatterSize { radius: d / 2.0, share }).collect()
}

fn lay(region: &Region, mix: &[(f64, f64)], keep: f64, seed: u64) -> Vec<Seat> {
    let walls = Walls::new(region, |_| keep);
    scatter(region, &walls, &sizes(mix), true, seed, &Unwatched).unwrap().seats
}

fn coverage(seats: &[Seat], mix: &[(f64, f64)], region: &Region) -> f64 {
    let area = |s: &Seat| std::f64::consts::PI / 4.0 * mix[s.size].0 * mix[s.size].0;
    seats.iter().map(area).sum::<f64>() / region.area()
}

/// The slow twin: every pair, every segment.
fn assert_fits(seats: &[Seat], mix: &[(f64, f64)], region: &Region, keep: f64) {
    let r = |s: &Seat| mix[s.size].0 / 2.0;
    for (i, a) in seats.iter().enumerate() {
        let room = region.clearance(a.centre) - keep;
        assert!(room >= r(a) - 1e-6, "stone {i} leaves the region by {}", r(a) - room);
        for b in &seats[..i] {
            let gap = a.centre.distance(b.centre) - r(a) - r(b);
            assert!(gap >= -1e-6, "overlap of {gap} at {:?}", a.centre);
        }
    }
}

#[test]
fn the_target_mix_covers_and_holds_its_shares() {
    let region = shapes::rectangle(300.0, 200.0);
    for seed in 0..5 {
        let seats = lay(&region, MIX, 0.0, seed);
        assert_fits(&seats, MIX, &region, 0.0);
        let covered = coverage(&seats, MIX, &region);
        assert!(covered >= 0.845, "seed {seed}: {covered}");
        for (size, &(_, share)) in MIX.iter().enumerate() {
            let n = seats.iter().filter(|s| s.size == size).count() as f64;
            assert!((n / seats.len() as f64 - share).abs() <= 0.02);
        }
    }
}
