//! One lay, grown from the edges inwards.

use super::ScatterSize;
use super::edge::Edges;
use super::field::Field;
use super::first;
use super::front::Front;
use super::ring::{RingMaker, holes};
use super::shares::{Shares, off_by};
use crate::{Stopped, Watch};
use geometry::{Point, Region, Walls};
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;

/// How the price of a form rises for each stone that it lags behind its share, in mean radii:
/// high enough that shares hold from the first hundred stones on, low enough that the best place
/// is not passed over for the sake of a single stone.
const PRICE: f64 = 0.02;
/// The same in a small lay, divided by the number of stones that may be expected.
const PRICE_SMALL: f64 = 5.0;

/// Sizes within this part of each other's radius count as alike …
const ALIKE_WITHIN: f64 = 0.12;
/// … and where more than this share of all stones is alike, they would fall into rows, with the
/// others in heaps between.
const ROWS_ABOVE: f64 = 0.6;
/// Where they would, these shares of them keep the others off by so many times their radius. By
/// trial: about the least that leaves no rows to be seen; it costs up to a tenth of the stones.
const LOOSE: [(f64, f64); 3] = [(0.8, 1.0), (0.1, 1.075), (0.1, 1.175)];

/// After how many stones the watcher is asked.
const WATCHED: usize = 1024;

/// A size as the front sees it: with the radius by which it keeps others off.
#[derive(Clone, Copy)]
struct Form {
    size: usize,
    radius: f64,
    /// Its part of the stones of its size.
    part: f64,
}

/// Everything that stays the same from pass to pass.
pub(crate) struct Ground<'a> {
    /// The radius of each size, mm.
    pub(crate) radii: Vec<f64>,
    walls: &'a Walls,
    edges: Edges,
    holes: Vec<std::ops::Range<usize>>,
    forms: Vec<Form>,
    radius_mean: f64,
    expected: usize,
    watch: &'a dyn Watch,
}

impl<'a> Ground<'a> {
    /// The ground for lays of `sizes` in `region`.
    pub(crate) fn new(
        region: &Region,
        walls: &'a Walls,
        sizes: &[ScatterSize],
        ring_holes: bool,
        watch: &'a dyn Watch,
    ) -> Ground<'a> {
        let wanted = Shares::new(sizes);
        let mean = |f: &dyn Fn(f64) -> f64| -> f64 {
            sizes.iter().enumerate().map(|(i, s)| wanted.of(i) * f(s.radius)).sum()
        };
        let radius_mean = mean(&|r| r);
        let square_mean = mean(&|r| r * r);
        let forms = sizes.iter().enumerate().filter(|(_, s)| s.radius > 0.0 && s.share > 0.0);
        let forms = forms.flat_map(|(size, s)| {
            let alike = |t: &ScatterSize| (t.radius - s.radius).abs() < ALIKE_WITHIN * s.radius;
            let many =
                sizes.iter().enumerate().filter(|(_, t)| alike(t)).map(|(i, _)| wanted.of(i));
            let rows = many.sum::<f64>() > ROWS_ABOVE;
            LOOSE[..if rows { LOOSE.len() } else { 1 }].iter().map(move |&(part, loose)| {
                let part = if rows { part } else { 1.0 };
                Form { size, radius: s.radius * loose, part }
            })
        });
        Ground {
            radii: sizes.iter().map(|s| s.radius).collect(),
            walls,
            edges: Edges::new(region, walls),
            holes: if ring_holes { holes(region) } else { vec![] },
            forms: forms.collect(),
            radius_mean,
            // At a coverage of about 0.85.
            expected: (0.27 * region.area() / square_mean.max(1e-12)) as usize,
            watch,
        }
    }

    /// Which sizes fit anywhere at all.
    pub(crate) fn fitting(&self) -> Result<Vec<bool>, Stopped> {
        let rng = ChaCha8Rng::seed_from_u64(0);
        let mut front = self.front(self.radii.clone(), rng)?;
        let has_share = |size| self.forms.iter().any(|f| f.size == size);
        Ok((0..self.radii.len()).map(|s| has_share(s) && front.best(s).is_some()).collect())
    }

    /// Grows one lay with shares by `aim`: (centre, size), in the order of placing.
    pub(crate) fn grow(
        &self,
        aim: &Shares,
        seed: u64,
        pass: u64,
    ) -> Result<Vec<(Point, usize)>, Stopped> {
        if self.forms.is_empty() {
            return Ok(vec![]);
        }
        let mut rng = ChaCha8Rng::seed_from_u64(seed);
        rng.set_stream(pass);
        let mut front = self.front(self.forms.iter().map(|f| f.radius).collect(), rng)?;
        let shares: Vec<f64> = self.forms.iter().map(|f| aim.of(f.size) * f.part).collect();
        let mut count = self.ring(&mut front, &shares);
        let sizes: Vec<usize> = self.forms.iter().map(|f| f.size).collect();
        self.work_off(&mut front, &sizes, &shares, &mut count)?;
        let of_size = |form: u32| self.forms[form as usize].size;
        let mut laid: Vec<(Point, usize)> =
            front.field.laid.iter().map(|d| (d.centre, of_size(d.form))).collect();
        if self.forms.iter().any(|f| f.part < 1.0) {
            laid = self.tightened(laid, aim, front.rng)?;
        }
        Ok(laid)
    }

    /// An empty front for discs of these radii, with its first places.
    fn front(&self, radii: Vec<f64>, rng: ChaCha8Rng) -> Result<Front<'_>, Stopped> {
        let radius_max = radii.iter().copied().fold(0.0, f64::max);
        let field = Field::new(self.walls, 2.0 * self.radius_mean, radius_max);
        let mut front = Front::new(field, &self.edges, radii, self.radius_mean, rng);
        first::places(self.walls, &self.edges, self.watch, &mut front)?;
        Ok(front)
    }

    /// Stones of a loose lay, each with its own radius again, and more where they now find room.
    fn tightened(
        &self,
        mut laid: Vec<(Point, usize)>,
        aim: &Shares,
        rng: ChaCha8Rng,
    ) -> Result<Vec<(Point, usize)>, Stopped> {
        let mut tight: Vec<usize> = self.forms.iter().map(|f| f.size).collect();
        tight.dedup();
        let mut front = self.front(tight.iter().map(|&size| self.radii[size]).collect(), rng)?;
        let mut count = vec![0; tight.len()];
        for (i, &(p, size)) in laid.iter().enumerate() {
            if let Some(form) = tight.iter().position(|&t| t == size) {
                front.place(form, p, 0.0);
                count[form] += 1;
            }
            self.watched(i)?;
        }
        let shares: Vec<f64> = tight.iter().map(|&size| aim.of(size)).collect();
        self.work_off(&mut front, &tight, &shares, &mut count)?;
        let more = &front.field.laid[laid.len()..];
        laid.extend(more.iter().map(|d| (d.centre, tight[d.form as usize])));
        Ok(laid)
    }

    fn watched(&self, n: usize) -> Result<(), Stopped> {
        if n.is_multiple_of(WATCHED) {
            self.watch.step("scatter", n, self.expected.max(n));
            if self.watch.stopped() {
                return Err(Stopped);
            }
        }
        Ok(())
    }

    /// Sets the rings round the holes; returns how many stones of each form they took.
    fn ring(&self, front: &mut Front, shares: &[f64]) -> Vec<usize> {
        let mut count = vec![0; self.forms.len()];
        for hole in &self.holes {
            let radii = front.radii.clone();
            let mut rng = front.rng.clone();
            let (field, edges) = (&mut front.field, &self.edges);
            let mut maker = RingMaker { field, edges, radii: &radii, shares };
            let ring = maker.around(hole.clone(), &mut rng);
            front.rng = rng;
            for (form, p) in ring {
                front.place(form, p, 0.0);
                count[form] += 1;
            }
        }
        count
    }

    /// Places stones until none fits. `sizes` names the size of each form.
    ///
    /// The price holds shares in the long run; beside it no size but the smallest may get further
    /// ahead than a lay may be off, as long as another finds a place: a smaller one always does.
    fn work_off(
        &self,
        front: &mut Front,
        sizes: &[usize],
        shares: &[f64],
        count: &mut [usize],
    ) -> Result<(), Stopped> {
        let price = PRICE + PRICE_SMALL / self.expected.max(1) as f64;
        let mut n: usize = count.iter().sum();
        let n_sizes = self.radii.len();
        let mut share_of = vec![0.0; n_sizes];
        let mut laid_of = vec![0_usize; n_sizes];
        for (form, &size) in sizes.iter().enumerate() {
            share_of[size] += shares[form];
            laid_of[size] += count[form];
        }
        let smallest = sizes.iter().map(|&s| self.radii[s]).fold(f64::INFINITY, f64::min);
        loop {
            let after = (n + 1) as f64;
            let tolerance = off_by(after);
            let mut best: Option<(bool, f64, usize)> = None;
            for form in 0..shares.len() {
                let Some(cost) = front.best(form) else { continue };
                let size = sizes[form];
                let ahead = (laid_of[size] + 1) as f64 - share_of[size] * after;
                let too_many = self.radii[size] > smallest && ahead > tolerance;
                let cost = cost - price * (shares[form] * after - count[form] as f64);
                if best.is_none_or(|b| (too_many, cost) < (b.0, b.1)) {
                    best = Some((too_many, cost, form));
                }
            }
            let Some((_, _, form)) = best else { return Ok(()) };
            front.take(form);
            count[form] += 1;
            laid_of[sizes[form]] += 1;
            n += 1;
            self.watched(n)?;
        }
    }
}
