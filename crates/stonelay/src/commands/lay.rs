//! `stonelay lay FILE`.

use super::{open, report};
use crate::args::Lay;
use crate::exit::Exit;
use crate::output;
use crate::progress::Progress;
use anyhow::{Context, Result};
use app::files::{self, FileSort, FilesError, Wanted};
use app::laying::{self, LaidOrder};
use app::order::Order;
use app::ways::{self, Way};
use lay::Stopped;

/// Lays an order and reports, or writes, what came out.
pub(super) fn run(args: &Lay) -> Result<Exit> {
    if args.dpi.is_some() && !args.sorts.contains(&FileSort::Png) {
        output::message("error: `--dpi` is for the PNG, which is not among the files asked for");
        output::message("hint: add `png` to `--as`, or leave `--dpi` out");
        return Ok(Exit::Usage);
    }
    let order = match open::order(&args.file)? {
        Ok(order) => open::only(order, &args.piece)?,
        Err(refused) => {
            open::refuse(&refused);
            return Ok(Exit::Refused);
        }
    };
    let progress = Progress::new();
    let result = lay_and_write(args, order, &progress);
    progress.finish();
    match result {
        Err(e) if e.is::<Stopped>() => {
            output::message("stopped; no further file was written");
            Ok(Exit::Stopped)
        }
        other => other,
    }
}

fn lay_and_write(args: &Lay, order: Order, progress: &Progress) -> Result<Exit> {
    let laid = laying::lay_order(order, progress)?;
    let written = match &args.out {
        Some(dir) => match files::write(&laid, dir, &wanted(args), args.replace, progress) {
            Ok(written) => written,
            Err(FilesError::Stopped(stopped)) => return Err(stopped.into()),
            Err(e @ FilesError::Exists { .. }) => {
                return Err(anyhow::Error::new(e)).context(
                    "nothing was written (add `--replace` to replace files, or name another folder)",
                );
            }
            Err(e) => return Err(e.into()),
        },
        None => vec![],
    };
    if args.json {
        output::print(&laid.file()?.to_json())?;
        return Ok(Exit::Done);
    }
    let compared = if args.ways { compare(&laid, progress)? } else { vec![] };
    progress.finish();
    let mut text = report::order(&laid, &compared);
    if let Some(dir) = &args.out {
        let n = output::counted(written.len(), "file");
        text += &format!("\n{n} written to {}\n", dir.display());
    }
    output::print(&text)?;
    Ok(Exit::Done)
}

/// The files asked for, each sort once.
fn wanted(args: &Lay) -> Wanted {
    let sorts = FileSort::ALL.into_iter().filter(|s| args.sorts.contains(s)).collect();
    Wanted { sorts, dpi: args.dpi }
}

/// For every piece and zone, what the other ways to lay it come to.
fn compare(laid: &LaidOrder, progress: &Progress) -> Result<Vec<Vec<Vec<Way>>>, Stopped> {
    let zone = |piece: &lay::Piece, i: usize| {
        ways::lay_all(piece, i, &ways::of_zone(piece.zones[i].arrangement), progress)
    };
    laid.pieces
        .iter()
        .map(|p| (0..p.asked.piece.zones.len()).map(|i| zone(&p.asked.piece, i)).collect())
        .collect()
}
