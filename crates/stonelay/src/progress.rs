//! Progress for people, and Ctrl-C.

use crate::exit::Exit;
use crate::output;
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use lay::Watch;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

static STOP: AtomicBool = AtomicBool::new(false);

/// How long work may take to stop by itself, at the next place where it looks.
const GRACE: Duration = Duration::from_secs(1);

/// Work that takes less than this shows no progress.
const QUIET: Duration = Duration::from_secs(1);

/// Watches long work: a line on the terminal once it takes longer than a second, and Ctrl-C.
pub(crate) struct Progress {
    bar: ProgressBar,
    since: Instant,
}

impl Progress {
    /// Begins to watch. Nothing is drawn unless standard error is a terminal.
    pub(crate) fn new() -> Progress {
        // A second handler could only be set by a second call; then the first still works.
        let _ = ctrlc::set_handler(|| {
            if !STOP.swap(true, Ordering::Relaxed) {
                std::thread::sleep(GRACE);
            }
            // Files take their names only when they are whole, so that leaving now spoils none.
            output::message("stopped");
            std::process::exit(Exit::Stopped as i32);
        });
        let bar = ProgressBar::with_draw_target(None, ProgressDrawTarget::hidden());
        let style = ProgressStyle::with_template("{spinner} {msg} {pos}/{len}");
        bar.set_style(style.unwrap_or_else(|_| ProgressStyle::default_spinner()));
        Progress { bar, since: Instant::now() }
    }

    /// Takes the line away.
    pub(crate) fn finish(&self) {
        self.bar.finish_and_clear();
    }
}

impl Watch for Progress {
    fn step(&self, what: &str, done: usize, total: usize) {
        if self.since.elapsed() < QUIET {
            return;
        }
        if self.bar.is_hidden() {
            self.bar.set_draw_target(ProgressDrawTarget::stderr());
        }
        self.bar.enable_steady_tick(Duration::from_millis(200));
        self.bar.set_message(what.to_owned());
        self.bar.set_length(total as u64);
        self.bar.set_position(done as u64);
    }

    fn stopped(&self) -> bool {
        STOP.load(Ordering::Relaxed)
    }
}
