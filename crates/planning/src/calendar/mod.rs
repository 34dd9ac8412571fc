//! When an order can ship: copies in batches over the bench, within a maker's working hours.
//!
//! Hands-on work happens within working hours; drying, handling and cure run on the clock, nights
//! and closed days too. All times are civil and floating: they name no time zone, so that no clock
//! is ever put forward or back between two of them, and a day always has 24 hours.
//!
//! | need | item |
//! |---|---|
//! | when a maker is at the bench | [`Week`], [`Hours`] |
//! | what has to be done | [`Work`], [`PieceWork`], [`Waits`] |
//! | the plan of it | [`schedule()`], [`Schedule`], [`Event`], [`Remedy`] |
//! | a calendar file | [`ical`](ical()), [`IcalNames`] |
//! | a critical path by itself | [`critical_path`], [`Task`], [`Network`] |

mod batches;
mod clock;
mod cpm;
mod findings;
mod ical;
#[cfg(test)]
mod laws;
mod network;
mod remedies;
mod result;
mod schedule;
mod search;
mod week;
mod work;

pub use cpm::{CpmError, Network, Task, TaskTimes, critical_path};
pub(crate) use findings::PAGES;
pub use ical::{IcalNames, ical};
pub use result::{Activity, Because, Day, Event, Remedy, Schedule, Step};
pub use schedule::schedule;
pub use week::{Hours, USUAL_DAYS, USUAL_HOURS, Week, WeekError};
pub use work::{PieceWork, Waits, Work, WorkError};
