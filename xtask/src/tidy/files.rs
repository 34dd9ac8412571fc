//! How a source file begins, how long it may be.

use super::Text;

/// Past this many lines a file holds more than one idea.
const LINES_MAX: usize = 600;
/// Files that may be longer, each with its reason.
const LONGER: &[(&str, &str)] = &[];

pub(super) fn breaches(texts: &[Text]) -> Vec<String> {
    let mut found = Vec::new();
    for text in texts.iter().filter(|t| t.has_extension("rs") || t.has_extension("py")) {
        found.extend(beginning(text));
        found.extend(length(text));
    }
    for (path, _) in LONGER {
        let longer = |t: &Text| t.path == *path && t.body.lines().count() > LINES_MAX;
        if !texts.iter().any(longer) {
            found
                .push(format!("{path}: is no longer too long; take it off the list of exceptions"));
        }
    }
    found
}

fn beginning(text: &Text) -> Option<String> {
    let mut lines = text.body.lines().filter(|l| !l.starts_with("#!/"));
    let first = lines.next().unwrap_or("");
    let (start, shortest) = if text.has_extension("rs") { ("//! ", 9) } else { ("\"\"\"", 12) };
    (!first.starts_with(start) || first.len() < shortest).then(|| {
        format!(
            "{}:1: a file begins with a `{}` line that says what it is for",
            text.path,
            start.trim()
        )
    })
}

fn length(text: &Text) -> Option<String> {
    let n = text.body.lines().count();
    let excepted = LONGER.iter().any(|(path, _)| *path == text.path);
    (n > LINES_MAX && !excepted)
        .then(|| format!("{}: {n} lines, over {LINES_MAX}: split it by idea", text.path))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn file(path: &str, body: &str) -> Text {
        Text { path: path.into(), body: body.into() }
    }

    #[test]
    fn a_file_says_what_it_is_for() {
        assert!(breaches(&[file("a/b.rs", "use x;\n")])[0].starts_with("a/b.rs:1: "));
        assert!(breaches(&[file("a/b.rs", "//! Rows that close.\n")]).is_empty());
        assert!(
            breaches(&[file("b.py", "#!/usr/bin/env python3\n\"\"\"Measures it.\"\"\"\n")])
                .is_empty()
        );
        assert_eq!(breaches(&[file("b.py", "import x\n")]).len(), 1);
    }

    #[test]
    fn a_file_of_601_lines_is_too_long() {
        let body = |n: usize| format!("//! Long enough.\n{}", "x\n".repeat(n - 1));
        assert!(breaches(&[file("a.rs", &body(600))]).is_empty());
        assert_eq!(breaches(&[file("a.rs", &body(601))]).len(), 1);
    }
}
