//! `open`, `backup` and `restore`: the worktop and what it keeps.

use super::shared;
use crate::args::{Backup, Kept, Open, Restore};
use crate::exit::Exit;
use crate::output;
use anyhow::{Context, Result, anyhow};
use desk::Desk;
use etcetera::BaseStrategy;
use jiff::tz::TimeZone;
use shop::{Opening, Shop, ShopError};
use std::path::PathBuf;
use std::sync::Arc;
use worktop::{Options, ServeError};

/// `open`: serves the page until Ctrl-C.
pub(super) fn open(args: &Open) -> Result<Exit> {
    let path = place(&args.kept)?;
    let share = match shared::addresses(args) {
        Ok(share) => share,
        Err((wrong, hint)) => {
            output::message(&format!("error: {wrong}\nhint: {hint}"));
            return Ok(Exit::Trouble);
        }
    };
    let opening = Opening::default();
    let clock = Arc::clone(&opening.clock);
    let new = !path.exists();
    let shop = match Shop::open(&path, opening) {
        Ok(shop) => Arc::new(shop),
        Err(e) => return Ok(refused(&e)),
    };
    let desk = Arc::new(Desk::new(Arc::clone(&shop), clock, TimeZone::system())?);
    if new {
        desk.show_demo()?;
    }
    let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build();
    let runtime = runtime.context("the worktop could not be started")?;
    let ready = |address: std::net::SocketAddr| {
        let url = format!("http://{address}/");
        // Whoever is refused the file is told where the page is; without that, only that it is open.
        let _ = shop.set_address(&url);
        output::message(&format!(
            "the worktop is open: {url}\neverything is kept in: {}\nto close it: Ctrl-C",
            path.display()
        ));
        if !args.quiet && webbrowser::open(&url).is_err() {
            output::message("no browser could be started: open the address in one");
        }
    };
    let stop = async {
        let _ = tokio::signal::ctrl_c().await;
    };
    let options = Options { port: args.port, share, say: Arc::new(shared::invite) };
    let served = runtime.block_on(worktop::serve(desk, options, ready, stop));
    // A lay in the making must not hold the program up.
    runtime.shutdown_background();
    match served {
        Ok(()) => Ok(Exit::Done),
        Err(e @ (ServeError::PortTaken { .. } | ServeError::World { .. })) => {
            output::message(&format!("error: {e}\nhint: {}", e.hint()));
            Ok(Exit::Trouble)
        }
    }
}

/// `backup`: works while the worktop is open.
pub(super) fn backup(args: &Backup) -> Result<Exit> {
    match Shop::backup_of(&place(&args.kept)?, &args.to, args.replace) {
        Ok(()) => output::message(&format!("written: {}", args.to.display())),
        Err(e) => return Ok(refused(&e)),
    }
    Ok(Exit::Done)
}

/// `restore`: what was there before stays beside it.
pub(super) fn restore(args: &Restore) -> Result<Exit> {
    let path = place(&args.kept)?;
    match Shop::restore(&args.from, &path, &Opening::default()) {
        Ok(done) => {
            output::message(&format!("restored: {}", path.display()));
            if let Some(old) = done.replaced {
                output::message(&format!("what was there before is now: {}", old.display()));
            }
            Ok(Exit::Done)
        }
        Err(e) => Ok(refused(&e)),
    }
}

fn refused(error: &ShopError) -> Exit {
    output::message(&format!("error: {error}\nhint: {}", error.hint()));
    Exit::Trouble
}

/// The file that was named, or its usual place, whose folder is made if need be.
fn place(kept: &Kept) -> Result<PathBuf> {
    if let Some(path) = &kept.shop {
        return Ok(path.clone());
    }
    let base = etcetera::choose_base_strategy()
        .map_err(|e| anyhow!("no home folder is known ({e}): name a file with `--shop`"))?;
    let folder = base.data_dir().join("stonelay");
    std::fs::create_dir_all(&folder)
        .with_context(|| format!("the folder `{}` could not be made", folder.display()))?;
    Ok(folder.join("worktop.db"))
}
