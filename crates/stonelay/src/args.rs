//! What may be written on the command line.

use crate::exit;
use app::files::FileSort;
use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};
use clap::{Args as ClapArgs, Parser, Subcommand, ValueEnum};
use jiff::civil::Date;
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
    /// Open the worktop: the page on which the whole job is done
    Open(Open),
    /// Copy everything the worktop keeps into one file, while it is in use
    Backup(Backup),
    /// Put a backup in the place of what the worktop keeps
    Restore(Restore),
    /// Write the lantern festival's order, to try things on
    Demo(Demo),
    /// Lay every piece of an order: stones, coverage, bare spots, findings
    Lay(Lay),
    /// Print sheets at true size to place the stones by, and the papers of an order, as PDF
    Paper(Box<Paper>),
    /// Count the stones for a size, without a document
    Count(Count),
    /// Plan an order: stones, packs, adhesive, hours, the day it ships, the price
    Plan(PlanPart),
    /// What to buy for an order, and where
    Buy(PlanPart),
    /// Which adhesive an order takes: amounts, batches, containers, cautions
    Glue(PlanPart),
    /// The bench order of a piece, cut into what can be set before the adhesive skins
    Stretches(Stretches),
    /// When an order can ship, day by day
    Calendar(Calendar),
    /// What an order costs and what to charge for it
    Price(Price),
    /// Kits and bags of mixes: what goes into each
    Kit(Kit),
    /// Count stones on a scale
    Weigh(Weigh),
    /// Print what lies on the shelf, as a table for a spreadsheet
    Shelf(Shelf),
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

/// Where the worktop keeps everything.
#[derive(Debug, ClapArgs)]
pub(crate) struct Kept {
    /// The file in which the worktop keeps everything; its usual place if not given
    #[arg(long, value_name = "FILE")]
    pub(crate) shop: Option<PathBuf>,
}

/// Arguments of `open`.
#[derive(Debug, ClapArgs)]
pub(crate) struct Open {
    #[command(flatten)]
    pub(crate) kept: Kept,
    /// The port of the page; 0 takes any that is free
    #[arg(long, default_value_t = 7878)]
    pub(crate) port: u16,
    /// Only print the address, and open no browser
    #[arg(long)]
    pub(crate) quiet: bool,
    /// Let devices of your network in, too, each after it is paired with a code
    #[arg(long)]
    pub(crate) share: bool,
    /// The address of this machine at which it is shared; each of its addresses if not given. May be
    /// given more than once
    #[arg(long, value_name = "ADDRESS", requires = "share")]
    pub(crate) share_address: Vec<std::net::IpAddr>,
}

/// Arguments of `backup`.
#[derive(Debug, ClapArgs)]
pub(crate) struct Backup {
    /// The file to write
    pub(crate) to: PathBuf,
    #[command(flatten)]
    pub(crate) kept: Kept,
    /// Replace a file that is there already
    #[arg(long)]
    pub(crate) replace: bool,
}

/// Arguments of `restore`.
#[derive(Debug, ClapArgs)]
pub(crate) struct Restore {
    /// The backup
    pub(crate) from: PathBuf,
    #[command(flatten)]
    pub(crate) kept: Kept,
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
    /// Write files of every piece into this folder, each named by its piece
    #[arg(long, value_name = "DIR")]
    pub(crate) out: Option<PathBuf>,
    /// Which files: several with commas between
    #[arg(long = "as", value_name = "SORTS", value_delimiter = ',', requires = "out",
        default_values = FileSort::USUAL.map(FileSort::name), value_parser = file_sort())]
    pub(crate) sorts: Vec<FileSort>,
    /// Pixels to an inch of the PNG; enough to tell the stones if not given
    #[arg(long, requires = "out", value_parser = clap::value_parser!(u32).range(1..=9600))]
    pub(crate) dpi: Option<u32>,
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

/// The sorts of files by name, each with what it is for.
fn file_sort() -> impl TypedValueParser<Value = FileSort> {
    let value = |s: FileSort| PossibleValue::new(s.name()).help(s.purpose());
    let known = || "the sort is one of those listed".to_owned();
    PossibleValuesParser::new(FileSort::ALL.map(value))
        .try_map(move |name| FileSort::named(&name).ok_or_else(known))
}

/// Arguments of `paper`.
#[derive(Debug, ClapArgs)]
pub(crate) struct Paper {
    /// The order document
    #[arg(required_unless_present = "test_page")]
    pub(crate) file: Option<PathBuf>,
    /// Write the papers into this folder
    #[arg(long, value_name = "DIR")]
    pub(crate) out: PathBuf,
    /// Which papers, with commas between them
    #[arg(long, value_enum, value_name = "PAPERS", value_delimiter = ',', default_values = ["placing"])]
    pub(crate) papers: Vec<PaperName>,
    /// What the placing sheets are for; may be given more than once
    #[arg(long = "for", value_enum, value_name = "WAY", default_values = ["under"])]
    pub(crate) usage: Vec<SheetUse>,
    /// What they are printed on
    #[arg(long, value_enum, value_name = "SIZE", default_value = "a4")]
    pub(crate) sheet: SheetSize,
    /// This piece only; may be given more than once
    #[arg(long, value_name = "NAME")]
    pub(crate) piece: Vec<String>,
    /// Each piece as often as the order wants it, instead of once
    #[arg(long)]
    pub(crate) copies: bool,
    /// What the bars of the test page measure, across x down, such as 98.6 or 98.6x99.1: sheets are
    /// drawn so that they come out true
    #[arg(long, value_name = "MM", allow_hyphen_values = true)]
    pub(crate) measured: Option<paper::Measured>,
    /// How numbers and days are written: en, en-GB, en-US, de, de-CH, fr, it, nl, da, sv, fi
    #[arg(long, value_name = "TAG", default_value = "en")]
    pub(crate) notation: paper::Notation,
    /// The day of the plan, such as 2026-12-01, which stands on the papers; if not given, the plan
    /// is of today and they carry no date
    #[arg(long, value_name = "DAY", value_parser = day)]
    pub(crate) on: Option<Date>,
    /// The number of the document, on all of them
    #[arg(long, value_name = "NUMBER")]
    pub(crate) number: Option<String>,
    /// Whom the quote is for
    #[arg(long, value_name = "NAME")]
    pub(crate) customer: Option<String>,
    /// Who makes it, and how to reach them: on the quote and on care cards
    #[arg(long, value_name = "WORDS")]
    pub(crate) from: Option<String>,
    /// The sheet of labels: a4-3x8, a4-3x7, letter-3x10, letter-2x5, or its measures in mm, such as
    /// `210x297 3x8 70x37 0x0.5 70x37`
    #[arg(long, value_name = "SHEET")]
    pub(crate) labels: Option<paper::LabelSheet>,
    /// Write `test-page.pdf` instead: a page to measure your printer by
    #[arg(long, conflicts_with_all = ["file", "usage", "piece", "copies", "papers"])]
    pub(crate) test_page: bool,
    /// Print as JSON what lies where on the pages
    #[arg(long, conflicts_with = "test_page")]
    pub(crate) json: bool,
    /// Replace files that are there already
    #[arg(long)]
    pub(crate) replace: bool,
}

/// A paper by name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum PaperName {
    /// Sheets to place stones by
    Placing,
    /// For the customer: pieces, prices, terms, care
    Quote,
    /// For the maker: kinds, glue, stretches, copies
    Bench,
    /// By supplier: packs and adhesive
    Shopping,
    /// Stones to lay ready, for the order and for kits
    Gathering,
    /// For bags of kits and for copies
    Labels,
    /// Cards for whoever gets the finished thing
    Care,
    /// Day by day
    Calendar,
    /// Outlines at true size for a light table, a page for each piece
    LightTable,
    /// Light outlines on black, to throw onto the blank
    Projector,
    /// The same, left and right changed over
    ProjectorMirrored,
    /// All but the outlines; no quote of an order without a price
    All,
}

/// What a sheet is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum SheetUse {
    /// To lie under a clear blank
    Under,
    /// To lie beside a blank that hides it, with rows and stretches numbered
    Beside,
    /// Mirrored: to lie behind a clear blank that is set from its back
    Behind,
    /// A strip for each row, to be cut out
    Strips,
}

/// A size of paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum SheetSize {
    /// 210 × 297 mm
    A4,
    /// 8 1/2 × 11 in
    Letter,
}

/// Arguments of `plan`, `buy` and `glue`, and the first ones of the others.
#[derive(Debug, ClapArgs)]
pub(crate) struct PlanPart {
    /// The order document
    pub(crate) file: PathBuf,
    /// Print JSON instead
    #[arg(long)]
    pub(crate) json: bool,
    /// Show how each figure came about: its formula and what went into it
    #[arg(long, conflicts_with = "json")]
    pub(crate) why: bool,
    /// The day to plan from, such as 2026-12-01; today if not given
    #[arg(long, value_name = "DAY", value_parser = day)]
    pub(crate) on: Option<Date>,
}

/// A day alone, without a time of day.
fn day(text: &str) -> Result<Date, String> {
    let right = |d: &Date| text.trim().len() == 10 && (2000..=9999).contains(&d.year());
    let day = text.trim().parse().ok().filter(right);
    day.ok_or_else(|| "write a day of the calendar, such as 2026-12-01".to_owned())
}

/// Arguments of `stretches`.
#[derive(Debug, ClapArgs)]
pub(crate) struct Stretches {
    #[command(flatten)]
    pub(crate) part: PlanPart,
    /// Show this piece only; may be given more than once
    #[arg(long, value_name = "NAME")]
    pub(crate) piece: Vec<String>,
}

/// Arguments of `calendar`.
#[derive(Debug, ClapArgs)]
pub(crate) struct Calendar {
    #[command(flatten)]
    pub(crate) part: PlanPart,
    /// Write it as a calendar file (iCalendar, RFC 5545), such as order.ics
    #[arg(long, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
    /// Replace a file that is there already
    #[arg(long, requires = "out")]
    pub(crate) replace: bool,
}

/// Arguments of `price`.
#[derive(Debug, ClapArgs)]
pub(crate) struct Price {
    #[command(flatten)]
    pub(crate) part: PlanPart,
    /// Print a quote for the customer instead, without any cost of yours
    #[arg(long, conflicts_with_all = ["json", "why"])]
    pub(crate) quote: bool,
    /// Whom the quote is for
    #[arg(long, value_name = "NAME", requires = "quote")]
    pub(crate) customer: Option<String>,
}

/// Arguments of `kit`.
#[derive(Debug, ClapArgs)]
pub(crate) struct Kit {
    #[command(flatten)]
    pub(crate) part: PlanPart,
    /// Print the labels of all bags instead
    #[arg(long, conflicts_with_all = ["json", "why"])]
    pub(crate) labels: bool,
}

/// Arguments of `weigh`.
#[derive(Debug, ClapArgs)]
pub(crate) struct Weigh {
    /// A counted sample and what the scale shows with it, such as `50=4.10g`; more than one is
    /// better
    #[arg(long, required = true, allow_hyphen_values = true, value_name = "STONES=WEIGHT")]
    pub(crate) sample: Vec<String>,
    /// What the scale shows with the heap
    #[arg(long, allow_hyphen_values = true, value_name = "WEIGHT")]
    pub(crate) heap: Option<String>,
    /// The empty dish
    #[arg(long, allow_hyphen_values = true, default_value = "0 g", value_name = "WEIGHT")]
    pub(crate) tare: String,
    /// The smallest step of the scale
    #[arg(long, allow_hyphen_values = true, default_value = "0.01 g", value_name = "WEIGHT")]
    pub(crate) step: String,
    /// Print JSON instead
    #[arg(long)]
    pub(crate) json: bool,
    /// Show how each figure came about
    #[arg(long, conflicts_with = "json")]
    pub(crate) why: bool,
}

/// Arguments of `shelf`.
#[derive(Debug, ClapArgs)]
pub(crate) struct Shelf {
    /// The order document
    pub(crate) file: PathBuf,
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
