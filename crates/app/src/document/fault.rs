//! What is wrong with a document, and where.

use std::ops::Range;

/// So many faults are taken down; a file with more is no order at all, and looking for the nearest
/// of a million unknown keys takes its time.
pub(super) const MAX_FAULTS: usize = 1000;

/// One thing that is wrong.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// The way to it: `piece 2 "sign" › zone 1 › spacing`; empty for the document as a whole.
    pub place: String,
    /// Its bytes in the document.
    pub span: Range<usize>,
    /// What is wrong: lower case, no full stop.
    pub text: String,
    /// What would be right.
    pub hint: Option<String>,
    /// Another place that belongs to it, and why.
    pub other: Option<(Range<usize>, String)>,
    /// The key that is missing in the table at this place, if that is what is wrong.
    pub missing: Option<&'static str>,
}

impl Fault {
    /// A fault with a place and a text, so far without hint.
    pub fn new(place: impl Into<String>, span: Range<usize>, text: impl Into<String>) -> Fault {
        Fault {
            place: place.into(),
            span,
            text: text.into(),
            hint: None,
            other: None,
            missing: None,
        }
    }

    /// With what would be right.
    #[must_use]
    pub fn with_hint(self, hint: impl Into<String>) -> Fault {
        Fault { hint: Some(hint.into()), ..self }
    }

    /// With another place that belongs to it.
    #[must_use]
    pub fn with_other(self, span: Range<usize>, why: impl Into<String>) -> Fault {
        Fault { other: Some((span, why.into())), ..self }
    }
}

impl Fault {
    /// What a document holds may be shown on a terminal, where control characters would act.
    fn make_visible(&mut self) {
        let visible = |text: &mut String| {
            if text.chars().any(char::is_control) {
                *text = text.replace(char::is_control, "\u{fffd}");
            }
        };
        visible(&mut self.place);
        visible(&mut self.text);
        self.hint.iter_mut().for_each(visible);
        self.other.iter_mut().for_each(|o| visible(&mut o.1));
    }
}

/// A document that was refused: its text and everything that is wrong with it, in its order.
///
/// `Display` is [`plain`](Refused::plain).
#[derive(Clone, Debug)]
pub struct Refused {
    /// The document's name, as it is shown.
    pub name: String,
    /// Its text; bytes that are no text are replaced.
    pub source: String,
    /// What is wrong, in the document's order; at least one.
    pub faults: Vec<Fault>,
}

impl Refused {
    /// With the faults in the document's order.
    pub fn new(name: &str, source: &str, mut faults: Vec<Fault>) -> Refused {
        faults.sort_by(|a, b| {
            (a.span.start, a.span.end, &a.text).cmp(&(b.span.start, b.span.end, &b.text))
        });
        faults.dedup();
        faults.iter_mut().for_each(Fault::make_visible);
        Refused { name: name.to_owned(), source: source.to_owned(), faults }
    }

    /// Line and column of a byte, both from 1; the column counts characters.
    pub fn line_and_column(&self, byte: usize) -> (usize, usize) {
        let before = before(&self.source, byte);
        let line_start = before.rfind('\n').map_or(0, |i| i + 1);
        (before.matches('\n').count() + 1, before[line_start..].chars().count() + 1)
    }
}

/// The text before a byte; if it is within a character, before that.
pub(super) fn before(source: &str, byte: usize) -> &str {
    let mut end = byte.min(source.len());
    while !source.is_char_boundary(end) {
        end -= 1;
    }
    &source[..end]
}

impl std::error::Error for Refused {}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_and_columns_count_characters_from_one() {
        let refused = Refused::new("o", "a\nüb = 1\n", vec![]);
        assert_eq!(refused.line_and_column(0), (1, 1));
        assert_eq!(refused.line_and_column(2), (2, 1));
        assert_eq!(refused.line_and_column(4), (2, 2));
        assert_eq!(refused.line_and_column(3), (2, 1));
        assert_eq!(refused.line_and_column(999), (3, 1));
    }

    #[test]
    fn control_characters_do_not_reach_a_terminal() {
        let fault = Fault::new("a\u{1b}[2J", 0..0, "unknown unit `\u{7}`").with_hint("\u{9b}b");
        let refused = Refused::new("o", "x = '\u{1b}[2J'", vec![fault]);
        for text in [refused.plain(), refused.pretty(false)] {
            assert!(!text.chars().any(|c| c.is_control() && c != '\n'), "{text:?}");
        }
    }

    #[test]
    fn faults_come_in_the_documents_order_and_once() {
        let late = Fault::new("b", 9..10, "late");
        let early = Fault::new("a", 2..3, "early");
        let refused = Refused::new("o", "", vec![late.clone(), early.clone(), late.clone()]);
        assert_eq!(refused.faults, [early, late]);
    }
}
