//! Who sits at this device: a name for the ledger, asked once and kept in a cookie.

use crate::pages::encoded;
use axum::extract::FromRequestParts;
use axum::http::request::Parts;
use axum::http::{HeaderMap, HeaderValue, header};
use axum::response::Response;
use maud::{Markup, html};
use std::convert::Infallible;

/// Longest name that is kept.
const MOST_LETTERS: usize = 60;

/// Who sits at this device; empty if nobody said.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Who(pub(crate) String);

impl Who {
    /// From the cookies of a request.
    pub(crate) fn of(headers: &HeaderMap) -> Who {
        Who(cookie(headers, "who").map(|v| decoded(&v)).unwrap_or_default())
    }

    /// The field of a form that asks for it.
    pub(crate) fn field(&self) -> Markup {
        html! {
            div.field {
                label for="who" { "Who" }
                input id="who" name="who" value=(self.0) maxlength=(MOST_LETTERS) autocomplete="name";
                p.hint { "Stands beside it in the ledger. Remembered on this device; may stay empty." }
            }
        }
    }

    /// An answer that makes the device remember it, if it is another than before.
    pub(crate) fn remember(name: &str, before: &Who, mut response: Response) -> Response {
        let name: String = name.trim().chars().take(MOST_LETTERS).collect();
        if name == before.0 {
            return response;
        }
        let value = encoded(&name);
        let kept = format!("who={value}; Path=/; Max-Age=31536000; SameSite=Strict; HttpOnly");
        if let Ok(kept) = HeaderValue::from_str(&kept) {
            response.headers_mut().append(header::SET_COOKIE, kept);
        }
        response
    }
}

impl<S: Send + Sync> FromRequestParts<S> for Who {
    type Rejection = Infallible;

    async fn from_request_parts(parts: &mut Parts, _: &S) -> Result<Who, Infallible> {
        Ok(Who::of(&parts.headers))
    }
}

/// A cookie by its name.
pub(crate) fn cookie(headers: &HeaderMap, name: &str) -> Option<String> {
    let all = headers.get_all(header::COOKIE).iter().filter_map(|v| v.to_str().ok());
    all.flat_map(|c| c.split(';'))
        .filter_map(|c| c.trim().split_once('='))
        .find_map(|(n, v)| (n == name).then(|| v.to_owned()))
}

/// Text from a query or cookie; what is no such text stays as it is.
pub(crate) fn decoded(text: &str) -> String {
    let mut bytes = vec![];
    let mut rest = text.as_bytes();
    while let [first, after @ ..] = rest {
        let byte = match (first, after) {
            (b'%', [a, b, ..]) => {
                let digit = |d: &u8| char::from(*d).to_digit(16);
                digit(a).zip(digit(b)).and_then(|(a, b)| u8::try_from(a * 16 + b).ok())
            }
            _ => None,
        };
        rest = if byte.is_some() { &after[2..] } else { after };
        bytes.push(byte.unwrap_or(*first));
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_comes_back_from_its_cookie() {
        for name in ["Mira", "Åsa & Örn; =%41", "%"] {
            let value = encoded(name);
            let mut headers = HeaderMap::new();
            let sent = format!("look=dark; who={value}");
            headers.insert(header::COOKIE, HeaderValue::from_str(&sent).unwrap());
            assert_eq!(Who::of(&headers).0, name);
        }
    }
}
