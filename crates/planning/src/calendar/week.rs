//! A maker's working week.

use jiff::ToSpan;
use jiff::civil::{Date, Weekday};

/// Minutes of a day.
pub(super) const DAY_MIN: i64 = 24 * 60;

/// Days on which work is usually done (common practice, no source).
pub const USUAL_DAYS: [Weekday; 5] =
    [Weekday::Monday, Weekday::Tuesday, Weekday::Wednesday, Weekday::Thursday, Weekday::Friday];

/// Hours in which work is usually done: 09:00 to 12:30 and 13:30 to 17:00 (common practice, no
/// source).
pub const USUAL_HOURS: [Hours; 2] =
    [Hours { from_min: 540, to_min: 750 }, Hours { from_min: 810, to_min: 1020 }];

/// A stretch of working time within one day.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Hours {
    /// Its beginning, minutes after midnight.
    pub from_min: u32,
    /// Its end, minutes after midnight, at most 1440.
    pub to_min: u32,
}

/// Working days with their hours, and the days on which the workshop is closed all the same.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Week {
    /// Hours of each weekday, Monday first; sorted, apart, none empty.
    pub(super) days: [Vec<Hours>; 7],
    /// Sorted, none twice.
    pub(super) closed: Vec<Date>,
}

/// Why a working week cannot be used.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum WeekError {
    /// No working hour in the whole week.
    #[error("the week has no working hours")]
    Empty,
    /// Hours that end before they begin, or after midnight.
    #[error("working hours must end after they begin and by 24:00: {}", shown(*.0))]
    Backwards(Hours),
    /// Two stretches of one day overlap.
    #[error("working hours overlap: {} and {}", shown(*.0), shown(*.1))]
    Overlap(Hours, Hours),
}

impl Week {
    /// A week with the same hours on each of `days`; a day named twice is one day.
    ///
    /// # Errors
    /// Hours that are empty, backwards or overlap. Hours that meet are joined.
    pub fn same(days: &[Weekday], hours: &[Hours], closed: &[Date]) -> Result<Week, WeekError> {
        let mut each: Vec<(Weekday, Vec<Hours>)> = vec![];
        for day in days {
            if each.iter().all(|(named, _)| named != day) {
                each.push((*day, hours.to_vec()));
            }
        }
        Week::new(&each, closed)
    }

    /// A week with hours of its own for each day; a day named twice has the hours of both.
    ///
    /// # Errors
    /// As [`Week::same`].
    pub fn new(days: &[(Weekday, Vec<Hours>)], closed: &[Date]) -> Result<Week, WeekError> {
        let mut all: [Vec<Hours>; 7] = Default::default();
        for (day, hours) in days {
            for h in hours {
                if h.from_min >= h.to_min || i64::from(h.to_min) > DAY_MIN {
                    return Err(WeekError::Backwards(*h));
                }
            }
            all[day_idx(*day)].extend(hours);
        }
        for hours in &mut all {
            *hours = joined(hours)?;
        }
        if all.iter().all(Vec::is_empty) {
            return Err(WeekError::Empty);
        }
        let mut closed = closed.to_vec();
        closed.sort_unstable();
        closed.dedup();
        Ok(Week { days: all, closed })
    }

    /// The usual week: [`USUAL_DAYS`] and [`USUAL_HOURS`].
    #[cfg(test)]
    pub(crate) fn usual() -> Week {
        let mut days: [Vec<Hours>; 7] = Default::default();
        days[..USUAL_DAYS.len()].fill(USUAL_HOURS.to_vec());
        Week { days, closed: vec![] }
    }

    /// The working hours of `date`; empty if it is no working day.
    pub fn hours_on(&self, date: Date) -> &[Hours] {
        if self.closed.binary_search(&date).is_ok() {
            return &[];
        }
        &self.days[day_idx(date.weekday())]
    }

    /// The `n`-th working day after `date`; for 0, `date` itself or the next working day. None if
    /// there is none within ten years.
    pub fn working_day_after(&self, date: Date, n: u32) -> Option<Date> {
        let mut left = n;
        let mut day = date;
        for i in 0..3653 {
            let works = !self.hours_on(day).is_empty();
            if works && (left == 0 || (left == 1 && i > 0)) {
                return Some(day);
            }
            if works && i > 0 {
                left -= 1;
            }
            day = day.checked_add(1.day()).ok()?;
        }
        None
    }

    /// The `n`-th working day before `date`. None if there is none within ten years.
    pub(super) fn working_day_before(&self, date: Date, n: u32) -> Option<Date> {
        let (mut left, mut day) = (n, date);
        for _ in 0..3653 {
            if left == 0 {
                return Some(day);
            }
            day = day.checked_sub(1.day()).ok()?;
            left -= u32::from(!self.hours_on(day).is_empty());
        }
        None
    }

    /// The longest stretch without a break, minutes.
    pub fn longest_min(&self) -> u32 {
        self.days.iter().flatten().map(|h| h.to_min - h.from_min).max().unwrap_or(0)
    }

    /// Every working day `more_min` longer at its end, but never beyond midnight.
    pub(super) fn longer(&self, more_min: u32) -> Week {
        let mut week = self.clone();
        for last in week.days.iter_mut().filter_map(|d| d.last_mut()) {
            last.to_min = (last.to_min + more_min).min(DAY_MIN as u32);
        }
        week
    }
}

/// Position in the week, Monday first.
fn day_idx(day: Weekday) -> usize {
    usize::try_from(day.to_monday_zero_offset()).unwrap_or(0)
}

/// Sorted, and joined where they meet.
fn joined(hours: &[Hours]) -> Result<Vec<Hours>, WeekError> {
    let mut sorted = hours.to_vec();
    sorted.sort_unstable();
    let mut out: Vec<Hours> = vec![];
    for h in sorted {
        match out.last_mut() {
            Some(last) if h.from_min < last.to_min => return Err(WeekError::Overlap(*last, h)),
            Some(last) if h.from_min == last.to_min => last.to_min = h.to_min,
            _ => out.push(h),
        }
    }
    Ok(out)
}

/// `09:00-12:30`.
fn shown(h: Hours) -> String {
    let clock = |m: u32| format!("{:02}:{:02}", m / 60, m % 60);
    format!("{}-{}", clock(h.from_min), clock(h.to_min))
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    const MORNING: Hours = Hours { from_min: 540, to_min: 750 };

    #[test]
    fn hours_that_overlap_or_run_backwards_are_refused() {
        let monday = [Weekday::Monday];
        let late = Hours { from_min: 700, to_min: 900 };
        let err = Week::same(&monday, &[late, MORNING], &[]).unwrap_err();
        assert_eq!(err.to_string(), "working hours overlap: 09:00-12:30 and 11:40-15:00");
        let back = Hours { from_min: 900, to_min: 540 };
        assert_eq!(Week::same(&monday, &[back], &[]).unwrap_err(), WeekError::Backwards(back));
        assert_eq!(Week::same(&[], &[MORNING], &[]).unwrap_err(), WeekError::Empty);
        assert_eq!(Week::same(&monday, &[], &[]).unwrap_err(), WeekError::Empty);
    }

    #[test]
    fn a_day_named_twice_is_one_day() {
        let twice = Week::same(&[Weekday::Monday, Weekday::Monday], &[MORNING], &[]);
        assert_eq!(twice, Week::same(&[Weekday::Monday], &[MORNING], &[]));
    }

    #[test]
    fn hours_that_meet_are_one_stretch() {
        let noon = Hours { from_min: 750, to_min: 800 };
        let week = Week::same(&[Weekday::Monday], &[noon, MORNING], &[]).unwrap();
        assert_eq!(week.longest_min(), 260);
    }

    #[test]
    fn working_days_pass_over_weekends_and_closed_days() {
        let days = [
            Weekday::Monday,
            Weekday::Tuesday,
            Weekday::Wednesday,
            Weekday::Thursday,
            Weekday::Friday,
        ];
        let week = Week::same(&days, &[MORNING], &[date(2026, 12, 24)]).unwrap();
        let wednesday = date(2026, 12, 23);
        assert_eq!(week.working_day_before(date(2026, 12, 28), 2), Some(wednesday));
        assert_eq!(week.working_day_after(wednesday, 0), Some(wednesday));
        assert_eq!(week.working_day_after(wednesday, 1), Some(date(2026, 12, 25)));
        assert_eq!(week.working_day_after(wednesday, 2), Some(date(2026, 12, 28)));
        assert_eq!(week.working_day_after(date(2026, 12, 24), 0), Some(date(2026, 12, 25)));
        assert_eq!(week.working_day_after(date(2026, 12, 26), 1), Some(date(2026, 12, 28)));
    }
}
