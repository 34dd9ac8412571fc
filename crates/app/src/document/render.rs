//! Faults as text: with the document's lines for people, plain for everything else.

use super::fault::{Fault, MAX_FAULTS, Refused};
use miette::{GraphicalReportHandler, GraphicalTheme, LabeledSpan, NamedSource};
use std::fmt;

/// The width of every rendering, in columns.
const WIDTH: usize = 80;
/// So many faults are shown; more help nobody.
const SHOWN: usize = 50;
/// A document with a longer line than this is shown without its lines, bytes.
const LONG_LINE: usize = 200;

impl Refused {
    /// Every fault with the lines it is about, 80 columns wide but for those lines, with or without
    /// colours. [`plain`](Refused::plain) if the document has very long lines, or characters that
    /// would act on a terminal.
    pub fn pretty(&self, colours: bool) -> String {
        let acts = |c: char| c.is_control() && !matches!(c, '\n' | '\r' | '\t');
        if self.source.lines().any(|l| l.len() > LONG_LINE) || self.source.contains(acts) {
            return self.plain();
        }
        let theme =
            if colours { GraphicalTheme::unicode() } else { GraphicalTheme::unicode_nocolor() };
        let handler = GraphicalReportHandler::new_themed(theme).with_width(WIDTH);
        let source = NamedSource::new(&self.name, self.source.clone());
        let mut text = String::new();
        for (i, fault) in self.faults.iter().take(SHOWN).enumerate() {
            if i > 0 {
                text.push('\n');
            }
            let report = Report { fault, source: &source };
            if handler.render_report(&mut text, &report).is_err() {
                return self.plain();
            }
        }
        text + "\n" + &self.summary()
    }

    /// Every fault in two or three lines, at most 80 columns wide where words allow.
    pub fn plain(&self) -> String {
        let mut text = String::new();
        for fault in self.faults.iter().take(SHOWN) {
            let (line, column) = self.line_and_column(fault.span.start);
            let place = if fault.place.is_empty() { "the document" } else { &fault.place };
            let head = format!("{}:{line}:{column}: {place}", self.name);
            text.push_str(&wrapped(&head, "", "  "));
            text.push_str(&wrapped(&fault.text, "  ", "  "));
            if let Some((span, why)) = &fault.other {
                let line = self.line_and_column(span.start).0;
                text.push_str(&wrapped(&format!("line {line}: {why}"), "  ", "  "));
            }
            if let Some(hint) = &fault.hint {
                text.push_str(&wrapped(&format!("hint: {hint}"), "  ", "        "));
            }
        }
        text + &self.summary()
    }

    fn summary(&self) -> String {
        match self.faults.len() {
            n if n >= MAX_FAULTS => {
                format!("{}: {n} mistakes or more, the first {SHOWN} shown\n", self.name)
            }
            1 => format!("{}: 1 mistake\n", self.name),
            n if n > SHOWN => format!("{}: {n} mistakes, the first {SHOWN} shown\n", self.name),
            n => format!("{}: {n} mistakes\n", self.name),
        }
    }
}

impl fmt::Display for Refused {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.plain().trim_end())
    }
}

fn wrapped(text: &str, first: &str, next: &str) -> String {
    let options = textwrap::Options::new(WIDTH).initial_indent(first).subsequent_indent(next);
    textwrap::fill(text, options.break_words(false)) + "\n"
}

/// One fault in the form the renderer wants.
struct Report<'a> {
    fault: &'a Fault,
    source: &'a NamedSource<String>,
}

impl fmt::Debug for Report<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

impl fmt::Display for Report<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.fault.place.is_empty() {
            f.write_str(&self.fault.text)
        } else {
            write!(f, "{}: {}", self.fault.place, self.fault.text)
        }
    }
}

impl std::error::Error for Report<'_> {}

impl miette::Diagnostic for Report<'_> {
    fn help(&self) -> Option<Box<dyn fmt::Display + '_>> {
        self.fault.hint.as_ref().map(|h| Box::new(h) as Box<dyn fmt::Display>)
    }

    fn source_code(&self) -> Option<&dyn miette::SourceCode> {
        // Without text there is no line to show, and the renderer would say so at length.
        (!self.source.inner().is_empty()).then_some(self.source)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        // What is missing from the document as a whole is nowhere.
        if self.fault.place.is_empty() && self.fault.span == (0..0) {
            return None;
        }
        let here = LabeledSpan::new_primary_with_span(None, self.fault.span.clone());
        let other = self.fault.other.as_ref();
        let other =
            other.map(|(span, why)| LabeledSpan::new_with_span(Some(why.clone()), span.clone()));
        Some(Box::new(std::iter::once(here).chain(other)))
    }
}
