//! Pictures of a piece at the bench, and the same for the board.

use super::svg::{Picture, View};
use crate::pages::board::svg_response;
use crate::problem::Problem;
use crate::state::State;
use axum::Json;
use axum::extract::{Path, Query, State as Ask};
use axum::response::Response;
use desk::bench::Frozen;
use desk::{Bare, Board, Columns, KindShown, Part, StretchShown};
use serde::Deserialize;
use shop::SettingId;

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(super) struct Wanted {
    view: String,
    stretch: Option<usize>,
    row: Option<usize>,
}

/// `GET /bench/{setting}/picture.svg`
pub(super) async fn picture(
    Ask(state): Ask<State>,
    Path(setting): Path<i64>,
    Query(wanted): Query<Wanted>,
) -> Result<Response, Problem> {
    let svg = state
        .at_desk(move |desk| {
            let at = desk.at_bench(SettingId(setting))?;
            let view = match wanted.view.as_str() {
                "close" => View::Close,
                "under" => View::Under,
                "tap" => View::Tap,
                _ => View::Whole,
            };
            let row = wanted.stretch.zip(wanted.row);
            Ok::<_, desk::DeskError>(Picture { frozen: &at.frozen, at: row, view }.svg())
        })
        .await?;
    Ok(svg_response(svg))
}

/// `GET /bench/{setting}/board.json`
pub(super) async fn board(
    Ask(state): Ask<State>,
    Path(setting): Path<i64>,
) -> Result<Json<Board>, Problem> {
    let at = state.at_desk(move |desk| desk.at_bench(SettingId(setting))).await?;
    Ok(Json(shown(at.setting.revision.0, &at.frozen)))
}

/// A frozen lay as the board draws it.
fn shown(revision: i64, f: &Frozen) -> Board {
    let kind = |k: &desk::bench::FrozenKind| KindShown {
        name: k.name.clone(),
        size: k.size.clone(),
        drawn_mm: k.drawn_mm,
        colour: k.colour.clone(),
        finish: k.finish,
        mark: k.mark.clone(),
    };
    Board {
        revision,
        piece: f.piece.clone(),
        width_mm: f.width_mm,
        height_mm: f.height_mm,
        blank: Bare { colour: f.blank.colour.clone(), path: f.blank.path.clone() },
        zones: f
            .zones
            .iter()
            .map(|z| Part { name: z.name.clone(), path: z.path.clone() })
            .collect(),
        kinds: f.kinds.iter().map(kind).collect(),
        stones: Columns {
            x: f.stones.right_mm.clone(),
            y: f.stones.down_mm.clone(),
            turn_deg: f.stones.turn_deg.clone(),
            kind: f.stones.kind.clone(),
            zone: f.stones.zone.clone(),
            row: f.stones.row.clone(),
            by_hand: vec![0; f.stones.kind.len()],
        },
        bare_spots: vec![],
        zone_spots: vec![],
        stretches: f
            .stretches
            .iter()
            .map(|s| StretchShown {
                number: s.number,
                zone: f.zones.get(s.zone as usize).map(|z| z.name.clone()).unwrap_or_default(),
                order: s.rows.iter().flat_map(|r| r.places.clone()).collect(),
            })
            .collect(),
    }
}
