//! The shelf: what is written once, what is told of mistakes, tables, weighing, names.

use crate::{Worktop, form};
use axum::body::Body;
use axum::http::{Request, StatusCode, header};
use shop::LedgerPage;

const GLASS: &str = "/shelf/stones/sea%20glass";

fn on_hand(worktop: &Worktop, stone: &str, lot: &str) -> i64 {
    let stock = worktop.desk.shop().stock(true).unwrap();
    stock.iter().find(|s| s.stone == stone && s.lot == lot).map_or(0, |s| s.on_hand)
}

fn lines(worktop: &Worktop, stone: &str) -> usize {
    let page = LedgerPage { stone: Some(stone), limit: 1000, ..LedgerPage::default() };
    worktop.desk.shop().ledger(&page).unwrap().len()
}

#[tokio::test]
async fn an_empty_shelf_says_what_to_do() {
    let worktop = Worktop::new();
    let page = worktop.get("/shelf").await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text.contains("Nothing on the shelf yet") && page.text.contains("/shelf/new"));
}

#[tokio::test]
async fn every_kind_of_the_workshop_stands_on_the_shelf_with_its_mark() {
    let worktop = Worktop::with_demo();
    let page = worktop.get("/shelf").await;
    assert!(page.text.contains("sea glass") && page.text.contains("SS16"), "{}", page.text);
    assert!(page.text.contains("class=\"letters\">A<"));
    let found = worktop.get("/shelf?search=ss16").await;
    assert!(found.text.contains("sea glass") && !found.text.contains(">coral<"));
    let none = worktop.get("/shelf?search=granite").await;
    assert!(none.text.contains("No stones are found"));
}

#[tokio::test]
async fn a_form_sent_twice_writes_once() {
    let worktop = Worktop::with_demo();
    let before = on_hand(&worktop, "sea glass", "B12");
    let n = lines(&worktop, "sea glass");
    let page = worktop.get(GLASS).await;
    let nonce = page.hidden("<summary>Received", "nonce");
    let fields = [
        ("nonce", nonce.as_str()),
        ("what", "received"),
        ("stone", "sea glass"),
        ("amount", "2"),
        ("unit", "packs"),
        ("lot", "B12"),
        ("unit_price", "0,004"),
        ("supplier", "harbour beads"),
        ("who", "Mira & co"),
        ("why", "for the lanterns"),
    ];
    for _ in 0..2 {
        let done = worktop.post("/shelf/moves", &fields).await;
        assert!(done.to().starts_with(GLASS));
        let cookie = done.headers[header::SET_COOKIE].to_str().unwrap();
        assert!(cookie.starts_with("who=Mira%20%26%20co;"), "{cookie}");
    }
    assert_eq!(on_hand(&worktop, "sea glass", "B12"), before + 2 * 1440);
    assert_eq!(lines(&worktop, "sea glass"), n + 1);
    let page = worktop.get(GLASS).await;
    assert!(page.text.contains("Mira &amp; co") && page.text.contains("for the lanterns"));
    assert!(page.text.contains("from harbour beads") && page.text.contains("at 0.004 each"));
}

#[tokio::test]
async fn a_mistake_is_named_and_what_was_typed_is_kept() {
    let worktop = Worktop::with_demo();
    let n = lines(&worktop, "sea glass");
    let fields = [
        ("nonce", "one"),
        ("what", "counted"),
        ("stone", "sea glass"),
        ("amount", "a few"),
        ("why", "spring clean"),
    ];
    let again = worktop.post("/shelf/moves", &fields).await;
    assert_eq!(again.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(again.text.contains("`a few`") && again.text.contains("value=\"spring clean\""));
    // The same form, mended, is the same move.
    assert_eq!(again.hidden("<summary>Counted", "nonce"), "one");
    assert_eq!(lines(&worktop, "sea glass"), n);
    let unknown = worktop
        .post(
            "/shelf/moves",
            &[("nonce", "two"), ("what", "counted"), ("stone", "granite"), ("amount", "3")],
        )
        .await;
    assert_eq!(unknown.status, StatusCode::NOT_FOUND);
    assert!(!worktop.desk.shop().stones().unwrap().contains(&"granite".to_owned()));
}

#[tokio::test]
async fn more_than_is_held_is_not_released() {
    let worktop = Worktop::with_demo();
    let order = worktop.desk.demo().unwrap().unwrap().id.to_string();
    let field = |what| {
        [
            ("nonce", what),
            ("what", what),
            ("stone", "sea glass"),
            ("amount", "7"),
            ("lot", "Z"),
            ("order", order.as_str()),
        ]
    };
    let refused = worktop.post("/shelf/moves", &field("released")).await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    assert!(refused.text.contains("only 0 are held"), "{}", refused.text);
    worktop.post("/shelf/moves", &field("reserved")).await.to();
    worktop.post("/shelf/moves", &field("released")).await.to();
}

#[tokio::test]
async fn a_level_makes_a_stone_run_short() {
    let worktop = Worktop::new();
    worktop
        .post("/shelf/stones", &[("name", "tin"), ("size", "4 mm"), ("colour", "#808080")])
        .await
        .to();
    worktop.post("/shelf/stones/tin/level", &[("level", "50")]).await.to();
    let page = worktop.get("/shelf?short=yes").await;
    assert!(page.text.contains("50 short"), "{}", page.text);
    let fields = [("nonce", "n"), ("what", "counted"), ("stone", "tin"), ("amount", "60")];
    worktop.post("/shelf/moves", &fields).await.to();
    assert!(worktop.get("/shelf?short=yes").await.text.contains("No stones are found"));
    let bad = worktop.post("/shelf/stones/tin/level", &[("level", "many")]).await;
    assert_eq!(bad.status, StatusCode::UNPROCESSABLE_ENTITY);
}

#[tokio::test]
async fn a_heap_is_weighed_and_taken_as_counted() {
    let worktop = Worktop::with_demo();
    let fields = [
        ("stones1", "100"),
        ("shown1", "13.6 g"),
        ("heap", "30 g"),
        ("dish", "10 g"),
        ("step", "0.01 g"),
    ];
    let weighed = worktop.post("/shelf/stones/sea%20glass/weigh", &fields).await;
    // One weighs 0.036 g; 20 g are 555.6 of them.
    assert!(weighed.text.contains("<strong>556 stones</strong>"), "{}", weighed.text);
    assert!(weighed.text.contains("One weighs 36 mg"));
    let nonce = weighed.hidden("stones</strong>", "nonce");
    let amount = weighed.hidden("stones</strong>", "amount");
    let taken = [
        ("nonce", nonce.as_str()),
        ("what", "counted"),
        ("stone", "sea glass"),
        ("amount", amount.as_str()),
        ("lot", "W1"),
    ];
    worktop.post("/shelf/moves", &taken).await.to();
    assert_eq!(on_hand(&worktop, "sea glass", "W1"), 556);
    let wrong = worktop
        .post("/shelf/stones/sea%20glass/weigh", &[("stones1", "some"), ("heap", "3")])
        .await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(wrong.text.contains("`some`") && wrong.text.contains("value=\"some\""));
}

#[tokio::test]
async fn a_renamed_stone_takes_its_ledger_along_and_orders_keep_their_name() {
    let worktop = Worktop::with_demo();
    let before: i64 = on_shelf(&worktop, "sea glass");
    assert!(before > 0);
    let page = worktop.get(GLASS).await;
    let from = page.hidden("<summary>Another name", "from");
    let taken = worktop
        .post("/shelf/stones/sea%20glass/rename", &[("from", &from), ("name", "coral")])
        .await;
    assert_eq!(taken.status, StatusCode::UNPROCESSABLE_ENTITY);
    let done = worktop
        .post("/shelf/stones/sea%20glass/rename", &[("from", &from), ("name", "pier glass")])
        .await;
    assert!(done.to().contains("pier%20glass"));
    assert_eq!(on_shelf(&worktop, "pier glass"), before);
    assert_eq!(worktop.get(GLASS).await.status, StatusCode::NOT_FOUND);
    let demo = worktop.desk.open(worktop.desk.demo().unwrap().unwrap().id).unwrap();
    assert!(demo.order.kinds.iter().any(|k| k.kind.name == "sea glass"));
}

fn on_shelf(worktop: &Worktop, stone: &str) -> i64 {
    let stock = worktop.desk.shop().stock(true).unwrap();
    stock.iter().filter(|s| s.stone == stone).map(|s| s.on_hand).sum()
}

fn upload_request(table: &str) -> Request<Body> {
    let body = format!(
        "--cut\r\nContent-Disposition: form-data; name=\"table\"; filename=\"shelf.csv\"\r\n\r\n{table}\r\n--cut--\r\n"
    );
    let mut request = form("/shelf/table").body(Body::from(body)).unwrap();
    let kind = "multipart/form-data; boundary=cut".parse().unwrap();
    request.headers_mut().insert(header::CONTENT_TYPE, kind);
    request
}

#[tokio::test]
async fn the_shelf_goes_out_as_a_table_and_comes_back_as_a_count() {
    let worktop = Worktop::with_demo();
    let table = worktop.get("/shelf/shelf.csv").await.text;
    assert!(table.starts_with("kind,stones,lot,reserved,price\n"), "{table}");
    let n = lines(&worktop, "coral");
    let preview = worktop.ask(upload_request("kind;stones;lot\nCoral;12;T9\n")).await;
    assert_eq!(preview.status, StatusCode::OK, "{}", preview.text);
    assert!(preview.text.contains("T9") && lines(&worktop, "coral") == n, "nothing is written yet");
    let nonce = preview.hidden("/shelf/table/take", "nonce");
    for _ in 0..2 {
        let fields = [
            ("nonce", nonce.as_str()),
            ("name", "shelf.csv"),
            ("table", "kind;stones;lot\nCoral;12;T9\n"),
            ("who", ""),
        ];
        worktop.post("/shelf/table/take", &fields).await.to();
    }
    assert_eq!((on_hand(&worktop, "coral", "T9"), lines(&worktop, "coral")), (12, n + 1));
    // What we write we read, and it changes nothing.
    let rows = worktop.desk.read_shelf_table("shelf.csv", table.as_bytes()).unwrap();
    assert!(!rows.is_empty() && rows.iter().all(|r| r.before == r.stones));
}

#[tokio::test]
async fn mistakes_of_a_table_are_named_line_by_line() {
    let worktop = Worktop::with_demo();
    let refused = worktop.ask(upload_request("kind,stones\ncoral,3\ncorall,4\nfoam,many\n")).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        refused.text.contains("line 3, kind") && refused.text.contains("did you mean `coral`?"),
        "{}",
        refused.text
    );
    assert!(refused.text.contains("line 4, stones") && refused.text.contains("`many`"));
}

#[tokio::test]
async fn the_ledger_is_read_page_by_page() {
    let worktop = Worktop::with_demo();
    for i in 0..60 {
        let nonce = format!("n{i}");
        let amount = (100 + i).to_string();
        let fields = [
            ("nonce", nonce.as_str()),
            ("what", "counted"),
            ("stone", "foam"),
            ("amount", &amount),
            ("lot", "L"),
        ];
        worktop.post("/shelf/moves", &fields).await.to();
    }
    let first = worktop.get("/shelf/ledger").await.text;
    let at = first.find("/shelf/ledger?before=").expect("older lines are offered");
    let older = first[at..].split('"').next().unwrap();
    let second = worktop.get(older).await.text;
    assert!(first.contains(">159<") && !first.contains(">105<"), "{first}");
    assert!(second.contains(">105<") && !second.contains(">159<"));
}

#[tokio::test]
async fn keys_of_a_stone_are_changed_on_its_page_and_mistakes_come_back_to_it() {
    let worktop = Worktop::with_demo();
    let page = worktop.get(GLASS).await;
    let workshop = worktop.desk.workshop().unwrap();
    let path = format!("/orders/{}/change", workshop.document.id);
    let from = page.hidden("class=\"card\" method=\"post\" action=\"/orders/", "from");
    let fields = [
        ("from", from.as_str()),
        ("page", GLASS),
        ("kind.1.size", "SS999"),
        ("kind.1.pack", "1440"),
    ];
    let again = worktop.post(&path, &fields).await;
    assert_eq!(again.status, StatusCode::UNPROCESSABLE_ENTITY, "{}", again.text);
    assert!(again.text.contains("SS999") && again.text.contains("About the stone"));
    let fields = [
        ("from", from.as_str()),
        ("page", GLASS),
        ("kind.1.size", "SS18"),
        ("kind.1.pack", "1440"),
    ];
    worktop.post(&path, &fields).await.to();
    assert_eq!(worktop.desk.shelf_stone("sea glass").unwrap().known.unwrap().size, "SS18");
}
