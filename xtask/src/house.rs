//! Where things are: the root of the checkout, the build folder, the tracked files.

use crate::run::output;
use anyhow::{Context, Result};
use cargo_metadata::{Metadata, MetadataCommand};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// The profile the gate builds with: one for the tests and for the binary that is checked from
/// outside, so that nothing is built twice.
pub(crate) const PROFILE: &str = "gate";

/// The checkout.
pub(crate) struct House {
    /// Its root.
    pub(crate) root: PathBuf,
    /// Cargo's build folder.
    pub(crate) target: PathBuf,
    /// What cargo knows of the workspace.
    pub(crate) metadata: Metadata,
}

impl House {
    /// Asks cargo.
    pub(crate) fn find() -> Result<House> {
        let metadata = MetadataCommand::new()
            .exec()
            .context("cargo metadata does not answer; is this a checkout of the workspace?")?;
        Ok(House {
            root: metadata.workspace_root.clone().into(),
            target: metadata.target_directory.clone().into(),
            metadata,
        })
    }

    /// The path of the command line's binary as the gate builds it, built or not.
    pub(crate) fn binary(&self) -> PathBuf {
        self.target.join(PROFILE).join("stonelay")
    }

    /// The path of an example's binary, as the tests build it.
    pub(crate) fn example(&self, name: &str) -> PathBuf {
        self.target.join(PROFILE).join("examples").join(name)
    }

    /// Every file that git tracks or would track, relative to the root, sorted.
    pub(crate) fn files(&self) -> Result<Vec<String>> {
        let mut git = Command::new("git");
        git.args(["ls-files", "--cached", "--others", "--exclude-standard"]);
        let listing = output(git.current_dir(&self.root))?;
        let present = |f: &&str| self.root.join(f).is_file();
        let mut files: Vec<String> = listing.lines().filter(present).map(str::to_owned).collect();
        files.sort();
        files.dedup();
        Ok(files)
    }

    /// The text of a file of the checkout; `None` if it is not text.
    pub(crate) fn text(&self, file: impl AsRef<Path>) -> Result<Option<String>> {
        let path = self.root.join(file);
        let bytes = fs::read(&path).with_context(|| format!("cannot read {}", path.display()))?;
        Ok(String::from_utf8(bytes).ok())
    }
}
