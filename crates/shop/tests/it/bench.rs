//! Settings and presses, and the time between presses.

use crate::support::{EVENING_MS, badges, badges_at_the_bench, line, press, shop};
use shop::{Moved, NewEntry, NewPress, NewSetting, Press, Pressed, Shop, ShopError};

#[test]
fn what_is_frozen_comes_back_whole() {
    let kept = shop();
    let order = badges(&kept.shop);
    let frozen: Vec<u8> = (0..60_000u32).flat_map(|i| (i / 7).to_le_bytes()).collect();
    let new = NewSetting {
        nonce: "s".into(),
        document: order.document.id,
        revision: order.revision.id,
        piece_index: 0,
        piece: "badge".into(),
        first_copy: 2,
        last_copy: 5,
        lay_hash: "c0ffee".into(),
        engine: "stonelay 0.1.0".into(),
        frozen: frozen.clone(),
        lots: vec![("coral".into(), "L8".into()), ("amber".into(), "L7".into())],
    };
    let setting = kept.shop.begin_setting(&new).unwrap();
    assert_eq!(kept.shop.begin_setting(&new).unwrap(), setting);
    assert_eq!(kept.shop.frozen(setting.id).unwrap(), frozen);
    assert_eq!(setting.lots[0], ("amber".to_owned(), "L7".to_owned()));
    let kept_bytes: i64 =
        kept.raw().query_row("SELECT length(frozen) FROM setting", [], |row| row.get(0)).unwrap();
    assert!(kept_bytes * 4 < frozen.len() as i64, "{kept_bytes}");
    let other = NewSetting { lay_hash: "beef".into(), ..new.clone() };
    let other = kept.shop.begin_setting(&other);
    assert!(matches!(other, Err(ShopError::NonceReused { .. })), "{other:?}");
    let none = NewSetting { nonce: "t".into(), first_copy: 3, last_copy: 2, ..new };
    assert!(matches!(kept.shop.begin_setting(&none), Err(ShopError::BadValue { .. })));
    assert_eq!(kept.shop.settings(order.document.id).unwrap(), [setting]);
}

#[test]
fn a_press_and_its_lines_are_written_together_and_once() {
    let kept = shop();
    let setting = badges_at_the_bench(&kept.shop, &badges(&kept.shop), "s");
    let new = NewPress {
        kind: Some("amber".into()),
        stones: Some(12),
        grams: Some(0.25),
        text: Some("ran out".into()),
        place_no: Some(7),
        entries: vec![line("e1", Moved::Used, 12), line("e2", Moved::Lost, 1)],
        ..press("p1", Pressed::RowDone)
    };
    let first = kept.shop.press(setting.id, &new).unwrap();
    kept.clock.pass(900);
    assert_eq!(kept.shop.press(setting.id, &new).unwrap(), first);
    assert_eq!(kept.shop.presses(setting.id, None).unwrap(), std::slice::from_ref(&first));
    assert_eq!(kept.shop.stock(false).unwrap()[0].on_hand, -13);
    assert_eq!(
        (first.grams, first.stones, first.text.as_deref()),
        (Some(0.25), Some(12), Some("ran out"))
    );
    let other = kept.shop.press(setting.id, &press("p1", Pressed::Back));
    assert!(matches!(other, Err(ShopError::NonceReused { .. })), "{other:?}");

    // A line that is refused takes the press with it.
    let entries = vec![line("e3", Moved::Used, 1), line("e4", Moved::Used, 0)];
    let refused =
        kept.shop.press(setting.id, &NewPress { entries, ..press("p2", Pressed::RowDone) });
    assert!(matches!(refused, Err(ShopError::BadValue { .. })), "{refused:?}");
    assert_eq!(kept.shop.presses(setting.id, None).unwrap().len(), 1);
    assert_eq!(kept.shop.stock(false).unwrap()[0].on_hand, -13);
    let grams = Some(f64::NAN);
    let refused =
        kept.shop.press(setting.id, &NewPress { grams, ..press("p3", Pressed::GlueUsed) });
    assert!(matches!(refused, Err(ShopError::BadValue { .. })), "{refused:?}");
    let copy = kept.shop.press(setting.id, &NewPress { copy: 19, ..press("p4", Pressed::Begun) });
    assert_eq!(copy.unwrap_err().to_string(), "`copy` is not one of the setting's: 19");
}

#[test]
fn a_closed_setting_takes_no_press_but_answers_a_retry() {
    let kept = shop();
    let setting = badges_at_the_bench(&kept.shop, &badges(&kept.shop), "s");
    let first = kept.shop.press(setting.id, &press("p1", Pressed::CopyDone)).unwrap();
    assert_eq!(kept.shop.open_settings().unwrap(), std::slice::from_ref(&setting));
    let closed = kept.shop.close_setting(setting.id).unwrap();
    kept.clock.pass(1000);
    assert_eq!(kept.shop.close_setting(setting.id).unwrap(), closed);
    assert_eq!(closed.closed_ms, Some(EVENING_MS));
    let late = kept.shop.press(setting.id, &press("p2", Pressed::Note));
    assert!(matches!(late, Err(ShopError::SettingClosed { .. })), "{late:?}");
    assert_eq!(kept.shop.press(setting.id, &press("p1", Pressed::CopyDone)).unwrap(), first);
    assert_eq!(kept.shop.open_settings().unwrap(), []);
}

#[test]
fn times_between_presses_come_from_the_clock_that_runs_forward() {
    let mut kept = shop();
    let order = badges(&kept.shop);
    let setting = badges_at_the_bench(&kept.shop, &order, "s").id;
    let other = badges_at_the_bench(&kept.shop, &order, "t").id;
    let since = |p: Press| (p.since_ms, p.restarted);
    let done = |shop: &Shop, nonce: &str| {
        since(shop.press(setting, &press(nonce, Pressed::RowDone)).unwrap())
    };
    assert_eq!(done(&kept.shop, "1"), (None, false));
    kept.clock.pass(40_000);
    kept.shop.press(other, &press("of another", Pressed::Begun)).unwrap();
    assert_eq!(done(&kept.shop, "2"), (Some(40_000), false));
    // An hour back, a year on: nobody set a row in either.
    kept.clock.set_wall(EVENING_MS - 3_600_000);
    kept.clock.pass(30_000);
    assert_eq!(done(&kept.shop, "3"), (Some(30_000), false));
    kept.clock.set_wall(EVENING_MS + 365 * 86_400_000);
    kept.clock.pass(20_000);
    assert_eq!(done(&kept.shop, "4"), (Some(20_000), false));
    kept.clock.set_wall(EVENING_MS);

    // Over a restart there is only the wall.
    let over_restarts = [
        (5000, "5", None), // the wall went back by a year
        (5000, "6", Some(5000)),
        (-5000, "7", None),
        (13 * 3_600_000, "8", None), // another day
    ];
    for (ms, nonce, wanted) in over_restarts {
        kept.clock.pass(ms);
        kept = kept.opened_anew();
        assert_eq!(done(&kept.shop, nonce), (wanted, true), "{nonce}");
    }
    let presses = kept.shop.presses(setting, None).unwrap();
    let order: Vec<&str> = presses.iter().map(|p| p.nonce.as_str()).collect();
    assert_eq!(order, ["1", "2", "3", "4", "5", "6", "7", "8"], "by writing, not by the wall");
}

#[test]
fn presses_of_all_settings_follow_one_another() {
    let kept = shop();
    let order = badges(&kept.shop);
    let settings = ["s", "t"].map(|nonce| badges_at_the_bench(&kept.shop, &order, nonce).id);
    for i in 0..7 {
        let new = press(&format!("p{i}"), Pressed::RowDone);
        kept.shop.press(settings[i % 2], &new).unwrap();
    }
    let first = kept.shop.presses_since(None, 4).unwrap();
    let rest = kept.shop.presses_since(Some(first[3].id), 100).unwrap();
    let nonces: Vec<&str> = first.iter().chain(&rest).map(|p| p.nonce.as_str()).collect();
    assert_eq!(nonces, ["p0", "p1", "p2", "p3", "p4", "p5", "p6"]);
    let later = kept.shop.presses(settings[0], Some(first[2].id)).unwrap();
    assert_eq!(later.iter().map(|p| p.nonce.as_str()).collect::<Vec<_>>(), ["p4", "p6"]);
}

#[test]
fn every_sort_of_press_and_line_comes_back_as_it_went() {
    let kept = shop();
    let order = badges(&kept.shop);
    let setting = badges_at_the_bench(&kept.shop, &order, "s").id;
    let all = [
        Pressed::Begun,
        Pressed::GlueOpened,
        Pressed::RowDone,
        Pressed::Back,
        Pressed::Lost,
        Pressed::Paused,
        Pressed::Resumed,
        Pressed::CopyDone,
        Pressed::GlueUsed,
        Pressed::Note,
    ];
    for (i, what) in all.into_iter().enumerate() {
        kept.shop.press(setting, &press(&i.to_string(), what)).unwrap();
    }
    let back: Vec<Pressed> =
        kept.shop.presses(setting, None).unwrap().into_iter().map(|p| p.what).collect();
    assert_eq!(back, all);
    let moved = [
        Moved::Received,
        Moved::Reserved,
        Moved::Released,
        Moved::Used,
        Moved::Lost,
        Moved::Counted,
    ];
    for what in moved {
        let order = Some(order.document.id);
        let entry = NewEntry { order, ..line(&format!("{what:?}"), what, 1) };
        assert_eq!(kept.shop.write(std::slice::from_ref(&entry)).unwrap()[0].said, entry);
    }
}
