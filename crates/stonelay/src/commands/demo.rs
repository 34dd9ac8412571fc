//! `stonelay demo [DIR]`.

use crate::args::Demo;
use crate::exit::Exit;
use crate::output;
use anyhow::{Result, bail};
use app::demo::{self, Existing};

/// Writes the demonstration order.
pub(super) fn run(args: &Demo) -> Result<Exit> {
    let existing = if args.replace { Existing::Overwrite } else { Existing::Keep };
    let written = match demo::write(&args.dir, existing) {
        Ok(written) => written,
        Err(e) => {
            bail!("{e}; hint: {}", e.hint());
        }
    };
    let order = args.dir.join("order.toml");
    let order = order.display();
    let pictures = args.dir.join("pictures");
    let mut text =
        format!("{} written to {}\n", output::counted(written.len(), "file"), args.dir.display());
    text += "\nRead and change the order in any text editor, and lay it with\n";
    text += &format!("  stonelay lay {order} --out {}\n", pictures.display());
    output::print(&text)?;
    Ok(Exit::Done)
}
