//! The files of one piece.

use crate::{Desk, DeskError, Opened};
use app::files::{self, FileSort, FilesError};
use lay::Watch;

/// A file of a piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PieceFile {
    /// Its name: safe on every disk, and another for each piece and sort of an order.
    pub name: String,
    /// What is in it.
    pub bytes: Vec<u8>,
}

impl Desk {
    /// One file of a piece, given by its number from 1. `dpi` is for PNGs alone: pixels to an inch.
    ///
    /// # Errors
    /// There is no such piece; a picture would have too many pixels, or none; the watcher stopped it.
    pub fn piece_file(
        &self,
        opened: &Opened,
        number: usize,
        sort: FileSort,
        dpi: Option<u32>,
        watch: &dyn Watch,
    ) -> Result<PieceFile, DeskError> {
        let laid = self.lay(opened.piece(number)?, watch)?;
        let one = self.at_the_press();
        let bytes = files::bytes(&opened.order.name, &laid, sort, dpi).map_err(unfit)?;
        drop(one);
        let pieces = opened.order.pieces.iter().map(|p| p.piece.name.as_str());
        let name = files::file_name(pieces, number - 1, sort).ok_or(DeskError::Missing("piece"))?;
        Ok(PieceFile { name, bytes })
    }
}

fn unfit(error: FilesError) -> DeskError {
    match error {
        FilesError::TooFine { most_dpi, source, .. } => {
            DeskError::unfit(source.to_string(), format!("ask for at most {most_dpi} dpi"))
        }
        FilesError::Picture { source, .. } => {
            DeskError::unfit(source.to_string(), "ask for another number of pixels to an inch")
        }
        other => DeskError::Ours(other.to_string()),
    }
}
