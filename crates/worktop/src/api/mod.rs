//! The same as JSON: everything the page does, for programs.

use crate::problem::Problem;
use crate::state::State;
use axum::Router;

/// Every operation.
pub(crate) fn router() -> Router<State> {
    Router::new().fallback(|| async { Problem::missing("operation") })
}
