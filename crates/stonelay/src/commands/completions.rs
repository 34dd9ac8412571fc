//! `stonelay completions SHELL`.

use crate::args::{Args, Completions};
use crate::exit::Exit;
use crate::output;
use anyhow::Result;
use clap::CommandFactory;

/// Prints a completion script, made from the command line's own description.
pub(super) fn run(args: &Completions) -> Result<Exit> {
    let mut script = vec![];
    clap_complete::generate(args.shell, &mut Args::command(), "stonelay", &mut script);
    output::print(&String::from_utf8_lossy(&script))?;
    Ok(Exit::Done)
}
