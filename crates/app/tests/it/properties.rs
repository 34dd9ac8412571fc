//! No document, however broken, does more harm than a message.

use crate::demo_files;
use app::order::open;
use proptest::prelude::*;
use proptest::test_runner::{RngAlgorithm, RngSeed};

/// So many cases, from a fixed seed: the same on every machine and every day.
fn cases(n: u32) -> ProptestConfig {
    ProptestConfig {
        cases: n,
        failure_persistence: None,
        rng_algorithm: RngAlgorithm::ChaCha,
        rng_seed: RngSeed::Fixed(20_261),
        ..ProptestConfig::default()
    }
}

/// Opens a document; a refusal must render and point into the document.
fn survives(bytes: &[u8]) {
    if let Err(refused) = open("order.toml", bytes, &demo_files()) {
        assert!(!refused.faults.is_empty());
        assert!(!refused.pretty(false).is_empty());
        assert!(!refused.pretty(true).is_empty());
        assert!(!refused.plain().is_empty());
        for fault in &refused.faults {
            assert!(fault.span.end <= refused.source.len());
        }
    }
}

/// Words that mean something somewhere in a document, in places where they mean nothing.
const WORDS: &[&str] = &[
    "\"60 mm\"",
    "\"-1 mm\"",
    "\"1/0 in\"",
    "\"1e308 m\"",
    "nan",
    "-inf",
    "0",
    "1e400",
    "99999999999999999999",
    "true",
    "1979-05-27",
    "[]",
    "{}",
    "[[]]",
    "\"\"",
    "\"SS16\"",
    "\"SS0\"",
    "\"rest\"",
    "\"scatter\"",
    "\"rings\"",
    "\"harbour at dusk\"",
    "[\"1 mm\", \"2 mm\"]",
    "{ band = \"2 rows\" }",
    "{ file = \"gull.svg\" }",
    "{ shape = \"star\" }",
    "\"gull.svg\"",
    "=",
    "[[piece]]\n",
    "[[piece.zone]]\n",
    "[kind]\n",
    "é",
    "\u{feff}",
    "\0",
    "'''",
    "#",
];

proptest! {
    #![proptest_config(cases(300))]

    #[test]
    fn any_bytes_are_survived(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        survives(&bytes);
    }

    #[test]
    fn any_text_is_survived(text in "\\PC{0,200}") {
        survives(text.as_bytes());
        survives(format!("stonelay = 1\n{text}").as_bytes());
    }
}

proptest! {
    #![proptest_config(cases(200))]

    /// Bytes of the demonstration order overwritten, removed or doubled.
    #[test]
    fn damaged_orders_are_survived(
        damage in proptest::collection::vec((any::<prop::sample::Index>(), 0..3u8, any::<u8>()), 1..6),
    ) {
        let mut bytes = app::demo::FILES[0].1.as_bytes().to_vec();
        for (at, how, byte) in damage {
            let i = at.index(bytes.len());
            match how {
                0 => bytes[i] = byte,
                1 => { bytes.remove(i); }
                _ => bytes.insert(i, byte),
            }
        }
        survives(&bytes);
    }

    /// Values of the demonstration order in each other's place, or replaced by others.
    #[test]
    fn orders_with_wrong_values_are_survived(
        changes in proptest::collection::vec(
            (any::<prop::sample::Index>(), prop::sample::select(WORDS)), 1..6,
        ),
    ) {
        let mut lines: Vec<String> = app::demo::FILES[0].1.lines().map(str::to_owned).collect();
        let with_value: Vec<usize> = (0..lines.len()).filter(|&i| lines[i].contains(" = ")).collect();
        for (at, word) in changes {
            let i = with_value[at.index(with_value.len())];
            let key = lines[i].split('=').next().unwrap_or("").to_owned();
            lines[i] = format!("{key}= {word}");
        }
        survives(lines.join("\n").as_bytes());
    }
}
