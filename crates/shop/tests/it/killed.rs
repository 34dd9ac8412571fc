//! Two hundred times killed in the middle of writing: what was acknowledged is there, once, and
//! nothing is half there.

use crate::support::{badges, badges_at_the_bench, integrity, line, once_more, part, press};
use crate::support::{shop, this_program};
use rusqlite::Connection;
use shop::{Moved, NewEntry, NewPress, Pressed, SettingId, Shop, ShopError};
use std::collections::BTreeSet;
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::sync::mpsc;
use std::thread;
use std::time::Duration;

const ROUNDS: u64 = 200;
const TEST: &str = "killed::nothing_acknowledged_is_lost_and_nothing_is_half_written";

#[test]
fn nothing_acknowledged_is_lost_and_nothing_is_half_written() {
    if let Some((round, path)) = part() {
        return write_until_killed(&path, &round);
    }
    let kept = shop();
    let order = badges(&kept.shop);
    assert_eq!(badges_at_the_bench(&kept.shop, &order, "s").id, SettingId(1));
    let (_folder, path) = (&kept.folder, kept.shop.path().to_owned());
    drop(kept.shop);

    let mut acknowledged = BTreeSet::new();
    let (mut unanswered, mut in_the_middle, mut while_opening) = (BTreeSet::new(), 0, 0);
    for round in 0..ROUNDS {
        let (tried, answered) = one_round(&path, round, &unanswered);
        in_the_middle += u64::from(answered.len() < tried.len());
        while_opening += u64::from(tried.is_empty());
        acknowledged.extend(answered);
        unanswered.extend(tried);
        unanswered.retain(|nonce| !acknowledged.contains(nonce));
    }
    let found = examine(&path, &acknowledged);
    println!(
        "{ROUNDS} rounds: killed {in_the_middle} times in the middle of writing, {while_opening} \
         times before; {} acknowledged, all there once; {} presses and {} sets of lines whole; \
         integrity ok, stock is the sum of the ledger",
        acknowledged.len(),
        found.presses,
        found.sets
    );
    assert!(acknowledged.len() as u64 > ROUNDS, "too little was acknowledged to prove anything");
    assert!(in_the_middle > ROUNDS / 10, "killed too seldom in the middle: {in_the_middle}");
    assert!(found.presses > 100 && found.sets > 100);
}

/// Starts the writer, kills it after a while, and gives what it tried and what it acknowledged.
fn one_round(
    path: &Path,
    round: u64,
    unanswered: &BTreeSet<String>,
) -> (BTreeSet<String>, BTreeSet<String>) {
    let mut child = once_more(&this_program(), TEST, &round.to_string(), path).spawn().unwrap();
    let mut stdin = child.stdin.take().unwrap();
    for nonce in unanswered {
        writeln!(stdin, "{nonce}").unwrap();
    }
    drop(stdin);
    let out = BufReader::new(child.stdout.take().unwrap());
    let (begun, has_begun) = mpsc::channel();
    let reader = thread::spawn(move || {
        let (mut tried, mut answered) = (BTreeSet::new(), BTreeSet::new());
        for line in out.lines() {
            let line = line.unwrap();
            if let Some(nonce) = line.strip_prefix("try ") {
                tried.insert(nonce.to_owned());
                let _ = begun.send(()); // nobody listens after the first
            } else if let Some(nonce) = line.strip_prefix("ack ") {
                answered.insert(nonce.to_owned());
            } else if let Some(fault) = line.strip_prefix("fault ") {
                panic!("the writer failed: {fault}");
            }
        }
        (tried, answered)
    });
    // Every fourth time any moment from the start on, else once writing has begun; multiplied by a
    // prime to spread them.
    if !round.is_multiple_of(4) {
        has_begun.recv_timeout(Duration::from_secs(20)).unwrap();
    }
    thread::sleep(Duration::from_millis(2 + round * 7919 % 61));
    child.kill().unwrap();
    child.wait().unwrap();
    let said = reader.join().unwrap();
    // A nonce cut off in the middle of its line was not said.
    let whole =
        |nonces: BTreeSet<String>| nonces.into_iter().filter(|n| n.ends_with('.')).collect();
    (whole(said.0), whole(said.1))
}

/// The writer: first what was not answered last time, then on and on.
fn write_until_killed(path: &Path, round: &str) {
    let say = |word: &str, nonce: &str| {
        let mut out = std::io::stdout().lock();
        writeln!(out, "\n{word} {nonce}").and_then(|()| out.flush()).unwrap();
    };
    let unanswered: Vec<String> = std::io::stdin().lines().map(Result::unwrap).collect();
    let shop = match Shop::open(path, shop::Opening::default()) {
        Ok(shop) => shop,
        Err(error) => return say("fault", &error.to_string()),
    };
    let one = |nonce: &str| {
        say("try", nonce);
        match write_one(&shop, nonce) {
            Ok(()) => say("ack", nonce),
            Err(error) => say("fault", &error.to_string()),
        }
    };
    unanswered.iter().for_each(|nonce| one(nonce));
    thread::scope(|scope| {
        for sort in ["press", "lines"] {
            scope.spawn(move || (0..u64::MAX).for_each(|i| one(&format!("{sort}-{round}-{i}."))));
        }
    });
}

/// What a nonce stands for: a press with two lines, or three lines.
fn write_one(shop: &Shop, nonce: &str) -> Result<(), ShopError> {
    let part = |n: i64, what| line(&format!("{nonce}{n}"), what, n + 1);
    if nonce.starts_with("press") {
        let entries = vec![part(0, Moved::Used), part(1, Moved::Lost)];
        let new = NewPress { entries, ..press(nonce, Pressed::RowDone) };
        return shop.press(SettingId(1), &new).map(drop);
    }
    let coral = NewEntry { stone: "coral".into(), ..part(2, Moved::Received) };
    shop.write(&[part(0, Moved::Received), part(1, Moved::Counted), coral]).map(drop)
}

/// How much was examined.
struct Found {
    presses: usize,
    sets: usize,
}

fn examine(path: &Path, acknowledged: &BTreeSet<String>) -> Found {
    let shop = Shop::open(path, shop::Opening::default()).unwrap();
    assert_eq!(shop.check().unwrap(), []);
    drop(shop);
    assert_eq!(integrity(path), "ok");
    let raw = Connection::open(path).unwrap();
    let texts = |sql: &str| -> Vec<String> {
        let mut found = raw.prepare(sql).unwrap();
        found.query_map([], |row| row.get(0)).unwrap().collect::<Result<_, _>>().unwrap()
    };
    let presses = texts("SELECT nonce FROM press ORDER BY nonce");
    let lines: Vec<(String, u32)> = texts("SELECT nonce FROM entry ORDER BY nonce")
        .iter()
        .map(|nonce| {
            let (of, n) = nonce.split_at(nonce.len() - 1);
            (of.to_owned(), n.parse().unwrap())
        })
        .collect();
    let of = |nonce: &str| -> Vec<u32> {
        let first = lines.partition_point(|(of, _)| of.as_str() < nonce);
        lines[first..].iter().take_while(|(of, _)| of == nonce).map(|(_, n)| *n).collect()
    };
    assert!(presses.windows(2).all(|pair| pair[0] != pair[1]), "a press is there twice");
    for nonce in &presses {
        assert_eq!(of(nonce), [0, 1], "press {nonce} has not its two lines");
    }
    let of_presses: BTreeSet<&str> =
        lines.iter().map(|(of, _)| of.as_str()).filter(|of| of.starts_with("press")).collect();
    assert!(of_presses.iter().copied().eq(presses.iter().map(String::as_str)));
    let sets: BTreeSet<&str> =
        lines.iter().map(|(of, _)| of.as_str()).filter(|of| of.starts_with("lines")).collect();
    for nonce in &sets {
        assert_eq!(of(nonce), [0, 1, 2], "{nonce} has not its three lines");
    }
    for nonce in acknowledged {
        let there = presses.binary_search(nonce).is_ok() || sets.contains(nonce.as_str());
        assert!(there, "{nonce} was acknowledged and is lost");
    }
    // The sum of the lines, added up here once more.
    let sum: i64 = raw
        .query_row("SELECT total(on_hand_change) FROM entry", [], |row| row.get::<_, f64>(0))
        .unwrap() as i64;
    let kept: i64 = raw.query_row("SELECT sum(on_hand) FROM stock", [], |row| row.get(0)).unwrap();
    assert_eq!(sum, kept);
    Found { presses: presses.len(), sets: sets.len() }
}
