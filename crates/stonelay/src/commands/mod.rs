//! One file a verb.

mod check;
mod completions;
mod count;
mod demo;
mod docs;
mod explain;
mod lay;
mod man;
mod open;
mod order_papers;
mod paper;
mod plan;
mod report;
mod shared;
mod shelf;
mod weigh;
mod worktop;

use crate::args::{Args, Verb};
use crate::exit::Exit;
use anyhow::{Context, Result};

/// Does what was asked.
pub(crate) fn run(args: Args) -> Result<Exit> {
    if let Some(n) = args.threads {
        rayon::ThreadPoolBuilder::new()
            .num_threads(usize::from(n))
            .build_global()
            .context("the threads could not be started")?;
    }
    match args.verb {
        Verb::Demo(a) => demo::run(&a),
        Verb::Lay(a) => lay::run(&a),
        Verb::Paper(a) => paper::run(&a),
        Verb::Count(a) => count::run(&a),
        Verb::Plan(a) => plan::whole(&a),
        Verb::Buy(a) => plan::buy(&a),
        Verb::Glue(a) => plan::glue(&a),
        Verb::Stretches(a) => plan::stretches(&a),
        Verb::Calendar(a) => plan::calendar(&a),
        Verb::Price(a) => plan::price(&a),
        Verb::Kit(a) => plan::kit(&a),
        Verb::Shelf(a) => shelf::run(&a),
        Verb::Weigh(a) => weigh::run(&a),
        Verb::Check(a) => check::run(&a),
        Verb::Explain(a) => explain::run(&a),
        Verb::Open(a) => worktop::open(&a),
        Verb::Backup(a) => worktop::backup(&a),
        Verb::Restore(a) => worktop::restore(&a),
        Verb::Completions(a) => completions::run(&a),
        Verb::Man(a) => man::run(&a),
        Verb::Docs(a) => docs::run(&a),
    }
}
