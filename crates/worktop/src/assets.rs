//! Scripts and styles, inside the program, under a name made of their content: a browser may keep
//! them for ever, and a new program brings a new name.

use axum::extract::Path;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use rust_embed::RustEmbed;
use sha2::{Digest, Sha256};
use std::sync::LazyLock;

#[derive(RustEmbed)]
#[folder = "assets/"]
#[include = "css/*"]
#[include = "js/*"]
#[include = "icons/*"]
#[exclude = "*.d.ts"]
struct Files;

/// One name for all of them: relative imports between modules keep working.
static CONTENT: LazyLock<String> = LazyLock::new(|| {
    let mut names: Vec<_> = Files::iter().collect();
    names.sort_unstable();
    let mut hash = Sha256::new();
    for name in names {
        hash.update(name.as_bytes());
        hash.update(Files::get(&name).map(|f| f.data).unwrap_or_default());
    }
    hash.finalize().iter().take(8).map(|b| format!("{b:02x}")).collect()
});

/// Where `file` is found.
pub(crate) fn href(file: &str) -> String {
    format!("/assets/{}/{file}", *CONTENT)
}

/// `GET /assets/{content}/{*file}`
pub(crate) async fn serve(Path((content, file)): Path<(String, String)>) -> Response {
    let Some(found) = Files::get(&file).filter(|_| content == *CONTENT) else {
        return (StatusCode::NOT_FOUND, "there is no such file").into_response();
    };
    let kind = mime_guess::from_path(&file).first_or_octet_stream();
    let headers = [
        (header::CONTENT_TYPE, kind.as_ref().to_owned()),
        (header::CACHE_CONTROL, "public, max-age=31536000, immutable".to_owned()),
    ];
    (headers, found.data).into_response()
}
