//! What stands at the bench: a pure fold over the presses of one setting.
//!
//! A press names the step that its page showed. One that does not fit the step at hand, since a
//! second tablet was quicker or a tap came twice, is left out: it moves nothing.

use schemars::JsonSchema;
use serde::Serialize;
use shop::{Press, Pressed};
use std::collections::BTreeMap;

/// A gap between two presses counts as work up to this long; beyond, somebody was away. Ours, no
/// source.
const LONGEST_WORK_MS: i64 = 30 * 60_000;

/// What a course runs through: rows of stretches, copy after copy.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shape {
    /// Rows of each stretch.
    pub rows: Vec<usize>,
    /// The first copy, from 1.
    pub first_copy: u32,
    /// The last copy.
    pub last_copy: u32,
}

/// What is next.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(tag = "step", rename_all = "snake_case")]
pub enum Step {
    /// A row is to be set.
    Row {
        /// On which copy, from 1.
        copy: u32,
        /// In which stretch, by index.
        stretch: usize,
        /// Which of its rows, by index.
        row: usize,
    },
    /// Every row of a copy is set: look it over, and say that it is done.
    Look {
        /// Which copy.
        copy: u32,
    },
    /// Every copy is set.
    Over,
}

/// A row that is set, and how long it took.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TimedRow {
    /// On which copy.
    pub copy: u32,
    /// In which stretch, by index.
    pub stretch: usize,
    /// Which of its rows, by index.
    pub row: usize,
    /// How long it took.
    pub time: Timed,
}

/// How long something took.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Timed {
    /// So many milliseconds at work.
    Ms(i64),
    /// Not known: the program was started anew, the clock was set, or the row before the glue was on
    /// holds the gluing as well.
    Unknown,
}

/// Where setting stands after some presses.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    shape: Shape,
    /// The copy at hand, from 1.
    copy: u32,
    /// Whether the last copy was said to be done.
    over: bool,
    /// Every row that is set, in order, over all copies.
    set: Vec<TimedRow>,
    paused: bool,
    lost: BTreeMap<String, u64>,
    worked_ms: i64,
    pending: Timed,
    /// Runs on by the time between presses; a new era begins where that is not known.
    clock_ms: i64,
    era: u32,
    /// When glue was opened for a stretch of a copy: clock and era.
    opened: BTreeMap<(u32, usize), (i64, u32)>,
    last_at_ms: Option<i64>,
    presses: usize,
    /// Glue that was used, g, and how many rows were set by then.
    used: Vec<(f64, usize)>,
}

impl Shape {
    /// Rows of one copy.
    pub fn rows_of_copy(&self) -> usize {
        self.rows.iter().sum()
    }

    /// Stretch and row of the row of this number of a copy, from 0.
    fn place(&self, mut at: usize) -> Option<(usize, usize)> {
        for (stretch, rows) in self.rows.iter().enumerate() {
            if at < *rows {
                return Some((stretch, at));
            }
            at -= rows;
        }
        None
    }
}

impl Step {
    /// How a press on this step names it: copy, stretch, row.
    pub fn named(self, shape: &Shape) -> (u32, Option<u32>, Option<u32>) {
        let index = |i: usize| u32::try_from(i).ok();
        match self {
            Step::Row { copy, stretch, row } => (copy, index(stretch), index(row)),
            // The stretch after the last: a second tablet may not mistake it for a row or the end.
            Step::Look { copy } => (copy, index(shape.rows.len()), Some(0)),
            Step::Over => (shape.last_copy, None, None),
        }
    }
}

impl Course {
    /// Before anything was pressed.
    pub fn new(shape: Shape) -> Course {
        Course {
            copy: shape.first_copy,
            over: false,
            set: vec![],
            paused: false,
            lost: BTreeMap::new(),
            worked_ms: 0,
            pending: Timed::Ms(0),
            clock_ms: 0,
            era: 0,
            opened: BTreeMap::new(),
            last_at_ms: None,
            presses: 0,
            used: vec![],
            shape,
        }
    }

    /// After all of these presses.
    pub fn after<'a>(shape: Shape, presses: impl IntoIterator<Item = &'a Press>) -> Course {
        let mut course = Course::new(shape);
        presses.into_iter().for_each(|p| course.push(p));
        course
    }

    /// After one more press.
    pub fn push(&mut self, press: &Press) {
        self.pass_time(press);
        let named = (press.copy, press.stretch, press.row);
        let here = named == self.step().named(&self.shape);
        match press.what {
            Pressed::RowDone if here => self.row_done(),
            Pressed::Back if here => self.back(),
            Pressed::CopyDone if here => self.copy_done(),
            Pressed::GlueOpened if here => self.glue_opened(),
            Pressed::Lost => {
                if let Some(kind) = &press.kind {
                    *self.lost.entry(kind.clone()).or_default() +=
                        u64::from(press.stones.unwrap_or(1));
                }
            }
            Pressed::GlueUsed => {
                if let Some(grams) = press.grams {
                    self.used.push((grams, self.set.len()));
                }
            }
            Pressed::Paused => self.paused = true,
            Pressed::Resumed => self.paused = false,
            _ => {}
        }
        self.presses += 1;
        self.last_at_ms = Some(press.at_ms);
    }

    /// What has passed since the press before: for the glue, for the work, for the row at hand.
    fn pass_time(&mut self, press: &Press) {
        if self.presses == 0 {
            return;
        }
        match press.since_ms {
            Some(ms) => self.clock_ms += ms.max(0),
            None => self.era += 1,
        }
        let known =
            press.since_ms.filter(|ms| !press.restarted && (0..=LONGEST_WORK_MS).contains(ms));
        if !self.paused {
            self.worked_ms += known.unwrap_or(0);
        }
        // Gluing, handling the blank and looking it over are no setting.
        let setting = !matches!(
            press.what,
            Pressed::Begun | Pressed::GlueOpened | Pressed::CopyDone | Pressed::Resumed
        );
        let forgot_to_resume = self.paused && press.what == Pressed::RowDone;
        if setting && (!self.paused || forgot_to_resume) {
            self.pending = match (self.pending, known) {
                (Timed::Ms(before), Some(ms)) if !forgot_to_resume => Timed::Ms(before + ms),
                _ => Timed::Unknown,
            };
        }
    }

    fn row_done(&mut self) {
        let Step::Row { copy, stretch, row } = self.step() else { return };
        let glued = row > 0 || self.opened.contains_key(&(copy, stretch));
        let time = if glued { self.pending } else { Timed::Unknown };
        self.set.push(TimedRow { copy, stretch, row, time });
        self.pending = Timed::Ms(0);
        self.paused = false;
    }

    fn back(&mut self) {
        self.paused = false;
        if self.over {
            self.over = false;
        } else if self.at() > 0 {
            let before = self.set.pop().map_or(Timed::Ms(0), |r| r.time);
            self.pending = match (before, self.pending) {
                (Timed::Ms(a), Timed::Ms(b)) => Timed::Ms(a + b),
                _ => Timed::Unknown,
            };
        } else if self.copy > self.shape.first_copy {
            self.copy -= 1;
        }
    }

    fn copy_done(&mut self) {
        let Step::Look { copy } = self.step() else { return };
        self.paused = false;
        self.pending = Timed::Ms(0);
        if copy == self.shape.last_copy {
            self.over = true;
        } else {
            self.copy += 1;
        }
    }

    fn glue_opened(&mut self) {
        if let Step::Row { copy, stretch, .. } = self.step() {
            self.opened.insert((copy, stretch), (self.clock_ms, self.era));
        }
    }

    /// Rows of the copy at hand that are set.
    fn at(&self) -> usize {
        let copies = (self.copy - self.shape.first_copy) as usize;
        self.set.len() - copies * self.shape.rows_of_copy()
    }

    /// What is next.
    pub fn step(&self) -> Step {
        if self.over {
            return Step::Over;
        }
        match self.shape.place(self.at()) {
            Some((stretch, row)) => Step::Row { copy: self.copy, stretch, row },
            None => Step::Look { copy: self.copy },
        }
    }

    /// What it runs through.
    pub fn shape(&self) -> &Shape {
        &self.shape
    }

    /// Whether there is a row to go back to.
    pub fn can_go_back(&self) -> bool {
        !self.set.is_empty()
    }

    /// The copy at hand, from 1.
    pub fn copy(&self) -> u32 {
        self.copy
    }

    /// Copies that are done.
    pub fn copies_done(&self) -> u32 {
        self.copy - self.shape.first_copy + u32::from(self.over)
    }

    /// Rows of the copy at hand that are set.
    pub fn rows_set(&self) -> usize {
        self.at()
    }

    /// Every row that is set, over all copies, with the time it took.
    pub fn set(&self) -> &[TimedRow] {
        &self.set
    }

    /// Glue that was used, g, and how many rows (of [`Course::set`]) were set when it was said.
    pub fn used(&self) -> &[(f64, usize)] {
        &self.used
    }

    /// Whether a pause goes on.
    pub fn paused(&self) -> bool {
        self.paused
    }

    /// Stones lost, by the name of their kind.
    pub fn lost(&self) -> &BTreeMap<String, u64> {
        &self.lost
    }

    /// Milliseconds at work up to the last press: pauses, restarts and gaps of over half an hour are
    /// left out.
    pub fn worked_ms(&self) -> i64 {
        self.worked_ms
    }

    /// How many presses there were.
    pub fn presses(&self) -> usize {
        self.presses
    }

    /// How long the glue of the stretch at hand has lain open at `now_ms`, by the clock on the wall.
    /// `None` if none was opened for it; `Some(None)` if it is not known, since that clock was set.
    pub fn glue_open_ms(&self, now_ms: i64) -> Option<Option<i64>> {
        let Step::Row { copy, stretch, .. } = self.step() else { return None };
        let (at, era) = *self.opened.get(&(copy, stretch))?;
        let since = now_ms - self.last_at_ms?;
        // A second of leeway: clocks are set right by small steps all the time.
        let sound = era == self.era && since >= -1000;
        Some(sound.then(|| self.clock_ms - at + since.max(0)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use shop::{PressId, SettingId};

    fn shape() -> Shape {
        Shape { rows: vec![2, 1, 3], first_copy: 7, last_copy: 9 }
    }

    fn press(
        what: Pressed,
        named: (u32, Option<u32>, Option<u32>),
        since_ms: Option<i64>,
    ) -> Press {
        Press {
            id: PressId(1),
            setting: SettingId(1),
            at_ms: 0,
            since_ms,
            restarted: false,
            nonce: String::new(),
            device: String::new(),
            copy: named.0,
            stretch: named.1,
            row: named.2,
            what,
            kind: Some("sea glass".to_owned()).filter(|_| what == Pressed::Lost),
            place_no: None,
            stones: None,
            grams: None,
            text: None,
        }
    }

    /// Presses what the page shows.
    fn tap(course: &mut Course, what: Pressed, since_ms: i64) {
        let named = course.step().named(course.shape());
        course.push(&press(what, named, Some(since_ms)));
    }

    #[test]
    fn a_copy_is_set_row_by_row_looked_over_and_the_next_begins() {
        let mut c = Course::new(shape());
        for (stretch, row) in [(0, 0), (0, 1), (1, 0), (2, 0), (2, 1), (2, 2)] {
            assert_eq!(c.step(), Step::Row { copy: 7, stretch, row });
            tap(&mut c, Pressed::RowDone, 1000);
        }
        assert_eq!(c.step(), Step::Look { copy: 7 });
        tap(&mut c, Pressed::RowDone, 1000);
        assert_eq!(c.step(), Step::Look { copy: 7 }, "a row too many moves nothing");
        tap(&mut c, Pressed::CopyDone, 1000);
        assert_eq!((c.step(), c.copies_done()), (Step::Row { copy: 8, stretch: 0, row: 0 }, 1));
    }

    #[test]
    fn back_goes_past_the_start_of_a_stretch_of_a_copy_and_of_the_end() {
        let mut c = Course::new(Shape { rows: vec![1, 1], first_copy: 1, last_copy: 2 });
        for what in [Pressed::RowDone, Pressed::RowDone, Pressed::CopyDone].repeat(2) {
            tap(&mut c, what, 1000);
        }
        let mut seen = vec![c.step()];
        while c.can_go_back() {
            tap(&mut c, Pressed::Back, 1000);
            seen.push(c.step());
        }
        let row = |copy, stretch| Step::Row { copy, stretch, row: 0 };
        let look = |copy| Step::Look { copy };
        assert_eq!(
            seen,
            [Step::Over, look(2), row(2, 1), row(2, 0), look(1), row(1, 1), row(1, 0)]
        );
        tap(&mut c, Pressed::Back, 1000);
        assert_eq!(c.step(), row(1, 0), "there is nothing before the first row");
    }

    #[test]
    fn the_same_row_done_on_two_tablets_is_done_once() {
        let mut c = Course::new(shape());
        let named = c.step().named(c.shape());
        c.push(&press(Pressed::RowDone, named, None));
        c.push(&press(Pressed::RowDone, named, Some(5)));
        assert_eq!(c.step(), Step::Row { copy: 7, stretch: 0, row: 1 });
    }

    #[test]
    fn a_pause_stops_the_work_but_not_the_glue() {
        let mut c = Course::new(shape());
        tap(&mut c, Pressed::Begun, 0);
        tap(&mut c, Pressed::GlueOpened, 60_000);
        tap(&mut c, Pressed::Paused, 10_000);
        tap(&mut c, Pressed::Resumed, 300_000);
        tap(&mut c, Pressed::RowDone, 20_000);
        assert_eq!(c.glue_open_ms(5_000), Some(Some(335_000)));
        assert_eq!(c.set()[0].time, Timed::Ms(30_000), "work before and after the pause");
        assert_eq!(c.worked_ms(), 90_000);
    }

    #[test]
    fn glue_belongs_to_its_stretch_and_a_clock_that_was_set_makes_its_age_unknown() {
        let mut c = Course::new(shape());
        assert_eq!(c.glue_open_ms(0), None);
        tap(&mut c, Pressed::GlueOpened, 0);
        assert_eq!(c.glue_open_ms(90_000), Some(Some(90_000)));
        assert_eq!(c.glue_open_ms(-5_000), Some(None), "set back since the last press");
        let named = c.step().named(c.shape());
        c.push(&press(Pressed::Note, named, None));
        assert_eq!(c.glue_open_ms(0), Some(None), "set back before it");
        tap(&mut c, Pressed::RowDone, 1000);
        tap(&mut c, Pressed::RowDone, 1000);
        assert_eq!(c.glue_open_ms(0), None, "the next stretch has none yet");
        tap(&mut c, Pressed::Back, 1000);
        assert_eq!(c.glue_open_ms(0), Some(None));
    }

    #[test]
    fn what_took_how_long() {
        let mut c = Course::new(shape());
        tap(&mut c, Pressed::RowDone, 9_000);
        assert_eq!(c.set()[0].time, Timed::Unknown, "it holds the gluing");
        tap(&mut c, Pressed::Lost, 3_000);
        tap(&mut c, Pressed::RowDone, 9_000);
        assert_eq!(c.set()[1].time, Timed::Ms(12_000));
        tap(&mut c, Pressed::Back, 1_000);
        tap(&mut c, Pressed::RowDone, 2_000);
        assert_eq!(c.set()[1].time, Timed::Ms(15_000), "a tap too early, taken back");
        let named = c.step().named(c.shape());
        c.push(&Press { restarted: true, ..press(Pressed::GlueOpened, named, Some(1)) });
        let named = c.step().named(c.shape());
        c.push(&Press { restarted: true, ..press(Pressed::RowDone, named, Some(1)) });
        assert_eq!(c.set()[2].time, Timed::Unknown, "started anew in the middle");
        assert_eq!(c.lost()["sea glass"], 1);
    }

    /// The plain way: a stack of everything that was done.
    fn plainly(presses: &[Press]) -> Vec<Step> {
        let all = [(0, 0), (0, 1), (1, 0), (2, 0), (2, 1), (2, 2)];
        let mut steps: Vec<Step> = vec![];
        for copy in 7..=9 {
            steps.extend(all.map(|(stretch, row)| Step::Row { copy, stretch, row }));
            steps.push(Step::Look { copy });
        }
        steps.push(Step::Over);
        let mut at = 0usize;
        for p in presses {
            let here = steps[at];
            if here.named(&shape()) != (p.copy, p.stretch, p.row) {
                continue;
            }
            match (p.what, here) {
                (Pressed::RowDone, Step::Row { .. }) | (Pressed::CopyDone, Step::Look { .. }) => {
                    at += 1;
                }
                (Pressed::Back, _) => at = at.saturating_sub(1),
                _ => {}
            }
        }
        steps.truncate(at + 1);
        steps
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, rng_seed: proptest::test_runner::RngSeed::Fixed(11), ..ProptestConfig::default() })]

        /// Any presses: what the page shows, twice, from a page that was left open, with clocks that
        /// jump.
        #[test]
        fn any_presses_lead_where_the_plain_way_leads(
            taps in prop::collection::vec((0..14u32, 0..6u32, prop::option::of(-9_000_000..90_000_000i64), any::<bool>()), 0..120),
        ) {
            let mut c = Course::new(shape());
            let mut presses: Vec<Press> = vec![];
            for (what, stale, since_ms, restarted) in taps {
                let what = match what {
                    0..8 => if matches!(c.step(), Step::Look { .. }) { Pressed::CopyDone } else { Pressed::RowDone },
                    8..10 => Pressed::Back,
                    10 => Pressed::GlueOpened,
                    11 => Pressed::Paused,
                    12 => Pressed::Resumed,
                    _ => Pressed::Lost,
                };
                let named = match (stale, presses.last()) {
                    (0, Some(last)) => (last.copy, last.stretch, last.row),
                    _ => c.step().named(c.shape()),
                };
                let p = Press { restarted, ..press(what, named, since_ms) };
                c.push(&p);
                presses.push(p);
                prop_assert!(c.worked_ms() >= 0);
                prop_assert!(c.set().iter().all(|r| !matches!(r.time, Timed::Ms(ms) if ms < 0)));
            }
            let steps = plainly(&presses);
            prop_assert_eq!(c.step(), steps[steps.len() - 1]);
            let rows = steps[..steps.len() - 1].iter().filter(|s| matches!(s, Step::Row { .. })).count();
            prop_assert_eq!(c.set().len(), rows);
            prop_assert_eq!(Course::after(shape(), &presses), c);
        }
    }
}
