//! The order in which stones without rows are worked: patch after patch, hand beside hand.

use geometry::{Bounds, Point};
use std::ops::Range;

/// A stone that is to be swept.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Spot {
    /// Its index in the lay.
    pub(super) stone: usize,
    /// Where it lies.
    pub(super) at: Point,
}

/// A gap of so many of the largest stones ends a run of a strip: a hole or a limb lies between.
const RUN_GAP: f64 = 2.0;

/// Chains of more runs than this are left as they are, and others are gone over so often at most:
/// a millisecond at worst.
const SHORTENED_MAX: usize = 300;
const PASSES: usize = 8;

/// Puts the spots in an order of which every n-th part is a compact patch.
///
/// Strips as high as a patch is wide, from the top down, are broken where nothing lies; the runs
/// are joined from end to nearest end, so that a frame is gone round and a plain area back and
/// forth.
pub(super) fn in_patches(spots: &mut [Spot], n_patches: usize, largest_mm: f64) {
    let bounds = Bounds::of(spots.iter().map(|s| s.at));
    if spots.len() < 2 {
        return;
    }
    let side = patch_side(spots, n_patches, largest_mm);
    let n_strips = (bounds.height() / side).round().max(1.0);
    let height = (bounds.height() / n_strips).max(1e-9);
    let strip = |s: &Spot| ((bounds.max.y - s.at.y) / height).floor().min(n_strips - 1.0);
    let mut keyed: Vec<(u32, Spot)> = spots.iter().map(|s| (strip(s) as u32, *s)).collect();
    keyed.sort_by(|(a, s), (b, t)| {
        a.cmp(b).then(s.at.x.total_cmp(&t.at.x)).then(s.stone.cmp(&t.stone))
    });
    let runs = runs(&keyed, RUN_GAP * largest_mm);
    let middle = |strip: u32| bounds.max.y - (f64::from(strip) + 0.5) * height;
    let ends = runs.iter().map(|r| {
        let end = |i: usize| Point::new(keyed[i].1.at.x, middle(keyed[i].0));
        [end(r.start), end(r.end - 1)]
    });
    let mut next = spots.iter_mut();
    for (run, backwards) in chained(&ends.collect::<Vec<_>>()) {
        let range = runs[run].clone();
        for j in 0..range.len() {
            let i = if backwards { range.end - 1 - j } else { range.start + j };
            if let Some(spot) = next.next() {
                *spot = keyed[i].1;
            }
        }
    }
}

/// Puts the spots of one patch in strips of one stone, back and forth from the top left.
pub(super) fn back_and_forth(spots: &mut [Spot], largest_mm: f64) {
    let bounds = Bounds::of(spots.iter().map(|s| s.at));
    let apart = (bounds.width() * bounds.height() / spots.len().max(1) as f64).sqrt();
    let height = largest_mm.max(apart).max(1e-9);
    let strip = |s: &Spot| ((bounds.max.y - s.at.y) / height).floor() as u32;
    spots.sort_by(|s, t| {
        let (a, b) = (strip(s), strip(t));
        let along = s.at.x.total_cmp(&t.at.x);
        let along = if a % 2 == 0 { along } else { along.reverse() };
        a.cmp(&b).then(along).then(s.stone.cmp(&t.stone))
    });
}

/// The side of a square patch, mm: of the area that the spots cover, told by the cells of the
/// largest stone in which any lies.
fn patch_side(spots: &[Spot], n_patches: usize, largest_mm: f64) -> f64 {
    let cell = 2.0 * largest_mm.max(1e-9);
    let key = |s: &Spot| ((s.at.x / cell).floor() as i64, (s.at.y / cell).floor() as i64);
    let mut cells: Vec<(i64, i64)> = spots.iter().map(key).collect();
    cells.sort_unstable();
    cells.dedup();
    (cells.len() as f64 * cell * cell / n_patches.max(1) as f64).sqrt().max(largest_mm).max(1e-9)
}

/// Stretches of one strip without a wide gap.
fn runs(keyed: &[(u32, Spot)], gap_mm: f64) -> Vec<Range<usize>> {
    let mut runs = vec![];
    let mut from = 0;
    for i in 1..=keyed.len() {
        let ends = keyed.get(i).is_none_or(|(strip, spot)| {
            let (before, last) = keyed[i - 1];
            *strip != before || spot.at.x - last.at.x > gap_mm
        });
        if ends {
            runs.push(from..i);
            from = i;
        }
    }
    runs
}

/// The runs from the first, each next one that with the nearest end: (index, whether backwards).
fn chained(ends: &[[Point; 2]]) -> Vec<(usize, bool)> {
    let mut left: Vec<usize> = (1..ends.len()).collect();
    let mut chain = vec![(0, false)];
    let mut at = ends[0][1];
    while !left.is_empty() {
        let mut nearest = (f64::INFINITY, 0, false);
        for (k, &run) in left.iter().enumerate() {
            for (backwards, end) in [(false, ends[run][0]), (true, ends[run][1])] {
                let away = (end - at).norm2();
                if away < nearest.0 {
                    nearest = (away, k, backwards);
                }
            }
        }
        let run = left.remove(nearest.1);
        chain.push((run, nearest.2));
        at = ends[run][usize::from(!nearest.2)];
    }
    shorten(&mut chain, ends);
    chain
}

/// Turns parts of the chain round while that shortens the way between its runs (2-opt): the nearest
/// end, taken greedily, leaves runs behind to which one would have to come back.
fn shorten(chain: &mut [(usize, bool)], ends: &[[Point; 2]]) {
    if chain.len() > SHORTENED_MAX {
        return;
    }
    let from = |(run, backwards): (usize, bool)| ends[run][usize::from(backwards)];
    let to = |(run, backwards): (usize, bool)| ends[run][usize::from(!backwards)];
    for _ in 0..PASSES {
        let mut shorter = false;
        // The first run stays where it is: one begins at the top.
        for i in 1..chain.len() {
            for j in i..chain.len() {
                let (before, a, b) = (to(chain[i - 1]), from(chain[i]), to(chain[j]));
                let after = chain.get(j + 1).map(|&run| from(run));
                let way = |p: Point, q: Point| {
                    before.distance(p) + after.map_or(0.0, |after| q.distance(after))
                };
                if way(b, a) < way(a, b) - 1e-9 {
                    chain[i..=j].reverse();
                    chain[i..=j].iter_mut().for_each(|run| run.1 = !run.1);
                    shorter = true;
                }
            }
        }
        if !shorter {
            break;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spots(at: impl IntoIterator<Item = (f64, f64)>) -> Vec<Spot> {
        let spot = |(stone, (x, y))| Spot { stone, at: Point::new(x, y) };
        at.into_iter().enumerate().map(spot).collect()
    }

    fn step(spots: &[Spot]) -> f64 {
        spots.windows(2).map(|w| w[0].at.distance(w[1].at)).fold(0.0, f64::max)
    }

    #[test]
    fn a_plain_area_is_swept_back_and_forth() {
        let grid = (0..40).flat_map(|y| (0..40).map(move |x| (f64::from(x), f64::from(y))));
        let mut spots = spots(grid);
        in_patches(&mut spots, 16, 1.0);
        // Ten by ten to a patch: none is wider or higher than two.
        for patch in spots.chunks(100) {
            let b = Bounds::of(patch.iter().map(|s| s.at));
            assert!(b.width() <= 20.0 && b.height() <= 20.0, "{b:?}");
        }
        back_and_forth(&mut spots[..100], 1.0);
        assert!(step(&spots[..100]) < 4.0, "{}", step(&spots[..100]));
    }

    #[test]
    fn a_frame_is_gone_round() {
        let frame = (0..60).flat_map(|y| (0..60).map(move |x| (x, y)));
        let frame = frame.filter(|(x, y)| !((6..54).contains(x) && (6..54).contains(y)));
        let mut spots = spots(frame.map(|(x, y)| (f64::from(x), f64::from(y))));
        let n = spots.len();
        in_patches(&mut spots, 36, 1.0);
        assert!(step(&spots) < 14.0, "{}", step(&spots));
        let mut stones: Vec<usize> = spots.iter().map(|s| s.stone).collect();
        stones.sort_unstable();
        assert_eq!(stones, (0..n).collect::<Vec<_>>());
    }
}
