//! What may be written on the command line.

use crate::exit;
use clap::{Args as ClapArgs, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

/// Lay flat-back stones before any adhesive is opened: where each one goes, how many of what,
/// and what stays bare.
#[derive(Debug, Parser)]
#[command(name = "stonelay", version, after_help = exit::HELP, max_term_width = 80)]
pub(crate) struct Args {
    /// How many processor threads to use; all of them if not given. The result is the same.
    #[arg(long, global = true, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=256))]
    pub(crate) threads: Option<u16>,
    #[command(subcommand)]
    pub(crate) verb: Verb,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub(crate) enum Verb {
    /// Write the lantern festival's order, to try things on
    Demo(Demo),
    /// Lay every piece of an order: stones, coverage, bare spots, findings
    Lay(Lay),
    /// Count the stones for a size, without a document
    Count(Count),
    /// Look an order over: mistakes in it, and what its lays would come to
    Check(Check),
    /// Explain a finding, or list them all
    Explain(Explain),
    /// Print the completion script for a shell
    Completions(Completions),
    /// Write the manual pages
    Man(Man),
    /// Write the generated documents of the project
    #[command(hide = true)]
    Docs(Docs),
}

/// Arguments of `demo`.
#[derive(Debug, ClapArgs)]
pub(crate) struct Demo {
    /// The folder for `order.toml` and its outline files
    #[arg(default_value = "lantern-festival")]
    pub(crate) dir: PathBuf,
    /// Replace files that are there already
    #[arg(long)]
    pub(crate) replace: bool,
}

/// Arguments of `lay`.
#[derive(Debug, ClapArgs)]
pub(crate) struct Lay {
    /// The order document
    pub(crate) file: PathBuf,
    /// Print the whole lay as JSON instead of the report
    #[arg(long)]
    pub(crate) json: bool,
    /// Write PIECE.svg (true size), PIECE.csv and PIECE.png into this folder
    #[arg(long, value_name = "DIR")]
    pub(crate) out: Option<PathBuf>,
    /// Replace files that are there already
    #[arg(long, requires = "out")]
    pub(crate) replace: bool,
    /// Lay this piece only; may be given more than once
    #[arg(long, value_name = "NAME")]
    pub(crate) piece: Vec<String>,
    /// Show what every other way to lay the rows would cost in stones and coverage, without fillers
    #[arg(long, conflicts_with = "json")]
    pub(crate) ways: bool,
}

/// Arguments of `count`.
#[derive(Debug, ClapArgs)]
pub(crate) struct Count {
    /// The blank: `3 in x 5 in`, `60 x 40 mm`, or a round one by its diameter, `80 mm`
    #[arg(allow_hyphen_values = true)]
    pub(crate) size: String,
    /// The stones: `SS16`, or their diameter, `4 mm`
    pub(crate) stone: String,
    /// The arrangement
    #[arg(value_enum, default_value = "honeycomb")]
    pub(crate) arrangement: Form,
    /// Distance from stone to stone, edge to edge
    #[arg(long, default_value = "0 mm")]
    pub(crate) spacing: String,
    /// Distance kept from the edge of the blank
    #[arg(long, default_value = "0 mm")]
    pub(crate) margin: String,
    /// Set by touch: stones are kept apart by their mean diameter instead of the largest
    #[arg(long)]
    pub(crate) touch: bool,
    /// Stones in a pack
    #[arg(long, default_value_t = 144, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=1_000_000))]
    pub(crate) pack: u32,
    /// Print JSON instead
    #[arg(long)]
    pub(crate) json: bool,
}

/// An arrangement by name.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(crate) enum Form {
    /// Rows that interlock
    Honeycomb,
    /// Rows and columns
    #[value(alias = "grid")]
    Square,
    /// Concentric circles
    Rings,
    /// At random, close
    Scatter,
}

/// Arguments of `check`.
#[derive(Debug, ClapArgs)]
pub(crate) struct Check {
    /// The order document
    pub(crate) file: PathBuf,
    /// Print JSON instead
    #[arg(long)]
    pub(crate) json: bool,
}

/// Arguments of `explain`.
#[derive(Debug, ClapArgs)]
pub(crate) struct Explain {
    /// The code of a finding, such as `lay.bare-spot`; all are listed if none is given
    pub(crate) code: Option<String>,
    /// Print JSON instead
    #[arg(long)]
    pub(crate) json: bool,
}

/// Arguments of `completions`.
#[derive(Debug, ClapArgs)]
pub(crate) struct Completions {
    /// Which shell
    pub(crate) shell: clap_complete::Shell,
}

/// Arguments of `man`.
#[derive(Debug, ClapArgs)]
pub(crate) struct Man {
    /// The folder to write into
    pub(crate) dir: PathBuf,
    /// Replace files that are there already
    #[arg(long)]
    pub(crate) replace: bool,
}

/// Arguments of `docs`.
#[derive(Debug, ClapArgs)]
pub(crate) struct Docs {
    /// The folder to write into
    pub(crate) dir: PathBuf,
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    /// A command line that contradicts itself only says so when it is run.
    #[test]
    fn the_command_line_is_sound() {
        super::Args::command().debug_assert();
    }
}
