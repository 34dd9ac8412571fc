//! Every version of the document that ever landed opens.

use crate::demo_files;
use app::document::VERSION;
use app::order::{Order, open};
use std::path::Path;

fn opened(version: u32) -> Order {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/documents");
    let name = format!("v{version}.toml");
    let bytes = std::fs::read(folder.join(&name)).unwrap();
    open(&name, &bytes, &demo_files()).unwrap_or_else(|e| panic!("{e}"))
}

#[test]
fn every_version_opens() {
    for version in 1..=VERSION {
        let order = opened(version);
        assert_eq!(order.name, "Every key", "version {version}");
        assert!(!order.pieces.is_empty());
    }
}

#[test]
fn version_1_says_what_it_said() {
    let order = opened(1);
    let zones: Vec<(&str, usize)> =
        order.pieces.iter().map(|p| (p.piece.name.as_str(), p.piece.zones.len())).collect();
    assert_eq!(
        zones,
        [
            ("rectangle", 5),
            ("rounded rectangle", 1),
            ("circle", 1),
            ("regular polygon", 1),
            ("polygon", 1),
            ("star", 1),
            ("heart", 1),
            ("file", 1),
            ("file as drawn", 1),
        ]
    );
    let first = &order.pieces[0];
    assert_eq!(first.quantity, 3);
    assert_eq!(first.piece.zones[0].seed, 12);
    assert_eq!(first.piece.zones[0].margin_mm, 0.79375);
    assert_eq!(order.kinds[1].kind.fit_mm, 4.1);
    assert_eq!(order.kinds[1].kind.colour.hex(), "#aabbcc");
}
