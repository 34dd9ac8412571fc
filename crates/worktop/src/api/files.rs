//! A piece as a file for other programs.

use super::extract::{Asked, At};
use super::operation::Operation;
use crate::pages::files::piece_file;
use crate::problem::Problem;
use crate::state::State;
use app::files::FileSort;
use axum::extract::State as Ask;
use axum::response::Response;
use schemars::JsonSchema;
use serde::Deserialize;
use shop::DocumentId;
use std::collections::BTreeSet;

pub(super) fn operations() -> Vec<Operation> {
    vec![
        Operation::get(
            "/orders/{order}/pieces/{piece}/files/{sort}",
            "piece_file",
            "A laid piece as a file for other programs.",
            file,
        )
        .asks::<Fine>()
        .gives_file(media_types()),
    ]
}

/// How fine a picture is wanted.
#[derive(Deserialize, JsonSchema)]
struct Fine {
    /// Pixels to an inch, for the sort `png`; enough to tell the stones if it is left out.
    #[schemars(example = 150)]
    dpi: Option<u32>,
}

async fn file(
    Ask(state): Ask<State>,
    At((id, number, sort)): At<(i64, usize, String)>,
    Asked(fine): Asked<Fine>,
) -> Result<Response, Problem> {
    piece_file(&state, DocumentId(id), number, &sort, fine.dpi).await
}

/// The media types of all sorts of files, each once.
fn media_types() -> Vec<&'static str> {
    let all: BTreeSet<_> = FileSort::ALL.into_iter().map(FileSort::media_type).collect();
    all.into_iter().collect()
}
