//! Plan pages: the answer first, every figure with its formula, what is done on them.

use crate::Worktop;
use crate::orders::BADGES;
use axum::http::StatusCode;

#[tokio::test]
async fn on_every_page_the_answer_stands_before_findings_and_figures() {
    let (worktop, _, at) = Worktop::with_plan();
    for (page, title) in [
        ("buy", "Stones to buy"),
        ("glue", "Glue"),
        ("days", "Hours and days"),
        ("price", "Price"),
        ("kits", "Kits"),
    ] {
        let answer = worktop.get(&format!("{at}/{page}")).await;
        assert_eq!(answer.status, StatusCode::OK, "{page}: {}", answer.text);
        let first = answer.text.find("class=\"answer\"").expect("an answer");
        let head = answer.text.find(&format!("<h2>{title}</h2>")).expect("a heading");
        assert!(first < head, "{page}");
        assert!(
            !answer.text[..first].contains("class=\"notice"),
            "{page}: a finding before the answer"
        );
        assert!(answer.text.contains("<details class=\"why\">"), "{page}: no figure can be opened");
        assert!(answer.text.contains("Where from"), "{page}: no inputs");
        assert!(answer.text.contains("aria-current=\"page\""), "{page}");
        assert!(!answer.text.contains(" style="), "{page}: a style that the page's rules refuse");
    }
}

#[tokio::test]
async fn every_reason_of_the_plan_can_be_opened_somewhere() {
    let (worktop, opened, at) = Worktop::with_plan();
    let plan = worktop.desk.plan(&opened, &lay::Unwatched).unwrap();
    let mut all = String::new();
    for page in ["buy", "glue", "days", "price", "kits"] {
        all.push_str(&worktop.get(&format!("{at}/{page}")).await.text);
    }
    for reason in plan.reasons() {
        let value = maud::html! { strong { (reason.value) } }.into_string();
        assert!(all.contains(&value), "{}: {value}", reason.figure);
    }
}

#[tokio::test]
async fn what_arrived_is_on_the_shelf_and_no_longer_to_be_bought() {
    let (worktop, opened, at) = Worktop::with_plan();
    let page = worktop.get(&format!("{at}/buy")).await;
    let mark = "value=\"sea glass\"";
    let nonce = page.hidden("/buy/arrived", "nonce");
    assert!(page.text.contains(mark));
    let sent = [
        ("nonce", nonce.as_str()),
        ("stone", "sea glass"),
        ("supplier", "quayside stones"),
        ("unit_price", "0.0167"),
        ("stones", "1,440"),
        ("lot", "L4"),
    ];
    let done = worktop.post(&format!("{at}/buy/arrived"), &sent).await;
    assert!(done.to().starts_with(&format!("{at}/buy?done=")));
    worktop.post(&format!("{at}/buy/arrived"), &sent).await;
    let stock = worktop.desk.shop().stock(false).unwrap();
    assert_eq!((stock[0].lot.as_str(), stock[0].on_hand), ("L4", 1440));
    worktop.desk.plan(&opened, &lay::Unwatched).unwrap();
    let page = worktop.get(&format!("{at}/buy")).await;
    assert!(page.text.contains("for this order</button>"), "{}", page.text);

    let nonce = page.hidden("/buy/hold", "nonce");
    worktop.post(&format!("{at}/buy/hold"), &[("nonce", &nonce)]).await.to();
    let held = worktop.desk.shop().held(opened.document.id).unwrap();
    assert_eq!(held.len(), 1);
    worktop.desk.plan(&opened, &lay::Unwatched).unwrap();
    let page = worktop.get(&format!("{at}/buy")).await;
    let nonce = page.hidden("/buy/hold", "nonce");
    worktop.post(&format!("{at}/buy/release"), &[("nonce", &nonce)]).await.to();
    assert!(worktop.desk.shop().held(opened.document.id).unwrap().is_empty());
}

#[tokio::test]
async fn stones_that_are_no_number_are_refused_with_what_was_typed() {
    let (worktop, _, at) = Worktop::with_plan();
    let sent = [("nonce", "n"), ("stone", "ember"), ("stones", "many")];
    let refused = worktop.post(&format!("{at}/buy/arrived"), &sent).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.text.contains("many"));
    assert!(worktop.desk.shop().stock(true).unwrap().is_empty());
}

#[tokio::test]
async fn other_figures_stand_beside_and_are_kept_by_a_button() {
    let (worktop, opened, at) = Worktop::with_plan();
    let page = worktop.get(&format!("{at}/price?margin=45&loss=&rate=&temperature=")).await;
    assert!(page.text.contains("As it stands, and as it would be"));
    assert!(page.text.contains("class=\"differs\""));
    let unchanged = worktop.desk.open(opened.document.id).unwrap();
    assert_eq!(unchanged.revision.id, opened.revision.id, "trying changes nothing");
    let from = page.hidden("/tries\"", "from");
    let sent = [("from", from.as_str()), ("page", "price"), ("margin", "45")];
    let kept = worktop.post(&format!("{at}/tries"), &sent).await;
    assert!(kept.to().starts_with(&format!("{at}/price")));
    let after = worktop.desk.open(opened.document.id).unwrap();
    assert!(after.revision.text.contains("margin = \"45 %\""), "{}", after.revision.text);
}

#[tokio::test]
async fn a_figure_that_cannot_be_tried_is_named_beside_its_field() {
    let (worktop, _, at) = Worktop::with_plan();
    let page = worktop.get(&format!("{at}/days?loss=lots&rate=&margin=&temperature=")).await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text.contains("value=\"lots\"") && page.text.contains("aria-invalid=\"true\""));
    assert!(!page.text.contains("As it stands, and as it would be"));
}

#[tokio::test]
async fn the_calendar_can_be_taken_along() {
    let (worktop, _, at) = Worktop::with_plan();
    let file = worktop.get(&format!("{at}/days.ics")).await;
    assert_eq!(file.headers["content-type"], "text/calendar; charset=utf-8");
    assert!(file.text.starts_with("BEGIN:VCALENDAR") && file.text.contains("badge"));
}

#[tokio::test]
async fn an_order_without_pieces_says_what_to_do() {
    let empty = &BADGES[..BADGES.find("[[piece]]").unwrap()];
    let (worktop, _, at) = Worktop::with_order(empty);
    for page in ["buy", "glue", "days", "price", "kits", "quote"] {
        let answer = worktop.get(&format!("{at}/{page}")).await;
        assert_eq!(answer.status, StatusCode::OK, "{page}");
        assert!(answer.text.contains("No piece yet"), "{page}: {}", answer.text);
    }
}

#[tokio::test]
async fn a_wrong_key_typed_on_a_plan_page_comes_back_with_what_is_wrong() {
    let (worktop, _, at) = Worktop::with_plan();
    let page = worktop.get(&format!("{at}/price")).await;
    let from = page.hidden("class=\"own", "from");
    let sent =
        [("from", from.as_str()), ("page", &format!("{at}/price")), ("price.tax", "a fifth")];
    let refused = worktop.post(&format!("{at}/change"), &sent).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.text.contains("<h2>Price</h2>"), "{}", refused.text);
    assert!(refused.text.contains("value=\"a fifth\""), "what was typed is kept");
}

#[tokio::test]
async fn without_a_currency_the_page_of_the_price_says_where_to_type_it() {
    let text = BADGES.replace("currency = \"EUR\"\n", "");
    let text = &text[..text.find("[[bag]]").unwrap()];
    let (worktop, opened, at) = Worktop::with_order(text);
    worktop.desk.plan(&opened, &lay::Unwatched).unwrap();
    let page = worktop.get(&format!("{at}/price")).await;
    assert!(page.text.contains("the order names no currency"), "{}", page.text);
    let quote = worktop.get(&format!("{at}/quote")).await;
    assert_eq!(quote.status, StatusCode::OK);
    assert!(quote.text.contains("There is no quote"));
}
