//! Changes of a document's text: what is not meant stays as it is, byte for byte.

use app::demo::FILES;
use app::document::{MAX_BYTES, read_draft};
use app::edit::{Change, Path, Sheet, apply, check};
use app::fields::{self, Sort, Table};
use proptest::prelude::*;

fn demo() -> &'static str {
    FILES[0].1
}

fn path(text: &str) -> Path {
    text.parse().unwrap()
}

fn set(at: &str, value: &str) -> Change {
    Change::Set { path: path(at), value: value.to_owned() }
}

fn clear(at: &str) -> Change {
    Change::Clear { path: path(at) }
}

fn add(at: &str, toml: &str) -> Change {
    Change::Add { path: path(at), toml: toml.to_owned() }
}

fn remove(at: &str) -> Change {
    Change::Remove { path: path(at) }
}

fn copy(at: &str) -> Change {
    Change::Copy { path: path(at) }
}

fn move_to(at: &str, to: usize) -> Change {
    Change::Move { path: path(at), to }
}

fn rename(at: &str, name: &str) -> Change {
    Change::Rename { path: path(at), name: name.to_owned() }
}

/// The demo order after changes; it must be sound.
fn changed(changes: &[Change]) -> String {
    let text = apply(demo(), changes).unwrap();
    assert_eq!(check(&text), [], "{changes:?}");
    text
}

/// The lines of `new` that `old` does not have at this place, and the other way round, as a plain
/// comparison from both ends finds them.
fn difference<'t>(old: &'t str, new: &'t str) -> (Vec<&'t str>, Vec<&'t str>) {
    let (mut old, mut new): (Vec<_>, Vec<_>) = (old.lines().collect(), new.lines().collect());
    while !old.is_empty() && !new.is_empty() && old[0] == new[0] {
        old.remove(0);
        new.remove(0);
    }
    while !old.is_empty() && !new.is_empty() && old.last() == new.last() {
        old.pop();
        new.pop();
    }
    (old, new)
}

fn becomes(change: Change, old: &[&str], new: &[&str]) {
    let text = changed(&[change]);
    assert_eq!(difference(demo(), &text), (old.to_vec(), new.to_vec()));
}

#[test]
fn a_value_changes_and_the_comment_behind_it_stays() {
    becomes(
        set("piece.1.margin", "0.75"),
        &["margin   = \"0.5 mm\"                # bare rim along the edge and around the pin hole"],
        &[
            "margin   = \"0.75 mm\"                # bare rim along the edge and around the pin hole",
        ],
    );
    becomes(
        set("due", "2026-12-20"),
        &["due      = 2026-12-18              # the day before the lanterns are lit"],
        &["due      = 2026-12-20              # the day before the lanterns are lit"],
    );
    // What comes back as it was shown changes nothing.
    let sheet = Sheet::of(demo()).unwrap();
    for at in ["piece.5.blank.width", "kind.1.pack", "piece.1.holes.1.at", "workshop.days", "seed"]
    {
        let shown = sheet.value(&path(at)).unwrap();
        assert_eq!(changed(&[set(at, &shown)]), demo(), "{at}");
    }
}

#[test]
fn names_are_shown_one_a_line_and_left_as_they_were_written() {
    let sheet = Sheet::of(demo()).unwrap();
    let shown = sheet.value(&path("piece.1.names")).unwrap();
    assert_eq!(shown.lines().count(), 18);
    assert_eq!(changed(&[set("piece.1.names", &shown.replace('\n', "\r\n"))]), demo());
    let one = changed(&[set("piece.1.names", "Ada\r\nBrun, Otto")]);
    assert!(one.contains("names    = [\"Ada\", \"Brun, Otto\"]"), "{one}");
}

#[test]
fn a_new_key_stands_where_a_maker_would_write_it() {
    becomes(set("piece.1.sides", "2"), &[], &["sides    = 2"]);
    becomes(set("piece.6.zone.1.start", "staggered"), &[], &["start       = \"staggered\""]);
    becomes(set("kind.1.finish", "pearl"), &[], &["finish = \"pearl\""]);
    becomes(
        set("piece.1.holes.1.turn", "30"),
        &["holes    = [{ shape = \"circle\", diameter = \"4 mm\", at = [\"30 mm\", \"6 mm\"] }]"],
        &[
            "holes    = [{ shape = \"circle\", diameter = \"4 mm\", at = [\"30 mm\", \"6 mm\"], turn = \"30 deg\" }]",
        ],
    );
    becomes(
        set("workshop.loss.trust", "600"),
        &[
            "loss        = \"2 %\"                # stones lost, broken or unusable, of those handled",
        ],
        &[
            "loss        = { rate = \"2 %\", trust = 600 }                # stones lost, broken or unusable, of those handled",
        ],
    );
}

#[test]
fn set_and_cleared_again_the_text_is_the_same() {
    let cases = [
        ("piece.1.sides", "2"),
        ("piece.3.zone.1.nested", "yes"),
        ("piece.6.zone.1.fillers", "spark"),
        ("piece.6.zone.1.seed", "9"),
        ("piece.1.holes.1.turn", "30"),
        ("kind.3.height", "2"),
        ("supplier.1.offers.3.packs", "4"),
        ("stock_file", "shelf.csv"),
        ("workshop.closed", "2026-12-24, 2026-12-25"),
        ("price.packaging", "0,60"),
    ];
    for (at, value) in cases {
        let there = apply(demo(), &[set(at, value)]).unwrap();
        assert_ne!(there, demo(), "{at}");
        assert_eq!(apply(&there, &[clear(at)]).unwrap(), demo(), "{at}");
        assert_eq!(apply(&there, &[set(at, "  ")]).unwrap(), demo(), "{at}");
    }
    let bare = "stonelay = 1\norder = 'o'\n";
    for (at, value) in [("workshop.rate", "320"), ("price.currency", "eur"), ("due", "2026-12-18")]
    {
        let there = apply(bare, &[set(at, value)]).unwrap();
        assert_eq!(check(&there), [], "{there}");
        assert_eq!(apply(&there, &[clear(at)]).unwrap(), bare, "{at}");
    }
}

#[test]
fn a_cleared_key_leaves_its_comment() {
    becomes(
        clear("piece.1.margin"),
        &["margin   = \"0.5 mm\"                # bare rim along the edge and around the pin hole"],
        &["# bare rim along the edge and around the pin hole"],
    );
}

#[test]
fn entries_come_and_go_without_a_trace() {
    for (list, toml) in [
        ("kind", "name = \"mist\"\nsize = \"SS12\" # new"),
        (
            "piece.1.zone",
            "name = \"z\"\nwhere = { band = \"1 mm\" }\narrangement = \"square\"\nmix = \"dew\"",
        ),
        ("piece.1.holes", "shape = \"circle\"\ndiameter = \"2 mm\"\nat = [\"20 mm\", \"30 mm\"]"),
        ("supplier.2.offers", "{ kind = \"foam\", pack = 50, price = \"1.00\" }"),
        ("mix.1.parts", "{ kind = \"dew\", share = \"0.1 %\" }"),
        ("bag", "name = \"small\"\nmix = \"dew\"\nstones = 50"),
        ("price.fees", "{ name = \"stall\", share = \"1 %\" }"),
        ("price.quantities", "48"),
        ("piece.2.zone.1.fillers", "\"spray\""),
        (
            "piece.3.holes",
            "{ shape = \"circle\", diameter = \"2 mm\", at = [\"9 mm\", \"50 mm\"] }",
        ),
    ] {
        let before = Sheet::of(demo()).unwrap().count(&path(list));
        let there = apply(demo(), &[add(list, toml)]).unwrap();
        assert_eq!(Sheet::of(&there).unwrap().count(&path(list)), before + 1, "{list}");
        let last = format!("{list}.{}", before + 1);
        assert_eq!(apply(&there, &[remove(&last)]).unwrap(), demo(), "{list}");
    }
}

#[test]
fn a_piece_is_copied_with_its_zones_under_a_free_name() {
    let text = changed(&[copy("piece.1"), copy("piece.1"), set("piece.2.zone.1.name", "rim")]);
    let sheet = Sheet::of(&text).unwrap();
    assert_eq!(
        sheet.names(&path("piece"))[..4],
        ["badge", "badge 3", "badge 2", "parade sign"].map(str::to_owned)
    );
    assert_eq!(sheet.names(&path("piece.2.zone")), ["rim", "middle"]);
    assert_eq!(sheet.names(&path("piece.1.zone")), ["frame", "middle"]);
    assert_eq!(apply(&text, &[remove("piece.2"), remove("piece.2")]).unwrap(), demo());
}

#[test]
fn pieces_and_zones_move_with_all_that_is_theirs() {
    for (from, to) in [(1, 3), (3, 1), (6, 1), (1, 6), (2, 99)] {
        let text = changed(&[move_to(&format!("piece.{from}"), to)]);
        let mut names = Sheet::of(demo()).unwrap().names(&path("piece"));
        let moved = names.remove(from - 1);
        names.insert((to - 1).min(names.len()), moved);
        assert_eq!(Sheet::of(&text).unwrap().names(&path("piece")), names);
        let mut lines: Vec<&str> = text.lines().filter(|l| !l.is_empty()).collect();
        let mut before: Vec<&str> = demo().lines().filter(|l| !l.is_empty()).collect();
        lines.sort_unstable();
        before.sort_unstable();
        assert_eq!(lines, before, "every line is still there");
    }
    let text = changed(&[move_to("piece.1.zone.2", 1), move_to("mix.1.parts.1", 3)]);
    let sheet = Sheet::of(&text).unwrap();
    assert_eq!(sheet.names(&path("piece.1.zone")), ["middle", "frame"]);
    assert_eq!(sheet.value(&path("mix.1.parts.3.kind")).unwrap(), "coral");
}

#[test]
fn a_new_name_stands_wherever_the_old_one_did() {
    let text = changed(&[
        rename("kind.1", "mermaid"),
        rename("mix.1", "late light"),
        rename("adhesive.1", "tube"),
        rename("piece.6", "pendant"),
    ]);
    for old in ["\"sea glass\"", "\"harbour at dusk\"", "\"bench gel\"", "\"charm\""] {
        assert!(!text.contains(old), "{old}");
    }
    let back = [
        rename("kind.1", "sea glass"),
        rename("mix.1", "harbour at dusk"),
        rename("adhesive.1", "bench gel"),
        rename("piece.6", "charm"),
    ];
    assert_eq!(apply(&text, &back).unwrap(), demo());
    assert!(apply(demo(), &[rename("kind.1", "dew")]).is_err(), "the name is taken");
    assert!(apply(demo(), &[rename("kind.1", "harbour at dusk")]).is_err(), "by a mix");
}

#[test]
fn the_one_zone_of_a_piece_gets_a_header_when_it_must_have_one() {
    let zone =
        "name = \"rim\"\nwhere = { band = \"3 mm\" }\narrangement = \"square\"\nmix = \"dew\"";
    let text = changed(&[add("piece.5.zone", zone)]);
    let sheet = Sheet::of(&text).unwrap();
    assert_eq!(sheet.names(&path("piece.5.zone")), ["all", "rim"]);
    assert_eq!(sheet.value(&path("piece.5.zone.1.open")).unwrap(), "0.25 mm");
    assert!(text.contains("# opened a little until the last row meets the far edge"));
    assert!(text.contains("# the usual; also top, left, right, longest, \"30 deg\""));
    let text = changed(&[set("piece.6.zone.1.name", "heart")]);
    assert_eq!(Sheet::of(&text).unwrap().names(&path("piece.6.zone")), ["heart"]);
    assert_eq!(
        apply(demo(), &[remove("piece.6.zone.1")]).unwrap_err().text,
        "a piece has one zone at least"
    );
}

#[test]
fn an_outline_becomes_every_other_shape() {
    let shapes = Table::Blank.field("shape").unwrap().choices();
    for from in shapes {
        for to in shapes {
            for at in ["piece.1.blank", "piece.1.holes.1", "piece.2.blank"] {
                if at.contains("holes") && to.word == "polygon" {
                    continue; // its corners may be anywhere, and so beside the blank
                }
                let shape = format!("{at}.shape");
                changed(&[set(&shape, from.word), set(&shape, to.word)]);
            }
        }
    }
    let text = changed(&[set("piece.5.blank.shape", "circle")]);
    let blank = Sheet::of(&text).unwrap().value(&path("piece.5.blank")).unwrap();
    assert_eq!(blank, "{ shape = \"circle\", diameter = \"3 1/2 in\", colour = \"#dfe5e8\" }");
    let text = changed(&[set("piece.1.blank.file", "gull.svg")]);
    let blank = Sheet::of(&text).unwrap().value(&path("piece.1.blank")).unwrap();
    assert_eq!(blank, "{ file = \"gull.svg\", width = \"60 mm\", colour = \"#142038\" }");
}

#[test]
fn a_kind_by_its_name_becomes_a_list_when_another_joins_it() {
    let text = changed(&[add("piece.1.zone.2.mix", "{ kind = \"dew\" }")]);
    let mix = Sheet::of(&text).unwrap().value(&path("piece.1.zone.2.mix")).unwrap();
    assert_eq!(mix, "[{ kind = \"sea glass\" }, { kind = \"dew\" }]");
}

#[test]
fn faults_name_the_field_that_they_are_about() {
    let paths = |changes: &[Change]| -> Vec<String> {
        let text = apply(demo(), changes).unwrap();
        check(&text).into_iter().map(|f| f.path.unwrap_or_default().to_string()).collect()
    };
    assert_eq!(paths(&[set("piece.1.zone.2.spacing", "wide")]), ["piece.1.zone.2.spacing"]);
    assert_eq!(paths(&[set("piece.6.zone.1.spacing", "-2")]), ["piece.6.zone.1.spacing"]);
    assert_eq!(paths(&[set("piece.1.quantity", "many")]), ["piece.1.quantity"]);
    assert_eq!(paths(&[clear("piece.6.zone.1.mix")]), ["piece.6.zone.1.mix"]);
    assert_eq!(paths(&[clear("order")]), ["order"]);
    assert_eq!(paths(&[set("piece.1.blank.width", "1 ft")]), ["piece.1.blank.width"]);
    assert_eq!(paths(&[set("piece.1.zone.2.open", "1")]), ["piece.1.zone.2.open"]);
    assert_eq!(paths(&[set("supplier.1.offers.2.price", "x")]), ["supplier.1.offers.2.price"]);
}

#[test]
fn changes_are_made_all_or_not_at_all_and_say_which_was_refused() {
    let error = apply(demo(), &[set("seed", "2"), set("piece.9.margin", "1")]).unwrap_err();
    assert_eq!((error.index, error.path.to_string().as_str()), (1, "piece.9.margin"));
    for change in [
        set("piece.1.colour", "red"),
        set("kind", "x"),
        set("workshop", "{ rate = 1 }\n[price"),
        add("piece.1.margin", "1"),
        add("kind", "name = 'x'\n[[piece]]"),
        add("kind", "name = 'x'\n[[kind]]"),
        add("kind", "not toml"),
        remove("piece.7"),
        copy("price"),
        move_to("kind.99", 1),
        rename("piece.1.holes.1", "x"),
        rename("piece.1", " "),
    ] {
        assert!(apply(demo(), std::slice::from_ref(&change)).is_err(), "{change:?}");
    }
}

#[test]
fn lines_end_as_they_did() {
    let windows = demo().replace('\n', "\r\n");
    let zone =
        "name = \"rim\"\nwhere = { band = \"3 mm\" }\narrangement = \"square\"\nmix = \"dew\"";
    let changes = [
        set("piece.1.sides", "2"),
        set("piece.1.margin", "1"),
        clear("piece.2.film"),
        add("piece.5.zone", zone),
        copy("piece.1"),
        move_to("piece.3", 1),
        remove("kind.11"),
        clear("workshop.rate"),
        add("mix.1.parts", "{ kind = \"dew\" }"),
    ];
    let text = apply(&windows, &changes).unwrap();
    assert_eq!(text.matches('\n').count(), text.matches("\r\n").count());
    assert_eq!(text.replace("\r\n", "\n"), apply(demo(), &changes).unwrap());
}

#[test]
fn a_document_has_four_megabytes_at_most() {
    let long = format!("{}# {}\n", demo(), "x".repeat(MAX_BYTES));
    assert!(apply(&long, &[]).unwrap_err().text.contains("too large"));
    let name = "x".repeat(MAX_BYTES);
    assert!(apply(demo(), &[set("order", &name)]).unwrap_err().text.contains("too large"));
}

#[test]
fn changes_travel_as_json() {
    let json = r#"{"do":"set","path":"piece.1.margin","value":"1/8 in"}"#;
    let change: Change = serde_json::from_str(json).unwrap();
    assert_eq!(change, set("piece.1.margin", "1/8 in"));
    assert_eq!(serde_json::to_string(&change).unwrap(), json);
    assert!(serde_json::from_str::<Change>(r#"{"do":"clear","path":"a b"}"#).is_err());
}

/// Every path of the demo order that leads to something, and to keys that it does not have.
fn places() -> Vec<Path> {
    fn within(table: Table, at: &Path, found: &mut Vec<Path>) {
        for field in table.fields() {
            let key = at.key(field.key);
            found.push(key.clone());
            let Some(inner) = field.table else { continue };
            if matches!(field.sort, Sort::Tables | Sort::KindOrMix) {
                for number in 1..=2 {
                    found.push(key.number(number));
                    within(inner, &key.number(number), found);
                }
            } else {
                within(inner, &key, found);
            }
        }
    }
    let mut found = vec![];
    within(Table::Order, &Path::root(), &mut found);
    found
}

fn change() -> impl Strategy<Value = Change> {
    let places = places();
    let at = prop::sample::select(places);
    let value = prop_oneof![
        Just("60".to_owned()),
        Just("circle".to_owned()),
        Just("rest".to_owned()),
        Just("{ band = \"2 rows\" }".to_owned()),
        Just("[{ kind = \"dew\" }]".to_owned()),
        Just("dew, spray".to_owned()),
        Just("[]".to_owned()),
        "[ -~äß€\n\\]\\[{}#\"'=.,]{0,12}",
    ];
    let toml = prop_oneof![
        Just("name = \"x\"\nsize = \"SS16\"".to_owned()),
        Just("{ kind = \"dew\", share = \"5 %\" }".to_owned()),
        Just("\"dew\"".to_owned()),
        "[ -~\n]{0,16}",
    ];
    (at, value, toml, 0usize..6, 0..7).prop_map(|(path, value, toml, to, which)| match which {
        0 | 1 => Change::Set { path, value },
        2 => Change::Clear { path },
        3 => Change::Add { path, toml },
        4 => Change::Remove { path },
        5 if to > 3 => Change::Rename { path, name: value },
        5 => Change::Copy { path },
        _ => Change::Move { path, to },
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    /// Random changes give TOML that the parser takes or refuses, and every comment that stands on
    /// a line of its own, apart from any entry, stays.
    #[test]
    fn random_changes_never_break_a_document(changes in prop::collection::vec(change(), 1..6)) {
        let mut text = demo().to_owned();
        for change in changes {
            let Ok(next) = apply(&text, &[change]) else { continue };
            prop_assert!(Sheet::of(&next).is_some());
            let _ = read_draft("o", next.as_bytes());
            let headings = |t: &str| t.lines().filter(|l| l.starts_with("# ──")).count();
            prop_assert_eq!(headings(&text), headings(&next));
            text = next;
        }
    }

    /// One value set, and the rest of the document is byte for byte what it was.
    #[test]
    fn only_the_line_of_a_value_changes(
        at in prop::sample::select(places()),
        value in "[a-z0-9 ]{1,8}",
    ) {
        let sheet = Sheet::of(demo()).unwrap();
        let plain = fields::at(&at).is_some_and(|f| {
            f.table.is_none() && !matches!(f.key, "shape" | "file")
        });
        let one_line = sheet.value(&at).is_some_and(|v| !v.contains('\n'));
        if plain && one_line {
            let text = apply(demo(), &[Change::Set { path: at, value }]).unwrap();
            let (old, new) = difference(demo(), &text);
            prop_assert!(old.len() <= 1 && new.len() <= 1, "{:?} {:?}", old, new);
        }
    }
}
