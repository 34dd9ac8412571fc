//! What a paper is made of: our own templates, one file of data and the pictures that are handed
//! over with it. Nothing else can be read.

use crate::fonts::{FAMILIES, FONTS};
use std::sync::LazyLock;
use typst::diag::{FileError, FileResult};
use typst::foundations::{Array, Bytes, Datetime, Dict, Duration, IntoValue};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};

/// The name under which a template finds its data.
const DATA: &str = "data.json";
/// What all templates share.
const SHARED: (&str, &str) = ("paper.typ", include_str!("typ/paper.typ"));

static LIBRARY: LazyLock<LazyHash<Library>> = LazyLock::new(|| {
    let families: Array = FAMILIES.into_iter().map(IntoValue::into_value).collect();
    let inputs: Dict = [("families".into(), families.into_value())].into_iter().collect();
    LazyHash::new(Library::builder().with_inputs(inputs).build())
});

/// One of our templates.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Template {
    /// Its file name.
    pub(crate) name: &'static str,
    /// What it says.
    pub(crate) text: &'static str,
}

/// A template, what it shares with others, its data and its pictures; no clock, no folder, no
/// network.
pub(crate) struct Sealed {
    main: Source,
    shared: Source,
    files: Vec<(FileId, Bytes)>,
}

impl Sealed {
    /// Of a template, its data as JSON, and its pictures.
    pub(crate) fn new(
        template: Template,
        data: Vec<u8>,
        pictures: &[Bytes],
    ) -> Result<Sealed, FileError> {
        let id = |name: &str| -> Result<FileId, FileError> {
            let path = VirtualPath::new(name).map_err(|_| FileError::AccessDenied)?;
            Ok(RootedPath::new(VirtualRoot::Project, path).intern())
        };
        let mut files = vec![(id(DATA)?, Bytes::new(data))];
        for (i, picture) in pictures.iter().enumerate() {
            files.push((id(&format!("picture-{i}.png"))?, picture.clone()));
        }
        Ok(Sealed {
            main: Source::new(id(template.name)?, template.text.to_owned()),
            shared: Source::new(id(SHARED.0)?, SHARED.1.to_owned()),
            files,
        })
    }
}

impl World for Sealed {
    fn library(&self) -> &LazyHash<Library> {
        &LIBRARY
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &FONTS.book
    }

    fn main(&self) -> FileId {
        self.main.id()
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        let known = [&self.main, &self.shared].into_iter().find(|s| s.id() == id);
        known.cloned().ok_or(FileError::AccessDenied)
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        let known = self.files.iter().find(|f| f.0 == id);
        known.map(|f| f.1.clone()).ok_or(FileError::AccessDenied)
    }

    fn font(&self, index: usize) -> Option<Font> {
        FONTS.all.get(index).cloned()
    }

    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        None
    }
}
