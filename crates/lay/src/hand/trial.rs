//! One trial of the hand model: one person, one heap, one zone.

use super::places::Places;
use super::{Heaped, Table};
use crate::scatter::edge::Edges;
use crate::scatter::field::{Field, TOUCH};
use crate::scatter::ring::fraction;
use crate::scatter::tangent::{Locus, circle_circle, meet};
use crate::{Stopped, Watch};
use geometry::Point;
use rand::{Rng, SeedableRng};
use rand_chacha::ChaCha8Rng;

/// How often a hand tries to set a stone down loosely before it pushes it home.
const TRIES: usize = 4;

/// After how many stones the watcher is asked.
const WATCHED: usize = 1024;

/// A stone near the one just set.
#[derive(Clone, Copy)]
struct Near {
    centre: Point,
    radius: f64,
    /// From its edge to the centre of the one just set, mm.
    away: f64,
}

/// Where a person is in a trial.
struct Setting<'t, 'a> {
    radii: &'t [f64],
    edges: &'a Edges,
    field: Field<'a>,
    places: Vec<Places>,
    rng: ChaCha8Rng,
    /// How far off its place a stone may be set, as a part of its diameter.
    sloppy: f64,
    /// Where the hand is: at the stone it set last.
    hand: Point,
    near: Vec<Near>,
}

impl<'a> Table<'a> {
    /// What is set in trial `number`, by a hand that is off by up to `sloppy` diameters: the centre
    /// and the kind of each stone, in the order of setting.
    pub(super) fn trial(
        &self,
        seed: u64,
        number: u64,
        sloppy: f64,
        watch: &dyn Watch,
    ) -> Result<Vec<(Point, usize)>, Stopped> {
        let mut rng = ChaCha8Rng::seed_from_u64(seed);
        // Stream 0 has found the first places.
        rng.set_stream(number + 1);
        let (x, y) = (fraction(&mut rng), fraction(&mut rng));
        let begin = Point::new(self.bounds.width() * x, self.bounds.height() * y);
        let mut setting = Setting {
            radii: &self.radii,
            edges: self.edges,
            field: self.field.clone(),
            places: self.places.clone(),
            rng,
            sloppy,
            hand: self.bounds.min + begin,
            near: vec![],
        };
        for d in &self.set {
            setting.field.add(d.centre, d.radius, 0, 0.0);
            setting.open_beside(d.centre, d.radius);
        }
        let mut set = vec![];
        setting.use_up(self.heap.clone(), &mut set, watch)?;
        for filler in &self.fillers {
            setting.use_up(vec![*filler], &mut set, watch)?;
        }
        Ok(set)
    }
}

impl Setting<'_, '_> {
    /// Takes stones from the heap and sets them until none fits anywhere.
    fn use_up(
        &mut self,
        mut heap: Vec<Heaped>,
        set: &mut Vec<(Point, usize)>,
        watch: &dyn Watch,
    ) -> Result<(), Stopped> {
        while !heap.is_empty() {
            let taken = self.take(&heap);
            match self.places[taken.form].nearest(self.hand, &self.field) {
                Some(place) => set.push((self.set(taken.form, place), taken.kind)),
                // What does not fit now never will.
                None => heap.retain(|h| h.form != taken.form),
            }
            if set.len().is_multiple_of(WATCHED) && watch.stopped() {
                return Err(Stopped);
            }
        }
        Ok(())
    }

    /// A stone from the shuffled heap.
    fn take(&mut self, heap: &[Heaped]) -> Heaped {
        let all: f64 = heap.iter().map(|h| h.share).sum();
        let mut left = fraction(&mut self.rng) * all;
        for h in heap {
            left -= h.share;
            if left < 0.0 {
                return *h;
            }
        }
        heap[heap.len() - 1]
    }

    /// Sets a stone at `place`, or a little off it; returns where.
    fn set(&mut self, form: usize, place: Point) -> Point {
        let r = self.radii[form];
        let mut at = place;
        for _ in 0..TRIES {
            let off = fraction(&mut self.rng) * self.sloppy * 2.0 * r;
            let turn = fraction(&mut self.rng) * std::f64::consts::TAU;
            let loose = place + Point::unit(turn) * off;
            if self.field.free(loose, r) && self.field.inside(loose, r) {
                at = loose;
                break;
            }
        }
        self.field.add(at, r, form, 0.0);
        self.hand = at;
        self.open_beside(at, r);
        at
    }

    /// Adds every free place at which a stone would touch the one just set, of radius `r` at `at`,
    /// and a second thing.
    fn open_beside(&mut self, at: Point, r: f64) {
        let radius_max = self.field.radius_max;
        let reach = r + 2.0 * radius_max;
        let mut near = std::mem::take(&mut self.near);
        near.clear();
        let since = self.field.count();
        self.field.each(at, reach + radius_max, 0, |id, d| {
            let away = d.centre.distance(at) - d.radius;
            if id + 1 != since && away < reach {
                near.push(Near { centre: d.centre, radius: d.radius, away });
            }
            true
        });
        near.sort_by(|a, b| a.away.total_cmp(&b.away));
        let walls = if self.field.clear_of_walls(at) >= reach {
            vec![]
        } else {
            self.field.walls.within(at, reach + self.field.walls.keep_max())
        };
        let edges = self.edges;
        for form in 0..self.radii.len() {
            let s = self.radii[form];
            let about = Locus::Circle { centre: at, radius: r + s };
            // A stone of this size cannot reach beyond; a little more for rounding.
            let near = &near[..near.partition_point(|n| n.away <= r + 2.0 * s + TOUCH)];
            for n in near {
                for p in circle_circle(at, r + s, n.centre, n.radius + s).into_iter().flatten() {
                    self.open(form, p, near);
                }
            }
            for edge in walls.iter().flat_map(|&w| edges.of(w)) {
                let Some(locus) = edge.locus(s) else { continue };
                for p in meet(about, locus).into_iter().flatten() {
                    if edge.spans(p) {
                        self.open(form, p, near);
                    }
                }
            }
        }
        self.near = near;
    }

    /// Adds `p` as a place for `form` if it is free of the stones in `near` and of the walls.
    fn open(&mut self, form: usize, p: Point, near: &[Near]) {
        let s = self.radii[form];
        let free = near.iter().all(|n| {
            let apart = s + n.radius - TOUCH;
            (p - n.centre).norm2() >= apart * apart
        });
        if free && self.field.inside(p, s) {
            self.places[form].add(p, self.rng.next_u32(), self.field.count());
        }
    }
}
