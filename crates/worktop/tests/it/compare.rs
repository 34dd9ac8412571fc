//! A piece side by side.

use crate::Worktop;
use axum::http::StatusCode;
use desk::CompareAsked;
use std::time::Duration;

/// Lays everything first, so that the page need not wait.
fn compared(worktop: &Worktop, opened: &desk::Opened) {
    let job = worktop.desk.begin_compare(opened, 1, &CompareAsked::default()).unwrap();
    job.wait(Duration::from_secs(120)).expect("it ends").unwrap();
}

#[tokio::test]
async fn ways_stand_side_by_side_and_one_is_taken() {
    let (worktop, opened, at) = Worktop::with_plan();
    compared(&worktop, &opened);
    let here = format!("{at}/pieces/1/compare");
    let page = worktop.get(&here).await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(
        page.text.contains("As it is now") && page.text.contains("Largest bare spot"),
        "{}",
        page.text
    );
    let pictures: Vec<&str> =
        page.text.split("<img src=\"").skip(1).filter_map(|p| p.split('"').next()).collect();
    assert!(pictures.len() > 4, "{pictures:?}");
    for picture in &pictures {
        let svg = worktop.get(&picture.replace("&amp;", "&")).await;
        assert_eq!(svg.headers["content-type"], "image/svg+xml", "{picture}: {}", svg.text);
        assert!(svg.text.starts_with("<svg") || svg.text.starts_with("<?xml"));
    }
    let from = opened.revision.id.to_string();
    let sent = [("from", from.as_str()), ("zone", "1"), ("laid", "rings"), ("stones", "ember")];
    let taken = worktop.post(&here, &sent).await;
    assert!(taken.to().starts_with(&format!("{at}/pieces/1?done=")));
    let after = worktop.desk.open(opened.document.id).unwrap();
    assert!(
        after.revision.text.contains("arrangement = \"rings\"\nmix = \"ember\""),
        "{}",
        after.revision.text
    );
    assert!(after.ways.undo.is_some());
}

#[tokio::test]
async fn they_are_sorted_by_any_figure() {
    let (worktop, opened, at) = Worktop::with_plan();
    compared(&worktop, &opened);
    let stones = |text: &str| -> Vec<u32> {
        let each = text.split("<dt>Stones</dt><dd>").skip(1);
        each.map(|t| t.split([' ', '<']).next().unwrap().replace(',', "").parse().unwrap())
            .collect()
    };
    for by in ["stones", "coverage", "bare", "hours", "cost", "price"] {
        let page = worktop.get(&format!("{at}/pieces/1/compare?by={by}")).await;
        assert!(page.text.contains("aria-current=\"true\""), "{by}");
        if by == "stones" {
            let shown = stones(&page.text);
            assert!(shown.len() > 3 && shown.is_sorted_by(|a, b| a >= b), "{shown:?}");
        }
    }
}

#[tokio::test]
async fn a_comparison_that_takes_long_says_how_far_it_is_and_can_be_stopped() {
    let big = crate::orders::BADGES.replace(
        "width = \"40 mm\", height = \"25 mm\"",
        "width = \"400 mm\", height = \"350 mm\"",
    );
    let (worktop, _, at) = Worktop::with_order(&big);
    let here = format!("{at}/pieces/1/compare");
    let page = worktop
        .get(&format!("{here}?laid=honeycomb_most&laid=scatter&laid=square_most&stones="))
        .await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text.contains("being laid side by side"), "{}", page.text);
    let stopped = worktop.post(&format!("{here}/stop"), &[]).await;
    assert!(stopped.to().starts_with(&format!("{at}/pieces/1?done=")));
}

#[tokio::test]
async fn a_piece_or_a_way_that_is_not_there_is_said_so() {
    let (worktop, _, at) = Worktop::with_plan();
    for address in [
        "/pieces/9/compare",
        "/pieces/0/compare",
        "/pieces/1/compare/picture.svg?zone=1&laid=spiral",
    ] {
        let answer = worktop.get(&format!("{at}{address}")).await;
        assert_eq!(answer.status, StatusCode::NOT_FOUND, "{address}");
    }
}
