//! Sizes of paper.

/// A size of paper, upright.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum PaperSize {
    /// A4: 210 × 297 mm (ISO 216).
    #[default]
    A4,
    /// Letter: 8 1/2 × 11 in, which is 215.9 × 279.4 mm (size A of ANSI/ASME Y14.1).
    Letter,
}

impl PaperSize {
    /// All of them.
    pub const ALL: [PaperSize; 2] = [PaperSize::A4, PaperSize::Letter];

    /// Its width, mm.
    pub fn width_mm(self) -> f64 {
        match self {
            PaperSize::A4 => 210.0,
            PaperSize::Letter => 215.9,
        }
    }

    /// Its height, mm.
    pub fn height_mm(self) -> f64 {
        match self {
            PaperSize::A4 => 297.0,
            PaperSize::Letter => 279.4,
        }
    }

    /// Its name for people.
    pub fn name(self) -> &'static str {
        match self {
            PaperSize::A4 => "A4",
            PaperSize::Letter => "Letter",
        }
    }
}
