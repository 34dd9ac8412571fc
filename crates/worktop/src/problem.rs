//! What is told when something cannot be done: a page for people, `application/problem+json`
//! (RFC 9457) for programs.

use crate::view::Shell;
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use maud::html;
use schemars::JsonSchema;
use serde::Serialize;

/// The media type of RFC 9457.
pub(crate) const MEDIA_TYPE: &str = "application/problem+json";

/// Something that could not be done, in words for people, after RFC 9457.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Problem {
    /// What sort of problem it is, as a reference that stays the same: `about:blank`, or
    /// `/problems/NAME`.
    #[serde(rename = "type")]
    pub kind: String,
    /// The HTTP status.
    pub status: u16,
    /// What is wrong.
    pub title: String,
    /// What to do about it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub detail: Option<String>,
    /// Each place that is wrong, if there are such places.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub faults: Vec<FaultAt>,
}

/// One thing that is wrong, and where.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct FaultAt {
    /// The path of the key in the document, `piece.1.zone.1.spacing`, if it is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub path: Option<String>,
    /// The place in words.
    pub place: String,
    /// What is wrong.
    pub text: String,
    /// What would be right.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hint: Option<String>,
}

impl Problem {
    /// A problem of this status.
    pub(crate) fn new(status: StatusCode, title: impl Into<String>) -> Problem {
        Problem {
            kind: "about:blank".to_owned(),
            status: status.as_u16(),
            title: title.into(),
            detail: None,
            faults: vec![],
        }
    }

    /// With what to do about it.
    pub(crate) fn hint(self, detail: impl Into<String>) -> Problem {
        Problem { detail: Some(detail.into()), ..self }
    }

    /// Of this sort, for programs that tell them apart.
    pub(crate) fn of_kind(self, name: &str) -> Problem {
        Problem { kind: format!("/problems/{name}"), ..self }
    }

    /// What was asked for is not there.
    pub(crate) fn missing(what: &str) -> Problem {
        Problem::new(StatusCode::NOT_FOUND, format!("there is no such {what}"))
            .hint("it may have been removed; the list of orders shows what there is")
    }

    /// What was sent cannot be taken as it is.
    pub(crate) fn unfit(title: impl Into<String>) -> Problem {
        Problem::new(StatusCode::UNPROCESSABLE_ENTITY, title)
    }

    /// A defect of ours.
    pub(crate) fn ours() -> Problem {
        Problem::new(StatusCode::INTERNAL_SERVER_ERROR, "this should not have happened")
            .hint("nothing was changed; go back and try once more, and tell us what you did")
    }

    /// Its status.
    pub(crate) fn status(&self) -> StatusCode {
        StatusCode::from_u16(self.status).unwrap_or(StatusCode::INTERNAL_SERVER_ERROR)
    }

    /// The page that says so.
    pub(crate) fn page(&self, shell: &Shell) -> Response {
        let body = html! {
            div.narrow {
                h1 { (sentence(&self.title)) }
                @if let Some(detail) = &self.detail { p.lead { (sentence(detail)) "." } }
                @if !self.faults.is_empty() {
                    ul.faults {
                        @for fault in &self.faults {
                            li {
                                @if !fault.place.is_empty() { strong { (fault.place) ": " } }
                                (fault.text)
                                @if let Some(hint) = &fault.hint { span.hint { " " (hint) } }
                            }
                        }
                    }
                }
                p { a.button href="/" { "To the orders" } }
            }
        };
        (self.status(), shell.page(&sentence(&self.title), None, &body)).into_response()
    }
}

impl IntoResponse for Problem {
    fn into_response(self) -> Response {
        let body = serde_json::to_vec(&self).unwrap_or_default();
        let mut response = (self.status(), body).into_response();
        let kind = HeaderValue::from_static(MEDIA_TYPE);
        response.headers_mut().insert(header::CONTENT_TYPE, kind);
        // Routes for people turn it into a page on the way out.
        response.extensions_mut().insert(self);
        response
    }
}

/// A message as a sentence: messages begin in lower case.
pub(crate) fn sentence(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |c| c.to_uppercase().collect::<String>() + chars.as_str())
}

impl From<desk::DeskError> for Problem {
    fn from(error: desk::DeskError) -> Problem {
        Problem::from(&error)
    }
}

impl From<&desk::DeskError> for Problem {
    fn from(error: &desk::DeskError) -> Problem {
        use desk::DeskError as E;
        let status = match error {
            E::Shop(shop) => return Problem::from_shop(shop),
            E::Missing(what) => return Problem::missing(what),
            E::Ours(_) => return Problem::ours(),
            E::Stopped | E::Meanwhile { .. } => StatusCode::CONFLICT,
            E::Refused(_) | E::Edit(_) | E::Plan(_) | E::Unfit { .. } => {
                StatusCode::UNPROCESSABLE_ENTITY
            }
        };
        let mut problem = Problem::new(status, error.to_string());
        problem.detail = error.hint();
        match error {
            E::Meanwhile { .. } => problem = problem.of_kind("changed-meanwhile"),
            E::Refused(faults) => {
                problem.faults = faults.iter().cloned().map(FaultAt::from).collect();
            }
            E::Edit(edit) => {
                problem.faults = vec![FaultAt {
                    path: Some(edit.path.to_string()),
                    place: String::new(),
                    text: edit.text.clone(),
                    hint: Some(edit.hint.clone()).filter(|h| !h.is_empty()),
                }];
            }
            _ => {}
        }
        problem
    }
}

impl From<app::edit::FieldFault> for FaultAt {
    fn from(fault: app::edit::FieldFault) -> FaultAt {
        FaultAt {
            path: fault.path.map(|p| p.to_string()),
            place: fault.place,
            text: fault.text,
            hint: fault.hint,
        }
    }
}

impl From<shop::ShopError> for Problem {
    fn from(error: shop::ShopError) -> Problem {
        Problem::from_shop(&error)
    }
}

impl Problem {
    fn from_shop(error: &shop::ShopError) -> Problem {
        use shop::ShopError as E;
        let status = match error {
            E::Unknown { what, .. } => return Problem::missing(what),
            E::HeadMoved { .. }
            | E::Taken { .. }
            | E::WorkshopTaken { .. }
            | E::NotDemo { .. }
            | E::SettingClosed { .. }
            | E::NonceReused { .. }
            | E::NotHeld { .. }
            | E::Exists { .. } => StatusCode::CONFLICT,
            E::BadValue { .. } => StatusCode::UNPROCESSABLE_ENTITY,
            E::DiskFull { .. } => StatusCode::INSUFFICIENT_STORAGE,
            _ => StatusCode::SERVICE_UNAVAILABLE,
        };
        let problem = Problem::new(status, error.to_string()).hint(error.hint());
        match error {
            E::HeadMoved { .. } => problem.of_kind("changed-meanwhile"),
            _ => problem,
        }
    }
}
