//! Runs the program in a folder of its own.

use std::path::Path;
use std::process::Command;
use tempfile::TempDir;

/// What a run gave.
pub(crate) struct Run {
    pub(crate) code: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl Run {
    /// Everything, for a snapshot.
    pub(crate) fn shown(&self) -> String {
        let err = if self.err.is_empty() { String::new() } else { format!("--\n{}", self.err) };
        format!("{}{err}exit {}", self.out, self.code)
    }
}

/// Runs `stonelay` with these arguments in `folder`.
pub(crate) fn run(folder: &Path, args: &[&str]) -> Run {
    let mut command = Command::new(env!("CARGO_BIN_EXE_stonelay"));
    let done = command.args(args).current_dir(folder).env("COLUMNS", "80").output().unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    Run { code: done.status.code().unwrap_or(-1), out: text(done.stdout), err: text(done.stderr) }
}

/// A folder with an order of one small badge in it, as `order.toml`.
pub(crate) fn badge() -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("order.toml"), BADGE).unwrap();
    folder
}

const BADGE: &str = r##"stonelay = 1
order = "Harbour lantern festival"
seed = 7

[[kind]]
name = "sea glass"
size = "SS16"
colour = "#2f8f83"

[[kind]]
name = "dew"
size = "2 mm"
colour = "#dfeaea"

[[piece]]
name = "small badge"
quantity = 3
margin = "0.5 mm"
blank = { shape = "rounded rectangle", width = "30 mm", height = "20 mm", corner = "3 mm" }
holes = [{ shape = "circle", diameter = "3 mm", at = ["15 mm", "4 mm"] }]
arrangement = "honeycomb"
spacing = "0.1 mm"
mix = "sea glass"
fillers = ["dew"]
"##;
