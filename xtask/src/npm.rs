//! npm packages for the outside checks, each under a folder of the build, never committed.

use crate::house::House;
use crate::run::{command, through};
use anyhow::{Context, Result};
use std::fs;
use std::path::{Path, PathBuf};

/// The npm package of icons that are laid as blanks: some thousands of filled outlines that nobody
/// here drew. Only for tests, never committed.
const ICONS: &str = "@mdi/svg";
/// Its version; the sample drawn by seed depends on it.
const ICONS_VERSION: &str = "7.4.47";

/// Packages for one purpose, in a folder of their own.
pub(crate) struct Packages {
    /// What they are for, for people.
    pub(crate) what: &'static str,
    /// Where they go: `node_modules` is below it.
    pub(crate) folder: PathBuf,
    /// Name and exact version of each.
    wanted: Vec<(String, String)>,
}

/// The folder of SVG icons.
pub(crate) fn icons(house: &House) -> PathBuf {
    house.target.join("checks-npm/node_modules").join(ICONS).join("svg")
}

/// The folder of what the journeys and the checks of the scripts stand on.
pub(crate) fn journeys(house: &House) -> PathBuf {
    house.target.join("journeys-npm")
}

/// All of them.
///
/// # Errors
/// `journeys/package.json` cannot be read.
pub(crate) fn all(house: &House) -> Result<[Packages; 2]> {
    Ok([
        Packages {
            what: "icons",
            folder: house.target.join("checks-npm"),
            wanted: vec![(ICONS.to_owned(), ICONS_VERSION.to_owned())],
        },
        Packages {
            what: "a browser's driver, axe-core and TypeScript",
            folder: journeys(house),
            wanted: named(&house.root.join("journeys/package.json"))?,
        },
    ])
}

/// Name and version of every package that a `package.json` names.
fn named(file: &Path) -> Result<Vec<(String, String)>> {
    let text =
        fs::read_to_string(file).with_context(|| format!("cannot read {}", file.display()))?;
    let package: serde_json::Value = serde_json::from_str(&text)?;
    let named =
        package["devDependencies"].as_object().context("journeys/package.json names nothing")?;
    let version = |v: &serde_json::Value| v.as_str().map(str::to_owned);
    named
        .iter()
        .map(|(name, v)| Ok((name.clone(), version(v).context("a version is text")?)))
        .collect()
}

impl Packages {
    /// Whether each is there in its version.
    pub(crate) fn are_current(&self) -> bool {
        self.wanted.iter().all(|(name, version)| {
            let file = self.folder.join("node_modules").join(name).join("package.json");
            let text = fs::read_to_string(file).unwrap_or_default();
            serde_json::from_str::<serde_json::Value>(&text).is_ok_and(|p| p["version"] == *version)
        })
    }

    /// What would be installed, for people.
    pub(crate) fn shown(&self) -> String {
        let names: Vec<String> = self.wanted.iter().map(|(n, v)| format!("{n}@{v}")).collect();
        let folder = self.folder.file_name().unwrap_or_default().to_string_lossy();
        format!("{} under target/{folder}, by npm: {}", self.what, names.join(" "))
    }

    /// Installs them.
    ///
    /// # Errors
    /// npm fails, or the folder cannot be made.
    pub(crate) fn install(&self) -> Result<()> {
        fs::create_dir_all(&self.folder)?;
        let args =
            ["install", "--no-save", "--no-audit", "--no-fund", "--ignore-scripts", "--prefix"];
        let mut npm = command("npm", &args);
        npm.arg(&self.folder).args(self.wanted.iter().map(|(n, v)| format!("{n}@{v}")));
        through(&mut npm)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_journeys_name_exact_versions() {
        let house = House::find().unwrap();
        let named = named(&house.root.join("journeys/package.json")).unwrap();
        assert!(named.iter().any(|(n, _)| n == "playwright-core"), "{named:?}");
        let exact = |v: &str| v.split('.').all(|p| p.parse::<u32>().is_ok());
        assert!(named.iter().all(|(_, v)| exact(v)), "{named:?}");
    }
}
