//! The time, which comes in from outside, so that a test can set it back.

use std::sync::OnceLock;
use std::time::{Instant, SystemTime, UNIX_EPOCH};

/// Two clocks: one that says what day it is and may be set, one that only runs forward.
pub trait Clock: Send + Sync {
    /// Milliseconds since 1970 in UTC. May jump either way when somebody sets the clock.
    fn wall_ms(&self) -> i64;
    /// Milliseconds since some moment of this run of the program. Never runs backward.
    fn monotonic_ms(&self) -> i64;
}

/// The clocks of the machine.
#[derive(Debug, Default, Clone, Copy)]
pub struct SystemClock;

impl Clock for SystemClock {
    fn wall_ms(&self) -> i64 {
        match SystemTime::now().duration_since(UNIX_EPOCH) {
            Ok(since) => i64::try_from(since.as_millis()).unwrap_or(i64::MAX),
            Err(before) => -i64::try_from(before.duration().as_millis()).unwrap_or(i64::MAX),
        }
    }

    fn monotonic_ms(&self) -> i64 {
        static BEGIN: OnceLock<Instant> = OnceLock::new();
        let begin = BEGIN.get_or_init(Instant::now);
        i64::try_from(begin.elapsed().as_millis()).unwrap_or(i64::MAX)
    }
}
