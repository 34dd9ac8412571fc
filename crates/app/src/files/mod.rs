//! The files of a laid order, and of one of its pieces.

mod names;
mod sorts;

pub use sorts::FileSort;

use crate::laying::{ENGINE, LaidOrder, LaidPiece};
use drawing::Light;
use export::json::{JsonError, LayFile};
use export::{DxfEdition, MOST_PIXELS_A_SIDE, Pixels, PngError, WriteError};
use lay::{Piece, Watch};
use std::path::{Path, PathBuf};

/// Width or height of a picture, whichever is more, in pixels: at least, and at most.
const PICTURE_PX: (f64, f64) = (1600.0, 4800.0);
/// What the smallest stone should have across in a picture, pixels.
const STONE_PX: f64 = 14.0;

/// Why the files of an order were not all written.
#[derive(Debug, thiserror::Error)]
pub enum FilesError {
    /// One exists already; nothing was written.
    #[error("`{path}` exists already and was left as it is")]
    Exists {
        /// The file.
        path: PathBuf,
    },
    /// One could not be written.
    #[error(transparent)]
    Write(#[from] WriteError),
    /// A picture could not be made; nothing was written.
    #[error("the picture of `{piece}`: {source}")]
    Picture {
        /// The piece.
        piece: String,
        /// Why.
        source: PngError,
    },
    /// A picture would have too many pixels; nothing was written.
    #[error("the picture of `{piece}` at {dpi} dpi: {source}; ask for at most {most_dpi} dpi")]
    TooFine {
        /// The piece.
        piece: String,
        /// What was asked for.
        dpi: u32,
        /// What can be had.
        most_dpi: u32,
        /// Why.
        source: PngError,
    },
    /// A number of the lay is not finite.
    #[error("the lay of `{piece}`: {source}")]
    Json {
        /// The piece.
        piece: String,
        /// Why.
        source: JsonError,
    },
    /// The folder could not be made.
    #[error("the folder `{path}` could not be made: {source}")]
    Folder {
        /// The folder.
        path: PathBuf,
        /// What the system says.
        source: std::io::Error,
    },
    /// The watcher stopped it.
    #[error(transparent)]
    Stopped(#[from] lay::Stopped),
}

/// Which files of each piece.
#[derive(Clone, Debug)]
pub struct Wanted {
    /// The sorts, in the order in which they are written.
    pub sorts: Vec<FileSort>,
    /// Pixels to an inch of PNGs; without it they are as large as it takes to tell the stones.
    pub dpi: Option<u32>,
}

/// Writes a file of each wanted sort for every piece into `folder`, which is made if need be. Each is
/// named by its piece and the extension of its sort. Nothing is written if one of the files exists
/// and `overwrite` is false, or if a picture would be too large.
///
/// Returns the files, in the order of the pieces.
///
/// # Errors
/// The folder or a file cannot be written, exists already, or the watcher stopped it.
pub fn write(
    laid: &LaidOrder,
    folder: &Path,
    wanted: &Wanted,
    overwrite: bool,
    watch: &dyn Watch,
) -> Result<Vec<PathBuf>, FilesError> {
    if wanted.sorts.contains(&FileSort::Png) {
        laid.pieces.iter().try_for_each(|p| pixels(&p.asked.piece, wanted.dpi).map(drop))?;
    }
    std::fs::create_dir_all(folder)
        .map_err(|source| FilesError::Folder { path: folder.to_owned(), source })?;
    let names = names::file_names(laid.pieces.iter().map(|p| p.asked.piece.name.as_str()));
    let path = |name: &str, sort: FileSort| folder.join(format!("{name}.{}", sort.extension()));
    let all = names.iter().flat_map(|n| wanted.sorts.iter().map(|s| path(n, *s)));
    let exists = all.into_iter().find(|p| p.symlink_metadata().is_ok());
    if let Some(path) = exists.filter(|_| !overwrite) {
        return Err(FilesError::Exists { path });
    }
    let mut written = vec![];
    for (i, (p, name)) in laid.pieces.iter().zip(&names).enumerate() {
        watch.step(&format!("drawing `{name}`"), i, names.len());
        let make =
            |sort: &FileSort| Ok((path(name, *sort), bytes(&laid.name, p, *sort, wanted.dpi)?));
        let made: Vec<_> = wanted.sorts.iter().map(make).collect::<Result<_, FilesError>>()?;
        // All or none of a piece, as far as it is in our hands.
        if watch.stopped() {
            return Err(lay::Stopped.into());
        }
        for (path, bytes) in made {
            export::write_atomically(&path, &bytes, overwrite)?;
            written.push(path);
        }
    }
    Ok(written)
}

/// What the file of a sort is called, for one of an order's pieces, given by index into their names.
pub fn file_name<'a>(
    pieces: impl Iterator<Item = &'a str>,
    index: usize,
    sort: FileSort,
) -> Option<String> {
    let name = names::file_names(pieces.take(index + 1)).into_iter().nth(index)?;
    Some(format!("{name}.{}", sort.extension()))
}

/// One file of a laid piece. `dpi` is for PNGs alone: pixels to an inch.
///
/// # Errors
/// A picture would be too large; a number of the lay is not finite.
pub fn bytes(
    order: &str,
    laid: &LaidPiece,
    sort: FileSort,
    dpi: Option<u32>,
) -> Result<Vec<u8>, FilesError> {
    let (piece, lay) = (&laid.asked.piece, &laid.lay);
    let picture = || drawing::picture(piece, lay);
    let outlines = |light| export::svg(&drawing::outlines(piece, lay, light));
    Ok(match sort {
        FileSort::Svg => export::svg(&picture()),
        FileSort::Csv => export::csv(&[(piece, lay)]),
        FileSort::Png => {
            let pixels = pixels(piece, dpi)?;
            let name = || piece.name.clone();
            return export::png(&picture(), pixels)
                .map_err(|source| FilesError::Picture { piece: name(), source });
        }
        FileSort::Dxf => export::dxf(piece, lay, DxfEdition::R2018),
        FileSort::DxfR12 => export::dxf(piece, lay, DxfEdition::R12),
        FileSort::Json => LayFile::new(order, &[(piece, lay, laid.asked.quantity)], ENGINE)
            .map_err(|source| FilesError::Json { piece: piece.name.clone(), source })?
            .to_json(),
        FileSort::Positions => export::positions(piece, lay),
        FileSort::LightTable => outlines(Light::Table),
        FileSort::Projector => outlines(Light::Projector { mirrored: false }),
        FileSort::ProjectorMirrored => outlines(Light::Projector { mirrored: true }),
    }
    .into_bytes())
}

/// The pixels of a picture of `piece`, if there can be so many.
fn pixels(piece: &Piece, dpi: Option<u32>) -> Result<Pixels, FilesError> {
    let page = piece.blank.bounds();
    let pixels = dpi.map_or_else(|| Pixels::Across(across(piece)), |d| Pixels::PerInch(d.into()));
    let name = || piece.name.clone();
    match export::png_size(page, pixels) {
        Ok(_) => Ok(pixels),
        Err(source) => Err(match (&source, dpi) {
            (PngError::TooLarge { .. }, Some(dpi)) => {
                let longer_in = page.width().max(page.height()) / 25.4;
                let most_dpi = (f64::from(MOST_PIXELS_A_SIDE) / longer_in).floor() as u32;
                FilesError::TooFine { piece: name(), dpi, most_dpi, source }
            }
            _ => FilesError::Picture { piece: name(), source },
        }),
    }
}

/// Pixels across for a picture of `piece`: large enough to tell its smallest stones, within reason.
fn across(piece: &Piece) -> u32 {
    let b = piece.blank.bounds();
    let smallest = piece.kinds.iter().map(|k| k.reach_mm).fold(f64::INFINITY, f64::min);
    let longer_side = b.width().max(b.height());
    let wanted = STONE_PX * longer_side / smallest;
    let pixels = wanted.clamp(PICTURE_PX.0, PICTURE_PX.1) * b.width() / longer_side;
    (pixels.round() as u32).max(1)
}
