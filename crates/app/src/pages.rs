//! Every finding, explained.

use lay::finding::Page;

/// The pages of all crates, sorted by code.
pub fn all() -> Vec<Page> {
    let outline = outline::PAGES.iter().map(|p| Page {
        code: p.code,
        what: p.what,
        why: p.why,
        example: p.example,
        remedy: p.remedy,
    });
    let plan = crate::plan::PAGES.iter().chain(planning::PAGES.iter().copied().flatten());
    let own = lay::finding::PAGES.iter().chain(crate::order::PAGES).chain(plan).copied();
    let mut pages: Vec<Page> = own.chain(outline).collect();
    pages.sort_by_key(|p| p.code);
    pages
}

/// The page of `code`.
pub fn page(code: &str) -> Option<Page> {
    all().into_iter().find(|p| p.code == code)
}

/// The code that is spelt most like `text`.
pub fn nearest(text: &str) -> Option<&'static str> {
    let by_likeness = |p: &Page| strsim::damerau_levenshtein(p.code, text);
    all().into_iter().min_by_key(by_likeness).map(|p| p.code)
}

/// All pages as one Markdown document.
pub fn markdown() -> String {
    let head = "# Findings\n\nA finding says that a lay was made but something about it is worth \
                knowing. `stonelay explain CODE` prints its page. This file is written by \
                `cargo xtask docs`.\n";
    let page = |p: Page| {
        format!(
            "\n## {}\n\n{}\n\n- **Why it matters:** {}\n- **For example:** {}\n- **What to do:** {}\n",
            p.code,
            sentence(p.what),
            sentence(p.why),
            example(p.example),
            sentence(p.remedy)
        )
    };
    all().into_iter().map(page).fold(head.to_owned(), |text, p| text + &p)
}

/// An example as Markdown: marked as code if it looks like some.
fn example(text: &str) -> String {
    if text.contains(['<', '=']) { format!("`{text}`") } else { sentence(text) }
}

/// With a capital letter and a full stop.
pub fn sentence(text: &str) -> String {
    let mut chars = text.chars();
    let head: String = chars.next().map(|c| c.to_uppercase().collect()).unwrap_or_default();
    let stop = if text.ends_with(['.', '!', '?']) { "" } else { "." };
    format!("{head}{}{stop}", chars.as_str())
}
