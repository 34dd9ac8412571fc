//! The papers of an order beside its placing sheets, for `stonelay paper`.

use crate::args::{Paper, PaperName};
use crate::output;
use anyhow::{Context, Result};
use app::laying::LaidOrder;
use app::plan::Plan;
use jiff::ZonedDateTime;
use jiff::civil::Date;
use lay::Watch;
use paper::{
    LabelSheet, Light, Options, OrderPaper, PaperError, PaperSize, Papers, QuoteWords, SetPaper,
};
use std::fmt::Write;
use std::path::PathBuf;

/// One paper and its file.
pub(super) struct Wanted {
    /// Where it is written.
    pub(super) path: PathBuf,
    paper: OrderPaper,
    /// Whether it was asked for by its name: then it is not left out.
    named: bool,
}

/// A paper that was set, and its file.
pub(super) struct Made {
    /// Where it is written.
    pub(super) path: PathBuf,
    paper: OrderPaper,
    /// The paper.
    pub(super) set: SetPaper,
}

/// Whether placing sheets are asked for.
pub(super) fn placing(args: &Paper) -> bool {
    let asked = |p: &PaperName| matches!(p, PaperName::Placing | PaperName::All);
    args.papers.iter().any(asked)
}

/// The others that are asked for, each once, in the house's order.
pub(super) fn wanted(args: &Paper) -> Vec<Wanted> {
    let all = args.papers.contains(&PaperName::All);
    let named = |paper| args.papers.iter().any(|p| order_paper(*p) == Some(paper));
    let usual = |p: OrderPaper| all && !matches!(p, OrderPaper::Light(_));
    let papers = OrderPaper::ALL.into_iter().filter(|p| usual(*p) || named(*p));
    papers
        .map(|paper| Wanted {
            path: args.out.join(format!("{}.pdf", paper.name())),
            paper,
            named: named(paper),
        })
        .collect()
}

fn order_paper(name: PaperName) -> Option<OrderPaper> {
    Some(match name {
        PaperName::Placing | PaperName::All => return None,
        PaperName::Quote => OrderPaper::Quote,
        PaperName::Bench => OrderPaper::Bench,
        PaperName::Shopping => OrderPaper::Shopping,
        PaperName::Gathering => OrderPaper::Gathering,
        PaperName::Labels => OrderPaper::Labels,
        PaperName::Care => OrderPaper::Care,
        PaperName::Calendar => OrderPaper::Calendar,
        PaperName::LightTable => OrderPaper::Light(Light::Table),
        PaperName::Projector => OrderPaper::Light(Light::Projector { mirrored: false }),
        PaperName::ProjectorMirrored => OrderPaper::Light(Light::Projector { mirrored: true }),
    })
}

/// The day of the plan.
pub(super) fn today(args: &Paper) -> Date {
    args.on.unwrap_or_else(|| ZonedDateTime::now().date())
}

/// Sets them.
pub(super) fn make(
    args: &Paper,
    size: PaperSize,
    laid: &LaidOrder,
    plan: &Plan,
    wanted: Vec<Wanted>,
    watch: &dyn Watch,
) -> Result<Vec<Made>> {
    let options = options(args, size);
    let papers = Papers::new(laid, plan, &options);
    let mut made = vec![];
    for Wanted { path, paper, named } in wanted {
        match papers.set(paper, watch) {
            Ok(set) => made.push(Made { path, paper, set }),
            Err(PaperError::NoPrice) if !named => {
                output::message("there is no quote: the order names no currency");
            }
            Err(e @ PaperError::NoPrice) => {
                let hint = "add `[price]` with `currency = \"EUR\"` and what you charge";
                return Err(e).context(format!("nothing was written ({hint})"));
            }
            Err(e) => return Err(super::paper::hinted(e)),
        }
    }
    Ok(made)
}

fn options(args: &Paper, size: PaperSize) -> Options {
    let usual = desk::QuoteWords::default();
    let labels = match size {
        PaperSize::A4 => LabelSheet::A4_3X8,
        PaperSize::Letter => LabelSheet::LETTER_3X10,
    };
    Options {
        size,
        notation: args.notation,
        today: today(args),
        dated: args.on.is_some(),
        number: args.number.clone().filter(|n| !n.trim().is_empty()),
        words: QuoteWords {
            from: args.from.clone().unwrap_or(usual.from),
            customer: args.customer.clone().unwrap_or_default(),
            terms: usual.terms,
            care: usual.care,
        },
        labels: args.labels.unwrap_or(labels),
    }
}

/// A line for each.
pub(super) fn report(made: &[Made]) -> String {
    let mut text = String::new();
    for m in made {
        let pages = output::counted(m.set.pages, "page");
        let labels = match m.set.labels.len() {
            0 => String::new(),
            n => format!(", {}", output::counted(n, "label")),
        };
        // Writing to a string never fails.
        let _ = writeln!(text, "{}: {pages}{labels}", m.path.display());
    }
    text
}

/// The same for programs.
pub(super) fn json(made: &[Made]) -> Vec<serde_json::Value> {
    let one = |m: &Made| {
        let file = m.path.file_name().map(|f| f.to_string_lossy().into_owned());
        serde_json::json!({
            "file": file,
            "paper": m.paper.name(),
            "pages": m.set.pages,
            "labels": m.set.labels,
        })
    };
    made.iter().map(one).collect()
}
