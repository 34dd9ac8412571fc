//! What an import left out or took for granted, worth telling the maker.

/// Something of the drawing that did not come into the outline as drawn.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Remark {
    /// Text whose letters are not drawn as paths.
    TextLost {
        /// Line of the first such element, from 1.
        line: u32,
        /// How many there are.
        count: usize,
        /// The beginning of the first text.
        text: String,
    },
    /// Pictures made of pixels, or other files shown in the drawing.
    ImageIgnored {
        /// Line of the first, from 1.
        line: u32,
        /// How many there are.
        count: usize,
    },
    /// A reference to something outside the file.
    ReferenceRefused {
        /// Line of the first, from 1.
        line: u32,
        /// How many there are.
        count: usize,
        /// What the first points to, shortened.
        target: String,
    },
    /// Masks, which hide parts of a shape by shades of grey.
    MaskIgnored {
        /// How many shapes or groups have one.
        count: usize,
    },
    /// Filters such as blurs and shadows.
    FilterIgnored {
        /// How many shapes or groups have one.
        count: usize,
    },
    /// Path data with a fault: what came after it is left out.
    PathCutShort {
        /// Line of the first such path, from 1.
        line: u32,
        /// How many there are.
        count: usize,
    },
    /// Shapes without size: a circle without radius, a rectangle without width.
    ShapeSkipped {
        /// Line of the first, from 1.
        line: u32,
        /// How many there are.
        count: usize,
        /// What is wrong with the first.
        what: String,
    },
    /// Shapes with neither fill nor stroke.
    NotPainted {
        /// How many.
        count: usize,
    },
    /// Parts or holes too small to matter.
    SpeckDropped {
        /// How many.
        count: usize,
        /// Area of the largest, mm².
        largest_mm2: f64,
    },
    /// A rectangle behind everything: the outline is that rectangle.
    Backdrop,
    /// No length with a unit on the page, and no size asked for.
    SizeAssumed {
        /// Width it came to, mm.
        width_mm: f64,
        /// Height it came to, mm.
        height_mm: f64,
    },
}

/// One documented kind of remark.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Page {
    /// The stable code.
    pub code: &'static str,
    /// What it says.
    pub what: &'static str,
    /// Why that matters.
    pub why: &'static str,
    /// A drawing that brings it about.
    pub example: &'static str,
    /// What to do.
    pub remedy: &'static str,
}

/// A page for each kind of [`Remark`], sorted by code.
pub const PAGES: &[Page] = &[
    Page {
        code: "outline.backdrop",
        what: "the outline is a plain rectangle, because one lies behind the rest of the drawing",
        why: "every painted shape counts, white ones too: a page-sized background swallows the \
              shape you drew on it",
        example: "<rect width=\"60\" height=\"40\" fill=\"white\"/><circle cx=\"30\" cy=\"20\" r=\"15\"/>",
        remedy: "delete the background from the drawing",
    },
    Page {
        code: "outline.filter-ignored",
        what: "a filter (blur, shadow, glow) was left out",
        why: "it changes pixels, not the outline of the shape under it",
        example: "<circle r=\"20\" filter=\"url(#shadow)\"/>",
        remedy: "nothing, if the plain shape is what you want; else draw the shadow as a shape",
    },
    Page {
        code: "outline.image-ignored",
        what: "a picture in the drawing was left out",
        why: "pixels have no outline, and a picture may lie in another file",
        example: "<image href=\"photo.png\" width=\"60\" height=\"40\"/>",
        remedy: "trace the picture to paths in a drawing program",
    },
    Page {
        code: "outline.mask-ignored",
        what: "a mask was left out: the shape under it counts whole",
        why: "a mask hides by shades of grey, which is no outline",
        example: "<rect width=\"60\" height=\"40\" mask=\"url(#fade)\"/>",
        remedy: "cut the shape itself, or use a clip path",
    },
    Page {
        code: "outline.not-painted",
        what: "shapes with neither fill nor stroke were left out",
        why: "they draw nothing; guides and page frames are often such shapes",
        example: "<path d=\"M0 0h24v24H0z\" fill=\"none\"/>",
        remedy: "nothing, if they are guides; else give them a fill",
    },
    Page {
        code: "outline.path-cut-short",
        what: "the data of a path has a fault; what comes after it was left out",
        why: "SVG has a path drawn up to its first fault, so a piece of the outline may be missing",
        example: "<path d=\"M0 0 L10 0 L10 NaN\"/>",
        remedy: "mend the numbers at that line, or save the drawing again",
    },
    Page {
        code: "outline.reference-refused",
        what: "something outside the file was not fetched",
        why: "the same file has to give the same outline on every machine, and no drawing may read \
              other files or the network",
        example: "<use href=\"other.svg#badge\"/>",
        remedy: "copy what it points to into the drawing",
    },
    Page {
        code: "outline.shape-skipped",
        what: "a shape without size was left out",
        why: "a circle needs a radius above 0, a rectangle a width and a height above 0",
        example: "<circle cx=\"5\" cy=\"5\" r=\"-3\"/>",
        remedy: "give it a size or delete it",
    },
    Page {
        code: "outline.size-assumed",
        what: "the drawing does not say how large it is; one unit was taken for 1/96 inch",
        why: "without a unit such as mm on the page's width, the size is that of pixels on a screen",
        example: "<svg viewBox=\"0 0 24 24\">",
        remedy: "give the width or height of the blank in the order, or a page size in mm in the drawing",
    },
    Page {
        code: "outline.speck-dropped",
        what: "parts or holes under 0.01 mm² were dropped",
        why: "they are leftovers of tracing; no stone and no hand notices them",
        example: "<path d=\"M0 0h60v40H0z M20 20h.05v.05h-.05z\"/>",
        remedy: "nothing, or clean the drawing",
    },
    Page {
        code: "outline.text-lost",
        what: "text was left out, because its letters are not paths",
        why: "letters come from fonts of the machine, so they would differ from one to the next",
        example: "<text x=\"5\" y=\"20\">Harbour</text>",
        remedy: "turn the text into paths in the drawing program, then save again",
    },
];

impl Remark {
    /// The stable code; each has a page in [`PAGES`].
    pub fn code(&self) -> &'static str {
        match self {
            Self::TextLost { .. } => "outline.text-lost",
            Self::ImageIgnored { .. } => "outline.image-ignored",
            Self::ReferenceRefused { .. } => "outline.reference-refused",
            Self::MaskIgnored { .. } => "outline.mask-ignored",
            Self::FilterIgnored { .. } => "outline.filter-ignored",
            Self::PathCutShort { .. } => "outline.path-cut-short",
            Self::ShapeSkipped { .. } => "outline.shape-skipped",
            Self::NotPainted { .. } => "outline.not-painted",
            Self::SpeckDropped { .. } => "outline.speck-dropped",
            Self::Backdrop => "outline.backdrop",
            Self::SizeAssumed { .. } => "outline.size-assumed",
        }
    }

    /// The page that explains it.
    pub fn page(&self) -> Option<&'static Page> {
        PAGES.iter().find(|p| p.code == self.code())
    }

    /// What the maker can do about it.
    pub fn hint(&self) -> &'static str {
        self.page().map_or("", |p| p.remedy)
    }
}

impl std::fmt::Display for Remark {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::TextLost { line, count, text } => {
                let n = plural(*count, "text was", "texts were");
                write!(f, "line {line}: {n} left out: `{text}`")
            }
            Self::ImageIgnored { line, count } => {
                let n = plural(*count, "picture was", "pictures were");
                write!(f, "line {line}: {n} left out")
            }
            Self::ReferenceRefused { line, count, target } => {
                let n = plural(*count, "reference", "references");
                write!(f, "line {line}: {n} outside the file not followed: `{target}`")
            }
            Self::MaskIgnored { count } => {
                write!(f, "{} left out", plural(*count, "mask was", "masks were"))
            }
            Self::FilterIgnored { count } => {
                write!(f, "{} left out", plural(*count, "filter was", "filters were"))
            }
            Self::PathCutShort { line, count } => {
                let n = plural(*count, "path is", "paths are");
                write!(f, "line {line}: {n} cut short by a fault in the data")
            }
            Self::ShapeSkipped { line, count, what } => {
                let n = plural(*count, "shape", "shapes");
                write!(f, "line {line}: {n} without size left out: {what}")
            }
            Self::NotPainted { count } => {
                let n = plural(*count, "shape", "shapes");
                write!(f, "{n} without fill or stroke left out")
            }
            Self::SpeckDropped { count, largest_mm2 } => {
                let n = plural(*count, "speck", "specks");
                write!(f, "{n} dropped, the largest of {largest_mm2:.4} mm²")
            }
            Self::Backdrop => write!(f, "a rectangle lies behind the rest and is the outline"),
            Self::SizeAssumed { width_mm, height_mm } => write!(
                f,
                "the drawing gives no size in real units: taken as {width_mm:.2} × {height_mm:.2} mm"
            ),
        }
    }
}

fn plural(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}
