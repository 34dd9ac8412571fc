//! Pieces whose scatter is set by hand, without a placing sheet.
