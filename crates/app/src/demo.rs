//! An order to begin with: a harbour lantern festival, with its outline files.

use std::io::Write;
use std::path::{Path, PathBuf};

/// Every file of the demonstration order, by name. The order itself comes first.
pub const FILES: &[(&str, &str)] = &[
    ("order.toml", include_str!("../demo/order.toml")),
    ("gull.svg", include_str!("../demo/gull.svg")),
    ("lantern.svg", include_str!("../demo/lantern.svg")),
];

/// What to do with files that are there already.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Existing {
    /// Leave them, and write nothing at all.
    #[default]
    Keep,
    /// Write over them.
    Overwrite,
}

/// Why the demonstration order was not written.
#[derive(Debug, thiserror::Error)]
pub enum DemoError {
    /// A file of this name is there already; nothing was written.
    #[error("`{}` is there already", .path.display())]
    Exists {
        /// The file.
        path: PathBuf,
    },
    /// The machine refused.
    #[error("`{}` cannot be written: {source}", .path.display())]
    World {
        /// The file or folder.
        path: PathBuf,
        /// What the machine said.
        source: std::io::Error,
    },
}

impl DemoError {
    /// What to do about it.
    pub fn hint(&self) -> &'static str {
        match self {
            DemoError::Exists { .. } => "name another folder, or replace them with `--replace`",
            DemoError::World { .. } => "name a folder in which you may write",
        }
    }
}

/// Writes the demonstration order into `dir`, which is made if need be. Returns the files
/// written, the order first.
///
/// # Errors
/// A file is there already and is to be kept, or the machine refuses.
pub fn write(dir: &Path, existing: Existing) -> Result<Vec<PathBuf>, DemoError> {
    let paths: Vec<PathBuf> = FILES.iter().map(|(name, _)| dir.join(name)).collect();
    if existing == Existing::Keep
        && let Some(path) = paths.iter().find(|p| p.symlink_metadata().is_ok())
    {
        return Err(DemoError::Exists { path: path.clone() });
    }
    let world = |path: &Path| {
        let path = path.to_path_buf();
        move |source| DemoError::World { path, source }
    };
    std::fs::create_dir_all(dir).map_err(world(dir))?;
    for ((_, text), path) in FILES.iter().zip(&paths) {
        let mut options = std::fs::OpenOptions::new();
        match existing {
            // Another program may have made it since it was looked for.
            Existing::Keep => options.write(true).create_new(true),
            Existing::Overwrite => options.write(true).create(true).truncate(true),
        };
        let mut file = options.open(path).map_err(|source| match source.kind() {
            std::io::ErrorKind::AlreadyExists => DemoError::Exists { path: path.clone() },
            _ => world(path)(source),
        })?;
        file.write_all(text.as_bytes()).map_err(world(path))?;
    }
    Ok(paths)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::order::{Folder, open};

    #[test]
    fn the_demonstration_order_opens_and_nothing_about_it_is_worth_a_finding() {
        let dir = tempfile::tempdir().unwrap();
        let written = write(dir.path(), Existing::Keep).unwrap();
        let bytes = std::fs::read(&written[0]).unwrap();
        let order = open("order.toml", &bytes, &Folder::of(&written[0])).unwrap();
        let names: Vec<&str> = order.pieces.iter().map(|p| p.piece.name.as_str()).collect();
        assert_eq!(names, ["badge", "parade sign", "lantern", "drum hoop", "flask panel", "charm"]);
        for piece in &order.pieces {
            assert_eq!(piece.findings, [], "{}", piece.piece.name);
            let zones: f64 = piece.piece.zones.iter().map(|z| z.region.area()).sum();
            let blank = piece.piece.blank.area();
            assert!((zones - blank).abs() < 1e-3 * blank, "the zones cover the blank");
        }
    }

    #[test]
    fn nothing_is_overwritten_unasked() {
        let dir = tempfile::tempdir().unwrap();
        let own = dir.path().join("gull.svg");
        std::fs::write(&own, "mine").unwrap();
        assert!(
            matches!(write(dir.path(), Existing::Keep), Err(DemoError::Exists { path }) if path == own)
        );
        assert_eq!(std::fs::read_to_string(&own).unwrap(), "mine");
        assert!(!dir.path().join("order.toml").exists(), "all or nothing");
        write(dir.path(), Existing::Overwrite).unwrap();
        assert_ne!(std::fs::read_to_string(&own).unwrap(), "mine");
    }
}
