//! The catalogue is held to the parser and to the manual.

use super::*;
use crate::document::read_draft;
use std::collections::{BTreeMap, BTreeSet};

/// A key that nothing resembles: the parser answers with those it knows.
const STRANGE: &str = "zzzzzzzzzzzzzzzz";

/// A document with a hole for more keys of one table: `@` in braces, `@` in a line otherwise.
struct Context {
    of: Table,
    text: String,
    /// What the table has already.
    has: BTreeMap<&'static str, &'static str>,
}

impl Context {
    fn with(&self, key: &str, value: &str) -> String {
        let pair = format!("{key} = {value}");
        self.text.replace('@', &pair)
    }

    fn bare(&self) -> String {
        self.text.replace(", @", "").replace('@', "")
    }

    fn belongs(&self, field: &Field) -> bool {
        field.belongs(|key| self.has.get(key).map(|v| (*v).to_owned()))
    }
}

const HEAD: &str = "stonelay = 1\norder = 'o'\n";
const SHELF: &str = "[[kind]]\nname = 'one'\nsize = 'SS16'\npack = 100\nweight = '0.05 g'\n\
    [[kind]]\nname = 'two'\nsize = 'SS20'\n[[mix]]\nname = 'dusk'\nparts = [{ kind = 'one' }]\n\
    [[adhesive]]\nname = 'gel'\nsort = 'solvent gel'\n";
const PIECE: &str = "[[piece]]\nname = 'badge'\nblank = { shape = 'circle', diameter = '50 mm' }\n\
    arrangement = 'scatter'\nmix = 'one'\n";

fn contexts() -> Vec<Context> {
    let mut all = vec![];
    let mut add = |of, has: &[(&'static str, &'static str)], text: String| {
        all.push(Context { of, text, has: has.iter().copied().collect() });
    };
    add(Table::Order, &[("stonelay", "1"), ("order", "o")], format!("{HEAD}@\n"));
    let kind = [("name", "n"), ("size", "4 mm")];
    add(Table::Kind, &kind, format!("{HEAD}{SHELF}[[kind]]\nname = 'n'\nsize = '4 mm'\n@\n"));
    let measured = "mean = '3 mm', spread = '0.1 mm', count = 30";
    let text = format!("{HEAD}[[kind]]\nname = 'n'\nsize = {{ {measured}, @ }}\n");
    add(Table::Measured, &[("mean", ""), ("spread", ""), ("count", "")], text);
    let text = format!(
        "{HEAD}[[kind]]\nname = 'n'\nsize = '4 mm'\nweight = {{ stones = 9, total = '2 g', @ }}\n"
    );
    add(Table::Heap, &[("stones", ""), ("total", "")], text);
    let text = format!("{HEAD}{SHELF}[[mix]]\nname = 'm'\nparts = [{{ kind = 'one' }}]\n@\n");
    add(Table::Mix, &[("name", ""), ("parts", "")], text);
    for key in ["kind = 'one'", "mix = 'dusk'"] {
        let text = format!("{HEAD}{SHELF}[[mix]]\nname = 'm'\nparts = [{{ {key}, @ }}]\n");
        let has = if key.starts_with('k') { ("kind", "one") } else { ("mix", "dusk") };
        add(Table::Part, &[has], text);
    }
    let piece = [("name", "badge"), ("blank", "")];
    add(Table::Piece, &piece, format!("{HEAD}{SHELF}{PIECE}@\n"));
    for (word, rest) in [("set", ", kind = 'one'"), ("clear", ""), ("recolour", ", kind = 'one'")] {
        let mut has = vec![(word, "10 mm, 8 mm")];
        has.extend((!rest.is_empty()).then_some(("kind", "one")));
        let change = format!("by_hand = [{{ {word} = ['10 mm', '8 mm']{rest}, @ }}]\n");
        add(Table::ByHand, &has, format!("{HEAD}{SHELF}{PIECE}{change}"));
    }
    outlines(&mut add);
    zones(&mut add);
    terms(&mut add);
    all
}

type Add<'a> = &'a mut dyn FnMut(Table, &[(&'static str, &'static str)], String);

fn outlines(add: Add<'_>) {
    let rest = "arrangement = 'scatter'\nmix = 'one'\n";
    let forms = [
        ("rectangle", "width = '50 mm', height = '50 mm'"),
        ("rounded rectangle", "width = '50 mm', height = '50 mm', corner = '4 mm'"),
        ("circle", "diameter = '50 mm'"),
        ("ellipse", "width = '50 mm', height = '50 mm'"),
        ("regular polygon", "corners = 6, across = '50 mm'"),
        ("polygon", "points = [['0 mm', '0 mm'], ['50 mm', '0 mm'], ['0 mm', '50 mm']]"),
        ("star", "tips = 5, across = '50 mm'"),
        ("heart", "width = '50 mm', height = '50 mm'"),
        ("", ""),
    ];
    for (shape, keys) in forms {
        let form = match shape {
            "" => "file = 'gull.svg'".to_owned(),
            shape => format!("shape = '{shape}', {keys}"),
        };
        let mut has = vec![if shape.is_empty() { ("file", "gull.svg") } else { ("shape", shape) }];
        let pairs = keys.split(", ").filter_map(|p| p.split_once(" = ")).map(|p| p.0);
        has.extend(pairs.filter(|k| k.chars().all(char::is_alphabetic)).map(|k| (k, "50 mm")));
        let head = format!("{HEAD}{SHELF}[[piece]]\nname = 'p'\n");
        add(Table::Blank, &has, format!("{head}blank = {{ {form}, @ }}\n{rest}"));
        has.push(("at", ""));
        let at = "at = ['25 mm', '25 mm']";
        let blank = "blank = { shape = 'circle', diameter = '300 mm' }\n";
        let holes = format!("holes = [{{ {form}, {at}, @ }}]\n");
        add(Table::Hole, &has, format!("{head}{blank}{holes}{rest}"));
        let zone = format!("[[piece.zone]]\nname = 'z'\nwhere = {{ {form}, {at}, @ }}\n{rest}");
        add(Table::Where, &has, format!("{head}{blank}{zone}"));
    }
}

fn zones(add: Add<'_>) {
    let piece = format!(
        "{HEAD}{SHELF}[[piece]]\nname = 'p'\nblank = {{ shape = 'circle', diameter = '50 mm' }}\n"
    );
    let rest = "arrangement = 'scatter'\nmix = 'one'\n";
    let band = format!("{piece}[[piece.zone]]\nname = 'z'\nwhere = {{ band = '6 mm', @ }}\n{rest}");
    add(Table::Where, &[("band", "6 mm")], band);
    for arrangement in ["honeycomb", "square", "rings", "scatter"] {
        for rows in ["", "locked", "most", "even"] {
            let mut has = vec![("name", "z"), ("arrangement", arrangement), ("mix", "one")];
            let mut line = String::new();
            if !rows.is_empty() {
                if matches!(arrangement, "rings" | "scatter") {
                    continue;
                }
                has.push(("rows", rows));
                line = format!("rows = '{rows}'\n");
            }
            let zone = "[[piece.zone]]\nname = 'z'\nmix = 'one'\n";
            let text = format!("{piece}{zone}arrangement = '{arrangement}'\n{line}@\n");
            add(Table::Zone, &has, text);
        }
    }
}

fn terms(add: Add<'_>) {
    let shelf = format!("{HEAD}{SHELF}");
    add(Table::Workshop, &[], format!("{HEAD}[workshop]\n@\n"));
    add(Table::Loss, &[("rate", "")], format!("{HEAD}[workshop]\nloss = {{ rate = '3 %', @ }}\n"));
    add(Table::Log, &[("stones", "")], format!("{shelf}[[log]]\nstones = 3000\n@\n"));
    let text = format!("{shelf}[[stock]]\nkind = 'one'\nstones = 3000\n@\n");
    add(Table::Stock, &[("kind", ""), ("stones", "")], text);
    let offer = "{ kind = 'one', pack = 9, price = '9.00', @ }";
    let supplier = |offer: &str| format!("{shelf}[[supplier]]\nname = 's'\noffers = [{offer}]\n");
    let plain = supplier("") + "@\n";
    add(Table::Supplier, &[("name", ""), ("offers", "")], plain);
    add(Table::Offer, &[("kind", ""), ("pack", ""), ("price", "")], supplier(offer));
    let breaks =
        "{ kind = 'one', pack = 9, price = '9.00', breaks = [{ packs = 3, price = '8', @ }] }";
    add(Table::Break, &[("packs", ""), ("price", "")], supplier(breaks));
    for sort in ["solvent gel", "coating epoxy"] {
        let ratio = if sort == "coating epoxy" { "ratio = '1:1'\npot = '30 min'\n" } else { "" };
        let mut has = vec![("name", "n"), ("sort", sort), ("container", "9 ml")];
        has.extend(
            (!ratio.is_empty()).then_some([("ratio", "1:1"), ("pot", "")]).into_iter().flatten(),
        );
        let text = format!(
            "{HEAD}[[adhesive]]\nname = 'n'\nsort = '{sort}'\ncontainer = '9 ml'\n{ratio}@\n"
        );
        add(Table::Adhesive, &has, text);
    }
    let text = format!("{HEAD}[[adhesive]]\nname = 'n'\nsort = 'solvent gel'\n@\n");
    add(Table::Adhesive, &[("name", "n"), ("sort", "solvent gel")], text);
    add(Table::Price, &[], format!("{HEAD}[price]\n@\n"));
    add(Table::Fee, &[("name", "")], format!("{HEAD}[price]\nfees = [{{ name = 'card', @ }}]\n"));
    let text = format!("{shelf}{PIECE}[[kit]]\nname = 'k'\npiece = 'badge'\n@\n");
    add(Table::Kit, &[("name", ""), ("piece", "")], text);
    let bag = |measure: &str| {
        let head = format!("{shelf}[price]\ncurrency = 'EUR'\n[[bag]]\nname = 'b'\nmix = 'one'\n");
        format!("{head}{measure}\n@\n")
    };
    let has = [("name", ""), ("mix", ""), ("weight", "20 g")];
    add(Table::Bag, &has, bag("weight = '20 g'"));
    add(Table::Bag, &[("name", ""), ("mix", ""), ("stones", "500")], bag("stones = 500"));
}

/// The keys that the parser knows in a context's table.
fn known(context: &Context) -> BTreeSet<String> {
    let text = context.with(STRANGE, "1");
    let refused = read_draft("o", text.as_bytes()).unwrap_err();
    let fault = refused.faults.iter().find(|f| f.text.contains(STRANGE));
    let hint = fault.unwrap_or_else(|| panic!("{text}\n{refused}")).hint.clone().unwrap();
    let list = hint.split_once(" has: ").unwrap().1.to_owned();
    list.split(", ").map(str::to_owned).collect()
}

#[test]
fn the_catalogue_has_the_keys_that_the_parser_knows_and_no_others() {
    let mut parsers: BTreeMap<Table, BTreeSet<String>> = BTreeMap::new();
    for context in contexts() {
        let known = known(&context);
        for field in context.of.fields() {
            let own = context.has.contains_key(field.key);
            assert!(
                !context.belongs(field) || own || known.contains(field.key),
                "{:?}: `{}` is unknown to the parser\n{}",
                context.of,
                field.key,
                context.text
            );
        }
        parsers.entry(context.of).or_default().extend(known);
    }
    for (table, known) in parsers {
        let mut own: BTreeSet<String> = table.fields().iter().map(|f| f.key.to_owned()).collect();
        if table == Table::Piece {
            let zone = Table::Zone.fields().iter().map(|f| f.key.to_owned());
            own.extend(zone.filter(|k| known.contains(k)));
        }
        assert_eq!(own, known, "{table:?}");
    }
}

#[test]
fn every_example_is_read_where_its_key_belongs_and_every_table_has_a_context() {
    let mut seen = BTreeSet::new();
    for context in contexts() {
        let bare = read_draft("o", context.bare().as_bytes());
        assert!(bare.is_ok(), "{}\n{}", context.bare(), bare.unwrap_err());
        for field in context.of.fields() {
            seen.extend(context.has.contains_key(field.key).then_some((context.of, field.key)));
            if !context.belongs(field)
                || context.has.contains_key(field.key)
                || field.example.is_empty()
            {
                continue;
            }
            // A ratio and its measure belong to what is mixed, a side to what has one side.
            let elsewhere = matches!(field.key, "ratio" | "by" | "pot" | "density_a" | "density_b");
            if elsewhere && context.has.get("sort") == Some(&"solvent gel") {
                continue;
            }
            let text = context.with(field.key, field.example);
            let read = read_draft("o", text.as_bytes());
            assert!(read.is_ok(), "{text}\n{}", read.unwrap_err());
            seen.insert((context.of, field.key));
        }
    }
    for table in contexts().iter().map(|c| c.of) {
        for field in table.fields() {
            let tried = seen.contains(&(table, field.key)) || field.example.is_empty();
            assert!(tried, "{table:?}: the example of `{}` is never read", field.key);
        }
    }
}

#[test]
fn every_word_of_every_choice_is_one_the_parser_knows() {
    for context in contexts() {
        for field in context.of.fields() {
            let own = context.has.contains_key(field.key);
            if !context.belongs(field) || own || matches!(field.key, "apply" | "shape" | "by") {
                continue;
            }
            for choice in field.choices() {
                let quoted = format!("'{}'", choice.word);
                let value = if matches!(field.sort, Sort::List(_)) {
                    format!("[{quoted}]")
                } else {
                    quoted
                };
                let text = context.with(field.key, &value);
                let read = read_draft("o", text.as_bytes());
                assert!(read.is_ok(), "{text}\n{}", read.unwrap_err());
            }
        }
    }
}

/// The keys in the backticks of a text: words in lower case.
fn keys_in(text: &str) -> BTreeSet<String> {
    let word = |t: &&str| !t.is_empty() && t.chars().all(|c| c.is_ascii_lowercase() || c == '_');
    let ticked = text.split('`').skip(1).step_by(2);
    ticked.map(|t| t.trim_matches(['[', ']'])).filter(word).map(str::to_owned).collect()
}

/// The keys that the code of a text shows, alone or before an equals sign.
fn keys_shown(text: &str) -> BTreeSet<String> {
    let code = text.split('`').skip(1).step_by(2);
    // `[[piece.zone]]` shows the key `zone`.
    let last = |p: &str| Some(p.split_whitespace().last()?.trim_matches(['[', ']']).to_owned());
    let shown = code.flat_map(|c| c.split(['=', '.']).filter_map(last).collect::<Vec<_>>());
    keys_in(text).into_iter().chain(shown).collect()
}

#[test]
fn the_manual_lists_every_key_of_the_catalogue_and_no_others() {
    let manual = include_str!("../../../../docs/order-document.md");
    let sections: [(&str, &[Table]); 13] = [
        ("## The whole", &[Table::Order]),
        ("## `[[kind]]`", &[Table::Kind]),
        ("## `[[mix]]`", &[Table::Mix, Table::Part]),
        ("## `[[piece]]`", &[Table::Piece, Table::Blank, Table::Hole]),
        ("## `[[piece.zone]]`", &[Table::Zone]),
        ("## `by_hand`", &[Table::ByHand]),
        ("## `[workshop]`", &[Table::Workshop]),
        ("## `[[log]]`", &[Table::Log]),
        ("## `[[stock]]`", &[Table::Stock]),
        ("## `[[supplier]]`", &[Table::Supplier, Table::Offer]),
        ("## `[[adhesive]]`", &[Table::Adhesive]),
        ("## `[price]`", &[Table::Price]),
        ("## `[[kit]]` and `[[bag]]`", &[Table::Kit, Table::Bag]),
    ];
    for (heading, tables) in sections {
        let start = manual.find(heading).unwrap_or_else(|| panic!("no section {heading}"));
        let body = &manual[start + heading.len()..];
        let body = &body[..body.find("\n## ").unwrap_or(body.len())];
        let written = keys_shown(body);
        let own: BTreeSet<&str> = tables.iter().flat_map(|t| t.fields()).map(|f| f.key).collect();
        for key in &own {
            assert!(written.contains(*key), "{heading}: the manual lacks `{key}`");
        }
        // The first column of a table of keys names nothing but keys.
        let rows = body.lines().filter(|l| l.starts_with("| `"));
        for key in rows.flat_map(|l| keys_in(l.split('|').nth(1).unwrap_or(""))) {
            let known = own.contains(key.as_str())
                || Table::Blank.fields().iter().flat_map(Field::choices).any(|c| c.word == key)
                || key == "zone";
            assert!(known, "{heading}: the catalogue lacks `{key}`");
        }
    }
}

#[test]
fn labels_and_help_are_short_and_finished() {
    for table in contexts().iter().map(|c| c.of) {
        for field in table.fields() {
            assert!((2..=30).contains(&field.label.chars().count()), "{}", field.key);
            assert!(field.help.ends_with('.') && field.help.len() <= 90, "{}", field.key);
        }
    }
}

#[test]
fn paths_lead_into_the_catalogue() {
    let table = |path: &str| table_at(&path.parse().unwrap());
    let key = |path: &str| at(&path.parse().unwrap()).map(|f| f.key);
    assert_eq!(table("piece.3.zone.1"), Some(Table::Zone));
    assert_eq!(table("piece.1.zone.1.where"), Some(Table::Where));
    assert_eq!(table("piece.1.zone.1.mix.2"), Some(Table::Part));
    assert_eq!(table("supplier.1.offers.2.breaks.1"), Some(Table::Break));
    assert_eq!(table("kind"), None);
    assert_eq!(key("kind.1.size.mean"), Some("mean"));
    assert_eq!(key("kind.1.stand_ins.2"), Some("stand_ins"));
    assert_eq!(key("piece.1.blank.points.2.1"), Some("points"));
    assert_eq!(key("piece.1.zone.1.mix.kind"), None);
    assert_eq!(key("piece.1.nothing"), None);
}
