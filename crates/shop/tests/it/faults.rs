//! What the world does to a database: no room, no right to write, somebody else at it.

use crate::support::{SetClock, this_program};
use crate::support::{badges, change, integrity, line, once_more, opening, part, shop};
use shop::{Moved, Opening, Shop, ShopError};
use std::fs;
use std::io::{BufRead, BufReader, Read};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// Tells the test that started this program what came of it.
fn say(text: &str) {
    println!("\nsaid {text}");
}

/// What a program that was started once more has said.
fn said(command: &mut Command) -> Vec<String> {
    let out = command.stdin(Stdio::null()).output().unwrap();
    let text = String::from_utf8_lossy(&out.stdout).into_owned();
    let said: Vec<String> =
        text.lines().filter_map(|line| line.strip_prefix("said ")).map(str::to_owned).collect();
    let trouble = String::from_utf8_lossy(&out.stderr).into_owned();
    assert!(!said.is_empty(), "it said nothing: {text}{trouble}");
    said
}

#[cfg(unix)]
#[test]
fn a_file_that_may_not_grow_loses_nothing_that_was_acknowledged() {
    const TEST: &str = "faults::a_file_that_may_not_grow_loses_nothing_that_was_acknowledged";
    if let Some((_, path)) = part() {
        let shop = Shop::open(&path, Opening::default()).unwrap();
        for i in 0..100_000 {
            match shop.write(&[line(&format!("n{i}"), Moved::Received, 1)]) {
                Ok(_) => say(&format!("n{i}")),
                Err(error) => {
                    say(&format!("{error}: {}", error.hint()));
                    // What is there can still be read.
                    return say(&shop.stock(false).unwrap()[0].on_hand.to_string());
                }
            }
        }
        return;
    }
    let kept = shop();
    let path = kept.shop.path().to_owned();
    drop(kept.shop);
    // The shell sets the limit; with the signal ignored a write past it is refused.
    let program = this_program();
    let limited = once_more(Path::new("sh"), TEST, "fill", &path);
    let mut command = Command::new("sh");
    command.args(["-c", "trap '' XFSZ; ulimit -f 2400; exec \"$0\" \"$@\""]).arg(program);
    command.args(limited.get_args());
    command.envs(limited.get_envs().filter_map(|(key, value)| Some((key, value?))));
    let said = said(&mut command);
    let [written @ .., error, on_hand] = said.as_slice() else { panic!("{said:?}") };
    assert!(error.contains("could not be read or written") || error.contains("no room"), "{error}");
    assert!(error.contains("disk"), "{error}");
    assert!(written.len() > 20, "{}", written.len());
    assert_eq!(on_hand, &written.len().to_string());

    let shop = Shop::open(&path, opening(&kept.clock)).unwrap();
    assert_eq!(shop.stock(false).unwrap()[0].on_hand, written.len() as i64);
    assert_eq!(shop.check().unwrap(), []);
    shop.write(&[line("after", Moved::Received, 1)]).unwrap();
    drop(shop);
    assert_eq!(integrity(&path), "ok");
}

#[cfg(unix)]
#[test]
fn a_file_or_folder_that_may_not_be_written_to_is_named() {
    use std::os::unix::fs::{MetadataExt, PermissionsExt};
    use std::os::unix::process::CommandExt;
    const TEST: &str = "faults::a_file_or_folder_that_may_not_be_written_to_is_named";
    if let Some((part, path)) = part() {
        let done = match part.as_str() {
            "backup" => Shop::open(&path, Opening::default())
                .and_then(|shop| shop.backup(&path.with_file_name("kept/backup.db"), false)),
            _ => Shop::open(&path, Opening::default()).map(drop),
        };
        return say(&match done {
            Ok(()) => "no error".to_owned(),
            Err(error) => format!("{error}: {}", error.hint()),
        });
    }
    let kept = shop();
    badges(&kept.shop);
    let path = kept.shop.path().to_owned();
    drop(kept.shop);
    let folder = kept.folder.path();
    let mode = |path: &Path, mode: u32| {
        fs::set_permissions(path, fs::Permissions::from_mode(mode)).unwrap();
    };
    // Whoever may do everything is not stopped by any mode: somebody else has to try, and needs a
    // program that they may start.
    let program = folder.join("program");
    fs::copy(this_program(), &program).unwrap();
    mode(&program, 0o755);
    let may_do_everything = folder.metadata().unwrap().uid() == 0;
    let ask = |part: &str| {
        let mut command = once_more(&program, TEST, part, &path);
        command.current_dir(folder);
        if may_do_everything {
            command.uid(65534).gid(65534);
        }
        said(&mut command).pop().unwrap()
    };
    let beside = |ending: &str| folder.join(format!("shop.db{ending}"));
    fs::create_dir(folder.join("kept")).unwrap();
    mode(&folder.join("kept"), 0o555);

    mode(folder, 0o777);
    for (file, file_mode) in [(beside(""), 0o666), (beside(".lock"), 0o666)] {
        mode(&file, file_mode);
    }
    assert_eq!(ask("open"), "no error");
    let denied = "may not be written to: make the file and its folder writable";
    let backup = ask("backup");
    assert!(backup.contains("kept/backup.db") && backup.contains(denied), "{backup}");
    mode(&beside(""), 0o444);
    assert!(ask("open").contains(denied), "{}", ask("open"));
    mode(&beside(""), 0o666);
    mode(folder, 0o555);
    let folder_only = ask("open");
    assert!(folder_only.contains(denied), "{folder_only}");
    mode(&beside(".lock"), 0o444);
    assert!(ask("open").contains(denied), "{}", ask("open"));
    mode(folder, 0o755);
    assert_eq!(integrity(&path), "ok");
}

#[test]
fn a_second_program_is_refused_and_told_of_the_first() {
    const TEST: &str = "faults::a_second_program_is_refused_and_told_of_the_first";
    if let Some((_, path)) = part() {
        return say(&match Shop::open(&path, Opening::default()) {
            Ok(_) => "no error".to_owned(),
            Err(error) => error.to_string(),
        });
    }
    let kept = shop();
    kept.shop.set_address("http://127.0.0.1:7171").unwrap();
    let path = kept.shop.path().to_owned();
    let ask = || said(&mut once_more(&this_program(), TEST, "open", &path)).pop().unwrap();
    let refused = ask();
    let first = format!("process {} at http://127.0.0.1:7171", std::process::id());
    assert!(refused.contains("is in use: ") && refused.ends_with(&first), "{refused}");
    kept.shop.write(&[line("still", Moved::Received, 1)]).unwrap();
    drop(kept.shop);
    assert_eq!(ask(), "no error");
}

#[test]
fn a_program_that_holds_the_file_is_waited_for_and_then_named_as_the_reason() {
    const TEST: &str =
        "faults::a_program_that_holds_the_file_is_waited_for_and_then_named_as_the_reason";
    if let Some((_, path)) = part() {
        // Any program that knows SQLite and nothing of us.
        let raw = rusqlite::Connection::open(path).unwrap();
        raw.execute_batch("BEGIN IMMEDIATE").unwrap();
        say("held");
        std::io::stdin().read_to_end(&mut Vec::new()).unwrap();
        return raw.execute_batch("ROLLBACK").unwrap();
    }
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shop.db");
    let opening = Opening { wait_ms: 1500, ..opening(&SetClock::new()) };
    let shop = Shop::open(&path, opening).unwrap();
    let order = badges(&shop);
    let mut holder = once_more(&this_program(), TEST, "hold", &path).spawn().unwrap();
    let mut out = BufReader::new(holder.stdout.take().unwrap()).lines();
    assert!(out.any(|line| line.unwrap() == "said held"));

    let begin = Instant::now();
    let refused = shop.write(&[line("n", Moved::Received, 1)]).unwrap_err();
    assert!(begin.elapsed() >= Duration::from_millis(1400), "{:?}", begin.elapsed());
    assert!(matches!(refused, ShopError::Busy { .. }), "{refused:?}");
    assert!(refused.to_string().contains("by another program"), "{refused}");
    assert_eq!(shop.head(order.document.id).unwrap(), order, "reading goes on meanwhile");

    // Let go in time: the same call waits and is done.
    std::thread::scope(|scope| {
        let write = scope.spawn(|| shop.write(&[line("n", Moved::Received, 1)]));
        std::thread::sleep(Duration::from_millis(300));
        drop(holder.stdin.take());
        assert_eq!(write.join().unwrap().unwrap()[0].on_hand_after, 1);
    });
    assert!(holder.wait().unwrap().success());
    shop.revise(order.document.id, order.revision.id, &change("a", "2", "wider")).unwrap();
}
