//! What to take care of with each sort of adhesive.

use super::{Base, GluedPiece};
use crate::adhesive::AdhesiveSort;

/// The cautions of a sort, and of the bases it goes on; the last one defers to label and safety
/// sheet.
pub(super) fn of<'a>(
    sort: AdhesiveSort,
    pieces: impl Iterator<Item = &'a GluedPiece<'a>>,
) -> Vec<String> {
    let mut said: Vec<&str> = match sort {
        AdhesiveSort::SolventGel => vec![
            "solvent vapour: air the room, keep flames away (common practice, no source)",
            "gels with chlorinated solvents are restricted in places: check present national rules",
        ],
        AdhesiveSort::FiveMinuteEpoxy | AdhesiveSort::CoatingEpoxy | AdhesiveSort::SlowResin => {
            vec![
                "uncured epoxy sensitises the skin for life: nitrile gloves, not latex (published)",
                "air the room, and wet-sand what has cured (common practice, no source)",
            ]
        }
        AdhesiveSort::LightCured => vec![
            "uncured light-cured adhesive can sensitise: nitrile gloves (from memory)",
            "do not look into the lamp (common practice, no source)",
        ],
        AdhesiveSort::WaterBased => {
            vec!["keep water away from it until it has cured (common practice, no source)"]
        }
        AdhesiveSort::AdhesiveSheet => {
            vec!["heat-set backs: the iron and the piece stay hot (common practice, no source)"]
        }
    };
    let crazes = |p: &GluedPiece<'_>| matches!(p.base, Some(Base::Acrylic | Base::Polycarbonate));
    if pieces.into_iter().any(crazes) {
        said.push(
            "alcohol and solvents can craze acrylic and polycarbonate: wash with mild soap, or test \
            on scrap first (published)",
        );
    }
    said.push("the label and the safety sheet of the product in hand come first");
    said.into_iter().map(str::to_owned).collect()
}
