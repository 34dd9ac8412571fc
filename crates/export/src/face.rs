//! The typeface of text in drawings.

/// The typeface of [`drawing::Text`]: brought along, so that no font of the system is ever read.
pub struct Face {
    /// The name of its family.
    pub family: &'static str,
    /// The TrueType file. Licence: SIL Open Font License 1.1.
    pub bytes: &'static [u8],
    /// Height of its capitals, as a part of the font size: 714 of 1000 units by its OS/2 table.
    pub capitals: f64,
}

/// Noto Sans, regular.
pub const FACE: Face = Face { family: "Noto Sans", bytes: notosans::REGULAR_TTF, capitals: 0.714 };
