//! The bench: copies of a piece set row by row, by a lay that was frozen when setting began.
//!
//! What stands at the bench follows from the presses alone ([`Course`]), so that a closed lid, a
//! power cut or a second tablet change nothing: whoever looks again sees the row that is next. A
//! press is acknowledged when the shop has written it, with the lines of the ledger that go with it.
//!
//! | need | item |
//! |---|---|
//! | begin | [`Desk::can_set`](crate::Desk::can_set), [`CanSet`], [`Desk::begin_setting`](crate::Desk::begin_setting), [`BeginAsked`] |
//! | what was frozen | [`Frozen`], [`FrozenStretch`], [`FrozenRow`] |
//! | what is next | [`Desk::at_bench`](crate::Desk::at_bench), [`AtBench`], [`Course`], [`Step`] |
//! | a press | [`Desk::press`](crate::Desk::press), [`PressAsked`], [`Act`] |
//! | the end | [`Desk::close_setting`](crate::Desk::close_setting) |

mod at;
mod begin;
mod course;
mod cut;
mod frozen;
mod press;

pub(crate) use at::Benches;
pub use at::{AtBench, GlueClock};
pub use begin::{BeginAsked, CanSet, KindLots, LotFree, SetRange};
pub use course::{Course, Shape, Step, Timed, TimedRow};
pub use frozen::{
    FROZEN_VERSION, Frozen, FrozenBlank, FrozenGlue, FrozenKind, FrozenRow, FrozenStones,
    FrozenStretch, FrozenZone, Spot, Way,
};
pub use press::{Act, PressAsked};

#[cfg(test)]
pub(crate) use frozen::tests::small as tests_small;
