//! Bad documents, each with the message a maker gets, kept as a snapshot.
//!
//! Every document of `tests/bad` is one test here; beside it stand the few that are made because
//! they are too large or no text.

use crate::Files;
use app::document::{MAX_BYTES, Refused};
use app::order::open;
use std::path::{Path, PathBuf};

macro_rules! bad_documents {
    ($($name:ident,)*) => {
        /// The documents that have a test.
        const NAMES: &[&str] = &[$(stringify!($name)),*];
        $(
            #[test]
            fn $name() {
                check_file(stringify!($name));
            }
        )*
    };
}

bad_documents! {
    along_malformed,
    arrangement_unknown,
    band_malformed,
    by_hand_does_nothing,
    by_hand_does_two_things,
    by_hand_key_misspelt,
    by_hand_keys_of_another,
    by_hand_kind_missing,
    by_hand_kind_unknown,
    by_hand_no_list,
    by_hand_of_a_zone,
    by_hand_place_malformed,
    colour_malformed,
    corner_too_large,
    decimal_comma,
    empty,
    file_both_sizes,
    file_missing,
    file_name_empty,
    finish_unknown,
    flag_as_text,
    fraction_by_zero,
    heart_impossible,
    hole_and_spacing,
    hole_leaves_nothing,
    hole_outside,
    hole_without_place,
    key_twice,
    key_unknown,
    keys_missing,
    keys_of_a_zone_at_the_piece,
    kind_unknown,
    length_is_a_number,
    length_is_absurd,
    length_is_infinite,
    length_is_nan,
    length_is_negative,
    length_is_zero,
    mix_circular,
    mix_empty,
    mix_measure_missing,
    mix_measures_mixed,
    mix_share_malformed,
    mix_shares_over,
    mix_shares_under,
    mix_two_measures,
    mix_without_weights,
    name_empty,
    name_with_line_end,
    names_too_many,
    names_twice,
    names_wrong,
    nested_brackets,
    no_pieces,
    not_toml,
    only_comments,
    options_of_another_arrangement,
    options_of_other_rows,
    order_is_a_number,
    plan_adhesive_by_without_ratio,
    plan_adhesive_container_of_another,
    plan_adhesive_cured_too_soon,
    plan_adhesive_density_absurd,
    plan_adhesive_mix_without_pot,
    plan_adhesive_open_without_unit,
    plan_adhesive_price_of_nothing,
    plan_adhesive_ratio,
    plan_adhesive_sheet_in_ml,
    plan_adhesive_sheet_mixed,
    plan_adhesive_sort_unknown,
    plan_adhesive_unknown,
    plan_adhesive_waste_over,
    plan_apply_bead_and_film,
    plan_apply_dot_and_bead,
    plan_apply_dot_of_sheet,
    plan_apply_sheet_of_gel,
    plan_apply_unknown,
    plan_asked_coins_of_yen,
    plan_asked_nothing,
    plan_asked_too_fine,
    plan_bag_lighter_than_a_stone,
    plan_bag_mix_unknown,
    plan_bag_of_what_nobody_weighed,
    plan_bag_two_measures,
    plan_bag_weight_absurd,
    plan_bag_without_currency,
    plan_bag_without_measure,
    plan_base_unknown,
    plan_bead_zero,
    plan_bench_zero,
    plan_breaks_from_one,
    plan_breaks_out_of_order,
    plan_breaks_rising,
    plan_closed_malformed,
    plan_copies_over,
    plan_currency_unknown,
    plan_days_none,
    plan_days_twice,
    plan_days_unknown,
    plan_deposit_over,
    plan_double_brackets,
    plan_due_as_words,
    plan_due_long_ago,
    plan_due_no_such_day,
    plan_due_with_time,
    plan_fee_without_name,
    plan_fees_leave_nothing,
    plan_hours_backwards,
    plan_hours_malformed,
    plan_hours_overlap,
    plan_humidity_over,
    plan_keys_misspelt,
    plan_kit_class_huge,
    plan_kit_piece_unknown,
    plan_kit_twice,
    plan_lead_as_span,
    plan_level_and_rate,
    plan_level_unknown,
    plan_log_kind_unknown,
    plan_log_lost_over,
    plan_log_pace,
    plan_log_too_long,
    plan_loss_over,
    plan_loss_trust,
    plan_margin_all,
    plan_margin_and_markup,
    plan_markup_as_number,
    plan_offer_absurd,
    plan_offer_decimal_comma,
    plan_offer_free_and_empty,
    plan_offer_thousands,
    plan_offer_too_fine,
    plan_offer_twice,
    plan_offer_with_sign,
    plan_offer_without_price,
    plan_placing_unknown,
    plan_prepare_negative,
    plan_quantities_zero,
    plan_rate_absurd,
    plan_rate_negative,
    plan_round_to_half_a_cent,
    plan_round_to_nothing,
    plan_section_twice,
    plan_sides_many,
    plan_single_brackets,
    plan_stand_in_itself,
    plan_stock_file_empty,
    plan_stock_fraction,
    plan_stock_kind_unknown,
    plan_stock_negative,
    plan_stock_reserved_over,
    plan_supplier_twice,
    plan_supplier_without_offers,
    plan_suppliers_too_many,
    plan_sure_of_everything,
    plan_tax_negative,
    plan_temperature_absurd,
    plan_temperature_below_all,
    plan_temperature_without_unit,
    plan_valid_date,
    plan_wage_absurd,
    plan_wage_negative,
    plan_weight_of_a_stone_absurd,
    polygon_points_malformed,
    polygon_self_crossing,
    polygon_two_points,
    polygon_zero_area,
    quantity_fraction,
    quantity_huge,
    quantity_zero,
    several,
    shape_and_file,
    shape_keys_of_another,
    shape_unknown,
    single_brackets,
    size_absurd,
    size_measured_badly,
    size_unknown,
    star_impossible,
    svg_empty,
    svg_huge,
    svg_nested_entities,
    svg_not_xml,
    svg_nothing_drawn,
    svg_picture,
    svg_text_only,
    svg_zero_area,
    tolerance_with_ss,
    too_many_stones,
    two_rests,
    unclosed_bracket,
    unit_missing,
    unit_unknown,
    unquoted_length,
    version_missing,
    version_newer,
    version_text,
    version_zero,
    wrong_types,
    zone_names_twice,
    zone_without_place,
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/bad")
}

/// The drawings beside the documents, and one of more than 10 MB that nobody wants to keep.
fn drawings() -> Files {
    let mut files = Files::default();
    for entry in std::fs::read_dir(folder()).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|e| e == "svg") {
            let name = path.file_name().unwrap().to_str().unwrap().to_owned();
            files.0.insert(name, std::fs::read(&path).unwrap());
        }
    }
    let path = format!("<svg><path d=\"M0 0 {}\"/></svg>", "L1 1 ".repeat(2_200_000));
    files.0.insert("huge.svg".to_owned(), path.into_bytes());
    files
}

fn check_file(name: &str) {
    let bytes = std::fs::read(folder().join(format!("{name}.toml"))).unwrap();
    check(name, &bytes);
}

fn check(name: &str, bytes: &[u8]) {
    let refused = open(&format!("{name}.toml"), bytes, &drawings()).unwrap_err();
    assert_sound(&refused);
    let plain = refused.plain();
    let too_wide = |l: &&str| l.chars().count() > 80;
    assert_eq!(plain.lines().find(too_wide), None, "80 columns are enough");
    let text = format!("{}\n─── plain ───\n{plain}", refused.pretty(false));
    insta::with_settings!({ prepend_module_to_snapshot => false, snapshot_path => "../bad/snapshots", omit_expression => true }, {
        insta::assert_snapshot!(name, text);
    });
}

/// What holds for every refusal: it says something, in the house's form, about a place that
/// exists, and what would be right.
fn assert_sound(refused: &Refused) {
    assert!(!refused.faults.is_empty());
    for fault in &refused.faults {
        assert!(fault.span.start <= fault.span.end && fault.span.end <= refused.source.len());
        assert!(!fault.text.is_empty() && !fault.text.ends_with('.'), "{}", fault.text);
        assert!(!fault.text.starts_with(char::is_uppercase), "{}", fault.text);
        let hint = fault.hint.as_deref().unwrap_or("");
        assert!(!hint.is_empty(), "no hint for: {}", fault.text);
    }
}

#[test]
fn every_bad_document_has_a_test() {
    let mut files: Vec<String> = std::fs::read_dir(folder())
        .unwrap()
        .map(|e| e.unwrap().path())
        .filter(|p| p.extension().is_some_and(|e| e == "toml"))
        .map(|p| p.file_stem().unwrap().to_str().unwrap().to_owned())
        .collect();
    files.sort();
    assert_eq!(files, NAMES);
}

#[test]
fn binary() {
    check("binary", b"\x7fELF\x02\x01\x01\0\0\xff\xfe stones");
}

#[test]
fn text_with_zeros() {
    check("text_with_zeros", b"stonelay = 1\norder = \"a\0b\"\n");
}

#[test]
fn huge() {
    check("huge", &vec![b'#'; MAX_BYTES + 1]);
}

#[test]
fn one_long_line() {
    let long = format!("stonelay = 1\norder = \"{}\"\n", "lantern ".repeat(100_000));
    check("one_long_line", long.as_bytes());
}

#[test]
fn very_many_mistakes() {
    let keys: String = (0..60).map(|i| format!("key_{i:02} = {i}\n")).collect();
    check("very_many_mistakes", format!("stonelay = 1\norder = \"o\"\n{keys}").as_bytes());
}

/// Looking for the nearest of a few hundred thousand keys would take its time.
#[test]
fn a_file_of_nothing_but_mistakes_is_given_up() {
    let keys: String = (0..300_000).map(|i| format!("k{i} = 1\n")).collect();
    let refused = open("o", format!("stonelay = 1\n{keys}").as_bytes(), &drawings()).unwrap_err();
    assert_eq!(refused.faults.len(), 1000);
    assert!(refused.plain().ends_with("o: 1000 mistakes or more, the first 50 shown\n"));
    let words = "please make eighteen badges\n".repeat(100_000);
    let refused = open("o", words.as_bytes(), &drawings()).unwrap_err();
    assert!(refused.faults.len() <= 1000);
}

#[test]
fn every_mistake_of_a_document_is_reported() {
    let bytes = std::fs::read(folder().join("several.toml")).unwrap();
    let refused = open("several.toml", &bytes, &drawings()).unwrap_err();
    let texts: Vec<&str> = refused.faults.iter().map(|f| f.text.as_str()).collect();
    assert_eq!(
        texts,
        [
            "there is no size `SS21` in the trade's chart",
            "not a colour: `teal`",
            "out of range: 0",
            "unknown unit `m0`",
            "there is no kind or mix called `sea glas`",
            "unknown unit `mn`",
            "unknown key `marginn`",
        ]
    );
}
