//! Which kind goes to which seat, whatever the arrangement.

use crate::seat::Seat;
use crate::{Colouring, MixPart};
use geometry::{Disc, DiscGrid};
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;

/// The kind of every seat, in their order: indices into the piece's kinds.
///
/// `sizes[s]` lists the parts of the mix (indices into `mix`) that a seat of size `s` may take,
/// and `radii[s]` is half its pitch.
pub(crate) fn kinds(
    seats: &[Seat],
    colouring: Colouring,
    mix: &[MixPart],
    sizes: &[Vec<usize>],
    radii: &[f64],
    seed: u64,
) -> Vec<u32> {
    let parts = match colouring {
        Colouring::Plain => seats.iter().map(|s| sizes[s.size][0]).collect(),
        Colouring::Striped => striped(seats, mix, sizes),
        Colouring::Alternating => alternating(seats, sizes),
        Colouring::Random => random(seats, mix, sizes, radii, seed),
    };
    parts.into_iter().map(|part: usize| mix[part].kind as u32).collect()
}

/// Rows of one part each, as wide as the part says, over and over.
fn striped(seats: &[Seat], mix: &[MixPart], sizes: &[Vec<usize>]) -> Vec<usize> {
    let cycles: Vec<Vec<usize>> = sizes
        .iter()
        .map(|parts| {
            let wide = |&p: &usize| std::iter::repeat_n(p, mix[p].rows.max(1) as usize);
            parts.iter().flat_map(wide).collect()
        })
        .collect();
    let part = |s: &Seat| {
        let cycle = &cycles[s.size];
        cycle[(s.row as usize - 1) % cycle.len()]
    };
    seats.iter().map(part).collect()
}

/// One part after the other along each row, by column.
fn alternating(seats: &[Seat], sizes: &[Vec<usize>]) -> Vec<usize> {
    let part = |s: &Seat| {
        let parts = &sizes[s.size];
        parts[s.column.rem_euclid(parts.len() as i64) as usize]
    };
    seats.iter().map(part).collect()
}

/// By share, to the stone, and so that equal parts rarely touch.
fn random(
    seats: &[Seat],
    mix: &[MixPart],
    sizes: &[Vec<usize>],
    radii: &[f64],
    seed: u64,
) -> Vec<usize> {
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    let mut parts: Vec<usize> = seats.iter().map(|s| sizes[s.size][0]).collect();
    if sizes.iter().all(|p| p.len() == 1) {
        return parts;
    }
    let near = Neighbours::new(seats, radii);
    for (size, choice) in sizes.iter().enumerate().filter(|(_, c)| c.len() > 1) {
        let mut members: Vec<usize> = (0..seats.len()).filter(|&i| seats[i].size == size).collect();
        let mut left = quotas(members.len(), choice, mix);
        shuffle(&mut members, &mut rng);
        let mut done = vec![false; seats.len()];
        for &i in &members {
            let c = draw(&near, i, choice, &left, &parts, &done, &mut rng);
            left[c] -= 1;
            parts[i] = choice[c];
            done[i] = true;
        }
        unclump(&near, &members, &mut parts, &mut rng);
    }
    parts
}

/// How many of `n` seats each part gets: its share rounded down, then the largest remainders.
fn quotas(n: usize, choice: &[usize], mix: &[MixPart]) -> Vec<usize> {
    let total: f64 = choice.iter().map(|&p| mix[p].share).sum();
    let exact: Vec<f64> = choice.iter().map(|&p| mix[p].share / total * n as f64).collect();
    let mut counts: Vec<usize> = exact.iter().map(|e| e.floor() as usize).collect();
    let mut order: Vec<usize> = (0..choice.len()).collect();
    order.sort_by(|&a, &b| (exact[b].fract()).total_cmp(&exact[a].fract()).then(a.cmp(&b)));
    let missing = n - counts.iter().sum::<usize>().min(n);
    order.into_iter().cycle().take(missing).for_each(|c| counts[c] += 1);
    counts
}

/// Draws a part for seat `i`: likelier the more of it is left, much less likely beside its like.
fn draw(
    near: &Neighbours,
    i: usize,
    choice: &[usize],
    left: &[usize],
    parts: &[usize],
    done: &[bool],
    rng: &mut ChaCha8Rng,
) -> usize {
    let weight = |c: usize| {
        let alike = near.of(i).filter(|&j| done[j] && parts[j] == choice[c]).count();
        // A quarter for each neighbour alike: strong enough to break clumps, weak enough to keep
        // the look of chance.
        (0..alike).fold(left[c] as f64, |w, _| w / 4.0)
    };
    let weights: Vec<f64> = (0..choice.len()).map(weight).collect();
    let mut at = rng.random::<f64>() * weights.iter().sum::<f64>();
    for (c, w) in weights.iter().enumerate() {
        if *w > 0.0 && at < *w {
            return c;
        }
        at -= w;
    }
    // Rounding ran past the end: the last part that has some left.
    (0..choice.len()).rev().find(|&c| left[c] > 0).unwrap_or(0)
}

/// Swaps two seats' parts wherever that leaves fewer neighbours alike: the last ones drawn had
/// little choice.
fn unclump(near: &Neighbours, members: &[usize], parts: &mut [usize], rng: &mut ChaCha8Rng) {
    let alike = |parts: &[usize], i: usize| near.of(i).filter(|&j| parts[j] == parts[i]).count();
    for &i in members {
        let before_i = alike(parts, i);
        if before_i < 2 {
            continue;
        }
        for _ in 0..8 {
            let j = members[rng.random_range(0..members.len())];
            if parts[j] == parts[i] {
                continue;
            }
            let before = before_i + alike(parts, j);
            parts.swap(i, j);
            if alike(parts, i) + alike(parts, j) < before {
                break;
            }
            parts.swap(i, j);
        }
    }
}

/// Fisher and Yates' shuffle (Durstenfeld 1964), written out so that its draws are fixed.
fn shuffle(items: &mut [usize], rng: &mut ChaCha8Rng) {
    for i in (1..items.len()).rev() {
        items.swap(i, rng.random_range(0..=i));
    }
}

/// Which seats lie beside which: closer than a quarter more than touching.
struct Neighbours {
    start: Vec<u32>,
    items: Vec<u32>,
}

impl Neighbours {
    fn new(seats: &[Seat], radii: &[f64]) -> Neighbours {
        let disc = |s: &Seat| Disc { centre: s.centre, radius: radii[s.size] };
        let grid = DiscGrid::new(seats.iter().map(disc).collect());
        let (mut start, mut items) = (vec![0], vec![]);
        for s in seats {
            let r = radii[s.size];
            for j in grid.around(s.centre, 1.25 * (r + grid.radius_max())) {
                let d = grid.discs()[j];
                let apart = d.centre.distance(s.centre);
                if apart > 0.0 && apart < 1.25 * (r + d.radius) {
                    items.push(j as u32);
                }
            }
            start.push(items.len() as u32);
        }
        Neighbours { start, items }
    }

    fn of(&self, i: usize) -> impl Iterator<Item = usize> + '_ {
        let span = self.start[i] as usize..self.start[i + 1] as usize;
        self.items[span].iter().map(|&j| j as usize)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use geometry::Point;

    fn square(n: usize) -> Vec<Seat> {
        let at = |i: usize| Point::new((i % n) as f64, (i / n) as f64);
        let column = |i: usize| (i % n) as i64;
        (0..n * n)
            .map(|i| Seat { centre: at(i), size: 0, column: column(i), row: (i / n) as u32 + 1 })
            .collect()
    }

    fn mix(shares: &[f64]) -> Vec<MixPart> {
        shares.iter().enumerate().map(|(kind, &share)| MixPart { kind, share, rows: 1 }).collect()
    }

    fn laid(colouring: Colouring, n: usize, mix: &[MixPart]) -> Vec<u32> {
        kinds(&square(n), colouring, mix, &[(0..mix.len()).collect()], &[0.5], 7)
    }

    #[test]
    fn random_shares_come_out_to_the_stone() {
        let kinds = laid(Colouring::Random, 30, &mix(&[0.5, 0.3, 0.2]));
        let count = |k| kinds.iter().filter(|&&x| x == k).count();
        assert_eq!([count(0), count(1), count(2)], [450, 270, 180]);
    }

    #[test]
    fn random_keeps_equal_kinds_apart() {
        // Plain chance gives each of a quarter's stones one of its four neighbours alike.
        let kinds = laid(Colouring::Random, 40, &mix(&[0.25; 4]));
        let alike = (0..40 * 39).filter(|&i| kinds[i] == kinds[i + 40]).count();
        assert!((alike as f64) < 0.12 * (40.0 * 39.0), "{alike} pairs alike");
    }

    #[test]
    fn stripes_are_as_wide_as_asked() {
        let mut mix = mix(&[0.5, 0.5]);
        mix[1].rows = 2;
        let kinds = laid(Colouring::Striped, 6, &mix);
        let by_row: Vec<u32> = kinds.chunks(6).map(|r| r[0]).collect();
        assert_eq!(by_row, [0, 1, 1, 0, 1, 1]);
        assert!(kinds.chunks(6).all(|r| r.iter().all(|k| *k == r[0])));
    }

    #[test]
    fn alternating_goes_by_column() {
        let kinds = laid(Colouring::Alternating, 5, &mix(&[0.4, 0.3, 0.3]));
        assert!(kinds.chunks(5).all(|r| r == [0, 1, 2, 0, 1]));
    }
}
