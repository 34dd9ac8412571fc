//! Values between a form's field and the document: what was typed becomes TOML, and back.
//!
//! What cannot be read is written down as it was typed, in quotes: the parser says what is wrong
//! with it, and nothing typed is lost.

use super::tree::{self, Node};
use crate::fields::{Choice, Sort};
use std::str::FromStr;
use units::{Angle, Density, Length, Mass, Span, Temperature, trimmed};

/// Text in the quotes of TOML.
pub(crate) fn quoted(text: &str) -> String {
    let mut quoted = String::with_capacity(text.len() + 2);
    quoted.push('"');
    for c in text.chars() {
        match c {
            '"' => quoted.push_str("\\\""),
            '\\' => quoted.push_str("\\\\"),
            '\n' => quoted.push_str("\\n"),
            '\t' => quoted.push_str("\\t"),
            '\r' => quoted.push_str("\\r"),
            c if c.is_control() => quoted.push_str(&format!("\\u{:04X}", c as u32)),
            c => quoted.push(c),
        }
    }
    quoted.push('"');
    quoted
}

/// Whether a text is one value of TOML.
pub(crate) fn is_value(text: &str) -> bool {
    let line = format!("x = {text}\n");
    let node = tree::parse(&line);
    let one = |n: &Node| match n.as_table().map(|t| t.entries.as_slice()) {
        // Nothing but a comment or blanks may follow it.
        Some([entry]) => entry.node.bytes().is_some_and(|b| line[b.end..].trim().is_empty()),
        _ => false,
    };
    node.is_ok_and(|n| one(&n))
}

/// What was typed, as TOML. `sort` is how the key is read.
pub(crate) fn spelt(typed: &str, sort: Sort) -> String {
    let typed = typed.trim();
    let written = typed.starts_with(['[', '{']) && is_value(typed);
    match sort {
        _ if written && takes_toml(sort) => typed.to_owned(),
        Sort::Whole => whole(typed).unwrap_or_else(|| quoted(typed)),
        Sort::Flag => match typed.to_lowercase().as_str() {
            "true" | "yes" | "on" | "1" => "true".to_owned(),
            "false" | "no" | "off" | "0" => "false".to_owned(),
            _ => quoted(typed),
        },
        Sort::Day if is_day(typed) => typed.to_owned(),
        // Names may hold a comma: where there are lines, each is one.
        Sort::List(Sort::Name) if typed.contains('\n') => list(typed.lines(), quoted),
        Sort::List(each) => list(typed.split(','), |t| spelt(t, *each)),
        Sort::Place => place(typed),
        Sort::Corners => list(typed.split(';'), place),
        _ => quoted(&plain(typed, sort)),
    }
}

/// Whether a value may be typed as a list or table of TOML.
fn takes_toml(sort: Sort) -> bool {
    matches!(
        sort,
        Sort::List(_)
            | Sort::Place
            | Sort::Corners
            | Sort::Table
            | Sort::Tables
            | Sort::StoneSize
            | Sort::Mass
            | Sort::Share
            | Sort::KindOrMix
            | Sort::Choice(_)
    )
}

fn list<'t>(parts: impl Iterator<Item = &'t str>, each: impl Fn(&str) -> String) -> String {
    let parts: Vec<String> = parts.map(str::trim).filter(|t| !t.is_empty()).map(each).collect();
    format!("[{}]", parts.join(", "))
}

/// `30, 5`, `30 mm x 5 mm`, as two lengths.
fn place(typed: &str) -> String {
    list(typed.split([',', 'x', '×']), |t| spelt(t, Sort::Length))
}

/// `1 440` and `1,440` as `1440`.
fn whole(typed: &str) -> Option<String> {
    let mut groups = typed.split([' ', ',', '\u{a0}', '\u{202f}']);
    let first = groups.next()?;
    let rest: Vec<&str> = groups.collect();
    let digits = |t: &str| !t.is_empty() && t.bytes().all(|b| b.is_ascii_digit());
    let grouped = rest.iter().all(|g| g.len() == 3 && digits(g)) && (1..=3).contains(&first.len());
    if !digits(first) || !(rest.is_empty() || grouped) || typed.len() > 30 {
        return None;
    }
    let number = first.to_owned() + &rest.concat();
    let bare = number.trim_start_matches('0');
    Some(if bare.is_empty() { "0".to_owned() } else { bare.to_owned() })
}

fn is_day(typed: &str) -> bool {
    typed.len() == 10 && typed.parse::<jiff::civil::Date>().is_ok()
}

/// What stands in the quotes.
fn plain(typed: &str, sort: Sort) -> String {
    match sort {
        Sort::Length => length(typed),
        Sort::Angle => with_unit::<Angle>(typed, "deg"),
        Sort::Along(words) => match typed.bytes().next() {
            Some(b'0'..=b'9' | b'+' | b'-' | b'.') => with_unit::<Angle>(typed, "deg"),
            _ => word(typed, words),
        },
        Sort::BandWidth if typed.to_lowercase().ends_with(['s', 'w']) => typed.to_lowercase(),
        Sort::BandWidth => length(typed),
        Sort::StoneSize => stone_size(typed),
        Sort::Choice(words) => word(typed, words),
        Sort::Colour if !typed.starts_with('#') && is_hex(typed) => format!("#{typed}"),
        Sort::Money => with_point(typed),
        Sort::Share => share(typed),
        Sort::Span => with_unit::<Span>(typed, "min"),
        Sort::Mass => with_unit::<Mass>(typed, "g"),
        Sort::Temperature => with_unit::<Temperature>(typed, "C"),
        Sort::Density => with_unit::<Density>(typed, "g/ml"),
        Sort::Currency => typed.to_uppercase(),
        _ => typed.to_owned(),
    }
}

/// A length as the document writes it: `60` and `60mm` as `60 mm`, `2 3/8"` as `2 3/8 in`.
pub(crate) fn length(typed: &str) -> String {
    let typed = with_unit::<Length>(typed, "mm");
    let number_end = typed.rfind(|c: char| c.is_ascii_digit() || c == '.').map_or(0, |i| i + 1);
    let (number, unit) = typed.split_at(number_end);
    let unit = match unit.trim() {
        "\"" | "″" | "”" | "inch" | "inches" => "in",
        unit => unit,
    };
    let tidy = format!("{} {unit}", number.trim());
    if tidy.parse::<Length>().is_ok() { tidy } else { typed }
}

/// With the unit that is usual, if none was typed and it can be read then.
fn with_unit<T: FromStr>(typed: &str, unit: &str) -> String {
    let pointed = with_point(typed);
    if pointed.parse::<T>().is_ok() {
        return pointed;
    }
    let whole = format!("{pointed} {unit}");
    if whole.parse::<T>().is_ok() { whole } else { typed.to_owned() }
}

/// `4,90` as `4.90`, unless a comma may stand for thousands.
fn with_point(typed: &str) -> String {
    let Some((before, after)) = typed.split_once(',') else { return typed.to_owned() };
    let n_digits = after.bytes().take_while(u8::is_ascii_digit).count();
    let whole = !before.is_empty() && before.bytes().all(|b| b.is_ascii_digit());
    let clear = whole && n_digits > 0 && n_digits != 3 && !after.contains([',', '.']);
    if clear { format!("{before}.{after}") } else { typed.to_owned() }
}

/// A bare number is per cent; a fraction stays one.
fn share(typed: &str) -> String {
    let pointed = with_point(typed);
    if pointed.parse::<f64>().is_ok() { format!("{pointed} %") } else { pointed }
}

fn stone_size(typed: &str) -> String {
    let number = typed.get(..2).filter(|p| p.eq_ignore_ascii_case("ss")).map(|_| typed[2..].trim());
    match number {
        Some(number) => format!("SS{number}"),
        None => length(typed),
    }
}

fn word(typed: &str, words: &[Choice]) -> String {
    let plain = |t: &str| t.to_lowercase().replace(['-', '_'], " ");
    let found = words.iter().find(|w| plain(w.word) == plain(typed));
    found.map_or(typed, |w| w.word).to_owned()
}

fn is_hex(typed: &str) -> bool {
    matches!(typed.len(), 3 | 6) && typed.bytes().all(|b| b.is_ascii_hexdigit())
}

/// A value as a form's field shows it; `None` if it is spread over lines of its own.
pub(crate) fn shown(text: &str, node: &Node, sort: Option<Sort>) -> Option<String> {
    let raw = || node.bytes().map(|b| text[b.clone()].to_owned());
    match (node, sort) {
        (Node::Value(_, Some(inner)), _) => Some(inner.clone()),
        (Node::Value(..), Some(Sort::Share)) => {
            let part: Option<f64> = raw()?.parse().ok();
            part.map_or_else(raw, |p| Some(format!("{} %", trimmed(p * 100.0, 6))))
        }
        (Node::List(list), Some(Sort::List(Sort::Name))) if list.items.len() > 1 => {
            joined(text, &list.items, Some(Sort::Name), "\n").or_else(raw)
        }
        (Node::List(list), Some(Sort::List(each))) => {
            joined(text, &list.items, Some(*each), ", ").or_else(raw)
        }
        (Node::List(list), Some(Sort::Place)) => {
            joined(text, &list.items, Some(Sort::Length), ", ").or_else(raw)
        }
        (Node::List(list), Some(Sort::Corners)) => {
            joined(text, &list.items, Some(Sort::Place), "; ").or_else(raw)
        }
        _ => raw(),
    }
}

/// The entries of a list in one line; `None` if that could not be read back.
fn joined(text: &str, items: &[Node], sort: Option<Sort>, between: &str) -> Option<String> {
    let each = items.iter().map(|n| {
        let shown = shown(text, n, sort)?;
        let splits = shown.contains(between.trim_end_matches(' ')) || shown.starts_with('[');
        (!splits && shown.trim() == shown && !shown.is_empty()).then_some(shown)
    });
    Some(each.collect::<Option<Vec<String>>>()?.join(between))
}

#[cfg(test)]
mod tests {
    use super::*;

    const LENGTH: Sort = Sort::Length;

    #[test]
    fn lengths_are_typed_loosely_and_written_in_one_way() {
        for (typed, written) in [
            ("60", "60 mm"),
            (" 60mm ", "60 mm"),
            ("60,5", "60.5 mm"),
            ("6 cm", "6 cm"),
            ("2 3/8\"", "2 3/8 in"),
            ("2 3/8 in", "2 3/8 in"),
            ("2-3/8 inches", "2-3/8 in"),
            (".5", ".5 mm"),
            ("-3", "-3 mm"),
            ("wide", "wide"),
            ("1,500", "1,500"),
        ] {
            assert_eq!(spelt(typed, LENGTH), quoted(written), "{typed}");
        }
    }

    #[test]
    fn each_sort_is_written_as_the_document_has_it() {
        for (sort, typed, written) in [
            (Sort::Whole, "1 440", "1440"),
            (Sort::Whole, "1,440", "1440"),
            (Sort::Whole, "007", "7"),
            (Sort::Whole, "some", "\"some\""),
            (Sort::Flag, "Yes", "true"),
            (Sort::Day, "2026-12-18", "2026-12-18"),
            (Sort::Day, "in May", "\"in May\""),
            (Sort::Share, "40", "\"40 %\""),
            (Sort::Share, "1/3", "\"1/3\""),
            (Sort::Money, "4,90", "\"4.90\""),
            (Sort::Span, "9 h 40 min", "\"9 h 40 min\""),
            (Sort::Span, "4", "\"4 min\""),
            (Sort::Temperature, "70 F", "\"70 F\""),
            (Sort::Temperature, "21", "\"21 C\""),
            (Sort::StoneSize, "ss 16", "\"SS16\""),
            (Sort::StoneSize, "4", "\"4 mm\""),
            (Sort::StoneSize, "{ mean = '4 mm' }", "{ mean = '4 mm' }"),
            (Sort::BandWidth, "2 rows", "\"2 rows\""),
            (Sort::BandWidth, "6", "\"6 mm\""),
            (Sort::Colour, "2a9d8f", "\"#2a9d8f\""),
            (Sort::Currency, "eur", "\"EUR\""),
            (Sort::Place, "30, 5", "[\"30 mm\", \"5 mm\"]"),
            (Sort::Corners, "0,0; 3 cm,0", "[[\"0 mm\", \"0 mm\"], [\"3 cm\", \"0 mm\"]]"),
            (Sort::List(&Sort::Kind), "dew, spray", "[\"dew\", \"spray\"]"),
            (Sort::List(&Sort::Whole), "1, 6", "[1, 6]"),
            (Sort::List(&Sort::Name), "Ana, Bo", "[\"Ana\", \"Bo\"]"),
            (Sort::List(&Sort::Name), "Ana\n\nDiaz, Bo\n", "[\"Ana\", \"Diaz, Bo\"]"),
            (Sort::Name, "say \"hi\"\n", "\"say \\\"hi\\\"\""),
            (Sort::Name, "[x]", "\"[x]\""),
        ] {
            assert_eq!(spelt(typed, sort), written, "{typed}");
        }
    }

    #[test]
    fn a_value_of_toml_is_one_value_and_nothing_more() {
        assert!(is_value("[1, 2]") && is_value("{ a = 1 }") && is_value("'x'"));
        for text in ["1\ny = 2", "1 # more", "", "]", "1\n[t]"] {
            assert!(!is_value(text), "{text}");
        }
    }
}
