//! The sorts of files that a laid piece can be written as: what each is called, and what it is for.

use std::fmt;

/// A sort of file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FileSort {
    /// A picture that can be measured.
    Svg,
    /// A table of every place.
    Csv,
    /// A picture of pixels.
    Png,
    /// For machines and drawing programs, release 2018.
    Dxf,
    /// The same for old ones, release 12.
    DxfR12,
    /// The whole lay for programs.
    Json,
    /// A list of places to read.
    Positions,
    /// Outlines for a light table.
    LightTable,
    /// Outlines for a projector.
    Projector,
    /// The same, left and right changed over.
    ProjectorMirrored,
}

impl FileSort {
    /// Every sort, in the order in which they are listed.
    pub const ALL: [FileSort; 10] = [
        FileSort::Svg,
        FileSort::Csv,
        FileSort::Png,
        FileSort::Dxf,
        FileSort::DxfR12,
        FileSort::Json,
        FileSort::Positions,
        FileSort::LightTable,
        FileSort::Projector,
        FileSort::ProjectorMirrored,
    ];
    /// What is written if nothing is said.
    pub const USUAL: [FileSort; 3] = [FileSort::Svg, FileSort::Csv, FileSort::Png];

    /// The word by which it is asked for.
    pub fn name(self) -> &'static str {
        self.words().0
    }

    /// What stands behind the dot of its file's name. No two sorts have the same.
    pub fn extension(self) -> &'static str {
        self.words().1
    }

    /// What it is for, in a few words.
    pub fn purpose(self) -> &'static str {
        self.words().2
    }

    /// Its media type.
    pub fn media_type(self) -> &'static str {
        match self {
            FileSort::Svg
            | FileSort::LightTable
            | FileSort::Projector
            | FileSort::ProjectorMirrored => "image/svg+xml",
            FileSort::Csv => "text/csv",
            FileSort::Png => "image/png",
            FileSort::Dxf | FileSort::DxfR12 => "image/vnd.dxf",
            FileSort::Json => "application/json",
            FileSort::Positions => "text/plain",
        }
    }

    /// The sort of this name.
    pub fn named(name: &str) -> Option<FileSort> {
        FileSort::ALL.into_iter().find(|s| s.name() == name)
    }

    fn words(self) -> (&'static str, &'static str, &'static str) {
        match self {
            FileSort::Svg => ("svg", "svg", "picture at true size, to measure and to draw on"),
            FileSort::Csv => ("csv", "csv", "every stone as a table"),
            FileSort::Png => ("png", "png", "picture for a message or a page"),
            FileSort::Dxf => ("dxf", "dxf", "for machines and drawing programs, release 2018"),
            FileSort::DxfR12 => ("dxf-r12", "r12.dxf", "the same for old ones, release 12"),
            FileSort::Json => ("json", "json", "the whole lay for programs"),
            FileSort::Positions => ("positions", "txt", "a list of places to read"),
            FileSort::LightTable => {
                ("light-table", "light-table.svg", "outlines to print and lay under a clear blank")
            }
            FileSort::Projector => {
                ("projector", "projector.svg", "light outlines to throw onto the blank")
            }
            FileSort::ProjectorMirrored => (
                "projector-mirrored",
                "projector-mirrored.svg",
                "the same, left and right changed over",
            ),
        }
    }
}

impl fmt::Display for FileSort {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn names_and_extensions_are_all_different_and_lead_back() {
        let of = |f: fn(FileSort) -> &'static str| -> BTreeSet<_> {
            FileSort::ALL.into_iter().map(f).collect()
        };
        assert_eq!(of(FileSort::name).len(), FileSort::ALL.len());
        assert_eq!(of(FileSort::extension).len(), FileSort::ALL.len());
        for sort in FileSort::ALL {
            assert_eq!(FileSort::named(sort.name()), Some(sort));
        }
    }
}
