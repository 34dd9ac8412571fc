//! What a record says about the machine and the day.

use crate::run::{command, output};
use anyhow::{Context, Result};
use std::fs;

/// Today in UTC, as `YYYY-MM-DD`.
pub(crate) fn today() -> Result<String> {
    Ok(output(&mut command("date", &["-u", "+%Y-%m-%d"]))?.trim().to_owned())
}

/// The processor as it names itself, and how many of it can be used.
pub(crate) fn processor() -> Result<String> {
    let info = fs::read_to_string("/proc/cpuinfo").context("cannot tell the processor")?;
    let value = |line: &str| line.split_once(':').map(|(_, v)| v.trim().to_owned());
    let model = info.lines().find(|l| l.starts_with("model name")).and_then(value);
    let cores = std::thread::available_parallelism()?;
    Ok(format!("{}, {cores} cores", model.unwrap_or_else(|| "unnamed processor".into())))
}

/// The compiler.
pub(crate) fn compiler() -> Result<String> {
    Ok(output(&mut command("rustc", &["--version"]))?.trim().to_owned())
}

/// The text as part of a file name: lower case letters, digits, single dashes.
pub(crate) fn slug(text: &str) -> String {
    let mut slug = String::new();
    for c in text.to_lowercase().chars() {
        if c.is_ascii_alphanumeric() {
            slug.push(c);
        } else if !slug.ends_with('-') && !slug.is_empty() {
            slug.push('-');
        }
    }
    slug.trim_end_matches('-').to_owned()
}

#[cfg(test)]
mod tests {
    #[test]
    fn a_slug_has_single_dashes_and_none_at_the_ends() {
        assert_eq!(super::slug("(R) Processor @ 2.10GHz, 2 cores"), "r-processor-2-10ghz-2-cores");
    }
}
