//! The whole gate: what has to pass before a change is kept.

use crate::house::{House, PROFILE};
use crate::report::Report;
use crate::run::{command, through};
use crate::{needs, outside, record, tidy, worktop};
use anyhow::{Result, bail};
use std::process::Command;

/// How much is run, and whether anything is asked.
#[derive(clap::Args)]
pub(crate) struct Options {
    /// The quick half: everything that needs no Debian package, Python or npm.
    #[arg(long, conflicts_with = "long")]
    rust: bool,
    /// The deep one: every icon, more random pieces, the whole search; leaves a record to commit.
    #[arg(long)]
    pub(crate) long: bool,
    #[command(flatten)]
    needs: needs::Consent,
}

/// Builds the binary and the benches. Both in one go: asked for apart, features differ and their
/// dependencies are built twice.
const BUILD: &[&str] = &["build", "--profile", PROFILE, "--workspace", "--bins", "--benches"];

/// Runs it; `true` if everything passed.
pub(crate) fn run(options: &Options) -> Result<bool> {
    let house = House::find()?;
    let mut report = Report::default();
    rust_half(&house, &mut report, options.long);
    if !options.rust {
        outside_half(&house, &mut report, options);
    }
    let summary = report.summary();
    if options.long {
        let path = record::write(&house, &report)?;
        eprintln!("\nrecord to commit: {}", path.display());
    }
    println!("\n{summary}");
    Ok(report.passed())
}

fn rust_half(house: &House, report: &mut Report, long: bool) {
    let cargo = |args: &[&str]| -> Command {
        let mut cargo = command("cargo", args);
        // A snapshot that differs is a failure, never a file to look at later.
        cargo.current_dir(&house.root).env("INSTA_UPDATE", "no");
        cargo
    };
    let passed = |mut c: Command| through(&mut c).map(|()| String::new());
    report.step("format", || passed(cargo(&["fmt", "--all", "--check"])));
    report.step("tidy", || match tidy::breaches(house)? {
        found if found.is_empty() => Ok(String::new()),
        found => bail!("{} breaches:\n{}", found.len(), found.join("\n")),
    });
    report.step("lints", || {
        passed(cargo(&[
            "clippy",
            "--profile",
            PROFILE,
            "--workspace",
            "--all-targets",
            "--",
            "-D",
            "warnings",
        ]))
    });
    report.step("tests", || {
        let mut tests = cargo(&["test", "--profile", PROFILE, "--workspace", "--no-fail-fast"]);
        if long {
            tests.env("PROPTEST_CASES", "5000");
        }
        passed(tests)
    });
    report.step("docs", || {
        let mut docs = cargo(&[
            "doc",
            "--profile",
            PROFILE,
            "--workspace",
            "--no-deps",
            "--document-private-items",
        ]);
        docs.env("RUSTDOCFLAGS", "-D warnings");
        passed(docs)
    });
    report.step("binary and benches build", || passed(cargo(BUILD)));
}

fn outside_half(house: &House, report: &mut Report, options: &Options) {
    let unasked = options.needs.unasked();
    let ready = report.step("what the outside checks need", || needs::meet(house, unasked));
    let built = report.step("binary", || {
        let mut cargo = command("cargo", BUILD);
        through(cargo.current_dir(&house.root)).map(|()| String::new())
    });
    let missing = match (ready, built) {
        (true, true) => None,
        (false, _) => Some("what it needs is not installed"),
        (true, false) => Some("the binary is not built"),
    };
    for check in outside::CHECKS.iter().chain(worktop::CHECKS) {
        match missing {
            None => {
                report.step(check.name, || (check.job)(house, options.long));
            }
            Some(why) => report.could_not_run(check.name, why),
        }
    }
    if options.long {
        report.step("licences and sources", || needs::cargo_deny(house, unasked));
    }
}
