//! What the outside checks stand on: Debian packages, a Python environment, npm packages.

use crate::house::House;
use crate::npm;
use crate::run::{command, output, succeeds, through};
use anyhow::{Context, Result, bail};
use std::fs;
use std::io::{BufRead, Write};
use std::path::PathBuf;

/// The release of cargo-deny that reads `deny.toml`.
const DENY_VERSION: &str = "0.20.2";

/// Whether anything is asked.
#[derive(clap::Args)]
pub(crate) struct Consent {
    /// Install what is missing without asking; so does CI in the environment.
    #[arg(long)]
    yes: bool,
}

impl Consent {
    /// Whether to install without asking.
    pub(crate) fn unasked(&self) -> bool {
        self.yes || std::env::var_os("CI").is_some_and(|v| !v.is_empty() && v != "false")
    }
}

/// Installs what is missing.
pub(crate) fn run(consent: &Consent) -> Result<bool> {
    println!("{}", meet(&House::find()?, consent.unasked())?);
    Ok(true)
}

/// The Python interpreter of the checks' own environment.
pub(crate) fn python(house: &House) -> PathBuf {
    house.target.join("checks-venv/bin/python")
}

/// Installs what is missing, asking first unless `unasked`.
pub(crate) fn meet(house: &House, unasked: bool) -> Result<String> {
    let packages = missing_packages();
    let venv = !venv_is_current(house)?;
    let npm: Vec<_> = npm::all(house)?.into_iter().filter(|p| !p.are_current()).collect();
    let mut wanted = Vec::new();
    if !packages.is_empty() {
        wanted.push(format!("Debian packages, by apt-get: {}", packages.join(" ")));
    }
    if venv {
        wanted
            .push("Python environment target/checks-venv, by pip: checks/requirements.txt".into());
    }
    wanted.extend(npm.iter().map(npm::Packages::shown));
    if wanted.is_empty() {
        return Ok("all there".into());
    }
    agree(&wanted, unasked)?;
    if !packages.is_empty() {
        install_packages(&packages)?;
    }
    if venv {
        make_venv(house)?;
    }
    for packages in &npm {
        packages.install()?;
    }
    Ok(wanted.join("; "))
}

/// Checks licences, sources and doubled crates, with cargo-deny; installs it if it is missing.
pub(crate) fn cargo_deny(house: &House, unasked: bool) -> Result<String> {
    let root = house.target.join("checks-cargo");
    let deny = root.join("bin/cargo-deny");
    let version = output(&mut command(&deny, &["--version"])).unwrap_or_default();
    if !version.contains(DENY_VERSION) {
        agree(
            &[format!("cargo-deny {DENY_VERSION} under target/checks-cargo, by cargo")],
            unasked,
        )?;
        let args = ["install", "--locked", "--version", DENY_VERSION, "cargo-deny", "--root"];
        through(command("cargo", &args).arg(&root).env_remove("CARGO_TARGET_DIR"))?;
    }
    let args = ["--offline", "--workspace", "check", "bans", "licenses", "sources"];
    through(command(&deny, &args).current_dir(&house.root)).map(|()| String::new())
}

fn agree(wanted: &[String], unasked: bool) -> Result<()> {
    eprintln!("to be installed:");
    wanted.iter().for_each(|w| eprintln!("  {w}"));
    if unasked {
        return Ok(());
    }
    eprint!("go ahead? [y/N] ");
    std::io::stderr().flush()?;
    let mut answer = String::new();
    std::io::stdin().lock().read_line(&mut answer)?;
    match answer.trim().to_lowercase().as_str() {
        "y" | "yes" => Ok(()),
        _ => bail!("not installed, as you wish; `--rust` runs what needs nothing"),
    }
}

fn missing_packages() -> Vec<&'static str> {
    let mut packages = Vec::new();
    let old = "import sys, venv, ensurepip; sys.exit(sys.version_info < (3, 11))";
    if !succeeds(&mut command("python3", &["-c", old])) {
        packages.extend(["python3", "python3-venv"]);
    }
    if !succeeds(&mut command("node", &["--version"])) {
        packages.push("nodejs");
    }
    if !succeeds(&mut command("npm", &["--version"])) {
        packages.push("npm");
    }
    for (program, package) in [("chromium", "chromium"), ("sqlite3", "sqlite3")] {
        if !succeeds(&mut command(program, &["--version"])) {
            packages.push(package);
        }
    }
    packages
}

fn install_packages(packages: &[&str]) -> Result<()> {
    let root = output(&mut command("id", &["-u"]))?.trim() == "0";
    let apt = |args: &[&str]| {
        let mut apt = if root { command("apt-get", args) } else { command("sudo", &["apt-get"]) };
        if !root {
            apt.args(args);
        }
        through(apt.env("DEBIAN_FRONTEND", "noninteractive"))
    };
    apt(&["update"])?;
    let args = ["install", "--yes", "--no-install-recommends"];
    apt(&[&args[..], packages].concat())
}

/// The environment is current if it was made from the requirements as they stand: a copy of them
/// is left in it as the last thing.
fn venv_is_current(house: &House) -> Result<bool> {
    let wanted = fs::read_to_string(house.root.join("checks/requirements.txt"))
        .context("cannot read checks/requirements.txt")?;
    let made = fs::read_to_string(house.target.join("checks-venv/made-from.txt"));
    Ok(made.is_ok_and(|made| made == wanted) && succeeds(&mut command(python(house), &["-V"])))
}

fn make_venv(house: &House) -> Result<()> {
    let folder = house.target.join("checks-venv");
    let requirements = house.root.join("checks/requirements.txt");
    through(command("python3", &["-m", "venv", "--clear"]).arg(&folder))?;
    let args = ["-m", "pip", "install", "--quiet", "--only-binary", ":all:", "--requirement"];
    through(command(python(house), &args).arg(&requirements))?;
    fs::copy(&requirements, folder.join("made-from.txt"))?;
    Ok(())
}
