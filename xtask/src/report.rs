//! What was run, how it went, how long it took.

use anyhow::Result;
use std::time::Instant;

/// How one step went.
pub(crate) struct Outcome {
    /// What the step is called.
    pub(crate) name: String,
    /// What is worth keeping of it, or why it failed.
    pub(crate) said: Result<String, String>,
    /// How long it took.
    pub(crate) seconds: f64,
}

/// The steps of one run, in order.
#[derive(Default)]
pub(crate) struct Report {
    /// What has been run so far.
    pub(crate) outcomes: Vec<Outcome>,
}

impl Report {
    /// Runs a step and keeps how it went; `true` if it passed. What it returns is kept for the
    /// summary, as far as it is one line.
    pub(crate) fn step(&mut self, name: &str, job: impl FnOnce() -> Result<String>) -> bool {
        eprintln!("\n== {name}");
        let start = Instant::now();
        let said = job().map_err(|error| format!("{error:#}"));
        if let Err(why) = &said {
            eprintln!("FAILED {name}: {why}");
        }
        let passed = said.is_ok();
        let seconds = start.elapsed().as_secs_f64();
        self.outcomes.push(Outcome { name: name.to_owned(), said, seconds });
        passed
    }

    /// Keeps a step as failed without running it, since what it stands on is not there.
    pub(crate) fn could_not_run(&mut self, name: &str, why: &str) {
        let said = Err(format!("could not run: {why}"));
        self.outcomes.push(Outcome { name: name.to_owned(), said, seconds: 0.0 });
    }

    /// Whether nothing failed, and something ran.
    pub(crate) fn passed(&self) -> bool {
        !self.outcomes.is_empty() && self.outcomes.iter().all(|o| o.said.is_ok())
    }

    /// One line for each step, and the count as the last line.
    pub(crate) fn summary(&self) -> String {
        let width = self.outcomes.iter().map(|o| o.name.chars().count()).max().unwrap_or(0);
        let mut text = String::new();
        for o in &self.outcomes {
            let (word, said) = match &o.said {
                Ok(said) => ("passed", said.as_str()),
                Err(why) => ("FAILED", why.lines().next().unwrap_or("")),
            };
            let line = format!("{word}  {:width$}  {:7.1} s  {said}", o.name, o.seconds);
            text.push_str(line.trim_end());
            text.push('\n');
        }
        let failed = self.outcomes.iter().filter(|o| o.said.is_err()).count();
        text.push_str(&format!("{} passed, {failed} failed\n", self.outcomes.len() - failed));
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_step_that_could_not_run_counts_as_failed() {
        let mut report = Report::default();
        assert!(report.step("one", || Ok("fine".into())));
        assert!(report.passed());
        report.could_not_run("two", "no binary");
        assert!(!report.passed());
        assert!(report.summary().ends_with("\n1 passed, 1 failed\n"), "{}", report.summary());
    }

    #[test]
    fn a_run_without_steps_has_not_passed() {
        assert!(!Report::default().passed());
    }
}
