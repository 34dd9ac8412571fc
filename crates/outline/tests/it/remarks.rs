//! What is left out is said, in stable words.

use insta::assert_snapshot;
use outline::{PAGES, Scale, read_svg};

use crate::support::page;

fn said(body: &str) -> String {
    let got = read_svg(page(body).as_bytes(), Scale::Width(60.0)).expect(body);
    let lines = got.remarks.iter().map(|r| {
        assert!(r.page().is_some(), "{} has no page", r.code());
        format!("{}: {r}\nhint: {}", r.code(), r.hint())
    });
    lines.collect::<Vec<_>>().join("\n")
}

#[test]
fn each_loss_is_a_remark() {
    let base = "<circle cx='50' cy='50' r='40'/>";
    assert_snapshot!(said(base), @"");
    assert_snapshot!(said(&format!(
        "{base}\n<text x='1' y='9'>Harbour <tspan>lantern</tspan></text>"
    )));
    assert_snapshot!(said(&format!("{base}<image href='lantern.png' width='9' height='9'/>")));
    assert_snapshot!(said(&format!("{base}<use href='lamp.svg#a'/>")));
    assert_snapshot!(said(&format!(
        "<mask id='m'><rect width='9' height='9'/></mask><g mask='url(#m)'>{base}</g>"
    )));
    assert_snapshot!(said(&format!(
        "<filter id='f'><feGaussianBlur stdDeviation='2'/></filter><g filter='url(#f)'>{base}</g>"
    )));
    assert_snapshot!(said(&format!("{base}<path d='M0 0h5v5z M 9 9 L NaN 5'/>")));
    assert_snapshot!(said(&format!("{base}<circle r='-3'/><rect width='5' height='x'/>")));
    assert_snapshot!(said(&format!("{base}<path d='M0 0h24v24H0z' fill='none'/>")));
    assert_snapshot!(said(&format!("{base}<rect width='.05' height='.05'/>")));
    assert_snapshot!(said(&format!("<rect width='100' height='100' fill='white'/>{base}")));
}

#[test]
fn text_in_hidden_places_is_no_loss() {
    let base = "<circle cx='50' cy='50' r='40'/>";
    for hidden in
        ["<defs><text>a</text></defs>", "<g display='none'><text>a</text></g>", "<text> \n </text>"]
    {
        assert_eq!(said(&format!("{base}{hidden}")), "");
    }
}

#[test]
fn a_size_taken_for_granted_is_said() {
    let svg = "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 24 24'><path d='M0 0h24v24H0z'/></svg>";
    let codes = |scale| {
        let got = read_svg(svg.as_bytes(), scale).expect("a square");
        got.remarks.iter().map(ToString::to_string).collect::<Vec<_>>().join("; ")
    };
    assert_eq!(
        codes(Scale::AsDrawn),
        "the drawing gives no size in real units: taken as 6.35 × 6.35 mm"
    );
    assert_eq!(codes(Scale::Width(60.0)), "");
}

#[test]
fn pages_are_sorted_and_whole() {
    assert!(PAGES.windows(2).all(|p| p[0].code < p[1].code));
    for p in PAGES {
        for text in [p.what, p.why, p.remedy] {
            assert!(text.len() > 20 && !text.ends_with('.'), "{}: {text}", p.code);
        }
        assert!(p.example.starts_with('<'), "{}", p.code);
    }
}
