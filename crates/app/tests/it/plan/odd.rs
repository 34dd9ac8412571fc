//! Orders that nobody thought of.

use super::{found, hangs_together, planned};
use app::plan::Plan;
use lay::Severity;
use std::fmt::Write;

/// An order of one badge with these keys in it, and these tables behind it.
fn badge(name: &str, keys: &str, tables: &str) -> Plan {
    planned(&format!(
        "stonelay = 1\norder = \"{name}\"\n[[kind]]\nname = \"{name} stone\"\nsize = \"SS16\"\n\
         [[piece]]\nname = \"{name} badge\"\nblank = {{ shape = \"rectangle\", width = \"30 mm\", \
         height = \"20 mm\" }}\narrangement = \"honeycomb\"\nmix = \"{name} stone\"\n{keys}\n{tables}"
    ))
}

#[test]
fn without_a_key_of_the_plan_there_are_notes_only() {
    let plan = badge("plain", "", "");
    hangs_together(&plan);
    assert!(plan.findings.iter().all(|f| f.severity == Severity::Note), "{:?}", plan.findings);
    // Nobody is said to sell: packs of a gross are what there is to buy.
    assert_eq!(found(&plan, "plan.nobody-sells").len(), 1);
    assert_eq!(found(&plan, "plan.adhesive-unsaid").len(), 1);
    assert!(plan.price.is_none() && plan.quote_text(None).is_none());
    let packs = plan.spare.kinds[0].quantity.div_ceil(144);
    assert_eq!((plan.answer.packs, plan.answer.short), (packs, 0));
}

#[test]
fn a_piece_on_which_no_stone_fits_is_planned_as_bare() {
    let tables = "[[adhesive]]\nname = \"coat\"\nsort = \"coating epoxy\"\n[price]\ncurrency = \
                  \"EUR\"\n[workshop]\nwage = \"10.00\"\n[[kit]]\nname = \"evening\"\npiece = \
                  \"bare badge\"\ncopies = 3\n";
    let plan = badge("bare", "margin = \"9.5 mm\"\nadhesive = \"coat\"\nfilm = \"0.5 mm\"", tables);
    hangs_together(&plan);
    assert_eq!((plan.answer.stones, plan.answer.packs), (0, 0));
    assert!(plan.stretches[0].stretches.stretches.is_empty() && plan.tints.is_empty());
    assert!(plan.kits.is_empty());
    assert_eq!(found(&plan, "plan.kit-empty").len(), 1);
}

/// At 300 an hour they are set in half a minute, less than a calendar counts by.
#[test]
fn three_stones_are_an_order() {
    let tables = "[price]\ncurrency = \"EUR\"\n[workshop]\nwage = \"10.00\"\n";
    let plan = badge("small", "margin = \"8 mm\"", tables);
    hangs_together(&plan);
    assert!((1..=4).contains(&plan.answer.stones), "{}", plan.answer.stones);
    assert!(plan.price.unwrap().charged.gross > rust_decimal::Decimal::ZERO);
}

#[test]
fn five_hundred_copies_are_planned_one_after_the_other() {
    let one = badge("many", "", "");
    let many = badge("many", "quantity = 500", "");
    hangs_together(&many);
    assert_eq!(many.answer.stones, 500 * one.answer.stones);
    let each = &many.hours.pieces[0];
    assert!(each.setting_min < 500.0 * one.hours.pieces[0].setting_min, "nothing was learnt");
    let packed: u32 = many
        .calendar
        .events
        .iter()
        .filter(|e| e.activity == planning::calendar::Activity::Packing && e.part == 1)
        .map(|e| e.last_copy - e.first_copy + 1)
        .sum();
    assert_eq!(packed, 500, "every copy is packed once");
}

#[test]
fn sixty_kinds_share_the_chance() {
    let mut text = "stonelay = 1\norder = \"sixty\"\n".to_owned();
    let mut offers = String::new();
    for i in 0..60 {
        writeln!(text, "[[kind]]\nname = \"kind {i}\"\nsize = \"3 mm\"\npack = 144").unwrap();
        writeln!(offers, "  {{ kind = \"kind {i}\", pack = 144, price = \"1.{i:02}\" }},").unwrap();
    }
    let mix: Vec<String> = (0..60).map(|i| format!("{{ kind = \"kind {i}\" }}")).collect();
    write!(
        text,
        "[[piece]]\nname = \"p\"\nquantity = 4\nblank = {{ shape = \"circle\", diameter = \
         \"60 mm\" }}\narrangement = \"scatter\"\nmix = [{}]\n[price]\ncurrency = \"EUR\"\n\
         [[supplier]]\nname = \"stall\"\ndelivery = \"5.00\"\noffers = [\n{offers}]\n",
        mix.join(", ")
    )
    .unwrap();
    let plan = planned(&text);
    hangs_together(&plan);
    assert_eq!(plan.spare.n_kinds, 60);
    // 0.95^(1/60); SciPy is not needed for a root.
    assert!((plan.spare.sure_each - 0.999_145_478).abs() < 1e-9, "{}", plan.spare.sure_each);
    assert!(plan.spare.chance >= 0.95);
    assert!(plan.purchase.shortages.is_empty() && plan.purchase.lines.len() == 60);
}

#[test]
fn names_are_kept_in_every_script() {
    for name in ["φανάρι", "فانوس", "🏮✨", "灯笼", "dröm “x” & <y>", "a'b`c"]
    {
        let tables = format!(
            "[[supplier]]\nname = \"{name}\"\noffers = [{{ kind = \"{name} stone\", pack = 144, \
             price = \"2.00\" }}]\n[[adhesive]]\nname = \"{name}\"\nsort = \"5-minute epoxy\"\n\
             container = \"20 ml\"\nprice = \"4.00\"\n[[kit]]\nname = \"{name}\"\npiece = \"{name} \
             badge\"\ncopies = 2\n[[bag]]\nname = \"{name}\"\nmix = \"{name} stone\"\nstones = 50\n\
             [price]\ncurrency = \"EUR\"\nfees = [{{ name = \"{name}\", share = \"2 %\" }}]\n"
        );
        let plan = badge(name, &format!("adhesive = \"{name}\""), &tables);
        hangs_together(&plan);
        assert_eq!(plan.purchase.lines[0].supplier, name);
        assert_eq!(plan.kits[0].kit, name);
        assert!(plan.quote_text(Some(name)).unwrap().contains(name));
        let ical = plan.ical(super::TODAY.at(12, 0, 0, 0));
        // Lines of at most 75 octets (RFC 5545, 3.1), never cut within a letter.
        assert!(ical.split("\r\n").all(|l| l.len() <= 75));
        assert!(ical.replace("\r\n ", "").contains(name.chars().next().unwrap()));
    }
}

#[test]
fn every_sort_of_adhesive_and_base_is_planned() {
    let sorts = [
        "solvent gel",
        "5-minute epoxy",
        "coating epoxy",
        "slow resin",
        "light-cured",
        "water-based",
        "adhesive sheet",
    ];
    let bases = [
        "acrylic",
        "polycarbonate",
        "wood",
        "metal",
        "glass",
        "leather",
        "fabric",
        "card",
        "resin",
        "protective helmet",
    ];
    for sort in sorts {
        for base in bases {
            let tables = format!("[[adhesive]]\nname = \"glue\"\nsort = \"{sort}\"\n");
            let keys = format!(
                "adhesive = \"glue\"\nbase = \"{base}\"\nstressed = true\nflexible = true\nsides = 2"
            );
            let plan = badge("glued", &keys, &tables);
            hangs_together(&plan);
            let sheet = sort == "adhesive sheet";
            assert_eq!(plan.answer.adhesive_ml > 0.0, !sheet, "{sort}");
            // A film can be tinted, said or not.
            let film = sort == "coating epoxy" || sort == "slow resin";
            assert_eq!(plan.tints.len(), usize::from(film), "{sort}");
        }
    }
}

#[test]
fn currencies_without_and_with_three_decimals() {
    for (code, digits) in [("JPY", 0), ("EUR", 2), ("KWD", 3)] {
        let tables = format!("[price]\ncurrency = \"{code}\"\n[workshop]\nwage = \"10\"\n");
        let plan = badge("coins", "", &tables);
        hangs_together(&plan);
        let gross = plan.price.unwrap().charged.gross;
        assert!(gross.scale() <= digits && gross > rust_decimal::Decimal::ZERO, "{code} {gross}");
    }
}

/// Half an hour a week, and hours that leave no time for the longest stretch.
#[test]
fn very_short_weeks_are_planned() {
    let tables = "[workshop]\ndays = [\"sunday\"]\nhours = \"23:30-24:00\"\nrate = 100\n";
    let plan = badge("late", "quantity = 3", tables);
    hangs_together(&plan);
    let sunday = |e: &planning::calendar::Event| {
        e.hands.is_none() || e.starts_at.weekday() == jiff::civil::Weekday::Sunday
    };
    assert!(plan.calendar.events.iter().all(sunday));
}
