//! Checks of the worktop: its scripts, journeys in a real browser, its API and files from outside.

use crate::house::House;
use crate::npm;
use crate::outside::{self, Job, fresh, script, two_at_a_time};
use crate::run::{command, through};
use anyhow::{Context, Result, bail};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Types of the page's scripts by TypeScript, and their own tests.
pub(crate) fn scripts(house: &House, _long: bool) -> Result<String> {
    let tsc = npm::journeys(house).join("node_modules/typescript/bin/tsc");
    let config = house.root.join("crates/worktop/assets/tsconfig.json");
    through(
        command("node", &[tsc.as_os_str(), "--project".as_ref(), config.as_os_str()])
            .current_dir(&house.root),
    )?;
    let tests = named(&house.root.join("crates/worktop/tests/js"), ".test.js")?;
    let passed = node_tests(house, "scripts", &tests, |c| c)?;
    Ok(format!("types hold, {passed} tests"))
}

/// The journeys of `journeys/*.spec.mjs`; their pictures stay under `target/journeys`.
pub(crate) fn journeys(house: &House, _long: bool) -> Result<String> {
    let shots = house.target.join("journeys");
    if shots.exists() {
        fs::remove_dir_all(&shots)?;
    }
    let specs = named(&house.root.join("journeys"), ".spec.mjs")?;
    let passed = node_tests(house, "journeys", &specs, |c| {
        c.arg("--test-concurrency=2");
        c.env("STONELAY", house.binary()).env("JOURNEYS_NPM", npm::journeys(house));
        c.env("JOURNEYS_SHOTS", &shots)
    })?;
    let pictures = named(&shots, ".png")?.len();
    Ok(format!("{passed} passed, {pictures} pictures in target/journeys"))
}

/// How often the worktop is killed: about 40 s of it.
const KILLS: &str = "200";
/// Seconds of schemathesis in the gate and in a long run.
const DRIVEN_S: [&str; 2] = ["60", "300"];

/// The API, driven and described; backups; kills; and, when nothing else runs, how quick it is.
pub(crate) fn from_outside(house: &House, long: bool) -> Result<String> {
    let driven_s = DRIVEN_S[usize::from(long)];
    let run = |name: &'static str, more: Vec<&'static str>| {
        script(house, name, move |c| c.arg("--binary").arg(house.binary()).args(more))
    };
    let jobs: [Job<'_>; 5] = [
        ("worktop_driven.py", Box::new(|| run("worktop_driven.py", vec!["--seconds", driven_s]))),
        ("worktop_kills.py", Box::new(|| run("worktop_kills.py", vec!["--kills", KILLS]))),
        ("worktop_api.py", Box::new(|| run("worktop_api.py", vec![]))),
        ("worktop_backup.py", Box::new(|| run("worktop_backup.py", vec![]))),
        ("worktop_large_piece.py", Box::new(|| run("worktop_large_piece.py", vec![]))),
    ];
    two_at_a_time(&jobs)?;
    script(house, "worktop_speed.py", |c| {
        c.arg("--binary").arg(house.binary());
        if long { c.arg("--large").arg(house.example("large")) } else { c }
    })
}

/// Files of a folder whose names end so, sorted.
fn named(folder: &Path, end: &str) -> Result<Vec<PathBuf>> {
    let mut found = vec![];
    for entry in
        fs::read_dir(folder).with_context(|| format!("cannot read {}", folder.display()))?
    {
        let path = entry?.path();
        if path.to_string_lossy().ends_with(end) {
            found.push(path);
        }
    }
    found.sort();
    Ok(found)
}

/// Runs Node's own test runner, and returns how many tests passed; an error if one failed, was
/// skipped, or none ran.
fn node_tests(
    house: &House,
    name: &str,
    files: &[PathBuf],
    with: impl FnOnce(&mut Command) -> &mut Command,
) -> Result<u32> {
    if files.is_empty() {
        bail!("there are no tests of {name}");
    }
    let log = fresh(house, name)?.join("tests.tap");
    let mut node =
        command("node", &["--test", "--test-reporter=spec", "--test-reporter-destination=stdout"]);
    node.arg("--test-reporter=tap").arg(format!("--test-reporter-destination={}", log.display()));
    through(with(&mut node).args(files).current_dir(&house.root))?;
    let said = fs::read_to_string(&log)?;
    let (passed, skipped) =
        (counted(&said, "pass")?, counted(&said, "skipped")? + counted(&said, "todo")?);
    if passed == 0 || skipped > 0 {
        bail!("{passed} tests of {name} passed, {skipped} were left out");
    }
    Ok(passed)
}

/// The count behind a word at the end of what the runner says.
fn counted(said: &str, word: &str) -> Result<u32> {
    let mut lines = said.lines().rev();
    let count = lines.find_map(|l| l.strip_prefix("# ")?.strip_prefix(word)?.trim().parse().ok());
    count.with_context(|| format!("the test runner says nothing of `{word}`"))
}

/// What is checked of the worktop, in the order in which it runs.
pub(crate) const CHECKS: &[outside::Check] = &[
    outside::Check { name: "scripts of the page", job: scripts },
    outside::Check { name: "journeys", job: journeys },
    outside::Check { name: "worktop from outside", job: from_outside },
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_last_count_is_taken() {
        let said = "ok 1 - a\n# a: pass 7\n# tests 3\n# pass 2\n# fail 1\n# skipped 0\n";
        assert_eq!(counted(said, "pass").unwrap(), 2);
        assert_eq!(counted(said, "skipped").unwrap(), 0);
        assert!(counted(said, "todo").is_err());
    }
}
