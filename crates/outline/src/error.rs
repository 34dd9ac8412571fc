//! Why a file gives no outline, and what the maker can do about it.

use crate::limits;

/// Why a file gives no outline. [`OutlineError::hint`] says how to mend it.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum OutlineError {
    /// There is not a single byte, or only blanks.
    #[error("the file is empty")]
    Empty,
    /// More bytes than anyone should have to wait for.
    #[error("the file is too large: {bytes} bytes, at most {} are read", limits::BYTES)]
    TooLarge {
        /// Its size.
        bytes: usize,
    },
    /// A packed drawing, as `.svgz` files are.
    #[error("the file is compressed (gzip), which is not read")]
    Compressed,
    /// A file of another kind, known by its first bytes.
    #[error("the file is {kind}, not an SVG drawing")]
    OtherKind {
        /// What it is, with its article.
        kind: &'static str,
    },
    /// Text in an encoding that is not read.
    #[error("the file is text in UTF-16; only UTF-8 is read")]
    Utf16,
    /// Bytes that are no UTF-8 text.
    #[error("the file is not text in UTF-8: byte {at} does not belong there")]
    NotUtf8 {
        /// Offset of the first such byte, from 0.
        at: usize,
    },
    /// Text that is no well-formed XML.
    #[error("line {line}, column {column}: the file is not well-formed XML: {reason}")]
    Xml {
        /// Line, from 1.
        line: u32,
        /// Column, from 1.
        column: u32,
        /// What the reader met.
        reason: String,
    },
    /// Entities that stand for ever more entities.
    #[error("line {line}, column {column}: entities refer to one another without end")]
    Entities {
        /// Line, from 1.
        line: u32,
        /// Column, from 1.
        column: u32,
    },
    /// Well-formed XML that is no drawing.
    #[error("the file is XML but no SVG drawing: its outermost element is `{root}`")]
    NotSvg {
        /// Name of the outermost element, with its namespace if that is another one.
        root: String,
    },
    /// Elements within elements within elements.
    #[error("line {line}: elements are nested more than {} deep", limits::DEPTH)]
    TooDeep {
        /// Line of the first element too deep, from 1.
        line: u32,
    },
    /// More elements than anyone should have to wait for, copies by `use` counted.
    #[error("the drawing has more than {} elements, copies included", limits::ELEMENTS)]
    TooManyElements,
    /// A style sheet whose rules take too long to hold against every element.
    #[error("the drawing has too many style rules: {rules} for {elements} elements")]
    TooManyStyles {
        /// How many rules.
        rules: u64,
        /// How many elements.
        elements: u64,
    },
    /// A page without size.
    #[error("line {line}: the page has no size: {what}")]
    NoPage {
        /// Line of the outermost element, from 1.
        line: u32,
        /// The attribute at fault, as written.
        what: String,
    },
    /// A curve too large to follow.
    #[error("line {line}: an arc of this path is larger than {} units", crate::path_data::MAX_ARC)]
    HugeArc {
        /// Line of the path, from 1.
        line: u32,
    },
    /// No shape of the drawing encloses anything.
    #[error("nothing is drawn: {why}")]
    NothingDrawn {
        /// What was looked at in vain.
        why: String,
        /// What to do about that.
        remedy: &'static str,
    },
    /// More corners than anyone should have to wait for.
    #[error("the outline has more than {} corners", limits::CORNERS)]
    TooDetailed,
    /// Lines that cross one another more often than anyone should have to wait for.
    #[error(
        "the outline crosses itself about {crossings} times, at most {} are followed",
        limits::CROSSINGS
    )]
    TooTangled {
        /// How often, estimated.
        crossings: u64,
    },
    /// A dashed line of more dashes than anyone should have to wait for.
    #[error("a dashed line has about {dashes} dashes, at most {} are drawn", limits::DASHES)]
    TooManyDashes {
        /// How many, estimated.
        dashes: u64,
    },
    /// A size to scale to that is none.
    #[error("an outline cannot be scaled to {mm} mm")]
    BadScale {
        /// The wanted width or height, mm.
        mm: f64,
    },
    /// An outline as large as a house, or too small to see.
    #[error(
        "the outline would be {width_mm:.3} × {height_mm:.3} mm; each side must be {} to {} mm",
        limits::SMALLEST_MM,
        limits::LARGEST_MM
    )]
    BadSize {
        /// Width it would have, mm.
        width_mm: f64,
        /// Height it would have, mm.
        height_mm: f64,
    },
    /// The reader of drawings gave up; a fault of ours.
    #[error("the drawing could not be read: {reason}")]
    Reader {
        /// What it said.
        reason: String,
    },
}

impl OutlineError {
    /// What the maker can do about it.
    pub fn hint(&self) -> &'static str {
        match self {
            Self::Empty => {
                "save the drawing again; the program that wrote it may have been stopped"
            }
            Self::TooLarge { .. } => {
                "remove pictures and what lies outside the outline, or simplify the paths"
            }
            Self::Compressed => {
                "save it as plain SVG, or unpack it first: rename it to `.svg.gz` and run gunzip"
            }
            Self::OtherKind { .. } => {
                "open it in a drawing program, trace the outline as paths and save that as SVG"
            }
            Self::Utf16 | Self::NotUtf8 { .. } => "save it as plain SVG with the encoding UTF-8",
            Self::Xml { .. } => {
                "mend the text at that place, or save the drawing again as plain SVG"
            }
            Self::Entities { .. } => "save it as plain SVG, without entities",
            Self::NotSvg { .. } => "give an SVG file; its outermost element is `svg`",
            Self::TooDeep { .. } => "ungroup the drawing, then save it again",
            Self::TooManyElements => {
                "keep only the shapes that make the outline, and join them into one path"
            }
            Self::TooManyStyles { .. } => "save it as plain SVG with styles as attributes",
            Self::NoPage { .. } => "give the page a width and a height above 0, or a `viewBox`",
            Self::HugeArc { .. } => "draw the arc as a straight line, or remove it",
            Self::NothingDrawn { remedy, .. } => remedy,
            Self::TooDetailed => "simplify the paths; a tenth of a millimetre is fine enough",
            Self::TooTangled { .. } => {
                "keep the outline only; hatching and scribbles do not belong to it"
            }
            Self::TooManyDashes { .. } => "draw the line without dashes, or with longer ones",
            Self::BadScale { .. } => "give a length between 0.5 mm and 5,000 mm",
            Self::BadSize { .. } => "scale the outline to the width or height of the blank",
            Self::Reader { .. } => {
                "save the drawing again as plain SVG; if that fails too, report the file"
            }
        }
    }
}
