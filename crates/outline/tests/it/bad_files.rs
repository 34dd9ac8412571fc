//! Files that give no outline: one clear message each, and never a panic, a hang or an overflow.

use std::fmt::Write as _;

use insta::assert_snapshot;
use outline::{Scale, read_svg};

use crate::support::page;

const HEAD: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 100 100\">";

/// Name, bytes, and the message and hint they get.
fn message(name: &str, bytes: &[u8], scale: Scale) -> String {
    match read_svg(bytes, scale) {
        Ok(got) => panic!("{name}: an outline of {} mm²", got.region.area()),
        Err(e) => format!("{name}: {e}\n  hint: {}", e.hint()),
    }
}

fn messages(files: &[(&str, Vec<u8>)]) -> String {
    let each = files.iter().map(|(name, bytes)| message(name, bytes, Scale::Width(60.0)));
    each.collect::<Vec<_>>().join("\n")
}

fn svg(body: &str) -> Vec<u8> {
    format!("{HEAD}{body}</svg>").into_bytes()
}

#[test]
fn files_that_are_no_drawing() {
    let utf16: Vec<u8> = [0xff, 0xfe].into_iter().chain(b"<\0s\0v\0g\0".iter().copied()).collect();
    assert_snapshot!(messages(&[
        ("empty", vec![]),
        ("blanks", b" \n\t ".to_vec()),
        ("png", b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR".to_vec()),
        ("jpeg", b"\xff\xd8\xff\xe0\0\x10JFIF".to_vec()),
        ("pdf", b"%PDF-1.7\n%\xe2\xe3".to_vec()),
        ("zip", b"PK\x03\x04\x14\0".to_vec()),
        ("compressed", b"\x1f\x8b\x08\0\0\0\0\0\0\x03".to_vec()),
        ("utf-16", utf16),
        ("latin-1", b"<svg xmlns='http://www.w3.org/2000/svg'><!-- caf\xe9 --></svg>".to_vec()),
        ("random bytes", vec![7, 200, 13, 0, 99, 250]),
        ("plain text", b"a badge, 60 mm wide".to_vec()),
        ("html", b"<html><body/></html>".to_vec()),
        ("other namespace", b"<svg xmlns='http://example.org/maps'><rect/></svg>".to_vec()),
        ("10 MB path", svg(&format!("<path d='M0 0{}z'/>", "L1 1 9 9".repeat(1_250_000)))),
    ]));
}

#[test]
fn drawings_that_are_no_xml() {
    assert_snapshot!(messages(&[
        ("cut off", format!("{HEAD}\n<rect width='9' hei").into_bytes()),
        ("not closed", format!("{HEAD}\n<g>\n<rect/>\n").into_bytes()),
        ("wrong end", svg("\n<g></h>")),
        ("twice the same attribute", svg("<rect width='1' width='2'/>")),
        ("no quotes", svg("<rect width=9/>")),
        ("unknown prefix", svg("<x:rect/>")),
        ("unknown entity", svg("&lamp;")),
        ("two roots", b"<svg xmlns='http://www.w3.org/2000/svg'/><svg/>".to_vec()),
        ("control character", svg("<g id='\u{1}'/>")),
    ]));
}

#[test]
fn drawings_that_are_an_attack() {
    let mut laughs = String::from("<!DOCTYPE svg [<!ENTITY a 'ha'>");
    for (this, last) in ('b'..='i').zip('a'..='h') {
        let _ = write!(laughs, "<!ENTITY {this} '{}'>", format!("&{last};").repeat(10));
    }
    let secret = "<!DOCTYPE svg [<!ENTITY s SYSTEM 'file:///secret.txt'>]>";
    let mut uses = String::from("<g id='a0'><rect width='9' height='9'/></g>");
    let mut clips = String::new();
    let mut patterns = String::new();
    for i in 1..40 {
        let last = i - 1;
        let twice = |element: &str| element.repeat(2);
        let _ = write!(uses, "<g id='a{i}'>{}</g>", twice(&format!("<use href='#a{last}'/>")));
        let child = format!("<rect width='9' height='9' clip-path='url(#c{last})'/>");
        let _ = write!(clips, "<clipPath id='c{i}'>{}</clipPath>", twice(&child));
        let child = format!("<rect width='9' height='9' style='fill:url(#p{last})'/>");
        let _ =
            write!(patterns, "<pattern id='p{i}' width='1' height='1'>{}</pattern>", twice(&child));
    }
    let chain: String = (1..3000).map(|i| format!("<use id='u{i}' href='#u{}'/>", i - 1)).collect();
    let nested =
        |n: usize| format!("{}<rect width='9' height='9'/>{}", "<g>".repeat(n), "</g>".repeat(n));
    let styles: String = (0..5000).map(|i| format!(".a{i}{{fill:red}}")).collect();
    let styled = format!("<style>{styles}</style>{}", "<rect class='a1'/>".repeat(5000));
    assert_snapshot!(messages(&[
        ("entities", format!("{laughs}]>{HEAD}<text>&i;</text></svg>").into_bytes()),
        ("entity of a file", format!("{secret}{HEAD}<text>&s;</text></svg>").into_bytes()),
        ("copies of copies", svg(&uses)),
        ("chain of copies", svg(&chain)),
        (
            "clips of clips",
            svg(&format!("{clips}<rect width='9' height='9' clip-path='url(#c39)'/>"))
        ),
        (
            "patterns of patterns",
            svg(&format!("{patterns}<rect width='9' height='9' fill='url(#p39)'/>"))
        ),
        ("nested 100,000 deep", svg(&nested(100_000))),
        ("nested 130 deep", svg(&nested(130))),
        ("200,000 elements", svg(&"<g/>".repeat(200_000))),
        ("styles", svg(&styled)),
        ("a huge arc", svg("<path d='M0 0A1e200 1e200 0 1 1 9 9z'/>")),
        ("dashes", svg("<path stroke='red' stroke-dasharray='.0001' d='M0 0H100'/>")),
    ]));
}

#[test]
fn nesting_within_the_limit_is_read() {
    let body = format!(
        "{}<rect width='9' height='9'/>{}",
        "<g transform='scale(1)'>".repeat(120),
        "</g>".repeat(120)
    );
    assert!(read_svg(&svg(&body), Scale::Width(60.0)).is_ok());
}

#[test]
fn scribbles_are_refused_before_they_take_minutes() {
    // Two coprime steps over a square: every line crosses most of the others.
    let mut d = String::from("M0 0");
    for i in 1..6000_u32 {
        let _ = write!(d, "L{}.5 {}.25", i * 7919 % 10_007, i * 104_729 % 10_009);
    }
    let got = message("scribble", &svg(&format!("<path d='{d}'/>")), Scale::Width(60.0));
    assert!(got.contains("crosses itself about"), "{got}");
    let mut many = String::from("M0 0");
    for i in 0..450_000_u32 {
        let _ = write!(many, "h{}v1", i % 3);
    }
    let got = message("many", &svg(&format!("<path d='{many}'/>")), Scale::Width(60.0));
    assert!(got.contains("more than 400000 corners"), "{got}");
}

#[test]
fn drawings_that_draw_nothing() {
    assert_snapshot!(messages(&[
        ("no shapes", svg("")),
        ("only text", svg("<text x='1' y='9'>Harbour</text>")),
        ("only a picture", svg("<image href='lantern.png' width='9' height='9'/>")),
        ("only a reference", svg("<use href='http://example.org/a.svg#b'/>")),
        ("a file beside it", svg("<image href='/secret.png' width='9' height='9'/>")),
        ("no paint", svg("<rect width='9' height='9' fill='none'/>")),
        ("hidden", svg("<rect width='9' height='9' display='none'/>")),
        ("no area", svg("<path d='M0 0L50 50'/>")),
        ("back and forth", svg("<path d='M0 0L50 50L0 0z'/>")),
        ("negative size", svg("<rect width='-9' height='9'/>")),
        ("size 0", svg("<circle r='0'/>")),
        ("no number", svg("<rect width='NaN' height='9'/>")),
        ("path of no numbers", svg("<path d='M NaN NaN L 5 5'/>")),
        ("path without start", svg("<path d='L5 5 9 0z'/>")),
        ("unknown unit", svg("<rect width='9furlong' height='9'/>")),
        ("infinite", svg("<rect width='1e39' height='9'/>")),
        ("scaled to nothing", svg("<g transform='scale(0)'><rect width='9' height='9'/></g>")),
        ("a copy of itself", svg("<g id='a'><use href='#a'/></g>")),
        (
            "clipped away",
            svg(
                "<clipPath id='c'><rect x='50' width='9' height='9'/></clipPath><rect width='9' height='9' clip-path='url(#c)'/>"
            )
        ),
        ("a hair", svg("<rect width='90' height='.0001'/>")),
    ]));
}

#[test]
fn pages_and_sizes_that_are_none() {
    let whole = |attributes: &str| {
        format!("<svg xmlns='http://www.w3.org/2000/svg' {attributes}><rect width='9' height='9'/></svg>").into_bytes()
    };
    assert_snapshot!(messages(&[
        ("width 0", whole("width='0' height='9'")),
        ("negative height", whole("width='9mm' height='-9mm'")),
        ("negative viewBox", whole("viewBox='0 0 -9 9'")),
        ("viewBox of words", whole("viewBox='a b c d'")),
        ("short viewBox", whole("viewBox='0 0 9'")),
    ]));
    let square = page("<rect width='50' height='50'/>");
    let sizes = [
        Scale::Width(0.0),
        Scale::Width(-60.0),
        Scale::Height(f64::NAN),
        Scale::Width(f64::INFINITY),
        Scale::Height(1e9),
    ];
    let each = sizes.iter().map(|s| message(&format!("{s:?}"), square.as_bytes(), *s));
    assert_snapshot!(each.collect::<Vec<_>>().join("\n"));
    let large = page("<rect width='5001' height='50'/>");
    let small = page("<rect width='.4' height='50'/>");
    let long = page("<rect width='1' height='90'/>");
    assert_snapshot!(
        [
            message("large", large.as_bytes(), Scale::AsDrawn),
            message("small", small.as_bytes(), Scale::AsDrawn),
            message("long", long.as_bytes(), Scale::Width(60.0)),
        ]
        .join("\n")
    );
}
