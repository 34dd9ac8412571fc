//! The files of a laid order: a picture to look at, a drawing at true size, a table of places.

use crate::laying::LaidOrder;
use export::{Pixels, PngError, WriteError};
use lay::Watch;
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
    /// A picture could not be made.
    #[error("the picture of `{piece}`: {source}")]
    Picture {
        /// The piece.
        piece: String,
        /// Why.
        source: PngError,
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

/// Writes `PIECE.svg`, `PIECE.csv` and `PIECE.png` of every piece into `folder`, which is made if
/// need be. Nothing is written if one of the files exists and `overwrite` is false.
///
/// Returns the files, in the order of the pieces.
///
/// # Errors
/// The folder or a file cannot be written, exists already, or the watcher stopped it.
pub fn write(
    laid: &LaidOrder,
    folder: &Path,
    overwrite: bool,
    watch: &dyn Watch,
) -> Result<Vec<PathBuf>, FilesError> {
    std::fs::create_dir_all(folder)
        .map_err(|source| FilesError::Folder { path: folder.to_owned(), source })?;
    let names = file_names(laid.pieces.iter().map(|p| p.asked.piece.name.as_str()));
    let files = |name: &str| ["svg", "csv", "png"].map(|ext| folder.join(format!("{name}.{ext}")));
    let exists = names.iter().flat_map(|n| files(n)).find(|p| p.symlink_metadata().is_ok());
    if let Some(path) = exists.filter(|_| !overwrite) {
        return Err(FilesError::Exists { path });
    }
    let mut written = vec![];
    for (i, (p, name)) in laid.pieces.iter().zip(&names).enumerate() {
        watch.step(&format!("drawing `{name}`"), i, names.len());
        let piece = &p.asked.piece;
        let picture = drawing::picture(piece, &p.lay);
        let png = export::png(&picture, Pixels::Across(across(piece)))
            .map_err(|source| FilesError::Picture { piece: piece.name.clone(), source })?;
        let svg = export::svg(&picture).into_bytes();
        let csv = export::csv(&[(piece, &p.lay)]).into_bytes();
        // All three or none of a piece, as far as it is in our hands.
        if watch.stopped() {
            return Err(lay::Stopped.into());
        }
        for (path, bytes) in files(name).into_iter().zip([svg, csv, png]) {
            export::write_atomically(&path, &bytes, overwrite)?;
            written.push(path);
        }
    }
    Ok(written)
}

/// Pixels across for a picture of `piece`: large enough to tell its smallest stones, within reason.
fn across(piece: &lay::Piece) -> u32 {
    let b = piece.blank.bounds();
    let smallest = piece.kinds.iter().map(|k| k.reach_mm).fold(f64::INFINITY, f64::min);
    let longer_side = b.width().max(b.height());
    let wanted = STONE_PX * longer_side / smallest;
    let pixels = wanted.clamp(PICTURE_PX.0, PICTURE_PX.1) * b.width() / longer_side;
    (pixels.round() as u32).max(1)
}

/// A file name for each piece: letters and digits kept, anything else a hyphen, all different.
fn file_names<'a>(pieces: impl Iterator<Item = &'a str>) -> Vec<String> {
    let mut names: Vec<String> = vec![];
    for piece in pieces {
        let plain = piece.chars().map(|c| if c.is_alphanumeric() { c } else { '-' });
        let plain: String = plain.collect::<String>().to_lowercase();
        let base = match plain.trim_matches('-') {
            "" => "piece".to_owned(),
            // A file name has 255 bytes at most; letters have up to four.
            name => name.chars().take(60).collect(),
        };
        let free = |n: &String| !names.contains(n);
        let numbered = (2..).map(|i| format!("{base}-{i}"));
        names.extend(std::iter::once(base.clone()).chain(numbered).find(free));
    }
    names
}

#[cfg(test)]
mod tests {
    use super::file_names;

    #[test]
    fn names_are_safe_and_different() {
        let names =
            file_names(["Badge", "badge", "../x y", "☆", "parade sign", "parade/sign"].into_iter());
        assert_eq!(names, ["badge", "badge-2", "x-y", "piece", "parade-sign", "parade-sign-2"]);
    }
}
