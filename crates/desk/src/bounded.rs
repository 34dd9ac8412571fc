//! Work on what strangers made, within a bound of time: a drawing may be slow to read without being
//! large.

use crate::DeskError;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc;
use std::time::Duration;

/// So many such jobs go on at once; one that ran out of its time still counts until it ends.
const MOST_AT_ONCE: usize = 4;

static RUNNING: AtomicUsize = AtomicUsize::new(0);

/// One of the places, given back when the work ends, however it ends.
struct Place;

impl Place {
    fn take() -> Option<Place> {
        let more = |n| (n < MOST_AT_ONCE).then_some(n + 1);
        RUNNING.fetch_update(Ordering::AcqRel, Ordering::Acquire, more).ok().map(|_| Place)
    }
}

impl Drop for Place {
    fn drop(&mut self) {
        RUNNING.fetch_sub(1, Ordering::AcqRel);
    }
}

/// Does `work` on a thread of its own and waits no longer than `bound`.
///
/// # Errors
/// It took longer, it failed, or too much of the sort goes on already.
pub(crate) fn within<T: Send + 'static>(
    bound: Duration,
    what: &str,
    work: impl FnOnce() -> T + Send + 'static,
) -> Result<T, DeskError> {
    let place = Place::take().ok_or_else(|| {
        DeskError::unfit("too many files are being read already", "wait a moment and send it again")
    })?;
    let (done, result) = mpsc::channel();
    let thread = std::thread::Builder::new().spawn(move || {
        let place = place;
        let came = work();
        drop(place);
        // Nobody waits any more if it took too long.
        let _ = done.send(came);
    });
    thread.map_err(|e| DeskError::Ours(format!("no thread can be had: {e}")))?;
    result.recv_timeout(bound).map_err(|_| {
        DeskError::unfit(
            format!("{what} could not be read within {} seconds", bound.as_secs()),
            "simplify the drawing: an outline needs a few thousand points",
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nobody_waits_longer_than_the_bound() {
        let slow = || std::thread::sleep(Duration::from_millis(300));
        let refused = within(Duration::from_millis(20), "`slow.svg`", slow);
        assert!(refused.unwrap_err().to_string().contains("`slow.svg`"));
        assert_eq!(within(Duration::from_secs(10), "`quick.svg`", || 7).unwrap(), 7);
    }
}
