//! The laws of a calendar, on random orders, and a small one worked out by hand.

use super::batches::{Batch, Takes};
use super::cpm::{Timing, passes};
use super::network::{OnCalendar, Ran, run};
use super::remedies::stones_earlier;
use super::search::best;
use super::*;
use crate::Given;
use jiff::ToSpan;
use jiff::civil::{Date, DateTime, Weekday, date};
use proptest::prelude::*;

fn waits(handle_min: f64, cure_min: f64) -> Waits {
    Waits {
        adhesive: "slow resin".into(),
        handle_min: Given::usual(handle_min),
        cure_min: Given::usual(cure_min),
    }
}

fn badge(copies: u32) -> PieceWork {
    PieceWork {
        name: "badge".into(),
        copies,
        set_up_min: Given::usual(0.0),
        prepare_min: Given::document(30.0),
        dry_min: Given::document(60.0),
        setting_min: vec![90.0; copies as usize],
        stretch_min: Some(Given::usual(45.0)),
        waits: waits(120.0, 1545.0),
        sides: 1,
        turn_min: Given::usual(0.0),
        cure_before_turn: false,
        pack_min: Given::document(10.0),
        stones_on: None,
    }
}

fn order(pieces: Vec<PieceWork>, bench: u32) -> Work {
    Work {
        week: Week::usual(),
        start: Given::document(date(2026, 11, 30).at(9, 0, 0, 0)),
        due: None,
        bench: Given::document(bench),
        hands: Given::usual(1),
        set_up_min: Given::usual(0.0),
        pieces,
        other_adhesives: vec![],
    }
}

fn plan(work: &Work) -> Schedule {
    schedule(work).unwrap().0
}

/// Worked out by hand. In one batch both badges would be set from 11:00 to 15:00 with a break, cure
/// until 16:45 on Tuesday, and the second could not be packed before 17:00. One after the other, the
/// second is prepared while the first dries; 45 minutes do not fit before lunch at 12:00, so it is
/// set from 13:30, and only its own packing is left at 16:45.
#[test]
fn two_badges_are_planned_as_by_hand() {
    let plan = plan(&order(vec![badge(2)], 2));
    let monday = |h, m| date(2026, 11, 30).at(h, m, 0, 0);
    let tuesday = |h, m| date(2026, 12, 1).at(h, m, 0, 0);
    assert_eq!(plan.ready_at, tuesday(16, 55));
    assert_eq!((plan.batch_copies, plan.hands_on_min), (1, 260));
    let seen: Vec<(u32, Activity, DateTime, DateTime, u64)> = plan
        .events
        .iter()
        .map(|e| (e.batch, e.activity, e.starts_at, e.ends_at, e.float_min))
        .collect();
    let wanted = [
        (1, Activity::Preparing, monday(9, 0), monday(9, 30), 30),
        (2, Activity::Preparing, monday(9, 30), monday(10, 0), 60),
        (1, Activity::Drying, monday(9, 30), monday(10, 30), 30),
        (2, Activity::Drying, monday(10, 0), monday(11, 0), 150),
        // Lunch: it could end at 12:30 and the second badge would still begin at 13:30.
        (1, Activity::Setting, monday(10, 30), monday(12, 0), 30),
        (1, Activity::Handling, monday(12, 0), monday(14, 0), 170),
        (2, Activity::Setting, monday(13, 30), monday(15, 0), 0),
        (1, Activity::Curing, monday(14, 0), tuesday(13, 45), 170),
        (2, Activity::Handling, monday(15, 0), monday(17, 0), 0),
        (2, Activity::Curing, monday(17, 0), tuesday(16, 45), 0),
        (1, Activity::Packing, tuesday(13, 45), tuesday(13, 55), 170),
        (2, Activity::Packing, tuesday(16, 45), tuesday(16, 55), 0),
    ];
    assert_eq!(seen, wanted);
    let path: Vec<(u32, Activity, Because)> =
        plan.critical_path.iter().map(|s| (s.batch, s.activity, s.because)).collect();
    let wanted = [
        (1, Activity::Preparing, Because::Start),
        (1, Activity::Drying, Because::Batch),
        (1, Activity::Setting, Because::Batch),
        (2, Activity::Setting, Because::Hands),
        (2, Activity::Handling, Because::Batch),
        (2, Activity::Curing, Because::Batch),
        (2, Activity::Packing, Because::Batch),
    ];
    assert_eq!(path, wanted);
    let days: Vec<u64> = plan.days.iter().map(|d| d.hands_on_min).collect();
    assert_eq!(days, [240, 20]);
}

/// With time to spare on the day, both badges go in one batch.
#[test]
fn no_more_batches_are_made_than_the_day_needs() {
    let mut two = badge(2);
    two.waits = waits(120.0, 1440.0);
    let plan = plan(&order(vec![two], 2));
    assert_eq!(plan.batch_copies, 2);
    assert_eq!(plan.ready_at, date(2026, 12, 1).at(15, 20, 0, 0));
}

#[test]
fn a_narrow_bench_and_a_delivery_decide_where_they_hold_work_up() {
    let narrow = plan(&order(vec![badge(2)], 1));
    assert!(narrow.critical_path.iter().any(|s| s.because == Because::Bench));
    let mut late_stones = badge(1);
    late_stones.stones_on = Some(date(2026, 12, 3));
    let waiting = plan(&order(vec![late_stones], 1));
    let first = &waiting.critical_path[0];
    assert_eq!((first.activity, first.because), (Activity::Setting, Because::Delivery));
    assert_eq!(first.starts_at, date(2026, 12, 3).at(9, 0, 0, 0));
}

#[test]
fn a_late_order_names_what_would_meet_its_day_and_each_does() {
    let mut work = order(vec![badge(8)], 2);
    let ships = plan(&work).ship_on;
    let due = ships.checked_sub(2.days()).unwrap();
    work.due = Some(due);
    work.other_adhesives = vec![waits(20.0, 60.0), waits(600.0, 90_000.0)];
    let (late, findings) = schedule(&work).unwrap();
    assert_eq!((late.due_met, late.late_days), (Some(false), 2));
    assert_eq!(findings[0].code, "plan.late");
    let mut seen = vec![];
    for remedy in &late.remedies {
        let mut tried = work.clone();
        match remedy {
            Remedy::EarlierStart { start, .. } => tried.start.value = *start,
            Remedy::MoreHours { more_min, .. } => tried.week = tried.week.longer(*more_min),
            Remedy::EarlierStones { working_days, .. } => {
                tried = stones_earlier(&work, *working_days);
            }
            Remedy::OtherAdhesive { .. } => tried.pieces[0].waits = waits(20.0, 60.0),
            Remedy::LargerBench { bench, .. } => tried.bench.value = *bench,
            Remedy::FewerCopies { copies, .. } => {
                tried.pieces[0].copies = *copies;
                tried.pieces[0].setting_min.truncate(*copies as usize);
            }
        }
        let met = plan(&tried);
        assert_eq!(met.due_met, Some(true), "{remedy:?}");
        seen.push(std::mem::discriminant(remedy));
    }
    assert!(seen.len() >= 3, "{:?}", late.remedies);
    let hint = &findings[0].hint;
    assert!(hint.starts_with("begin by 2026-11-2") && !hint.contains(':'), "{hint}");
    // The start named is the latest: a day later is late.
    let Remedy::EarlierStart { start, .. } = late.remedies[0] else { panic!("start first") };
    work.start.value = start.checked_add(1.day()).unwrap();
    assert_eq!(plan(&work).due_met, Some(false));
}

#[test]
fn absurd_work_is_refused_with_its_culprit() {
    let refused = |change: fn(&mut Work)| {
        let mut work = order(vec![badge(2)], 2);
        change(&mut work);
        schedule(&work).unwrap_err().to_string()
    };
    assert_eq!(refused(|w| w.bench.value = 0), "room on the bench must be from 1 to 10000: 0");
    assert_eq!(
        refused(|w| w.pieces[0].setting_min[1] = f64::NAN),
        "setting of `badge` must be from 0 min to a year: NaN min"
    );
    assert_eq!(
        refused(|w| w.pieces[0].stretch_min = Some(Given::usual(f64::NAN))),
        "the stretch of `badge` must be from 0 min to a year: NaN min"
    );
    assert_eq!(
        refused(|w| w.set_up_min.value = -1.0),
        "set-up of `the order` must be from 0 min to a year: -1 min"
    );
    assert_eq!(refused(|w| w.pieces[0].copies = 3), "`badge` has 3 copies but 2 setting times");
    assert_eq!(refused(|w| w.pieces.clear()), "there is no copy of any piece to plan for");
    let closed = |w: &mut Work| {
        let first = date(2026, 11, 1);
        w.week.closed = (0..8000).map(|i| first.checked_add(i.days()).unwrap()).collect();
    };
    assert_eq!(refused(closed), "the work is not done within 20 years of its start");
}

#[test]
fn working_hours_that_hold_no_stretch_are_said() {
    let mut long = badge(1);
    long.setting_min = vec![400.0];
    long.stretch_min = Some(Given::usual(300.0));
    let (_, findings) = schedule(&order(vec![long], 1)).unwrap();
    assert_eq!(findings[0].code, "plan.hours-short");
    assert_eq!(findings[0].severity, lay::Severity::Serious);
    assert!(findings[0].text.contains("300 min") && findings[0].text.contains("210 min"));
    let mut quick = badge(1);
    quick.stretch_min = Some(Given::usual(3.0));
    let mut work = order(vec![quick], 1);
    let minute = Hours { from_min: 540, to_min: 541 };
    work.week = Week::same(&[Weekday::Monday], &[minute], &[]).unwrap();
    let finding = &schedule(&work).unwrap().1[0];
    assert_eq!(finding.code, "plan.hours-short");
    assert_eq!(finding.measured.as_deref(), Some("1 min"));
    assert_eq!(finding.wanted.as_deref(), Some("at least 3 min without a break"));
}

#[test]
fn a_stretch_under_a_minute_is_a_minute_and_a_bare_piece_needs_none() {
    let mut quick = badge(1);
    quick.setting_min = vec![0.4];
    quick.stretch_min = Some(Given::usual(0.4));
    let mut bare = badge(2);
    bare.name = "bare".into();
    bare.setting_min = vec![0.0; 2];
    bare.stretch_min = None;
    let (plan, findings) = schedule(&order(vec![quick, bare.clone()], 2)).unwrap();
    let setting: Vec<&Event> =
        plan.events.iter().filter(|e| e.activity == Activity::Setting).collect();
    assert_eq!(setting.iter().map(|e| length(e)).collect::<Vec<_>>(), [1]);
    assert_eq!(findings, []);
    bare.stretch_min = Some(Given::usual(0.0));
    assert!(schedule(&order(vec![bare], 1)).is_ok());
}

/// One set-up of the order, one of each piece, before anything of it; 20 + 10, then 10 min.
#[test]
fn setting_up_comes_first_and_is_on_the_calendar() {
    let mut pieces = vec![badge(2), badge(2)];
    pieces[1].name = "hoop".into();
    for piece in &mut pieces {
        piece.set_up_min = Given::usual(10.0);
    }
    let mut work = order(pieces, 2);
    work.set_up_min = Given::document(20.0);
    let plan = plan(&work);
    let first = &plan.events[0];
    assert_eq!((first.activity, length(first), first.hands), (Activity::SettingUp, 30, Some(1)));
    assert_eq!(plan.critical_path[0].activity, Activity::SettingUp);
    assert_eq!(ical::summary(first), "set up badge");
    let set_up: Vec<i64> =
        plan.events.iter().filter(|e| e.activity == Activity::SettingUp).map(length).collect();
    assert_eq!(set_up, [30, 10]);
    assert_eq!(plan.hands_on_min, 40 + 4 * 130);
}

#[test]
fn a_late_order_held_up_by_its_bench_is_told_a_bench_that_does() {
    let mut many = badge(120);
    many.setting_min = vec![5.0; 120];
    many.prepare_min = Given::document(1.0);
    many.pack_min = Given::document(1.0);
    many.waits = waits(1440.0, 1440.0);
    let mut work = order(vec![many], 2);
    work.due = Some(date(2026, 12, 7));
    let (late, findings) = schedule(&work).unwrap();
    assert!(findings[0].text.contains("the room on the bench holds it up"), "{:?}", findings[0]);
    let larger = |r: &Remedy| match r {
        Remedy::LargerBench { bench, .. } => Some(*bench),
        _ => None,
    };
    let bench = late.remedies.iter().find_map(larger).unwrap();
    assert!(bench > 20, "beyond ten times the bench: {bench}");
    work.bench.value = bench;
    assert_eq!(plan(&work).due_met, Some(true));
    work.bench.value = bench - 1;
    assert_eq!(plan(&work).due_met, Some(false));
}

#[test]
fn a_late_order_held_up_by_its_stones_is_told_how_much_earlier_they_must_come() {
    let mut waiting = badge(1);
    waiting.stones_on = Some(date(2026, 12, 10));
    let mut work = order(vec![waiting], 1);
    let ships = plan(&work).ship_on;
    // Thursday's stones make Friday; for Tuesday they have to be here on Monday.
    assert_eq!(ships, date(2026, 12, 11));
    work.due = Some(date(2026, 12, 8));
    let (late, findings) = schedule(&work).unwrap();
    assert!(findings[0].text.contains("the delivery of stones holds it up"));
    let on = date(2026, 12, 7);
    let wanted = Remedy::EarlierStones { working_days: 3, last_on: on, ship_on: date(2026, 12, 8) };
    assert!(late.remedies.contains(&wanted), "{:?}", late.remedies);
    assert!(findings[0].hint.contains("have all stones 3 working days earlier, by 2026-12-07"));
}

#[test]
fn reasons_say_days_and_no_turning_of_one_side() {
    let mut work = order(vec![badge(1)], 1);
    work.start.value = date(2026, 11, 30).at(0, 0, 0, 0);
    let inputs = |work: &Work| -> Vec<(String, String)> {
        let all = plan(work).reasons.into_iter().flat_map(|r| r.inputs);
        all.map(|i| (i.name, i.value)).collect()
    };
    let one = inputs(&work);
    assert!(one.contains(&("start".into(), "2026-11-30".into())), "{one:?}");
    assert!(one.iter().all(|i| !i.0.starts_with("turning")));
    work.pieces[0].sides = 2;
    assert!(inputs(&work).iter().any(|i| i.0 == "turning of `badge`"));
}

/// Setting times; set-up, preparation, drying, handling, cure; sides, turning, whether it cures before,
/// packing; stretch; delivery.
type Drawn = (Vec<f64>, (f64, f64, f64, f64, f64), (u32, f64, bool, f64), Option<f64>, Option<i32>);

/// Often nothing, for what a piece may do without.
fn minutes(most: f64) -> impl Strategy<Value = f64> {
    prop_oneof![1 => Just(0.0), 3 => 0.0..most]
}

fn pieces() -> impl Strategy<Value = Vec<PieceWork>> {
    let piece = (
        prop_oneof![
            4 => proptest::collection::vec(0.0..150.0f64, 1..7),
            1 => proptest::collection::vec(Just(0.0), 1..7),
        ],
        (minutes(30.0), minutes(40.0), minutes(200.0), minutes(2000.0), minutes(4000.0)),
        (1u32..4, minutes(10.0), any::<bool>(), minutes(15.0)),
        proptest::option::of(0.2..120.0f64),
        proptest::option::of(0i32..12),
    );
    proptest::collection::vec(piece, 1..4).prop_map(|all| {
        let one = |(i, (setting_min, wait, side, stretch, stones)): (usize, Drawn)| {
            let (set_up, prepare, dry, handle, cure) = wait;
            let (sides, turn, cure_before_turn, pack) = side;
            PieceWork {
                name: format!("piece {i}"),
                copies: setting_min.len() as u32,
                set_up_min: Given::document(set_up),
                prepare_min: Given::document(prepare),
                dry_min: Given::document(dry),
                setting_min,
                stretch_min: stretch.map(Given::usual),
                waits: waits(handle, cure),
                sides,
                turn_min: Given::document(turn),
                cure_before_turn,
                pack_min: Given::document(pack),
                stones_on: stones.map(|d| date(2026, 11, 28).checked_add(d.days()).unwrap()),
            }
        };
        all.into_iter().enumerate().map(one).collect()
    })
}

fn works() -> impl Strategy<Value = Work> {
    let start = (0i32..10, 0i8..24, 0i8..60);
    (pieces(), 1u32..7, 1u32..3, start, 1usize..7, minutes(40.0)).prop_map(
        |(pieces, bench, hands, (day, hour, minute), n_days, set_up)| {
            let mut work = order(pieces, bench);
            let on = date(2026, 11, 27).checked_add(day.days()).unwrap();
            work.start.value = on.at(hour, minute, 0, 0);
            work.hands.value = hands;
            work.set_up_min.value = set_up;
            let days: Vec<Weekday> = Weekday::Monday.cycle_forward().take(n_days).collect();
            let hours =
                [Hours { from_min: 540, to_min: 750 }, Hours { from_min: 810, to_min: 1020 }];
            work.week = Week::same(&days, &hours, &[date(2026, 12, 1)]).unwrap();
            work
        },
    )
}

/// Copies on the bench at every moment: from the first activity of a batch until its last side can
/// be handled.
fn most_on_bench(work: &Work, plan: &Schedule) -> u32 {
    let mut changes: Vec<(DateTime, bool, u32)> = vec![];
    for (p, piece) in work.pieces.iter().enumerate() {
        let mine: Vec<&Event> = plan.events.iter().filter(|e| e.piece == piece.name).collect();
        let n = mine.iter().map(|e| e.batch).max().unwrap_or(0);
        for batch in 1..=n {
            let lies = |e: &&&Event| {
                let last_cure =
                    e.activity == Activity::Curing && e.side == Some(work.pieces[p].sides);
                let lies = !matches!(e.activity, Activity::SettingUp | Activity::Packing);
                e.batch == batch && lies && !last_cure
            };
            let Some(copies) = mine.iter().find(|e| e.batch == batch) else { continue };
            let copies = copies.last_copy - copies.first_copy + 1;
            let Some(from) = mine.iter().filter(lies).map(|e| e.starts_at).min() else { continue };
            let to = mine.iter().filter(lies).map(|e| e.ends_at).max().unwrap();
            changes.push((from, true, copies));
            changes.push((to, false, copies));
        }
    }
    // Leaving comes before coming.
    changes.sort_unstable();
    let (mut now, mut most) = (0, 0);
    for (_, comes, copies) in changes {
        now = if comes { now + copies } else { now - copies };
        most = most.max(now);
    }
    most
}

fn is_open(week: &Week, at: DateTime, until: DateTime) -> bool {
    let minute =
        |t: DateTime| u32::try_from(i32::from(t.hour()) * 60 + i32::from(t.minute())).unwrap();
    let end = if until.date() > at.date() { 1440 } else { minute(until) };
    week.hours_on(at.date()).iter().any(|h| h.from_min <= minute(at) && end <= h.to_min)
}

fn rank(e: &Event) -> (u32, Activity, u32) {
    match e.activity {
        Activity::SettingUp | Activity::Preparing | Activity::Drying => (0, e.activity, e.part),
        Activity::Packing => (99, e.activity, e.part),
        // Turning begins its side.
        Activity::Turning => (e.side.unwrap(), Activity::Preparing, e.part),
        _ => (e.side.unwrap(), e.activity, e.part),
    }
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 120,
        failure_persistence: None,
        rng_seed: proptest::test_runner::RngSeed::Fixed(32),
        ..ProptestConfig::default()
    })]

    #[test]
    fn hands_work_in_hours_one_thing_at_a_time_and_the_bench_holds_all(work in works()) {
        let plan = plan(&work);
        for e in plan.events.iter().filter(|e| e.hands.is_some()) {
            prop_assert!(is_open(&work.week, e.starts_at, e.ends_at), "{e:?}");
        }
        for pair in 1..=work.hands.value {
            let mine: Vec<&Event> = plan.events.iter().filter(|e| e.hands == Some(pair)).collect();
            for two in mine.windows(2) {
                prop_assert!(two[0].ends_at <= two[1].starts_at, "{two:?}");
            }
        }
        prop_assert_eq!(most_on_bench(&work, &plan), plan.bench_copies);
        prop_assert!(plan.bench_copies <= work.bench.value);
        for e in &plan.events {
            prop_assert!(e.starts_at >= work.start.value && e.ends_at <= plan.ready_at);
            let piece = work.pieces.iter().find(|p| p.name == e.piece).unwrap();
            if let (Activity::Setting, Some(on)) = (e.activity, piece.stones_on) {
                prop_assert!(e.starts_at.date() >= on);
            }
        }
    }

    #[test]
    fn every_copy_goes_through_every_step_in_order(work in works()) {
        let plan = plan(&work);
        for piece in &work.pieces {
            let mut mine: Vec<&Event> =
                plan.events.iter().filter(|e| e.piece == piece.name).collect();
            mine.sort_by_key(|e| (e.batch, rank(e)));
            for two in mine.windows(2).filter(|t| t[0].batch == t[1].batch) {
                prop_assert!(two[0].ends_at <= two[1].starts_at, "{two:?}");
            }
            let asked: f64 = piece.setting_min.iter().sum::<f64>()
                + f64::from(piece.copies)
                    * (piece.prepare_min.value
                        + piece.pack_min.value
                        + piece.turn_min.value * f64::from(piece.sides - 1));
            let hands = |e: &&&Event| e.hands.is_some() && e.activity != Activity::SettingUp;
            let spent: i64 = mine.iter().filter(hands).map(|e| length(e)).sum();
            // Each activity of each batch is rounded up to a minute, less the rounding of sums.
            let batches = mine.last().map_or(0.0, |e| f64::from(e.batch));
            let most = asked + batches * f64::from(2 * piece.sides + 1);
            prop_assert!(spent as f64 >= asked - 0.001 && spent as f64 <= most);
        }
    }

    /// What is charged as hours is on the calendar, to the rounding of each activity of a batch.
    #[test]
    fn hands_on_time_is_all_of_the_work_and_set_up_comes_before_it(work in works()) {
        let plan = plan(&work);
        let asked: f64 = work.pieces.iter().map(|p| {
            let each = p.prepare_min.value
                + p.pack_min.value
                + p.turn_min.value * f64::from(p.sides - 1);
            p.set_up_min.value + p.setting_min.iter().sum::<f64>() + f64::from(p.copies) * each
        }).sum::<f64>() + work.set_up_min.value;
        let mut activities: Vec<(&str, u32, Activity, Option<u32>)> = plan
            .events
            .iter()
            .filter(|e| e.hands.is_some())
            .map(|e| (e.piece.as_str(), e.batch, e.activity, e.side))
            .collect();
        activities.sort_unstable();
        activities.dedup();
        let spent = plan.hands_on_min as f64;
        prop_assert!(spent >= asked - 0.001 && spent <= asked + activities.len() as f64);
        for piece in &work.pieces {
            let (set_up, rest): (Vec<&Event>, Vec<&Event>) = plan
                .events
                .iter()
                .filter(|e| e.piece == piece.name)
                .partition(|e| e.activity == Activity::SettingUp);
            let Some(done) = set_up.iter().map(|e| e.ends_at).max() else { continue };
            prop_assert!(rest.iter().all(|e| e.starts_at >= done));
        }
        if work.set_up_min.value > 0.0 {
            prop_assert_eq!(plan.events[0].activity, Activity::SettingUp);
        }
    }

    #[test]
    fn more_room_more_hands_and_an_earlier_start_never_ship_later(work in works(), by in 1i64..4000) {
        let ship_on = plan(&work).ship_on;
        let mut more = work.clone();
        more.bench.value += 1;
        prop_assert!(plan(&more).ship_on <= ship_on, "bench");
        let mut two = work.clone();
        two.hands.value = 2;
        prop_assert!(plan(&two).ship_on <= ship_on, "hands");
        let mut earlier = work.clone();
        earlier.start.value = work.start.value.checked_sub(by.minutes()).unwrap();
        prop_assert!(plan(&earlier).ship_on <= ship_on, "start");
        let mut longer = work.clone();
        longer.week = longer.week.longer(30);
        prop_assert!(plan(&longer).ship_on <= ship_on, "hours");
    }

    /// The slow twin of floats: a wait that is longer by its float changes nothing, and one minute
    /// more makes the whole order later.
    #[test]
    fn a_float_is_exact(mut work in works(), pick in 0usize..1000) {
        work.hands.value = 1;
        let found = best(&work).unwrap();
        let (mut batches, nodes) = found.replay(&work);
        let turns = found.turns(&batches);
        let before: Vec<Vec<usize>> = nodes.iter().map(|n| n.before.clone()).collect();
        let setting = found.setting();
        let times =
            passes(&before, &OnCalendar { batches: &batches, setting: &setting, nodes: &nodes });
        for (t, n) in times.iter().zip(&nodes) {
            prop_assert_eq!(t.earliest_end_min, n.end);
        }
        let is_wait = |i: &usize| {
            let n = &nodes[*i];
            n.step.is_some_and(|s| matches!(batches[n.batch].steps[s].takes, Takes::Clock(_)))
        };
        let waiting: Vec<usize> = (0..nodes.len()).filter(is_wait).collect();
        prop_assume!(!waiting.is_empty());
        let node = waiting[pick % waiting.len()];
        lengthen(&mut batches[nodes[node].batch], nodes[node].step.unwrap(), times[node].float_min());
        let Ran::Done { end, .. } = run(&batches, &turns, &setting, None) else { panic!("runs") };
        prop_assert_eq!(end, found.end);
        lengthen(&mut batches[nodes[node].batch], nodes[node].step.unwrap(), 1);
        let Ran::Done { end, .. } = run(&batches, &turns, &setting, None) else { panic!("runs") };
        prop_assert!(end > found.end);
    }
}

fn lengthen(batch: &mut Batch, step: usize, by: i64) {
    if let Takes::Clock(minutes) = &mut batch.steps[step].takes {
        *minutes += by;
    }
}

fn length(e: &Event) -> i64 {
    e.starts_at.until((jiff::Unit::Minute, e.ends_at)).unwrap().get_minutes()
}

/// A later end is later on the calendar of any task, whichever way it takes its time.
#[test]
fn latest_undoes_earliest() {
    let work = order(vec![badge(3)], 2);
    let found = best(&work).unwrap();
    let (batches, nodes) = found.replay(&work);
    let setting = found.setting();
    let timing = OnCalendar { batches: &batches, setting: &setting, nodes: &nodes };
    for node in 0..nodes.len() {
        for from in (found.start..found.start + 3000).step_by(7) {
            let (begin, end) = timing.earliest(node, from);
            let (latest, done) = timing.latest(node, end);
            assert!(latest >= begin && done <= end, "node {node} from {from}");
        }
    }
}

/// What is planned for a year with a leap day and both days on which clocks are changed elsewhere.
#[test]
fn a_day_always_has_24_hours() {
    let mut long = badge(1);
    long.waits = waits(0.0, 24.0 * 60.0 * 300.0);
    let mut work = order(vec![long], 1);
    work.start.value = date(2027, 12, 27).at(9, 0, 0, 0);
    let plan = plan(&work);
    let cure = plan.events.iter().find(|e| e.activity == Activity::Curing).unwrap();
    assert_eq!(length(cure), 24 * 60 * 300);
    assert_eq!(cure.starts_at.time(), cure.ends_at.time());
    let on: Date = cure.ends_at.date();
    assert_eq!(on, cure.starts_at.date().checked_add(300.days()).unwrap());
}
