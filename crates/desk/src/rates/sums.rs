//! From the presses of a setting to sums, and from those to rates.

use super::{GlueRate, LeftOut, LossRate, PaceRate, Rates, Session, high_share, nine_in_ten};
use crate::bench::{Course, Frozen, Timed, TimedRow, Way};
use std::collections::BTreeMap;

/// A stone takes longer than this: what is quicker was tapped later, ms. Ours, no source.
const QUICKEST_MS: i64 = 300;
/// Over so many times the plan's slow pace something else was done meanwhile. Ours, no source.
const ABSURD: f64 = 5.0;

/// What one setting adds to the rates.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct SettingSum {
    timed: Vec<Run>,
    left_out: LeftOut,
    /// Stones set and lost, by kind.
    handled: BTreeMap<String, (u64, u64)>,
    adhesive: String,
    weighed: Vec<Weighed>,
}

/// Stones of one kind, set in one row or in some that were tapped together.
#[derive(Clone, Debug, PartialEq)]
struct Run {
    copy: u32,
    kind: String,
    size: String,
    drawn_mm: f64,
    way: Way,
    stones: u64,
    ms: f64,
}

/// Glue that was used for some stones.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Weighed {
    grams: f64,
    stones: u64,
    reckoned_g: Option<f64>,
}

/// Rows that were tapped together.
struct Group {
    copy: u32,
    stretch: usize,
    places: Vec<u32>,
    time: Timed,
}

impl SettingSum {
    /// Of a setting.
    pub(super) fn of(frozen: &Frozen, course: &Course) -> SettingSum {
        let mut sum = SettingSum { adhesive: frozen.glue.name.clone(), ..SettingSum::default() };
        groups(frozen, course.set()).iter().for_each(|g| sum.add(frozen, g));
        for (kind, stones) in stones_of(frozen, course.set()) {
            sum.handled.entry(kind).or_default().0 += stones;
        }
        for (kind, lost) in course.lost() {
            sum.handled.entry(kind.clone()).or_default().1 += lost;
        }
        let mut from = 0;
        for &(grams, to) in course.used() {
            let rows = course.set().get(from..to).unwrap_or_default();
            let stones: u64 = stones_of(frozen, rows).values().sum();
            if stones > 0 {
                let part = stones as f64 / frozen.stones.kind.len() as f64;
                let reckoned_g = frozen.glue.copy_g.map(|g| g * part);
                sum.weighed.push(Weighed { grams, stones, reckoned_g });
                from = to;
            }
        }
        sum
    }

    fn add(&mut self, frozen: &Frozen, group: &Group) {
        let Some(stretch) = frozen.stretches.get(group.stretch) else { return };
        let stones = group.places.len() as f64;
        let of_stretch: usize = stretch.rows.iter().map(|r| r.places.len()).sum();
        let slow_ms = stretch.slow_min * 60_000.0 / of_stretch.max(1) as f64 * stones;
        let Timed::Ms(ms) = group.time else {
            self.left_out.unknown += 1;
            return;
        };
        let ms = ms as f64;
        if ms < QUICKEST_MS as f64 * stones {
            self.left_out.too_quick += 1;
            return;
        }
        if ms > ABSURD * slow_ms {
            self.left_out.too_long += 1;
            return;
        }
        let mut counts: BTreeMap<usize, u64> = BTreeMap::new();
        for kind in group.places.iter().filter_map(|p| frozen.kind_at(*p)) {
            *counts.entry(kind).or_default() += 1;
        }
        for (kind, n) in counts {
            let k = &frozen.kinds[kind];
            self.timed.push(Run {
                copy: group.copy,
                kind: k.name.clone(),
                size: k.size.clone(),
                drawn_mm: k.drawn_mm,
                way: frozen.zones.get(stretch.zone as usize).map_or(Way::Rows, |z| z.way),
                stones: n,
                ms: ms * n as f64 / stones,
            });
        }
    }
}

/// Rows as they were tapped: one that was tapped too quickly to have been set belongs to the row
/// before it on the same stretch.
fn groups(frozen: &Frozen, set: &[TimedRow]) -> Vec<Group> {
    let mut groups: Vec<Group> = vec![];
    for r in set {
        let Some((_, row)) = frozen.row(r.stretch, r.row) else { continue };
        let quick = matches!(r.time, Timed::Ms(ms) if ms < QUICKEST_MS * row.places.len() as i64);
        let before = groups.last_mut().filter(|g| (g.copy, g.stretch) == (r.copy, r.stretch));
        match before {
            Some(before) if quick => {
                before.places.extend(&row.places);
                if let (Timed::Ms(a), Timed::Ms(b)) = (before.time, r.time) {
                    before.time = Timed::Ms(a + b);
                }
            }
            _ => groups.push(Group {
                copy: r.copy,
                stretch: r.stretch,
                places: row.places.clone(),
                time: r.time,
            }),
        }
    }
    groups
}

fn stones_of(frozen: &Frozen, rows: &[TimedRow]) -> BTreeMap<String, u64> {
    let mut all = BTreeMap::new();
    for (_, row) in rows.iter().filter_map(|r| frozen.row(r.stretch, r.row)) {
        for (kind, n) in frozen.kinds_of(row) {
            *all.entry(frozen.kinds[kind].name.clone()).or_default() += u64::from(n);
        }
    }
    all
}

/// The sums of all settings.
#[derive(Default)]
pub(super) struct Sums {
    pace: BTreeMap<(String, Way), PaceSum>,
    handled: BTreeMap<String, (u64, u64)>,
    weighed: BTreeMap<String, Vec<Weighed>>,
    left_out: LeftOut,
    sessions: Vec<Session>,
}

#[derive(Default)]
struct PaceSum {
    size: String,
    copies: usize,
    stones: u64,
    ms: f64,
    each_s: Vec<f64>,
}

impl Sums {
    /// With one more setting.
    pub(super) fn add(&mut self, sum: &SettingSum) {
        let mut copies: BTreeMap<(u32, &str, Way), (f64, u64, f64)> = BTreeMap::new();
        for run in &sum.timed {
            let pace = self.pace.entry((run.kind.clone(), run.way)).or_default();
            pace.size.clone_from(&run.size);
            pace.stones += run.stones;
            pace.ms += run.ms;
            pace.each_s.push(run.ms / 1000.0 / run.stones as f64);
            let copy = copies.entry((run.copy, &run.kind, run.way)).or_default();
            *copy = (run.drawn_mm, copy.1 + run.stones, copy.2 + run.ms);
        }
        for ((_, kind, way), (drawn_mm, stones, ms)) in copies {
            if let Some(pace) = self.pace.get_mut(&(kind.to_owned(), way)) {
                pace.copies += 1;
            }
            let (kind, minutes) = (kind.to_owned(), ms / 60_000.0);
            self.sessions.push(Session { kind, drawn_mm, way, stones, minutes });
        }
        for (kind, (set, lost)) in &sum.handled {
            let all = self.handled.entry(kind.clone()).or_default();
            *all = (all.0 + set, all.1 + lost);
        }
        if !sum.weighed.is_empty() {
            self.weighed.entry(sum.adhesive.clone()).or_default().extend(&sum.weighed);
        }
        self.left_out.unknown += sum.left_out.unknown;
        self.left_out.too_long += sum.left_out.too_long;
        self.left_out.too_quick += sum.left_out.too_quick;
    }

    /// What they come to.
    pub(super) fn rates(self) -> Rates {
        let pace = self.pace.into_iter().map(|((kind, way), mut p)| PaceRate {
            kind,
            size: p.size,
            work: way.work(),
            copies: p.copies,
            rows: p.each_s.len(),
            stones: p.stones,
            mean_s: p.ms / 1000.0 / p.stones as f64,
            slow_s: nine_in_ten(&mut p.each_s),
        });
        let loss = self.handled.into_iter().map(|(kind, (set, lost))| LossRate {
            kind,
            handled: set + lost,
            lost,
            share: lost as f64 / (set + lost).max(1) as f64,
            high_share: high_share(lost, set + lost),
        });
        Rates {
            pace: pace.collect(),
            loss: loss.filter(|l| l.handled > 0).collect(),
            glue: self.weighed.into_iter().map(|(a, w)| glue_rate(a, &w)).collect(),
            left_out: self.left_out,
            sessions: self.sessions,
        }
    }
}

fn glue_rate(adhesive: String, weighed: &[Weighed]) -> GlueRate {
    let grams = weighed.iter().fold(0.0, |sum, w| sum + w.grams);
    let stones: u64 = weighed.iter().map(|w| w.stones).sum();
    let reckoned: Option<f64> = weighed.iter().map(|w| w.reckoned_g).sum();
    let mut each: Vec<f64> = weighed.iter().map(|w| w.grams * 1000.0 / w.stones as f64).collect();
    GlueRate {
        adhesive,
        times: weighed.len(),
        grams,
        stones,
        mean_mg: grams * 1000.0 / stones.max(1) as f64,
        high_mg: nine_in_ten(&mut each),
        by_plan: reckoned.filter(|g| *g > 0.0).map(|g| grams / g),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bench::Shape;
    use crate::bench::tests_small as small;
    use planning::hours::Work;
    use shop::{Press, PressId, Pressed, SettingId};

    /// A course of one copy: what was pressed, and how many ms after the press before.
    fn course(presses: &[(Pressed, i64)]) -> Course {
        let shape = Shape { rows: vec![2, 1], first_copy: 1, last_copy: 2 };
        let mut course = Course::new(shape);
        for &(what, ms) in presses {
            let (copy, stretch, row) = course.step().named(course.shape());
            course.push(&Press {
                id: PressId(1),
                setting: SettingId(1),
                at_ms: 0,
                since_ms: Some(ms),
                restarted: false,
                nonce: String::new(),
                device: String::new(),
                copy,
                stretch,
                row,
                what,
                kind: Some("sea glass".to_owned()),
                place_no: None,
                stones: Some(2),
                grams: Some(0.21),
                text: None,
            });
        }
        course
    }

    fn rates(presses: &[(Pressed, i64)]) -> Rates {
        let sum = SettingSum::of(&small(), &course(presses));
        Rates::of([sum].iter())
    }

    use Pressed::{Begun, GlueOpened, GlueUsed, Lost, Paused, Resumed, RowDone};

    #[test]
    fn the_worked_example() {
        // Rows of 3 (2 sea glass, 1 lamp light) and 2 (sea glass); then a handful of 2 lamp lights.
        let r = rates(&[
            (Begun, 0),
            (GlueOpened, 50_000),
            (RowDone, 12_000),
            (Lost, 4_000),
            (RowDone, 6_000),
            (GlueOpened, 30_000),
            (RowDone, 9_000),
            (GlueUsed, 1_000),
        ]);
        let of =
            |kind: &str, work| r.pace.iter().find(|p| p.kind == kind && p.work == work).unwrap();
        let glass = of("sea glass", Work::Rows);
        // 8 s of the first row, by its share, and 10 s of the second: 18 s for 4 stones.
        assert_eq!((glass.stones, glass.rows, glass.copies), (4, 2, 1));
        assert!((glass.mean_s - 4.5).abs() < 1e-12);
        assert!((glass.slow_s - 5.0).abs() < 1e-12, "the slower of two rows");
        let light = of("lamp light", Work::Scatter);
        assert_eq!((light.stones, light.mean_s), (2, 4.5));
        assert_eq!(
            (r.loss[1].kind.as_str(), r.loss[1].handled, r.loss[1].lost),
            ("sea glass", 6, 2)
        );
        // 0.21 g for a copy of 7 stones, where 0.14 g were reckoned.
        assert_eq!((r.glue[0].times, r.glue[0].stones), (1, 7));
        assert!((r.glue[0].mean_mg - 30.0).abs() < 1e-9);
        assert!((r.waste("clear gel").unwrap() - 0.5).abs() < 1e-9);
        assert_eq!(r.left_out, LeftOut::default());
    }

    #[test]
    fn pauses_are_left_out_and_so_is_what_took_absurdly_long() {
        let r = rates(&[
            (Begun, 0),
            (GlueOpened, 0),
            (Paused, 2_000),
            (Resumed, 900_000),
            (RowDone, 10_000),
            // The slow pace is 1.5 min for 5 stones: 36 s for 2, and five times that is 180 s.
            (RowDone, 180_001),
        ]);
        assert_eq!(r.left_out, LeftOut { too_long: 1, ..LeftOut::default() });
        let all: f64 = r.pace.iter().map(|p| p.mean_s * p.stones as f64).sum();
        assert!((all - 12.0).abs() < 1e-9);
    }

    #[test]
    fn rows_tapped_together_count_together() {
        let r = rates(&[(Begun, 0), (GlueOpened, 0), (RowDone, 20_000), (RowDone, 400)]);
        let (stones, s) = r
            .pace
            .iter()
            .fold((0, 0.0), |sum, p| (sum.0 + p.stones, sum.1 + p.mean_s * p.stones as f64));
        assert_eq!(stones, 5);
        assert!((s - 20.4).abs() < 1e-9);
    }

    #[test]
    fn without_a_word_on_the_glue_the_first_row_is_left_out() {
        let r = rates(&[(Begun, 0), (RowDone, 20_000)]);
        assert_eq!((r.pace.len(), r.left_out.unknown), (0, 1));
        assert_eq!(
            r.loss.iter().map(|l| l.handled).sum::<u64>(),
            3,
            "its stones are set all the same"
        );
    }
}
