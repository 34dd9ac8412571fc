//! The typefaces of every paper: brought along, read once, none of the system's.

use std::sync::LazyLock;
use typst::foundations::Bytes;
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;

/// The families in the order in which a letter is looked for.
pub(crate) const FAMILIES: [&str; 3] = ["Noto Sans", "DejaVu Sans", "Noto Emoji"];

/// What stands for a letter that none of the typefaces has.
const UNKNOWN: char = '\u{fffd}';

/// The typefaces, and what is known about them.
pub(crate) struct Fonts {
    /// What Typst chooses from.
    pub(crate) book: LazyHash<FontBook>,
    /// The same, by index.
    pub(crate) all: Vec<Font>,
}

/// The typefaces: Latin, Greek and Cyrillic first (SIL Open Font License), then Arabic, Hebrew and
/// signs (Bitstream Vera's licence), then pictographs in black (SIL Open Font License).
pub(crate) static FONTS: LazyLock<Fonts> = LazyLock::new(|| {
    let files: [&'static [u8]; 5] = [
        export::FACE.bytes,
        notosans::BOLD_TTF,
        dejavu::sans::regular(),
        dejavu::sans::bold(),
        pictographs(),
    ];
    let all: Vec<Font> = files.into_iter().flat_map(|f| Font::iter(Bytes::new(f))).collect();
    Fonts { book: LazyHash::new(FontBook::from_fonts(&all)), all }
});

/// Pictographs in one colour. Its crate keeps several files by name and gives only those.
fn pictographs() -> &'static [u8] {
    epaint_default_fonts::NOTO_EMOJI_REGULAR
}

/// The text as it can be shown: what no typeface has becomes a question mark in a diamond, control
/// characters become spaces, and signs that only choose between two looks are left out.
pub(crate) fn shown(text: &str) -> String {
    let one = |c: char| match c {
        // Variation selectors, byte order marks and private signs mean nothing here.
        '\u{fe00}'..='\u{fe0f}' | '\u{feff}' => None,
        // They join letters and pictographs; no typeface needs to draw them.
        '\u{200c}' | '\u{200d}' => Some(c),
        // Signs that turn the direction of everything behind them.
        '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => None,
        c if c.is_control() => Some(' '),
        '\u{e000}'..='\u{f8ff}' | '\u{f0000}'.. => Some(UNKNOWN),
        c if FONTS.all.iter().any(|f| f.info().coverage.contains(u32::from(c))) => Some(c),
        _ => Some(UNKNOWN),
    };
    text.chars().filter_map(one).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_family_is_there_by_its_name() {
        for family in FAMILIES {
            let known = FONTS.all.iter().any(|f| f.info().family == family);
            let all: Vec<_> = FONTS.all.iter().map(|f| &f.info().family).collect();
            assert!(known, "{family} is none of {all:?}");
        }
    }

    #[test]
    fn four_scripts_are_covered_and_the_rest_is_marked() {
        let text = "Φάρος маяк منارة 🏮⚓ é";
        assert_eq!(shown(text), text);
        assert_eq!(shown("灯\u{e001}a\tb\u{202e}c"), "\u{fffd}\u{fffd}a bc");
    }
}
