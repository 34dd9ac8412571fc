//! Small orders with terms drawn at random from all that is allowed.

use super::{TODAY, hangs_together};
use crate::demo_files;
use app::order::open;
use app::plan::{PlanError, plan};
use lay::Unwatched;
use planning::calendar::WorkError;
use planning::hours::HoursError;
use planning::price::PriceError;
use planning::spare::SpareError;
use proptest::prelude::*;
use proptest::test_runner::{RngAlgorithm, RngSeed};

/// A key with one of a few values, or not there at all.
fn key(name: &'static str, values: &'static [&'static str]) -> BoxedStrategy<String> {
    let one = prop::sample::select(values).prop_map(move |v| format!("{name} = {v}\n"));
    prop_oneof![Just(String::new()), one].boxed()
}

/// A table of such keys below `head`.
fn table(head: &'static str, keys: Vec<BoxedStrategy<String>>) -> impl Strategy<Value = String> {
    keys.prop_map(move |keys| format!("{head}\n{}", keys.concat()))
}

fn workshop() -> impl Strategy<Value = String> {
    let pace = prop_oneof![
        key("level", &["\"beginner\"", "\"practised\"", "\"fast\""]),
        key("rate", &["10", "320", "5000"]),
    ];
    table(
        "[workshop]",
        vec![
            key("sure", &["\"1 %\"", "\"50 %\"", "\"99.9 %\"", "0.999999"]),
            key("loss", &["0", "\"80 %\"", "\"3 %\"", "{ rate = \"40 %\", trust = 10 }"]),
            pace.boxed(),
            key("temperature", &["\"-10 C\"", "\"50 C\"", "\"70 F\""]),
            key("humidity", &["0", "\"100 %\""]),
            key("start", &["2000-01-01", "2026-12-26", "2199-12-31"]),
            key("days", &["[\"sunday\"]", "[\"monday\", \"friday\"]"]),
            key(
                "hours",
                &["\"00:00-24:00\"", "[\"09:00-09:30\", \"09:30-23:59\"]", "\"20:00-20:20\""],
            ),
            key("closed", &["[2026-11-25, 2026-11-26, 2026-11-26]", "[]"]),
            key("bench", &["1", "1000"]),
            key("set_up", &["\"0 min\"", "\"24 h\""]),
            key("wage", &["0", "\"2000\"", "\"0.01\""]),
            key("overhead", &["0", "\"2000\""]),
        ],
    )
}

fn log() -> impl Strategy<Value = String> {
    let entry = table(
        "[[log]]",
        vec![
            prop::sample::select(vec!["stones = 60\n", "stones = 3000\n"])
                .prop_map(str::to_owned)
                .boxed(),
            key("kind", &["\"a\"", "\"b\""]),
            key("arrangement", &["\"scatter\"", "\"rings\""]),
            key("lost", &["0", "60"]),
            key("time", &["\"45 min\"", "\"9 h\""]),
        ],
    );
    prop::collection::vec(entry, 0..3).prop_map(|all| all.concat())
}

fn stock() -> impl Strategy<Value = String> {
    let entry = table(
        "[[stock]]",
        vec![
            prop::sample::select(vec!["kind = \"a\"\n", "kind = \"b\"\n"])
                .prop_map(str::to_owned)
                .boxed(),
            prop::sample::select(vec!["stones = 0\n", "stones = 40\n", "stones = 10000000\n"])
                .prop_map(str::to_owned)
                .boxed(),
            key("lot", &["\"L1\"", "\"L2\""]),
            key("reserved", &["0"]),
            key("price", &["0", "\"0.000001\"", "\"1000\""]),
        ],
    );
    prop::collection::vec(entry, 0..4).prop_map(|all| all.concat())
}

fn suppliers() -> impl Strategy<Value = String> {
    let offer = (
        prop::sample::select(vec!["a", "b"]),
        prop::sample::select(vec!["1", "100", "10000000"]),
        prop::sample::select(vec!["0", "\"2.10\"", "\"1000\""]),
        prop::sample::select(vec![
            "",
            ", packs = 0",
            ", packs = 2, lot = \"x\"",
            ", breaks = [{ packs = 2, price = 0 }]",
        ]),
    );
    let offer = offer.prop_map(|(kind, pack, price, more)| {
        (
            format!("{kind}{pack}{}", more.contains("lot")),
            format!("{{ kind = \"{kind}\", pack = {pack}, price = {price}{more} }}"),
        )
    });
    let one = (
        prop::collection::vec(offer, 0..4),
        key("delivery", &["0", "\"4.90\"", "\"1000000\""]),
        key("free_from", &["0", "\"20\""]),
        key("minimum", &["0", "\"15.00\"", "\"1000000\""]),
        key("lead", &["0", "3", "365"]),
    );
    prop::collection::vec(one, 0..3).prop_map(|all| {
        let one = |(i, (offers, a, b, c, d)): (usize, (Vec<(String, String)>, _, _, _, _))| {
            let mut seen = vec![];
            let mut kept = vec![];
            for (key, offer) in offers {
                if !seen.contains(&key) {
                    seen.push(key);
                    kept.push(offer);
                }
            }
            let offers = kept.join(", ");
            format!("[[supplier]]\nname = \"s{i}\"\noffers = [{offers}]\n{a}{b}{c}{d}")
        };
        all.into_iter().enumerate().map(one).collect()
    })
}

/// How an adhesive is mixed: all of its keys go only with a ratio.
fn mixed() -> impl Strategy<Value = String> {
    prop::sample::select(vec![
        "",
        "ratio = \"1:100\"\n",
        "ratio = \"2:1\"\nby = \"weight\"\n",
        "ratio = \"100:1\"\nby = \"volume\"\ndensity_a = \"0.5 g/ml\"\ndensity_b = \"5 g/ml\"\n",
    ])
    .prop_map(str::to_owned)
}

/// The adhesive and the keys of the piece that name it.
fn glue() -> impl Strategy<Value = (String, String)> {
    let sort = prop::sample::select(vec![
        "solvent gel",
        "5-minute epoxy",
        "coating epoxy",
        "slow resin",
        "light-cured",
        "water-based",
        "adhesive sheet",
    ]);
    let label = (
        key("open", &["\"6 s\"", "\"7 min\"", "\"90 days\""]),
        prop::sample::select(vec!["pot = \"6 s\"\n", "pot = \"40 min\"\n"]).prop_map(str::to_owned),
        key("handle", &["\"6 s\"", "\"10 days\""]),
        key("cure", &["\"10 days\"", "\"90 days\""]),
        key("recoat", &["\"4 h\""]),
        mixed(),
        key("density", &["\"0.5 g/ml\"", "\"5 g/ml\""]),
        key("waste", &["0", "\"100 %\""]),
        key("pigment_limit", &["0", "\"50 %\""]),
    );
    let apply = prop::sample::select(vec![
        "",
        "apply = \"dot\"\n",
        "bead = \"0.01 mm\"\n",
        "film = \"100 mm\"\n",
    ]);
    let container = prop::sample::select(vec![
        "",
        "container = \"0.1 ml\"\nprice = \"1000\"\n",
        "container = \"30 g\"\n",
    ]);
    (sort, label, apply, container).prop_map(|(sort, l, apply, container)| {
        let sheet = sort == "adhesive sheet";
        let label =
            [l.0, l.1, l.2, l.3, l.4, if sheet { String::new() } else { l.5 }, l.6, l.7, l.8]
                .concat();
        let container =
            if sheet { "container = \"20 x 30 cm\"\nprice = \"2\"\n" } else { container };
        let apply = if sheet { "" } else { apply };
        (
            format!("[[adhesive]]\nname = \"glue\"\nsort = \"{sort}\"\n{label}{container}"),
            format!("adhesive = \"glue\"\n{apply}"),
        )
    })
}

fn piece_keys() -> impl Strategy<Value = String> {
    let keys = vec![
        key("quantity", &["1", "2", "40"]),
        key("placing", &["\"hand\"", "\"sheet\""]),
        key("arrangement", &["\"scatter\"", "\"rings\"", "\"square\""]),
        key("base", &["\"metal\"", "\"polycarbonate\"", "\"protective helmet\""]),
        key("stressed", &["true"]),
        key("flexible", &["true"]),
        key("prepare", &["\"0 min\"", "\"24 h\""]),
        key("dry", &["\"0 min\"", "\"90 days\""]),
        key("pack", &["\"0 min\"", "\"24 h\""]),
        key("sides", &["1", "2", "20"]),
        key("blank_price", &["0", "\"1000000\""]),
        key("price", &["\"1.00\"", "\"1000000\""]),
        key("margin", &["\"1 mm\"", "\"4.9 mm\"", "\"6 mm\""]),
    ];
    keys.prop_map(|keys| {
        let text = keys.concat();
        if text.contains("arrangement") { text } else { text + "arrangement = \"honeycomb\"\n" }
    })
}

fn price() -> impl Strategy<Value = String> {
    let profit =
        prop_oneof![key("margin", &["0", "\"94 %\""]), key("markup", &["\"0 %\"", "\"2000 %\""]),];
    let keys = vec![
        profit.boxed(),
        key("tax", &["0", "\"100 %\""]),
        key("fees", &["[]", "[{ name = \"card\", share = \"1 %\", fixed = \"1000000\" }]"]),
        key("waste", &["0", "\"100 %\""]),
        key("packaging", &["0", "\"3\""]),
        key("quantities", &["[]", "[12, 1, 12]", "[100000]"]),
        key("rush", &["0", "\"100 %\""]),
        key("deposit", &["0", "\"100 %\""]),
        key("valid", &["1", "3650"]),
        key("round_to", &["\"0.01\"", "\"1000000\""]),
    ];
    let whole = table("[price]\ncurrency = \"EUR\"", keys);
    // Some orders have no price at all: then they have no bags either.
    prop_oneof![
        1 => Just(String::new()),
        4 => (whole, bag()).prop_map(|(price, bag)| price + &bag),
    ]
}

fn bag() -> impl Strategy<Value = String> {
    let size = prop::sample::select(vec![
        "stones = 1\n",
        "stones = 1000000\n",
        "weight = \"0.1 g\"\n",
        "weight = \"100 kg\"\n",
    ]);
    let rest = vec![
        key("tare", &["\"0 g\"", "\"1 kg\""]),
        key("cost", &["0", "\"1000000\""]),
        key("time", &["\"0 min\"", "\"10 h\""]),
    ];
    (size, rest, any::<bool>()).prop_map(|(size, rest, there)| {
        if !there {
            return String::new();
        }
        format!("[[bag]]\nname = \"bag\"\nmix = \"ab\"\n{size}{}", rest.concat())
    })
}

fn kit() -> impl Strategy<Value = String> {
    let keys = vec![
        key("copies", &["1", "1000"]),
        key("loss", &["0", "\"80 %\""]),
        key("tare", &["\"0 g\"", "\"1 kg\""]),
    ];
    let kit = table("[[kit]]\nname = \"kit\"\npiece = \"p\"", keys);
    prop_oneof![Just(String::new()), kit]
}

/// The shelf, a piece with these keys, and everything else.
fn order() -> impl Strategy<Value = String> {
    let parts = (
        (workshop(), log(), stock(), suppliers()),
        (glue(), piece_keys(), price(), kit()),
        key("due", &["2000-01-01", "2026-11-30", "2200-12-31"]),
        key("stand_ins", &["[\"b\"]"]),
    );
    parts.prop_map(|((workshop, log, stock, suppliers), (glue, keys, price, kit), due, stand_ins)| {
        format!(
            "stonelay = 1\norder = \"drawn\"\n{due}\n\
             [[kind]]\nname = \"a\"\nsize = \"SS16\"\nweight = \"0.08 g\"\n{stand_ins}\n\
             [[kind]]\nname = \"b\"\nsize = \"4 mm\"\n\
             [[mix]]\nname = \"ab\"\nparts = [{{ kind = \"a\", share = 0.6 }}, {{ kind = \"b\", share = 0.4 }}]\n\
             [[piece]]\nname = \"p\"\nblank = {{ shape = \"rectangle\", width = \"24 mm\", height = \"12 mm\" }}\n\
             mix = \"ab\"\n{keys}{}\n{}\n{workshop}\n{log}\n{stock}\n{suppliers}\n{price}\n{kit}",
            glue.1, glue.0
        )
    })
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 150,
        failure_persistence: None,
        rng_algorithm: RngAlgorithm::ChaCha,
        rng_seed: RngSeed::Fixed(20_263),
        max_shrink_iters: 400,
        ..ProptestConfig::default()
    })]

    /// What opens can be planned, unless there is more of it than a life of work.
    #[test]
    fn whatever_opens_is_planned(text in order()) {
        let opened = open("order.toml", text.as_bytes(), &demo_files());
        let order = opened.map_err(|r| TestCaseError::fail(format!("{}\n{text}", r.plain())))?;
        let laid = app::laying::lay_order(order, &Unwatched).unwrap();
        match plan(&laid, TODAY, &Unwatched) {
            Ok(plan) => hangs_together(&plan),
            // How much an order comes to shows only when it is laid.
            Err(PlanError::Price(PriceError::TooMuch)) => {}
            // How much work an order is shows only when it is laid.
            Err(PlanError::Calendar(WorkError::TooLong { .. }) | PlanError::Hours(HoursError::TooLong(_))) => {}
            Err(PlanError::Spare(SpareError::Unbounded { .. })) => {}
            Err(e) => return Err(TestCaseError::fail(format!("{e}\n{text}"))),
        }
    }
}
