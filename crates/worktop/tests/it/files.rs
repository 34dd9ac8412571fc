//! The files of a piece: from its page, and by the API.

use crate::Worktop;
use app::files::FileSort;
use axum::http::{StatusCode, header};

#[tokio::test]
async fn the_page_of_a_piece_links_every_sort_of_file_and_each_comes() {
    let worktop = Worktop::with_demo();
    let page = worktop.get("/orders/2/pieces/1").await;
    for sort in FileSort::ALL {
        let path = format!("/orders/2/pieces/1/files/{}", sort.name());
        assert!(page.text.contains(&format!("href=\"{path}\"")), "{path}");
        let file = worktop.get(&path).await;
        assert_eq!(file.status, StatusCode::OK, "{path}: {}", file.text);
        let kind = file.headers[header::CONTENT_TYPE].to_str().unwrap();
        assert!(kind.starts_with(sort.media_type()), "{path}: {kind}");
        let name = file.headers[header::CONTENT_DISPOSITION].to_str().unwrap();
        assert!(name.starts_with("attachment; filename=\""), "{name}");
        assert!(name.contains(&format!(".{}\"", sort.extension())), "{name}");
        let api = worktop.get(&format!("/api{path}")).await;
        assert_eq!(api.text, file.text, "{path}");
    }
}

#[tokio::test]
async fn a_file_that_cannot_be_is_refused_with_the_way_out() {
    let worktop = Worktop::with_demo();
    for (path, status, says) in [
        ("/orders/2/pieces/1/files/wax", StatusCode::NOT_FOUND, "dxf-r12"),
        ("/orders/2/pieces/99/files/svg", StatusCode::NOT_FOUND, "no such piece"),
        (
            "/api/orders/2/pieces/1/files/png?dpi=100000",
            StatusCode::UNPROCESSABLE_ENTITY,
            "at most",
        ),
        ("/api/orders/2/pieces/1/files/png?dpi=0", StatusCode::UNPROCESSABLE_ENTITY, "more than 0"),
        ("/orders/2/pieces/1/files/png?dpi=fine", StatusCode::UNPROCESSABLE_ENTITY, "like 300"),
    ] {
        let answer = worktop.get(path).await;
        assert_eq!(answer.status, status, "{path}: {}", answer.text);
        assert!(answer.text.contains(says), "{path}: {}", answer.text);
    }
}

#[tokio::test]
async fn a_name_in_another_script_is_kept_whole() {
    let worktop = Worktop::new();
    let text = crate::orders::BADGES.replace("name = \"plate\"", "name = \"Λιμάνι\"");
    let bundle = desk::Bundle { text, files: vec![] };
    let id = worktop.desk.import(&bundle).unwrap().document.id;
    let file = worktop.get(&format!("/orders/{id}/pieces/2/files/positions")).await;
    let name = file.headers[header::CONTENT_DISPOSITION].to_str().unwrap();
    // RFC 8187: λιμάνι in UTF-8, each byte escaped; RFC 6266: plain letters for old readers.
    let expect = "attachment; filename=\"______.txt\"; \
                  filename*=UTF-8''%CE%BB%CE%B9%CE%BC%CE%AC%CE%BD%CE%B9.txt";
    assert_eq!(name, expect);
}
