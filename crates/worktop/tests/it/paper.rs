//! Papers: from the page of an order, for this workshop's printer, and by the API.

use crate::Worktop;
use axum::http::{StatusCode, header};
use desk::Printable;

#[tokio::test]
async fn the_page_links_every_paper_and_each_comes() {
    let (worktop, _, at) = Worktop::with_plan();
    let page = worktop.get(&format!("{at}/paper")).await;
    for paper in Printable::all() {
        let path = format!("{at}/paper/{}", paper.name());
        assert!(page.text.contains(&format!("href=\"{path}\"")), "{path}");
        let file = worktop.get(&path).await;
        assert_eq!(file.status, StatusCode::OK, "{path}: {}", file.text);
        assert_eq!(file.headers[header::CONTENT_TYPE], "application/pdf");
        assert!(file.text.starts_with("%PDF-"), "{path}");
        let name = file.headers[header::CONTENT_DISPOSITION].to_str().unwrap();
        assert!(name.starts_with(&format!("attachment; filename=\"{}-", paper.name())), "{name}");
        let api = worktop.get(&format!("/api{at}/papers/{}", paper.name())).await;
        assert_eq!(api.text, file.text, "{path}: the same bytes");
    }
}

#[tokio::test]
async fn a_piece_is_printed_alone_from_its_page() {
    let (worktop, _, at) = Worktop::with_plan();
    let path = format!("{at}/paper/placing-under?piece=1");
    let page = worktop.get(&format!("{at}/pieces/1")).await;
    assert!(page.text.contains(&format!("href=\"{path}\"")));
    let alone = worktop.get(&path).await;
    let all = worktop.get(&format!("{at}/paper/placing-under")).await;
    assert_eq!((alone.status, all.status), (StatusCode::OK, StatusCode::OK));
    assert!(alone.text.len() < all.text.len(), "one piece is less than all of them");
}

#[tokio::test]
async fn how_the_workshop_prints_is_kept_and_what_cannot_be_is_refused() {
    let (worktop, _, at) = Worktop::with_plan();
    let page = format!("{at}/paper");
    let test_page = format!("{page}/test-page");
    let a4 = worktop.get(&test_page).await.text;
    let said = [("sheet", "letter"), ("notation", "de"), ("measured", "98.6"), ("labels", "")];
    worktop.post(&page, &said).await.to();
    assert_eq!(worktop.desk.printing().unwrap().measured, "98.6");
    assert_ne!(worktop.get(&test_page).await.text, a4, "it is on other paper now");
    for (key, typed, says) in [
        ("measured", "12", "from 90 to 110"),
        ("measured", "wide", "98.6"),
        ("notation", "nowhere", "en-GB"),
        ("labels", "3x8", "a4-3x8"),
        ("sheet", "napkin", "a4 or letter"),
    ] {
        let answer = worktop.post(&page, &[(key, typed)]).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{key} {typed}");
        assert!(answer.text.contains(says), "{key} {typed}: {}", answer.text);
        assert_eq!(worktop.desk.printing().unwrap().measured, "98.6", "nothing is kept of it");
    }
    let none = worktop.get(&format!("{page}/napkin")).await;
    assert_eq!(none.status, StatusCode::NOT_FOUND);
    assert!(none.text.contains("placing-under"), "{}", none.text);
}

#[tokio::test]
async fn an_order_without_a_price_has_no_quote_but_every_other_paper() {
    let worktop = Worktop::new();
    let text = "stonelay = 1\norder = \"A pier\"\n[[kind]]\nname = \"dew\"\nsize = \"3 mm\"\n\
        [[piece]]\nname = \"#panic()\"\nblank = { shape = \"circle\", diameter = \"30 mm\" }\n\
        arrangement = \"rings\"\nmix = \"dew\"\n";
    let bundle = desk::Bundle { text: text.to_owned(), files: vec![] };
    let id = worktop.desk.import(&bundle).unwrap().document.id;
    for paper in Printable::all() {
        let answer = worktop.get(&format!("/orders/{id}/paper/{}", paper.name())).await;
        if paper.name() == "quote" {
            assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
            assert!(answer.text.contains("no currency"), "{}", answer.text);
        } else {
            assert_eq!(answer.status, StatusCode::OK, "{}: {}", paper.name(), answer.text);
        }
    }
}
