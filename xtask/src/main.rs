//! House jobs: everything a maintainer runs beside plain `cargo`.

mod bench;
mod house;
mod machine;
mod needs;
mod npm;
mod outside;
mod record;
mod report;
mod run;
mod test;
mod tidy;
mod worktop;

use clap::{Parser, Subcommand};
use std::process::ExitCode;

#[derive(Parser)]
#[command(name = "cargo xtask", about = "House jobs of stonelay")]
struct Cli {
    #[command(subcommand)]
    job: Job,
}

#[derive(Subcommand)]
enum Job {
    /// Format, lints, tests, docs, tidy rules, benches build, outside checks.
    Test(test::Options),
    /// Installs what the outside checks need, and nothing else.
    Needs(needs::Consent),
    /// The rules that the compiler does not know.
    Tidy,
    /// Writes the generated documents under docs anew.
    Docs,
    /// Every bench, with a record under benches/runs.
    Bench,
}

fn main() -> ExitCode {
    let outcome = match Cli::parse().job {
        Job::Test(options) => test::run(&options),
        Job::Needs(options) => needs::run(&options),
        Job::Tidy => tidy::run(),
        Job::Docs => docs(),
        Job::Bench => bench::run(),
    };
    match outcome {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("error: {error:#}");
            ExitCode::FAILURE
        }
    }
}

/// The binary knows them: schema, findings, the order document. A test of the workspace holds the
/// committed ones against it.
fn docs() -> anyhow::Result<bool> {
    let house = house::House::find()?;
    let args = ["run", "--quiet", "--package", "stonelay", "--", "docs"];
    let mut cargo = run::command("cargo", &args);
    run::through(cargo.arg(house.root.join("docs")).current_dir(&house.root))?;
    Ok(true)
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    /// A command line that contradicts itself only says so when it is run.
    #[test]
    fn the_command_line_is_sound() {
        super::Cli::command().debug_assert();
    }
}
