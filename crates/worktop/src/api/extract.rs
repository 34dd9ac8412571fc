//! What comes in, with a problem in words for what cannot be read.

use crate::problem::Problem;
use axum::Json;
use axum::extract::rejection::{JsonRejection, PathRejection, QueryRejection};
use axum::extract::{FromRequest, FromRequestParts};
use axum::http::StatusCode;

/// An answer of JSON, or why there is none.
pub(super) type Given<T> = Result<Json<T>, Problem>;

/// A JSON body.
#[derive(FromRequest)]
#[from_request(via(axum::Json), rejection(Problem))]
pub(super) struct Body<T>(pub(super) T);

/// Numbers and names in the path.
#[derive(FromRequestParts)]
#[from_request(via(axum::extract::Path), rejection(Problem))]
pub(super) struct At<T>(pub(super) T);

/// What stands behind the question mark.
#[derive(FromRequestParts)]
#[from_request(via(axum::extract::Query), rejection(Problem))]
pub(super) struct Asked<T>(pub(super) T);

impl From<JsonRejection> for Problem {
    fn from(rejection: JsonRejection) -> Problem {
        let status = match rejection.status() {
            // Well-formed or not, it is no such thing: one status for both.
            StatusCode::BAD_REQUEST => StatusCode::UNPROCESSABLE_ENTITY,
            status => status,
        };
        Problem::new(status, "the JSON that was sent cannot be read").hint(rejection.body_text())
    }
}

impl From<PathRejection> for Problem {
    fn from(_: PathRejection) -> Problem {
        Problem::missing("thing")
    }
}

impl From<QueryRejection> for Problem {
    fn from(rejection: QueryRejection) -> Problem {
        Problem::unfit("the question cannot be read").hint(rejection.body_text())
    }
}
