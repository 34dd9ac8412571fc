//! What must not stand in any file: unfinished code, tests switched off, paths of one machine,
//! addresses of package registries.

use super::Text;

/// What must not stand in Rust code, in two halves so that this file passes its own rule.
const NOT_IN_CODE: &[(&str, &str, &str)] = &[
    ("todo", "!(", "finish it or leave it out"),
    ("unimplemented", "!(", "finish it or leave it out"),
    ("dbg", "!(", "take it out"),
    ("#[ign", "ore", "a test that does not run proves nothing"),
    ("should", "_panic", "assert on the error instead"),
    ("#[all", "ow(", "say `#[expect(…, reason = \"…\")]`"),
];
/// Folders that only one machine has.
const MACHINE_FOLDERS: &[&str] = &["home", "work", "tmp", "root", "Users"];
/// Registries, name and top-level domain: clients find them by themselves.
const REGISTRIES: &[(&str, &str)] =
    &[("crates", "io"), ("pypi", "org"), ("registry.npmjs", "org"), ("debian", "org")];

pub(super) fn breaches(texts: &[Text]) -> Vec<String> {
    let mut found = Vec::new();
    for text in texts.iter().filter(|t| !t.has_extension("lock")) {
        for (i, line) in text.body.lines().enumerate() {
            let at = format!("{}:{}", text.path, i + 1);
            if text.has_extension("rs") {
                found.extend(unfinished(line).map(|why| format!("{at}: {why}")));
            }
            found.extend(machine_path(line).map(|p| format!("{at}: path of one machine: `{p}`")));
            found.extend(registry(line).map(|r| format!("{at}: address of a registry: `{r}`")));
        }
    }
    found
}

fn unfinished(line: &str) -> Option<String> {
    let stands = |a: &str, b: &str| line.contains(&format!("{a}{b}"));
    let (a, b, why) = NOT_IN_CODE.iter().find(|(a, b, _)| stands(a, b))?;
    Some(format!("`{a}{b}`: {why}"))
}

/// `/folder/` with nothing before it that would make it the middle of a longer path.
fn machine_path(line: &str) -> Option<String> {
    MACHINE_FOLDERS.iter().map(|folder| format!("/{folder}/")).find(|path| {
        line.match_indices(path.as_str()).any(|(at, _)| {
            let before = line[..at].chars().next_back();
            before.is_none_or(|c| !c.is_alphanumeric() && !"/._-}{)$".contains(c))
        })
    })
}

fn registry(line: &str) -> Option<String> {
    if !line.contains("://") {
        return None;
    }
    let hosts = REGISTRIES.iter().map(|(name, domain)| format!("{name}.{domain}"));
    let address = |host: &String| {
        line.split("://").skip(1).any(|rest| {
            let named = rest.split(['/', ' ', '"', ')', '>']).next().unwrap_or("");
            named == host || named.ends_with(&format!(".{host}"))
        })
    };
    hosts.into_iter().find(address)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_test_switched_off_is_found() {
        assert!(unfinished(&["    #[ign", "ore]"].concat()).is_some());
        assert!(unfinished(&["#[should", "_panic(expected)]"].concat()).is_some());
        assert_eq!(unfinished("// ignored by makers"), None);
    }

    #[test]
    fn a_path_of_one_machine_is_found_but_not_one_inside_the_checkout() {
        let path = ["see /ho", "me/someone/x"].concat();
        assert_eq!(machine_path(&path), Some(["/ho", "me/"].concat()));
        assert_eq!(machine_path("target/home/x and crates/work/y"), None);
    }

    #[test]
    fn a_registry_is_found_but_not_a_page_of_documentation() {
        let address = ["https:/", "/static.crates", ".io/x"].concat();
        assert!(registry(&address).is_some());
        assert_eq!(registry("https://docs.rs/spade"), None);
    }
}
