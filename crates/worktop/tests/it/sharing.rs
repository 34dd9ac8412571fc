//! Who is let in: by host, origin, machine, code and cookie; and what a request may weigh.

use crate::{Answer, HOST, PORT, Worktop, encoded, form};
use axum::body::Body;
use axum::extract::ConnectInfo;
use axum::http::{Request, StatusCode, header};
use std::sync::{Arc, Mutex};
use worktop::{Door, Invitation, State};

/// Where the worktop is shared, as `Host` says it.
const LAN: &str = "192.168.1.5:7878";
const TABLET: Door = Door::Shared;
const HERE: Door = Door::Own;

/// A shared worktop, and every code that it said.
fn shared() -> (Worktop, Arc<Mutex<Vec<Invitation>>>) {
    let mut worktop = Worktop::new();
    let said = Arc::new(Mutex::new(vec![]));
    let hears = Arc::clone(&said);
    let say = Arc::new(move |i: &Invitation| hears.lock().unwrap().push(i.clone()));
    let addresses = vec![LAN.parse().unwrap()];
    worktop.state = State::shared(Arc::clone(&worktop.desk), PORT, addresses, say).unwrap();
    (worktop, said)
}

/// A request by one of our addresses, called by a host, with more headers.
fn from(door: Door, mut request: Request<Body>, headers: &[(&str, &str)]) -> Request<Body> {
    for (name, value) in headers {
        let name: header::HeaderName = name.parse().unwrap();
        request.headers_mut().insert(name, value.parse().unwrap());
    }
    request.extensions_mut().insert(ConnectInfo(door));
    request
}

fn get(path: &str) -> Request<Body> {
    Request::get(path).body(Body::empty()).unwrap()
}

fn post(path: &str, fields: &[(&str, &str)]) -> Request<Body> {
    let kind = "application/x-www-form-urlencoded";
    Request::post(path)
        .header(header::CONTENT_TYPE, kind)
        .body(Body::from(encoded(fields)))
        .unwrap()
}

const OURS: (&str, &str) = ("origin", "http://192.168.1.5:7878");

/// Pairs a tablet and gives its cookie as it sends it back.
async fn paired(worktop: &Worktop) -> String {
    let code = worktop.state.invitation().unwrap().code;
    let sent = post("/pair", &[("code", &code), ("name", "bench tablet")]);
    let answer = worktop.ask(from(TABLET, sent, &[("host", LAN), OURS])).await;
    answer.to();
    let cookie = answer.headers[header::SET_COOKIE].to_str().unwrap();
    assert!(cookie.contains("HttpOnly") && cookie.contains("SameSite=Strict"), "{cookie}");
    let secret = cookie.split(';').next().unwrap();
    assert_eq!(secret.len(), "device=".len() + 64, "256 bits");
    secret.to_owned()
}

#[tokio::test]
async fn by_default_nobody_but_this_machine_is_answered() {
    let worktop = Worktop::new();
    let here = [("host", HOST)];
    assert_eq!(worktop.ask(from(HERE, get("/"), &here)).await.status, StatusCode::OK);
    for path in ["/", "/pair", "/shelf", "/api/orders"] {
        for host in [HOST, LAN] {
            let answer = worktop.ask(from(TABLET, get(path), &[("host", host)])).await;
            assert_eq!(answer.status, StatusCode::MISDIRECTED_REQUEST, "{path} at {host}");
        }
    }
}

#[tokio::test]
async fn only_our_own_names_are_answered_whatever_points_to_us() {
    let (worktop, _) = shared();
    let tablet = paired(&worktop).await;
    let cases = [
        (HERE, HOST, StatusCode::OK),
        (HERE, "localhost:7878", StatusCode::OK),
        // A name that somebody let point to this machine, and back to its own page.
        (HERE, "lantern.example:7878", StatusCode::MISDIRECTED_REQUEST),
        (HERE, "127.0.0.1:80", StatusCode::MISDIRECTED_REQUEST),
        (HERE, "127.0.0.1", StatusCode::MISDIRECTED_REQUEST),
        (TABLET, LAN, StatusCode::OK),
        (TABLET, "lantern.example:7878", StatusCode::MISDIRECTED_REQUEST),
        (TABLET, HOST, StatusCode::MISDIRECTED_REQUEST),
    ];
    for (door, host, wanted) in cases {
        let answer =
            worktop.ask(from(door, get("/"), &[("host", host), ("cookie", &tablet)])).await;
        assert_eq!(answer.status, wanted, "{host} by {door:?}");
    }
}

#[tokio::test]
async fn changes_come_from_our_own_pages_only() {
    let (worktop, _) = shared();
    let tablet = paired(&worktop).await;
    let (here, there) = (HERE, TABLET);
    let own = ("origin", "http://127.0.0.1:7878");
    type Headers = [(&'static str, &'static str)];
    let cases: &[(Door, &Headers, bool)] = &[
        (here, &[own], true),
        (here, &[], true), // a program at this machine
        (here, &[("origin", "http://lantern.example")], false),
        (here, &[("origin", "null")], false),
        (here, &[("origin", "https://127.0.0.1:7878")], false),
        (here, &[OURS], false),
        (here, &[("sec-fetch-site", "cross-site")], false),
        (here, &[("sec-fetch-site", "same-site")], false),
        (here, &[own, ("sec-fetch-site", "cross-site")], false),
        (there, &[OURS], true),
        (there, &[("sec-fetch-site", "same-origin")], true),
        // A form elsewhere that brings the cookie along but says not where it stands.
        (there, &[("sec-fetch-site", "cross-site")], false),
        (there, &[], false),
        (there, &[("origin", "null")], false),
        (there, &[("origin", "http://192.168.1.6:7878")], false),
        (there, &[own], false),
    ];
    for (door, headers, taken) in cases {
        let host = if *door == here { HOST } else { LAN };
        let mut all = vec![("host", host), ("cookie", tablet.as_str())];
        all.extend(*headers);
        let answer = worktop.ask(from(*door, post("/look", &[("look", "dark")]), &all)).await;
        let wanted = if *taken { StatusCode::SEE_OTHER } else { StatusCode::FORBIDDEN };
        assert_eq!(answer.status, wanted, "{headers:?} by {door:?}");
    }
}

#[tokio::test]
async fn a_stranger_sees_the_pairing_page_and_nothing_else() {
    let (worktop, _) = shared();
    worktop.desk.show_demo().unwrap();
    let ask = |path: &'static str, more: &'static [(&'static str, &'static str)]| {
        let mut headers = vec![("host", LAN)];
        headers.extend(more);
        worktop.ask(from(TABLET, get(path), &headers))
    };
    let forged = format!("device={}", "0".repeat(64));
    for path in ["/", "/shelf", "/share", "/orders/2", "/pairs", "/pair/x", "/workshop/work"] {
        let answer = ask(path, &[]).await;
        assert_eq!(answer.status, StatusCode::UNAUTHORIZED, "{path}");
        assert!(answer.text.contains("Pair this device first"), "{path}");
        assert!(!answer.text.contains("Harbour lantern"), "{path}");
        let with = [("host", LAN), ("cookie", forged.as_str())];
        let answer = worktop.ask(from(TABLET, get(path), &with)).await;
        assert_eq!(answer.status, StatusCode::UNAUTHORIZED, "{path} with a forged secret");
    }
    let json = ask("/orders/2", &[("accept", "application/json")]).await;
    assert_eq!(json.headers[header::CONTENT_TYPE], "application/problem+json");
    assert!(
        json.text.contains("\"type\":\"/problems/unpaired\"")
            && json.text.contains("\"status\":401")
    );
    let api = ask("/api/orders", &[]).await;
    assert_eq!(
        (api.status, &api.headers[header::CONTENT_TYPE] == "application/problem+json"),
        (StatusCode::UNAUTHORIZED, true)
    );
    let page = ask("/pair?code=123456", &[]).await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text.contains("value=\"123456\"") && page.text.contains("Pair it"));
    let sheet = page.text.split("href=\"").find(|t| t.starts_with("/assets/")).unwrap();
    let sheet = sheet.split('"').next().unwrap().to_owned();
    let asset = worktop.ask(from(TABLET, get(&sheet), &[("host", LAN)])).await;
    assert_eq!(asset.status, StatusCode::OK);
}

#[tokio::test]
async fn a_paired_device_comes_in_until_it_is_shut_out() {
    let (worktop, said) = shared();
    let first = worktop.state.invitation().unwrap().code;
    let tablet = paired(&worktop).await;
    let ask = |path: &'static str| {
        worktop.ask(from(TABLET, get(path), &[("host", LAN), ("cookie", tablet.as_str())]))
    };
    assert_eq!(ask("/").await.status, StatusCode::OK);
    assert_eq!(
        ask("/share").await.status,
        StatusCode::FORBIDDEN,
        "only this machine lets others in"
    );
    // The code is used up, and the next one was said.
    assert_eq!(said.lock().unwrap().len(), 1);
    let again = post("/pair", &[("code", &first)]);
    let again = worktop.ask(from(TABLET, again, &[("host", LAN), OURS])).await;
    assert!(
        again.status == StatusCode::FORBIDDEN || worktop.state.invitation().unwrap().code == first
    );
    // Only a hash is kept.
    let devices = worktop.desk.shop().devices().unwrap();
    assert_eq!(devices[0].name, "bench tablet");
    assert!(
        worktop.desk.shop().device_with(tablet.strip_prefix("device=").unwrap()).unwrap().is_none()
    );
    let out = format!("/share/devices/{}/out", devices[0].id);
    let here = [("host", HOST), ("origin", "http://127.0.0.1:7878")];
    worktop.ask(from(HERE, post(&out, &[]), &here)).await.to();
    assert_eq!(ask("/").await.status, StatusCode::UNAUTHORIZED);
    let page = worktop.ask(from(HERE, get("/share"), &[("host", HOST)])).await;
    assert!(page.text.contains("shut out"));
}

#[tokio::test]
async fn wrong_codes_are_refused_and_soon_nobody_may_try() {
    let (worktop, _) = shared();
    let code = worktop.state.invitation().unwrap().code;
    let wrong = if code == "111111" { "222222" } else { "111111" };
    let attempt = |code: String| {
        worktop.ask(from(
            TABLET,
            post("/pair", &[("code", &code), ("name", "x")]),
            &[("host", LAN), OURS],
        ))
    };
    for left in [4, 3, 2, 1] {
        let answer = attempt(wrong.to_owned()).await;
        assert_eq!(answer.status, StatusCode::FORBIDDEN);
        assert!(answer.text.contains(&format!("{left} more tries")), "{}", answer.text);
    }
    assert_eq!(attempt(wrong.to_owned()).await.status, StatusCode::TOO_MANY_REQUESTS);
    let right = attempt(code).await;
    assert_eq!(right.status, StatusCode::TOO_MANY_REQUESTS, "even the right one waits");
    assert!(right.headers.get(header::SET_COOKIE).is_none());
    assert!(worktop.desk.shop().devices().unwrap().is_empty());
}

#[tokio::test]
async fn pairing_is_not_there_while_the_worktop_is_not_shared() {
    let worktop = Worktop::new();
    assert_eq!(worktop.get("/pair").await.status, StatusCode::CONFLICT);
    let sent = worktop.post("/pair", &[("code", "123456")]).await;
    assert_eq!(sent.status, StatusCode::CONFLICT);
    assert!(worktop.get("/share").await.text.contains("stonelay open --share"));
}

/// What another library reads from modules given row by row, dark ones true.
fn read_back(width: usize, dark: impl Fn(usize, usize) -> bool) -> String {
    let grey = |x, y| if dark(x, y) { 0 } else { 255 };
    let mut picture = rqrr::PreparedImage::prepare_from_greyscale(width, width, grey);
    let grids = picture.detect_grids();
    assert_eq!(grids.len(), 1, "one code");
    grids[0].decode().unwrap().1
}

#[tokio::test]
async fn another_library_reads_the_code_on_the_page() {
    let (worktop, _) = shared();
    let wanted = format!("http://{LAN}/pair?code={}", worktop.state.invitation().unwrap().code);
    let page = worktop.ask(from(HERE, get("/share"), &[("host", HOST)])).await;
    let at = page.text.find("<svg xmlns=").expect("the code is drawn");
    let svg = page.text[at..].split_inclusive("</svg>").next().unwrap();
    let tree = resvg::usvg::Tree::from_str(svg, &resvg::usvg::Options::default()).unwrap();
    let size = tree.size().to_int_size();
    let mut pixels = resvg::tiny_skia::Pixmap::new(size.width(), size.height()).unwrap();
    resvg::render(&tree, resvg::tiny_skia::Transform::default(), &mut pixels.as_mut());
    let pixel = |x: usize, y: usize| pixels.pixel(x as u32, y as u32).unwrap().red() < 128;
    assert_eq!(read_back(size.width() as usize, pixel), wanted);
}

#[tokio::test]
async fn another_library_reads_the_code_on_the_terminal() {
    let (worktop, _) = shared();
    let invitation = worktop.state.invitation().unwrap();
    let blocks = invitation.blocks(&invitation.addresses[0]);
    // Full, upper and lower halves are light; what is empty is dark.
    let rows: Vec<Vec<bool>> = blocks
        .lines()
        .flat_map(|line| {
            let upper = line.chars().map(|c| !matches!(c, '█' | '▀')).collect();
            let lower = line.chars().map(|c| !matches!(c, '█' | '▄')).collect();
            [upper, lower]
        })
        .collect();
    let (scale, n) = (4, rows[0].len());
    let dark = |x: usize, y: usize| rows.get(y / scale).is_some_and(|r| r[x / scale]);
    assert_eq!(read_back(n * scale, dark), invitation.link(&invitation.addresses[0]));
}

#[tokio::test]
async fn a_body_that_is_too_large_is_refused() {
    let worktop = Worktop::new();
    let large = Body::from(vec![b'a'; 17 * 1024 * 1024]);
    let answer = worktop.ask(form("/orders").body(large).unwrap()).await;
    assert_eq!(answer.status, StatusCode::PAYLOAD_TOO_LARGE);
}

#[tokio::test(start_paused = true)]
async fn an_upload_that_stops_coming_ends() {
    let worktop = Worktop::new();
    let never = tokio_stream::pending::<Result<Vec<u8>, std::io::Error>>();
    let begun = tokio::time::Instant::now();
    let answer = worktop.ask(form("/orders").body(Body::from_stream(never)).unwrap()).await;
    assert!(answer.status.is_client_error(), "{}", answer.status);
    assert!(begun.elapsed() <= std::time::Duration::from_secs(60));
    assert!(worktop.desk.shop().documents(&shop::Asked::default()).unwrap().is_empty());
}

#[tokio::test]
async fn nothing_but_our_own_files_is_served_as_an_asset() {
    let worktop = Worktop::new();
    let page = worktop.get("/").await;
    let own = page.text.split("/assets/").nth(1).unwrap().split('/').next().unwrap().to_owned();
    for path in [
        "../Cargo.toml",
        "..%2FCargo.toml",
        "css/../../Cargo.toml",
        "css/..%2f..%2fCargo.toml",
        "/etc/passwd",
        "%2Fetc%2Fpasswd",
        "css",
        "css/",
        "js/types.d.ts",
        "css/base.css%00",
    ] {
        let answer: Answer = worktop.get(&format!("/assets/{own}/{path}")).await;
        assert_eq!(answer.status, StatusCode::NOT_FOUND, "{path}");
    }
    assert_eq!(
        worktop.get("/assets/0000000000000000/css/base.css").await.status,
        StatusCode::NOT_FOUND
    );
    assert_eq!(worktop.get(&format!("/assets/{own}/css/base.css")).await.status, StatusCode::OK);
}

fn json(path: &str, body: &str) -> Request<Body> {
    Request::post(path)
        .header(header::CONTENT_TYPE, "application/json")
        .body(Body::from(body.to_owned()))
        .unwrap()
}

fn read(answer: &Answer) -> serde_json::Value {
    assert_eq!(answer.status, StatusCode::OK, "{}", answer.text);
    serde_json::from_str(&answer.text).unwrap()
}

#[tokio::test]
async fn a_program_pairs_its_device_and_this_machine_shuts_it_out_again() {
    let (worktop, _) = shared();
    let here = |request| from(HERE, request, &[("host", HOST)]);
    let first = read(&worktop.ask(here(get("/api/share"))).await);
    assert_eq!((&first["shared"], first["devices"].as_array().unwrap().len()), (&true.into(), 0));
    let turned = read(&worktop.ask(here(json("/api/share/code", ""))).await);
    let code = turned["code"].as_str().unwrap();
    let stale = format!("{{\"code\":\"{}\"}}", first["code"].as_str().unwrap());
    if turned["code"] != first["code"] {
        let refused = worktop.ask(from(TABLET, json("/api/pair", &stale), &[("host", LAN), OURS]));
        assert_eq!(refused.await.status, StatusCode::FORBIDDEN);
    }
    let pairing = format!("{{\"code\":\"{code}\",\"name\":\"bench tablet\"}}");
    let pair = from(TABLET, json("/api/pair", &pairing), &[("host", LAN), OURS]);
    let secret = read(&worktop.ask(pair).await)["secret"].as_str().unwrap().to_owned();
    let cookie = format!("device={secret}");
    let there = |request| from(TABLET, request, &[("host", LAN), ("cookie", &cookie), OURS]);
    assert_eq!(worktop.ask(there(get("/api/orders"))).await.status, StatusCode::OK);
    for kept_here in ["/api/share", "/api/backup", "/share"] {
        assert_eq!(
            worktop.ask(there(get(kept_here))).await.status,
            StatusCode::FORBIDDEN,
            "{kept_here}"
        );
    }
    let out = read(&worktop.ask(here(json("/api/share/devices/1/out", ""))).await);
    assert!(out["devices"][0]["out_ms"].is_i64(), "{out}");
    assert_eq!(worktop.ask(there(get("/api/orders"))).await.status, StatusCode::UNAUTHORIZED);
}

#[tokio::test]
async fn a_backup_that_is_fetched_opens_with_everything_in_it() {
    let worktop = Worktop::with_demo();
    let request = Request::get("/api/backup").header(header::HOST, HOST);
    let response = worktop::router(&worktop.state);
    let answer =
        tower::ServiceExt::oneshot(response, request.body(Body::empty()).unwrap()).await.unwrap();
    assert_eq!(answer.headers()[header::CONTENT_TYPE], "application/vnd.sqlite3");
    let bytes = axum::body::to_bytes(answer.into_body(), usize::MAX).await.unwrap();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shop.db");
    std::fs::write(&path, &bytes).unwrap();
    let copy = shop::Shop::open(&path, shop::Opening::default()).unwrap();
    let shop = worktop.desk.shop();
    assert_eq!(copy.stock(true).unwrap(), shop.stock(true).unwrap());
    let order = worktop.desk.demo().unwrap().unwrap().id;
    assert_eq!(copy.head(order).unwrap(), shop.head(order).unwrap());
}
