//! A setting as it stands now: what is frozen, and what its presses come to.

use super::{Course, Frozen, FrozenRow, FrozenStretch, Shape, Step};
use crate::recent::Recent;
use crate::{Desk, DeskError};
use schemars::JsonSchema;
use serde::Serialize;
use shop::{PressId, Setting, SettingId, Shop};
use std::collections::VecDeque;
use std::sync::{Arc, Mutex, PoisonError};

/// A setting as it stands now.
#[derive(Clone, Debug)]
pub struct AtBench {
    /// The setting.
    pub setting: Setting,
    /// What was frozen when it began.
    pub frozen: Arc<Frozen>,
    /// What its presses come to.
    pub course: Course,
    /// The time, by the clock on the wall.
    pub now_ms: i64,
}

/// How the glue of the stretch at hand stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(tag = "glue", rename_all = "snake_case")]
pub enum GlueClock {
    /// No row is to be set, or none was opened for this stretch yet.
    Closed,
    /// It is open, and sets no limit.
    NoLimit,
    /// It is open.
    Open {
        /// For so long more, ms; below zero if it has skinned.
        left_ms: i64,
        /// It may be open so long, ms.
        whole_ms: i64,
    },
    /// It was opened, but the clock of this machine was set since.
    Unknown,
}

impl AtBench {
    /// The stretch and row that are next, if a row is.
    pub fn row(&self) -> Option<(&FrozenStretch, &FrozenRow)> {
        match self.course.step() {
            Step::Row { stretch, row, .. } => self.frozen.row(stretch, row),
            _ => None,
        }
    }

    /// How the glue of the stretch at hand stands.
    pub fn glue(&self) -> GlueClock {
        match (self.course.glue_open_ms(self.now_ms), self.frozen.glue.open_min) {
            (None, _) => GlueClock::Closed,
            (Some(_), None) => GlueClock::NoLimit,
            (Some(None), Some(_)) => GlueClock::Unknown,
            (Some(Some(open_ms)), Some(open_min)) => {
                let whole_ms = (open_min * 60_000.0) as i64;
                GlueClock::Open { left_ms: whole_ms - open_ms, whole_ms }
            }
        }
    }

    /// The lot from which a kind is taken.
    pub fn lot(&self, kind: &str) -> &str {
        self.setting.lots.iter().find(|l| l.0 == kind).map_or("", |l| l.1.as_str())
    }

    /// Whose the copy at hand is, if it is anybody's.
    pub fn whose(&self) -> Option<&str> {
        self.frozen.whose(self.course.copy())
    }

    /// How many copies are set here.
    pub fn copies(&self) -> u32 {
        self.setting.last_copy - self.setting.first_copy + 1
    }
}

/// What was read of settings last, and who may change them.
pub(crate) struct Benches {
    /// Held by whoever looks what is next and writes by it.
    pub(super) one: Mutex<()>,
    frozen: Recent<Key, Arc<Frozen>>,
    courses: Mutex<VecDeque<(Key, Option<PressId>, Course)>>,
}

/// A number may come again when the demo order was removed; its time does not.
type Key = (SettingId, i64);

/// So many settings are remembered.
const MOST_SETTINGS: usize = 200;

impl Default for Benches {
    fn default() -> Benches {
        Benches {
            one: Mutex::new(()),
            frozen: Recent::of(MOST_SETTINGS),
            courses: Mutex::new(VecDeque::new()),
        }
    }
}

impl Benches {
    /// The frozen lay of a setting.
    pub(crate) fn frozen(&self, shop: &Shop, setting: &Setting) -> Result<Arc<Frozen>, DeskError> {
        self.frozen.get(
            (setting.id, setting.begun_ms),
            || None,
            || Ok(Arc::new(Frozen::from_bytes(&shop.frozen(setting.id)?)?)),
        )
    }

    /// The frozen lay of a setting, and its course after every press that is written.
    pub(crate) fn at(
        &self,
        shop: &Shop,
        setting: &Setting,
    ) -> Result<(Arc<Frozen>, Course), DeskError> {
        let frozen = self.frozen(shop, setting)?;
        let key = (setting.id, setting.begun_ms);
        let mut courses = self.courses.lock().unwrap_or_else(PoisonError::into_inner);
        let kept = courses.iter().position(|c| c.0 == key).and_then(|at| courses.remove(at));
        let (mut last, mut course) = match kept {
            Some((_, last, course)) => (last, course),
            None => (None, Course::new(shape(&frozen, setting))),
        };
        for press in shop.presses(setting.id, last)? {
            course.push(&press);
            last = Some(press.id);
        }
        courses.push_back((key, last, course.clone()));
        if courses.len() > MOST_SETTINGS {
            courses.pop_front();
        }
        Ok((frozen, course))
    }
}

/// What a setting runs through.
fn shape(frozen: &Frozen, setting: &Setting) -> Shape {
    Shape {
        rows: frozen.stretches.iter().map(|s| s.rows.len()).collect(),
        first_copy: setting.first_copy,
        last_copy: setting.last_copy,
    }
}

impl Desk {
    /// A setting as it stands now.
    ///
    /// # Errors
    /// There is none, or what was frozen cannot be read; the shop's.
    pub fn at_bench(&self, setting: SettingId) -> Result<AtBench, DeskError> {
        let setting = self.shop.setting(setting)?;
        let (frozen, course) = self.course(&setting)?;
        Ok(AtBench { setting, frozen, course, now_ms: self.clock.wall_ms() })
    }

    /// Closes a setting: no more presses. Copies that are not done can be begun anew.
    ///
    /// # Errors
    /// The shop's.
    pub fn close_setting(&self, setting: SettingId) -> Result<AtBench, DeskError> {
        self.shop.close_setting(setting)?;
        self.at_bench(setting)
    }
}
