//! The record of a long run, kept with the code.

use crate::house::House;
use crate::machine::{compiler, processor, today};
use crate::report::Report;
use crate::run::{command, output};
use anyhow::{Context, Result};
use std::fs;
use std::path::PathBuf;

/// Writes it under `checks/records`, named by the day, and returns where.
pub(crate) fn write(house: &House, report: &Report) -> Result<PathBuf> {
    let day = today()?;
    let mut git = command("git", &["rev-parse", "--short", "HEAD"]);
    let commit = output(git.current_dir(&house.root))?;
    let text = format!(
        "# Long run of {day}\n\nCode: `{}`. Machine: {}. Compiler: {}.\n\n```text\n{}```\n",
        commit.trim(),
        processor()?,
        compiler()?,
        report.summary(),
    );
    let folder = house.root.join("checks/records");
    fs::create_dir_all(&folder)?;
    let path = folder.join(format!("{day}.md"));
    fs::write(&path, text).with_context(|| format!("cannot write {}", path.display()))?;
    Ok(path)
}
