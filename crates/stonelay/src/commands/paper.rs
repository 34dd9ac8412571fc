//! `stonelay paper FILE --out DIR`.

use super::{open, order_papers};
use crate::args::{Paper, SheetSize, SheetUse};
use crate::exit::Exit;
use crate::output;
use crate::progress::Progress;
use anyhow::{Context, Result, bail};
use app::laying::{self, LaidOrder};
use app::order::Order;
use app::plan::PlanError;
use lay::Stopped;
use paper::{Measured, PaperError, PaperSize, Placing, Printed, Use};
use std::fmt::Write;
use std::path::{Path, PathBuf};

/// Writes papers, or a test page.
pub(super) fn run(args: &Paper) -> Result<Exit> {
    let Some(file) = args.file.as_ref().filter(|_| !args.test_page) else {
        return test_page(args);
    };
    let order = match open::order(file)? {
        Ok(order) => open::only(order, &args.piece)?,
        Err(refused) => {
            open::refuse(&refused);
            return Ok(Exit::Refused);
        }
    };
    let progress = Progress::new();
    let result = sheets(args, file, order, &progress);
    progress.finish();
    match result {
        Err(e) if e.is::<Stopped>() || matches!(e.downcast_ref(), Some(PaperError::Stopped)) => {
            output::message("stopped; nothing was written");
            Ok(Exit::Stopped)
        }
        other => other,
    }
}

/// Which placing sheets are wanted, each once, with their file names.
fn wanted(args: &Paper) -> Vec<(PathBuf, Placing)> {
    let mut all: Vec<(PathBuf, Placing)> = vec![];
    if !order_papers::placing(args) {
        return all;
    }
    for usage in args.usage.iter().map(|u| usage_of(*u)) {
        let wanted = Placing {
            usage,
            size: size(args.sheet),
            copies: args.copies,
            measured: args.measured.unwrap_or(Measured::TRUE),
        };
        let path = args.out.join(format!("placing-{}.pdf", usage.name()));
        if !all.iter().any(|known| known.0 == path) {
            all.push((path, wanted));
        }
    }
    all
}

fn sheets(args: &Paper, file: &Path, order: Order, progress: &Progress) -> Result<Exit> {
    let papers = wanted(args);
    let others = order_papers::wanted(args);
    nothing_there(args, papers.iter().map(|p| &p.0).chain(others.iter().map(|o| &o.path)))?;
    let laid = laying::lay_order(order, progress)?;
    let planned = if others.is_empty() {
        app::plan::stretches(&laid).map(|stretches| (stretches, None))
    } else {
        let plan = app::plan::plan(&laid, order_papers::today(args), progress);
        plan.map(|plan| (plan.stretches.clone(), Some(plan)))
    };
    let (stretches, plan) = match planned {
        Ok(planned) => planned,
        Err(PlanError::Stopped) => return Err(Stopped.into()),
        Err(e) => {
            progress.finish();
            output::message(&format!("error: {}: {e}", file.display()));
            return Ok(Exit::Refused);
        }
    };
    let mut printed = vec![];
    for (path, placing) in papers {
        let made = paper::placing(&laid, Some(&stretches), &placing, progress);
        printed.push((path, placing.usage, made.map_err(hinted)?));
    }
    let others = match &plan {
        Some(plan) => order_papers::make(args, size(args.sheet), &laid, plan, others, progress)?,
        None => vec![],
    };
    progress.finish();
    let sheets = printed.iter().map(|(path, _, made)| (path.as_path(), &made.pdf[..]));
    let papers = others.iter().map(|o| (o.path.as_path(), &o.set.pdf[..]));
    write(args, sheets.chain(papers))?;
    if args.json {
        output::print(&json(&printed, &others)?)?;
    } else {
        output::print(&(report(&laid, &printed) + &order_papers::report(&others)))?;
    }
    Ok(Exit::Done)
}

fn test_page(args: &Paper) -> Result<Exit> {
    let path = args.out.join("test-page.pdf");
    nothing_there(args, std::iter::once(&path))?;
    let made = paper::test_page(size(args.sheet), args.measured.unwrap_or(Measured::TRUE))?;
    write(args, std::iter::once((path.as_path(), &made.pdf[..])))?;
    output::print(&format!(
        "{}: 1 page\n  print it at 100 %, measure both bars, and give --measured what they measure\n",
        path.display()
    ))?;
    Ok(Exit::Done)
}

/// Refuses at once, before anything is laid, what would be refused in the end.
fn nothing_there<'a>(args: &Paper, mut paths: impl Iterator<Item = &'a PathBuf>) -> Result<()> {
    match paths.find(|p| !args.replace && p.symlink_metadata().is_ok()) {
        Some(path) => bail!(
            "nothing was written (add `--replace` to replace files, or name another folder): \
             `{}` exists already and was left as it is",
            path.display()
        ),
        None => Ok(()),
    }
}

fn write<'a>(args: &Paper, papers: impl Iterator<Item = (&'a Path, &'a [u8])>) -> Result<()> {
    std::fs::create_dir_all(&args.out)
        .with_context(|| format!("the folder `{}` could not be made", args.out.display()))?;
    for (path, pdf) in papers {
        app::write_atomically(path, pdf, args.replace)?;
    }
    Ok(())
}

/// With what to do about it.
pub(super) fn hinted(e: PaperError) -> anyhow::Error {
    match e {
        PaperError::TooManyPages { .. } => anyhow::Error::new(e).context(
            "nothing was written (name one piece with `--piece`, or leave `--copies` out)",
        ),
        other => other.into(),
    }
}

type Named = (PathBuf, Use, Printed);

fn report(laid: &LaidOrder, printed: &[Named]) -> String {
    let mut text = String::new();
    for (path, _, made) in printed {
        let pages = output::counted(made.pages.len(), "page");
        let _ = writeln!(text, "{}: {pages}", path.display());
        for piece in &laid.pieces {
            let name = &piece.asked.piece.name;
            let shown = made.pages.iter().flat_map(|p| &p.pieces).filter(|p| p.piece == *name);
            let (mut tiles, mut copies) = (0, 0);
            for p in shown {
                tiles += usize::from(p.tile.is_some());
                copies = copies.max(p.copy);
            }
            let copies = if copies > 1 { format!(", {copies} copies") } else { String::new() };
            let tiles = if tiles > 0 { format!(", {tiles} tiles") } else { String::new() };
            let _ = writeln!(text, "  {name}: {} stones{copies}{tiles}", piece.lay.stones.len());
        }
    }
    text
}

fn json(printed: &[Named], others: &[order_papers::Made]) -> Result<String> {
    let papers: Vec<_> = printed
        .iter()
        .map(|(path, usage, made)| {
            let file = path.file_name().map(|f| f.to_string_lossy().into_owned());
            serde_json::json!({ "file": file, "for": usage.name(), "pages": made.pages })
        })
        .collect();
    let others = order_papers::json(others);
    let all = serde_json::json!({ "papers": papers, "order_papers": others });
    let text = serde_json::to_string_pretty(&all)?;
    Ok(text + "\n")
}

fn usage_of(usage: SheetUse) -> Use {
    match usage {
        SheetUse::Under => Use::Under,
        SheetUse::Beside => Use::Beside,
        SheetUse::Behind => Use::Behind,
        SheetUse::Strips => Use::Strips,
    }
}

fn size(sheet: SheetSize) -> PaperSize {
    match sheet {
        SheetSize::A4 => PaperSize::A4,
        SheetSize::Letter => PaperSize::Letter,
    }
}
