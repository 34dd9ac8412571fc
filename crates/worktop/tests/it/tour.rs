//! The first look round.

use crate::{HOST, Worktop};
use axum::body::Body;
use axum::http::{Request, header};

#[tokio::test]
async fn the_first_look_round_goes_step_by_step_and_is_skipped_for_good() {
    let worktop = Worktop::with_demo();
    let first = worktop.get("/").await;
    assert!(first.text.contains("A first look round · 1 of 6"), "{}", first.text);
    for (step, shown) in [("1", Some("2 of 6")), ("6", None), ("99", None), ("0", Some("1 of 6"))] {
        let answer = worktop.post("/tour", &[("step", step), ("back", "/")]).await;
        let cookie = answer.headers[header::SET_COOKIE].to_str().unwrap();
        let cookie = cookie.split(';').next().unwrap().to_owned();
        let request = Request::get("/")
            .header(header::HOST, HOST)
            .header(header::COOKIE, cookie)
            .body(Body::empty())
            .unwrap();
        let page = worktop.ask(request).await;
        let round = page.text.contains("A first look round");
        assert_eq!(round, shown.is_some(), "{step}");
        assert!(shown.is_none_or(|s| page.text.contains(s)), "{step}");
    }
}
