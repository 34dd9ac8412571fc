//! Standard output and standard error, without a panic when nobody listens.

use std::io::Write;
use textwrap::{WordSeparator, WordSplitter};

/// Width of everything for people, columns.
pub(crate) const WIDTH: usize = 80;

/// Prints `text`. That the reader has gone away (`| head`) is no trouble of ours.
pub(crate) fn print(text: &str) -> anyhow::Result<()> {
    let mut out = std::io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(e) if e.kind() != std::io::ErrorKind::BrokenPipe => {
            Err(anyhow::Error::new(e).context("standard output could not be written"))
        }
        _ => Ok(()),
    }
}

/// Tells a person something on standard error; if even that is closed there is nobody to tell.
pub(crate) fn message(text: &str) {
    let mut err = std::io::stderr().lock();
    let _ = writeln!(err, "{}", wrapped(text, "", "  "));
}

/// The same for text that has its lines already.
pub(crate) fn verbatim(text: &str) {
    let mut err = std::io::stderr().lock();
    let _ = writeln!(err, "{text}");
}

/// Text in lines of at most [`WIDTH`] columns.
pub(crate) fn wrapped(text: &str, first: &str, rest: &str) -> String {
    let options = textwrap::Options::new(WIDTH).initial_indent(first).subsequent_indent(rest);
    // Lines break between words only: `set-up` stays whole.
    let options = options.break_words(false).word_splitter(WordSplitter::NoHyphenation);
    textwrap::fill(text, options.word_separator(WordSeparator::AsciiSpace))
}

/// What went wrong and why, each cause once: some say their cause themselves.
pub(crate) fn chain(trouble: &anyhow::Error) -> String {
    trouble.chain().map(ToString::to_string).fold(String::new(), |said, cause| {
        match (said.is_empty(), said.contains(&cause)) {
            (true, _) => cause,
            (false, true) => said,
            (false, false) => format!("{said}: {cause}"),
        }
    })
}

/// A whole number with commas between thousands.
pub(crate) fn number(n: usize) -> String {
    units::grouped(n as u64)
}

/// `1 stone`, `2 stones`.
pub(crate) fn counted(n: usize, word: &str) -> String {
    plural(n, word, &format!("{word}s"))
}

/// `1 copy`, `2 copies`.
pub(crate) fn plural(n: usize, one: &str, many: &str) -> String {
    format!("{} {}", number(n), if n == 1 { one } else { many })
}
