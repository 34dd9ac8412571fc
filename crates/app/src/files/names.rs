//! What the files of a piece are called: safe on every disk, and all different.

/// The longest name, letters and bytes. A file name has 255 bytes at most, letters have up to four,
/// and a number, a dot and an extension follow.
const LONGEST: (usize, usize) = (60, 200);
/// Names that one family of systems keeps for its devices, whatever extension follows. From memory,
/// no source.
const DEVICES: [&str; 4] = ["con", "prn", "aux", "nul"];

/// A file name without extension for each piece: letters and digits kept, in lower case, anything
/// else a hyphen, all different.
pub(super) fn file_names<'a>(pieces: impl Iterator<Item = &'a str>) -> Vec<String> {
    let mut names: Vec<String> = vec![];
    for piece in pieces {
        let base = plain(piece);
        // Where capitals do not count on a disk, `ß` may stand for `SS`.
        let free = |n: &String| names.iter().all(|other| other.to_uppercase() != n.to_uppercase());
        let numbered = (2..).map(|i| format!("{base}-{i}"));
        names.extend(std::iter::once(base.clone()).chain(numbered).find(free));
    }
    names
}

fn plain(piece: &str) -> String {
    let letter = |c: char| if c.is_alphanumeric() { c } else { '-' };
    let all: String = piece.chars().map(letter).collect::<String>().to_lowercase();
    let mut name = String::new();
    for c in all.trim_matches('-').chars().take(LONGEST.0) {
        if name.len() + c.len_utf8() <= LONGEST.1 {
            name.push(c);
        }
    }
    // `com1` and `lpt1` to `9` as well.
    let port = |n: &str| {
        let digit = n.strip_prefix("com").or_else(|| n.strip_prefix("lpt"));
        digit.is_some_and(|d| d.len() == 1 && d.as_bytes()[0].is_ascii_digit())
    };
    if name.is_empty() {
        "piece".to_owned()
    } else if DEVICES.contains(&name.as_str()) || port(&name) {
        format!("piece-{name}")
    } else {
        name
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_safe_and_different() {
        let names =
            file_names(["Badge", "badge", "../x y", "☆", "parade sign", "parade/sign"].into_iter());
        assert_eq!(names, ["badge", "badge-2", "x-y", "piece", "parade-sign", "parade-sign-2"]);
        let names = file_names(["CON", "com1", "comb", "λιμάνι", "مرفأ", "🏮🏮", "🏮"].into_iter());
        let expect = ["piece-con", "piece-com1", "comb", "λιμάνι", "مرفأ", "piece", "piece-2"];
        assert_eq!(names, expect);
        assert_eq!(file_names(["Straße", "STRASSE"].into_iter()), ["straße", "strasse-2"]);
    }

    #[test]
    fn the_longest_name_leaves_room_for_number_and_extension() {
        // Letters of four bytes, of Gothic.
        let long = "\u{10330}".repeat(300);
        let names = file_names((0..500).map(|_| long.as_str()));
        let longest = names.iter().map(String::len).max().unwrap_or(0);
        let extension = super::super::FileSort::ProjectorMirrored.extension();
        assert!(longest + 1 + extension.len() <= 255, "{longest}");
    }
}
