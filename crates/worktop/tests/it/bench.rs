//! A copy set through the forms of the bench, as a browser without script sends them.

use axum::body::{Body, to_bytes};
use axum::http::{Request, StatusCode, header};
use desk::{Bundle, Desk};
use jiff::tz::TimeZone;
use shop::{DocumentId, Moved, NewEntry, Opening, Shop};
use std::path::Path;
use std::sync::Arc;
use tower::ServiceExt;
use worktop::{State, router};

const PORT: u16 = 7912;

/// A small badge: some rows of one kind, on a clear blank.
const ORDER: &str = r##"
stonelay = 1
order = "Lantern badges"

[[kind]]
name = "sea glass"
size = "SS16"
colour = "#2a9d8f"

[[adhesive]]
name = "clear gel"
sort = "solvent gel"
open = "10 min"

[workshop]
wage = "18.00"

[price]
currency = "EUR"

[[piece]]
name = "badge"
quantity = 3
margin = "0.5 mm"
blank = { shape = "rectangle", width = "24 mm", height = "12 mm" }
adhesive = "clear gel"
base = "acrylic"
arrangement = "honeycomb"
mix = "sea glass"
"##;

struct Bench {
    state: State,
    desk: Arc<Desk>,
}

impl Bench {
    fn open(path: &Path) -> Bench {
        let opening = Opening::default();
        let clock = Arc::clone(&opening.clock);
        let shop = Arc::new(Shop::open(path, opening).unwrap());
        let desk = Arc::new(Desk::new(shop, clock, TimeZone::UTC).unwrap());
        Bench { state: State::local(Arc::clone(&desk), PORT), desk }
    }

    /// With the order in it, and stones on the shelf.
    fn with_order(path: &Path) -> (Bench, DocumentId) {
        let bench = Bench::open(path);
        let opened = bench.desk.import(&Bundle { text: ORDER.to_owned(), files: vec![] }).unwrap();
        let line = |lot: &str, stones| NewEntry {
            nonce: format!("came-{lot}"),
            what: Moved::Received,
            stone: "sea glass".to_owned(),
            lot: lot.to_owned(),
            stones,
            unit_price: Some("0.05".parse().unwrap()),
            supplier: None,
            order: None,
            piece: None,
            who: String::new(),
            why: String::new(),
        };
        bench.desk.shop().write(&[line("L1", 100), line("L2", 900)]).unwrap();
        (bench, opened.document.id)
    }

    async fn ask(&self, request: Request<Body>) -> (StatusCode, String, String) {
        let response = router(&self.state).oneshot(request).await.unwrap();
        let to = response.headers().get(header::LOCATION);
        let to = to.map(|v| v.to_str().unwrap().to_owned()).unwrap_or_default();
        let status = response.status();
        let body = to_bytes(response.into_body(), 16 << 20).await.unwrap();
        (status, to, String::from_utf8(body.to_vec()).unwrap())
    }

    async fn get(&self, path: &str) -> String {
        let request = Request::get(path).header("host", format!("127.0.0.1:{PORT}"));
        let (status, _, body) = self.ask(request.body(Body::empty()).unwrap()).await;
        assert_eq!(status, StatusCode::OK, "{path}: {body}");
        body
    }

    async fn post(&self, path: &str, fields: &[(&str, &str)]) -> (StatusCode, String, String) {
        let body: Vec<String> =
            fields.iter().map(|(k, v)| format!("{}={}", encoded(k), encoded(v))).collect();
        let request = Request::post(path)
            .header("host", format!("127.0.0.1:{PORT}"))
            .header("content-type", "application/x-www-form-urlencoded");
        self.ask(request.body(Body::from(body.join("&"))).unwrap()).await
    }

    async fn begin(
        &self,
        order: DocumentId,
        first: &str,
        last: &str,
    ) -> (StatusCode, String, String) {
        let page = self.get(&format!("/orders/{order}/set")).await;
        let from = hidden(&page, "from");
        let nonce = hidden(&page, "nonce");
        let fields = [
            ("nonce", nonce.as_str()),
            ("from", &from),
            ("number", "1"),
            ("first", first),
            ("last", last),
            ("lot sea glass", "L2"),
        ];
        self.post(&format!("/orders/{order}/set"), &fields).await
    }

    /// Presses what the page shows, and gives the page that follows.
    async fn press(&self, bench: &str, act: &str, more: &[(&str, &str)]) -> String {
        let page = self.get(bench).await;
        let sent = step(&page);
        let mut fields: Vec<(&str, &str)> =
            sent.iter().map(|(k, v)| (k.as_str(), v.as_str())).collect();
        fields.push(("act", act));
        fields.extend(more);
        let (status, to, body) = self.post(&format!("{bench}/press"), &fields).await;
        assert_eq!((status, to.as_str()), (StatusCode::SEE_OTHER, bench), "{body}");
        self.get(bench).await
    }

    fn on_shelf(&self, lot: &str) -> i64 {
        let stock = self.desk.shop().stock(true).unwrap();
        stock.iter().find(|s| s.lot == lot).unwrap().on_hand
    }
}

fn encoded(text: &str) -> String {
    text.bytes()
        .map(|b| {
            if b.is_ascii_alphanumeric() { char::from(b).to_string() } else { format!("%{b:02X}") }
        })
        .collect()
}

/// The value of the first hidden field of this name.
fn hidden(page: &str, name: &str) -> String {
    let field = format!("name=\"{name}\" value=\"");
    let at = page.find(&field).unwrap_or_else(|| panic!("no `{name}` in {page}")) + field.len();
    page[at..].split('"').next().unwrap().to_owned()
}

/// What the page's forms send along.
fn step(page: &str) -> Vec<(String, String)> {
    let all = ["nonce", "copy", "stretch", "row"];
    let there = all.iter().filter(|n| page.contains(&format!("name=\"{n}\" value=\"")));
    there.map(|n| ((*n).to_owned(), hidden(page, n))).collect()
}

/// The step that a page shows.
fn shown(page: &str) -> String {
    let at = page.find("data-step=\"").unwrap() + "data-step=\"".len();
    page[at..].split('"').next().unwrap().to_owned()
}

#[tokio::test]
async fn a_copy_is_set_through_the_forms_and_its_stones_leave_the_shelf() {
    let dir = tempfile::tempdir().unwrap();
    let (bench, order) = Bench::with_order(&dir.path().join("shop.db"));
    let (status, at, body) = bench.begin(order, "1", "2").await;
    assert_eq!(status, StatusCode::SEE_OTHER, "{body}");
    let page = bench.get(&at).await;
    assert!(page.contains("copy 1 of 3"), "{page}");
    assert!(page.contains("Glue is on") && page.contains("no glue open"));
    let page = bench.press(&at, "glue", &[]).await;
    assert!(page.contains("of open time left"), "{page}");
    let setting = shop::SettingId(at.rsplit('/').next().unwrap().parse().unwrap());
    let stones = bench.desk.at_bench(setting).unwrap().frozen.stones.kind.len() as i64;
    let mut page = bench.press(&at, "lost", &[("kind", "sea glass"), ("stones", "2")]).await;
    assert_eq!(bench.on_shelf("L2"), 898, "a lost stone leaves the shelf at once");
    let mut rows = 0;
    while !page.contains("every row is set, look") {
        page = bench.press(&at, "done", &[]).await;
        rows += 1;
        assert!(rows < 100, "{page}");
    }
    assert!(rows >= 2);
    assert_eq!(bench.on_shelf("L2"), 898, "stones leave the shelf when the copy is done");
    let page = bench.press(&at, "done", &[]).await;
    assert!(page.contains("copy 2 of 3"), "{page}");
    assert_eq!(bench.on_shelf("L2"), 898 - stones);
    assert_eq!(bench.on_shelf("L1"), 100);
    // Back over the end of the copy and done once more: its stones leave the shelf once.
    bench.press(&at, "back", &[]).await;
    bench.press(&at, "done", &[]).await;
    assert_eq!(bench.on_shelf("L2"), 898 - stones);
    assert!(bench.get("/bench").await.contains("copy 2 of 3"));
    assert!(bench.get("/bench/rates").await.contains("sea glass"));
}

#[tokio::test]
async fn the_same_press_twice_is_written_once_and_an_old_page_moves_nothing() {
    let dir = tempfile::tempdir().unwrap();
    let (bench, order) = Bench::with_order(&dir.path().join("shop.db"));
    let (_, at, _) = bench.begin(order, "1", "3").await;
    let old = step(&bench.get(&at).await);
    let mut fields: Vec<(&str, &str)> = old.iter().map(|(k, v)| (k.as_str(), v.as_str())).collect();
    fields.push(("act", "done"));
    let press = format!("{at}/press");
    assert_eq!(bench.post(&press, &fields).await.0, StatusCode::SEE_OTHER);
    let after = shown(&bench.get(&at).await);
    assert_eq!(after, "1-0-1");
    assert_eq!(bench.post(&press, &fields).await.0, StatusCode::SEE_OTHER, "acknowledged again");
    assert_eq!(shown(&bench.get(&at).await), after);
    fields[0] = ("nonce", "another tablet's");
    let (status, _, page) = bench.post(&press, &fields).await;
    assert_eq!(status, StatusCode::CONFLICT);
    assert!(
        page.contains("another device went on") || page.contains("Another device went on"),
        "{page}"
    );
    assert_eq!(shown(&page), after, "and it shows what is next");
    let setting = shop::SettingId(at.rsplit('/').next().unwrap().parse().unwrap());
    assert_eq!(bench.desk.shop().presses(setting, None).unwrap().len(), 2, "begun, and one row");
}

#[tokio::test]
async fn a_server_that_is_gone_in_the_middle_loses_nothing() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("shop.db");
    let (bench, order) = Bench::with_order(&path);
    let (_, at, _) = bench.begin(order, "2", "3").await;
    bench.press(&at, "glue", &[]).await;
    let before = shown(&bench.press(&at, "done", &[]).await);
    drop(bench);
    let bench = Bench::open(&path);
    assert_eq!(shown(&bench.get(&at).await), before);
    let fragment = bench.get(&format!("{at}?part=now")).await;
    assert!(fragment.starts_with("<div id=\"now\""), "{fragment}");
    let page = bench.press(&at, "back", &[]).await;
    assert_eq!(shown(&page), "2-0-0");
}

#[tokio::test]
async fn copies_at_the_bench_are_not_begun_twice_and_what_was_typed_stays() {
    let dir = tempfile::tempdir().unwrap();
    let (bench, order) = Bench::with_order(&dir.path().join("shop.db"));
    bench.begin(order, "1", "2").await;
    let (status, _, page) = bench.begin(order, "2", "3").await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(page.contains("copies 2 to 3") && page.contains("ake copy 3"), "{page}");
    assert!(page.contains("value=\"2\""), "what was typed stands there: {page}");
    let (status, at, _) = bench.begin(order, "3", "3").await;
    assert_eq!(status, StatusCode::SEE_OTHER);
    // Closed without a copy done, it is free again.
    bench.post(&format!("{at}/close"), &[]).await;
    assert_eq!(bench.begin(order, "3", "3").await.0, StatusCode::SEE_OTHER);
    // No press on what is closed.
    let page = bench.get(&at).await;
    assert!(page.contains("closed"), "{page}");
    let press = [("nonce", "late"), ("copy", "3"), ("stretch", "0"), ("row", "0"), ("act", "done")];
    let (status, _, body) = bench.post(&format!("{at}/press"), &press).await;
    assert_eq!(status, StatusCode::CONFLICT, "{body}");
}

#[tokio::test]
async fn a_finished_copy_is_repaired_by_a_tap_on_its_picture() {
    let dir = tempfile::tempdir().unwrap();
    let (bench, order) = Bench::with_order(&dir.path().join("shop.db"));
    let (_, at, _) = bench.begin(order, "1", "1").await;
    let mut page = bench.get(&at).await;
    for _ in 0..100 {
        if shown(&page) == "over" {
            break;
        }
        page = bench.press(&at, "done", &[]).await;
    }
    assert_eq!(shown(&page), "over");
    let left = bench.on_shelf("L2");
    let setting = at.rsplit('/').next().unwrap();
    let page = bench
        .get(&format!("/orders/{order}/repair?setting={setting}&copy=1&stones=1&at.x=30&at.y=30"))
        .await;
    assert!(
        page.contains("Stone 1") && page.contains("lot L2") && page.contains("clear gel"),
        "{page}"
    );
    // 0.05 / 0.97 + 14 min at 18.00 an hour = 4.2515…; a margin of 30 % makes 6.0736, up to the cent.
    assert!(page.contains("6.08 EUR"), "{page}");
    let fields = [
        ("nonce", "r1"),
        ("setting", setting),
        ("copy", "1"),
        ("place", "1"),
        ("stones", "1"),
        ("why", "came off"),
    ];
    for _ in 0..2 {
        let (status, _, body) = bench.post(&format!("/orders/{order}/repair"), &fields).await;
        assert_eq!(status, StatusCode::SEE_OTHER, "{body}");
    }
    assert_eq!(bench.on_shelf("L2"), left - 1, "one stone, however often it is sent");
    let page = bench.get(&format!("/orders/{order}/repair?setting={setting}&copy=1&place=1")).await;
    assert!(page.contains("came off") && page.contains("Repaired before"), "{page}");
    let page =
        bench.get(&format!("/orders/{order}/repair?setting={setting}&copy=1&place=abc")).await;
    assert!(page.contains("no place number"), "{page}");
}

#[tokio::test]
async fn pictures_say_what_is_set_and_where_the_glue_runs() {
    let dir = tempfile::tempdir().unwrap();
    let (bench, order) = Bench::with_order(&dir.path().join("shop.db"));
    let (_, at, _) = bench.begin(order, "1", "3").await;
    let whole = bench.get(&format!("{at}/picture.svg?view=whole&stretch=0&row=0")).await;
    let under = bench.get(&format!("{at}/picture.svg?view=under")).await;
    assert!(whole.starts_with("<svg") && whole.contains("#ffd23f"), "{whole}");
    assert!(under.contains("width=\"24.000mm\" height=\"12.000mm\""), "{under}");
    assert!(bench.get(&format!("{at}/board.json")).await.contains("\"stretches\""));
    assert!(bench.get(&format!("{at}/under")).await.contains("data-width-mm=\"24\""));
}
