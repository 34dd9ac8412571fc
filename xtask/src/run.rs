//! Other programs: started, watched, their words passed on.

use anyhow::{Context, Result, bail};
use std::ffi::OsStr;
use std::io::{BufRead, BufReader};
use std::process::{Command, Stdio};

/// A command with its arguments.
pub(crate) fn command<S: AsRef<OsStr>>(program: impl AsRef<OsStr>, args: &[S]) -> Command {
    let mut command = Command::new(program);
    command.args(args);
    command
}

/// Runs it to its end, its words going straight through; an error unless it says success.
pub(crate) fn through(command: &mut Command) -> Result<()> {
    eprintln!("$ {}", shown(command));
    let status = command.status().with_context(|| format!("cannot start {}", shown(command)))?;
    if !status.success() {
        bail!("{} ended with {status}", program(command));
    }
    Ok(())
}

/// Runs it to its end, passes on what it prints, and returns its last line that is not empty.
pub(crate) fn last_line(command: &mut Command) -> Result<String> {
    eprintln!("$ {}", shown(command));
    let mut child = command
        .stdout(Stdio::piped())
        .spawn()
        .with_context(|| format!("cannot start {}", shown(command)))?;
    let mut last = String::new();
    if let Some(out) = child.stdout.take() {
        for line in BufReader::new(out).lines() {
            let line = line.context("what it prints is not text")?;
            println!("{line}");
            if !line.trim().is_empty() {
                last = line;
            }
        }
    }
    let status = child.wait()?;
    if !status.success() {
        bail!("{} ended with {status}: {last}", program(command));
    }
    Ok(last)
}

/// Runs it quietly and returns what it prints; an error unless it says success.
pub(crate) fn output(command: &mut Command) -> Result<String> {
    let out = command.output().with_context(|| format!("cannot start {}", shown(command)))?;
    if !out.status.success() {
        let words = String::from_utf8_lossy(&out.stderr).trim().to_owned();
        bail!("{} ended with {}: {words}", program(command), out.status);
    }
    String::from_utf8(out.stdout).context("what it prints is not text")
}

/// Whether it runs and says success, quietly.
pub(crate) fn succeeds(command: &mut Command) -> bool {
    command
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .is_ok_and(|status| status.success())
}

fn program(command: &Command) -> String {
    command.get_program().to_string_lossy().into_owned()
}

fn shown(command: &Command) -> String {
    let args = command.get_args().map(|a| a.to_string_lossy().into_owned());
    std::iter::once(program(command)).chain(args).collect::<Vec<_>>().join(" ")
}
