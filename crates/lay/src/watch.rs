//! Progress and stopping, without a clock.

/// Is told how far a long call has come, and may stop it.
pub trait Watch: Sync {
    /// `done` of `total` steps of `what` are done.
    fn step(&self, what: &str, done: usize, total: usize);
    /// Whether to give up.
    fn stopped(&self) -> bool;
}

/// Watches nothing and never stops.
#[derive(Clone, Copy, Debug, Default)]
pub struct Unwatched;

impl Watch for Unwatched {
    fn step(&self, _: &str, _: usize, _: usize) {}
    fn stopped(&self) -> bool {
        false
    }
}

/// The watcher stopped the call.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("stopped before it was finished")]
pub struct Stopped;
