//! Documents that say what is so: links lead somewhere, commands exist, the glossary is in order.

use super::Text;
use crate::house::House;
use std::path::Path;

/// Documents that a newcomer looks for.
const WANTED: &[&str] = &[
    "README.md",
    "ARCHITECTURE.md",
    "CONTRIBUTING.md",
    "CHANGELOG.md",
    "LICENSE",
    "docs/glossary.md",
    "docs/style.md",
    "docs/testing.md",
];
/// Jobs of `cargo xtask`.
const JOBS: &[&str] = &["test", "needs", "tidy", "docs", "bench"];

pub(super) fn breaches(house: &House, texts: &[Text]) -> Vec<String> {
    let has = |path: &str| texts.iter().any(|t| t.path == path);
    let mut found: Vec<String> =
        WANTED.iter().filter(|path| !has(path)).map(|path| format!("{path}: is missing")).collect();
    let code: Vec<&Text> = texts.iter().filter(|t| is_code(t)).collect();
    for text in texts.iter().filter(|t| t.has_extension("md")) {
        found.extend(dead_links(house, text));
        found.extend(unknown_commands(text, &code));
    }
    if let Some(glossary) = texts.iter().find(|t| t.path == "docs/glossary.md") {
        found.extend(glossary_breaches(glossary, &code));
    }
    found
}

fn is_code(text: &Text) -> bool {
    text.path.starts_with("crates/") && text.path.contains("/src/") && text.has_extension("rs")
}

/// Links to files of the checkout that are not there.
fn dead_links(house: &House, text: &Text) -> Vec<String> {
    let folder = Path::new(&text.path).parent().unwrap_or(Path::new(""));
    let links = text.body.split("](").skip(1).filter_map(|rest| rest.split(')').next());
    links
        .map(|link| link.split('#').next().unwrap_or(""))
        .filter(|link| !link.is_empty() && !link.contains("://") && !link.contains(' '))
        .filter(|link| !house.root.join(folder).join(link).exists())
        .map(|link| format!("{}: link to `{link}` leads nowhere", text.path))
        .collect()
}

/// Commands in blocks of code that no job or verb answers to.
fn unknown_commands(text: &Text, code: &[&Text]) -> Vec<String> {
    let mut found = Vec::new();
    let mut in_block = false;
    for (i, line) in text.body.lines().enumerate() {
        if line.trim_start().starts_with("```") {
            in_block = !in_block;
        }
        if !in_block {
            continue;
        }
        let words: Vec<&str> = line.trim_start_matches(['$', ' ']).split_whitespace().collect();
        let known = match words[..] {
            ["cargo", "xtask", job, ..] => JOBS.contains(&job),
            ["stonelay", verb, ..] if is_verb(verb) => answers(verb, code),
            ["cargo", "run", .., "--", verb] if is_verb(verb) => answers(verb, code),
            _ => true,
        };
        if !known {
            found.push(format!("{}:{}: no such command: `{}`", text.path, i + 1, line.trim()));
        }
    }
    found
}

fn is_verb(word: &str) -> bool {
    !word.is_empty() && word.chars().all(|c| c.is_ascii_lowercase())
}

/// Whether the command line has a variant of that name.
fn answers(verb: &str, code: &[&Text]) -> bool {
    let variant = format!("{}{}", verb[..1].to_uppercase(), &verb[1..]);
    let declares = |line: &str| {
        let line = line.trim();
        line.strip_prefix(variant.as_str())
            .is_some_and(|rest| rest.starts_with([',', '(', ' ', '{']))
    };
    let binary = |t: &&&Text| t.path.starts_with("crates/stonelay/");
    code.iter().filter(binary).any(|t| t.body.lines().any(declares))
}

/// One line for each term, sorted, each in use.
fn glossary_breaches(glossary: &Text, code: &[&Text]) -> Vec<String> {
    let terms: Vec<(usize, String)> = glossary
        .body
        .lines()
        .enumerate()
        .filter_map(|(i, line)| {
            let term = line.strip_prefix("- **")?.split("**").next()?;
            Some((i + 1, term.to_lowercase()))
        })
        .collect();
    let mut found = Vec::new();
    if terms.is_empty() {
        found.push(format!("{}: has no terms", glossary.path));
    }
    for pair in terms.windows(2).filter(|pair| pair[0].1 >= pair[1].1) {
        let (line, term) = &pair[1];
        found.push(format!("{}:{line}: `{term}` stands out of order", glossary.path));
    }
    for (line, term) in &terms {
        let used = |t: &&Text| contains_term(&t.body, term);
        if !code.iter().any(used) {
            found.push(format!("{}:{line}: `{term}` occurs in no code", glossary.path));
        }
    }
    found
}

/// Whether the words of `term` stand in `body` in a row, as a phrase or as a name of code.
fn contains_term(body: &str, term: &str) -> bool {
    let body = body.to_lowercase();
    let joined = |by: &str| term.replace([' ', '-'], by);
    body.contains(term) || body.contains(&joined("_")) || body.contains(&joined(""))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn file(path: &str, body: &str) -> Text {
        Text { path: path.into(), body: body.into() }
    }

    #[test]
    fn the_glossary_is_sorted_and_in_use() {
        let code = file("crates/lay/src/a.rs", "/// A bare spot.\nstruct BareSpot; // the blank");
        let check = |body: &str| glossary_breaches(&file("docs/glossary.md", body), &[&code]).len();
        assert_eq!(check("- **bare spot**: x\n- **blank**: y\n"), 0);
        assert_eq!(check("- **blank**: y\n- **bare spot**: x\n"), 1);
        assert_eq!(check("- **gross**: 144\n"), 1);
        assert_eq!(check(""), 1);
    }

    #[test]
    fn a_command_that_is_not_there_is_found() {
        let code = file("crates/stonelay/src/main.rs", "enum Verb {\n    Demo(Demo),\n}\n");
        let check = |line: &str| {
            let block = format!("stonelay is a tool\n```sh\n{line}\n```\n");
            unknown_commands(&file("README.md", &block), &[&code]).len()
        };
        assert_eq!(check("stonelay demo"), 0);
        assert_eq!(check("$ stonelay dance"), 1);
        assert_eq!(check("cargo run --release -- demo"), 0);
        assert_eq!(check("cargo xtask test --yes"), 0);
        assert_eq!(check("cargo xtask fly"), 1);
    }
}
