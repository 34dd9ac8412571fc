//! `stonelay explain [CODE]`.

use crate::args::Explain;
use crate::exit::Exit;
use crate::output;
use anyhow::Result;
use app::pages;

/// Prints one finding's page, or the list of all.
pub(super) fn run(args: &Explain) -> Result<Exit> {
    let chosen = match &args.code {
        None => pages::all(),
        Some(code) => match pages::page(code) {
            Some(page) => vec![page],
            None => {
                let near = pages::nearest(code).unwrap_or_default();
                output::message(&format!(
                    "error: there is no finding `{code}`; did you mean `{near}`? `stonelay explain` lists them all"
                ));
                return Ok(Exit::Usage);
            }
        },
    };
    if args.json {
        let page = |p: &lay::finding::Page| {
            serde_json::json!({
                "code": p.code, "what": p.what, "why": p.why, "example": p.example, "remedy": p.remedy,
            })
        };
        let all: Vec<_> = chosen.iter().map(page).collect();
        output::print(&(serde_json::to_string_pretty(&all)? + "\n"))?;
        return Ok(Exit::Done);
    }
    let sentence = |text: &str| pages::sentence(text);
    let mut text = String::new();
    match (&args.code, chosen.as_slice()) {
        (Some(_), [p]) => {
            text += &format!("{}\n", p.code);
            for (head, body) in [
                ("", sentence(p.what)),
                ("Why it matters: ", sentence(p.why)),
                ("For example: ", p.example.to_owned()),
                ("What to do: ", sentence(p.remedy)),
            ] {
                text += &(output::wrapped(&format!("{head}{body}"), "\n  ", "  ") + "\n");
            }
        }
        _ => {
            for p in &chosen {
                let line = format!("{:<24} {}", p.code, sentence(p.what));
                text += &(output::wrapped(&line, "", &" ".repeat(25)) + "\n");
            }
        }
    }
    output::print(&text)?;
    Ok(Exit::Done)
}
