//! What is no TOML, in a maker's words.

use super::fault::Fault;
use super::walk::shortened;

/// The fault behind an error of the TOML reader.
pub(super) fn fault(error: &toml::de::Error, source: &str) -> Fault {
    let span = error.span().unwrap_or(0..0);
    let found = source.get(span.clone()).unwrap_or("");
    let message = error.message();
    let (text, hint) = match message {
        m if m.starts_with("string values must be quoted") => (
            format!("`{}` needs quotes", shortened(found.trim())),
            "text, lengths and shares stand in quotes: `spacing = \"0.2 mm\"`".to_owned(),
        ),
        m if m.starts_with("duplicate key") => (
            format!("`{}` stands twice here", shortened(found.trim())),
            "keep one of the two; each piece, kind and zone begins with its own `[[…]]`".to_owned(),
        ),
        m if m.starts_with("cannot recurse further") => {
            ("brackets lie in brackets too deep".to_owned(), "close what was opened".to_owned())
        }
        m => (
            format!("this is not TOML: {m}"),
            "look at this place: a quote, bracket, comma or `=` may be missing before it"
                .to_owned(),
        ),
    };
    Fault::new("", span, text).with_hint(hint)
}
