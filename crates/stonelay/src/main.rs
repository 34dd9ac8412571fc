//! The command line: `stonelay VERB …`.
//!
//! Each verb is a file under `commands`. What is asked for goes to standard output, answer first;
//! progress and messages go to standard error. [`exit::Exit`] lists the exit codes.

mod args;
mod commands;
mod exit;
mod output;
mod progress;

use clap::Parser;
use exit::Exit;

fn main() -> std::process::ExitCode {
    let args = args::Args::parse();
    let exit = match commands::run(args) {
        Ok(exit) => exit,
        Err(trouble) => {
            output::message(&format!("error: {}", output::chain(&trouble)));
            Exit::Trouble
        }
    };
    exit.into()
}
