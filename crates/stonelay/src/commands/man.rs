//! `stonelay man DIR`.

use crate::args::{Args, Man};
use crate::exit::Exit;
use crate::output;
use anyhow::{Context, Result};
use clap::CommandFactory;

/// Writes a manual page for the program and one for each verb.
pub(super) fn run(args: &Man) -> Result<Exit> {
    let trouble = || format!("`{}` could not be made", args.dir.display());
    std::fs::create_dir_all(&args.dir).with_context(trouble)?;
    let mut root = Args::command().disable_help_subcommand(true);
    root.build();
    let verbs = root.get_subcommands().filter(|c| !c.is_hide_set()).cloned();
    let pages: Vec<_> = std::iter::once(root.clone()).chain(verbs).collect();
    for page in &pages {
        let name = page.get_display_name().unwrap_or(page.get_name()).to_owned();
        let mut text = vec![];
        clap_mangen::Man::new(page.clone()).title(name.clone()).render(&mut text)?;
        let path = args.dir.join(format!("{name}.1"));
        app::write_atomically(&path, &text, args.replace)
            .context("add `--replace` to replace files, or name another folder")?;
    }
    output::print(&format!(
        "{} written to {}\n",
        output::counted(pages.len(), "page"),
        args.dir.display()
    ))?;
    Ok(Exit::Done)
}
