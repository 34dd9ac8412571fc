//! Working hours as a line of minutes.

use super::Week;
use super::week::DAY_MIN;
use jiff::civil::{Date, DateTime};
use jiff::{ToSpan, Unit};

/// Years after its base in which working time is looked for.
pub(super) const HORIZON_YEARS: i64 = 20;

/// A week laid out on minutes from midnight of its base.
pub(super) struct Clock {
    base: Date,
    /// Hours of the base's weekday first, minutes after midnight.
    days: [Vec<(i64, i64)>; 7],
    /// Days after the base, sorted.
    closed: Vec<i64>,
}

impl Clock {
    /// Minutes are counted from the midnight with which `base` begins.
    pub(super) fn new(week: &Week, base: Date) -> Clock {
        let mut days: [Vec<(i64, i64)>; 7] = Default::default();
        let monday = i64::from(base.weekday().to_monday_zero_offset());
        for (i, spans) in days.iter_mut().enumerate() {
            let hours = &week.days[(monday as usize + i) % 7];
            *spans = hours.iter().map(|h| (i64::from(h.from_min), i64::from(h.to_min))).collect();
        }
        let mut closed: Vec<i64> = week.closed.iter().map(|d| days_between(base, *d)).collect();
        closed.sort_unstable();
        Clock { base, days, closed }
    }

    /// `at` in minutes, up to the next whole one.
    pub(super) fn minute(&self, at: DateTime) -> i64 {
        let time = at.time();
        let begun = i64::from(time.second() > 0 || time.subsec_nanosecond() > 0);
        days_between(self.base, at.date()) * DAY_MIN
            + i64::from(time.hour()) * 60
            + i64::from(time.minute())
            + begun
    }

    /// The civil time of a minute; none beyond the last year that can be written.
    pub(super) fn datetime(&self, minute: i64) -> Option<DateTime> {
        let midnight = self.base.to_datetime(jiff::civil::Time::midnight());
        midnight.checked_add(minute.minutes()).ok()
    }

    /// The earliest beginning, from `not_before` on, of `len_min` of work without a break. None
    /// within the horizon.
    pub(super) fn earliest(&self, not_before: i64, len_min: i64) -> Option<i64> {
        let last_day = HORIZON_YEARS * 366;
        let mut day = not_before.div_euclid(DAY_MIN);
        while day <= last_day {
            let midnight = day * DAY_MIN;
            for (from, to) in self.spans(day) {
                let begin = not_before.max(midnight + from);
                if begin + len_min <= midnight + to {
                    return Some(begin);
                }
            }
            day += 1;
        }
        None
    }

    /// The latest beginning of `len_min` of work without a break that ends by `not_after`. None
    /// within the horizon before the base.
    pub(super) fn latest(&self, not_after: i64, len_min: i64) -> Option<i64> {
        let first_day = -HORIZON_YEARS * 366;
        let mut day = not_after.div_euclid(DAY_MIN);
        while day >= first_day {
            let midnight = day * DAY_MIN;
            for (from, to) in self.spans(day).iter().rev() {
                let end = not_after.min(midnight + to);
                if end - len_min >= midnight + from {
                    return Some(end - len_min);
                }
            }
            day -= 1;
        }
        None
    }

    fn spans(&self, day: i64) -> &[(i64, i64)] {
        if self.closed.binary_search(&day).is_ok() {
            return &[];
        }
        &self.days[day.rem_euclid(7) as usize]
    }
}

/// Days from `a` to `b`, exact for all dates that can be written.
pub(super) fn days_between(a: Date, b: Date) -> i64 {
    a.until((Unit::Day, b)).map_or(0, |span| i64::from(span.get_days()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;
    use proptest::prelude::*;

    /// Friday, 2026-11-27.
    fn usual() -> Clock {
        let mut week = Week::usual();
        week.closed = vec![date(2026, 12, 1)];
        Clock::new(&week, date(2026, 11, 27))
    }

    #[test]
    fn work_that_does_not_fit_before_a_break_waits_for_its_end() {
        let clock = usual();
        let at = |h: i8, m: i8| clock.minute(date(2026, 11, 27).at(h, m, 0, 0));
        assert_eq!(clock.earliest(at(12, 0), 30), Some(at(12, 0)));
        assert_eq!(clock.earliest(at(12, 0), 31), Some(at(13, 30)));
        assert_eq!(clock.earliest(at(8, 0), 210), Some(at(9, 0)));
        assert_eq!(clock.earliest(at(8, 0), 211), None);
        let monday = clock.minute(date(2026, 11, 30).at(9, 0, 0, 0));
        assert_eq!(clock.earliest(at(16, 31), 30), Some(monday));
        let wednesday = clock.minute(date(2026, 12, 2).at(9, 0, 0, 0));
        assert_eq!(clock.earliest(monday + 8 * 60, 1), Some(wednesday));
        assert_eq!(clock.latest(wednesday, 30), Some(monday + 450));
        assert_eq!(clock.latest(monday, 30), Some(at(16, 30)));
    }

    #[test]
    fn a_minute_becomes_its_civil_time_again() {
        let clock = usual();
        let later = date(2028, 2, 29).at(23, 59, 0, 0);
        assert_eq!(clock.datetime(clock.minute(later)), Some(later));
        assert_eq!(clock.minute(date(2026, 11, 27).at(0, 0, 1, 0)), 1);
    }

    proptest! {
        #![proptest_config(ProptestConfig {
            cases: 200,
            failure_persistence: None,
            rng_seed: proptest::test_runner::RngSeed::Fixed(31),
            ..ProptestConfig::default()
        })]

        /// The slow twin walks minute by minute.
        #[test]
        fn earliest_and_latest_agree_with_a_walk(from in -3000i64..20_000, len in 1i64..=210) {
            let clock = usual();
            let open = |m: i64| {
                let at = clock.datetime(m).unwrap();
                let mut week = Week::usual();
                week.closed = vec![date(2026, 12, 1)];
                let minute = i64::from(at.hour()) * 60 + i64::from(at.minute());
                week.hours_on(at.date())
                    .iter()
                    .any(|h| (i64::from(h.from_min)..i64::from(h.to_min)).contains(&minute))
            };
            let free = |begin: i64| (begin..begin + len).all(open);
            let first = (from..).find(|b| free(*b));
            prop_assert_eq!(clock.earliest(from, len), first);
            let last = (0..).map(|i| from - len - i).find(|b| free(*b));
            prop_assert_eq!(clock.latest(from, len), last);
        }
    }
}
