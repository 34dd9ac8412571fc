//! Light, dark, or as the machine says.

use crate::pages::own_path;
use crate::view::Look;
use axum::Form;
use axum::http::header;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;

#[derive(Deserialize)]
pub(super) struct Chosen {
    look: String,
    #[serde(default)]
    back: String,
}

/// `POST /look`
pub(super) async fn choose(Form(chosen): Form<Chosen>) -> Response {
    let look = Look::named(&chosen.look).name();
    let cookie = format!("look={look}; Path=/; Max-Age=31536000; SameSite=Strict; HttpOnly");
    ([(header::SET_COOKIE, cookie)], Redirect::to(own_path(&chosen.back))).into_response()
}
