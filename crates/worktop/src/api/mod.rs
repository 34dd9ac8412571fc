//! The same as JSON: everything the page does, for programs.
//!
//! An operation is declared once: its route, its words, its types. The router and the OpenAPI
//! document are made from the same list, so that neither can know what the other does not.
//!
//! | need | item |
//! |---|---|
//! | the description | [`document`] |
//! | one operation | `Operation` |
//! | what comes in | `Body`, `At`, `Asked` |

mod bench;
mod buying;
mod described;
mod extract;
mod fields;
mod files;
mod operation;
mod orders;
mod papers;
mod pieces;
mod plans;
mod quotes;
mod shared;
mod shelf;
mod shown;
mod stones;

pub use described::document;

use crate::problem::Problem;
use crate::state::State;
use axum::Router;
use axum::http::StatusCode;
use axum::routing::get;
use operation::Operation;

/// Every operation.
fn operations() -> Vec<Operation> {
    let rooms = [
        orders::operations(),
        pieces::operations(),
        fields::operations(),
        files::operations(),
        plans::operations(),
        buying::operations(),
        quotes::operations(),
        papers::operations(),
        shelf::operations(),
        stones::operations(),
        bench::operations(),
        shared::operations(),
    ];
    rooms.into_iter().flatten().collect()
}

/// The names of the operations that do something.
#[cfg(test)]
pub(crate) fn names_of_posts() -> std::collections::BTreeSet<&'static str> {
    operations().iter().filter(|o| o.method == axum::http::Method::POST).map(|o| o.id).collect()
}

/// Every operation's route, and the description of them all.
pub(crate) fn router() -> Router<State> {
    let mut router = Router::new();
    for operation in operations() {
        router = router.route(operation.path, operation.route);
    }
    router
        .route("/openapi.json", get(|| async { axum::Json(document()) }))
        .method_not_allowed_fallback(|| async {
            Problem::new(
                StatusCode::METHOD_NOT_ALLOWED,
                "this operation is not there for this method",
            )
            .hint("look into /api/openapi.json")
        })
        .fallback(|| async { Problem::missing("operation").hint("look into /api/openapi.json") })
}
