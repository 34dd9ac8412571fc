//! A scatter that is set by hand, from a heap.

use super::planned;
use app::plan::Plan;

fn wide(placing: &str, parts: &str) -> Plan {
    planned(&format!(
        r#"stonelay = 1
order = "Harbour lantern festival"

[[kind]]
name = "sea glass"
size = "4 mm"

[[kind]]
name = "dew"
size = "2 mm"

[[piece]]
name = "sign"
quantity = 2
blank = {{ shape = "rectangle", width = "150 mm", height = "150 mm" }}
placing = "{placing}"
arrangement = "scatter"
spacing = "0 mm"
set_by = "touch"
mix = {parts}
"#
    ))
}

#[test]
fn coverage_lies_between_chance_and_close_packing() {
    let plan = wide("hand", "\"sea glass\"");
    let by_hand = plan.pieces[0].by_hand.as_ref().unwrap();
    // One size: above random sequential addition, 0.547 (J. Stat. Phys. 166, 2017), below random
    // close packing of discs, 0.840 (arXiv 2404.02316). The edge takes a little from a zone that is
    // not endless, never so much on 37 diameters.
    assert!(by_hand.least_coverage > 0.547, "{}", by_hand.least_coverage);
    assert!(by_hand.most_coverage < 0.840, "{}", by_hand.most_coverage);
    assert!(by_hand.least_coverage < by_hand.most_coverage);
}

#[test]
fn counts_are_told_for_half_and_for_95_of_100_settings() {
    let plan = wide(
        "hand",
        "[{ kind = \"sea glass\", share = \"60 %\" }, { kind = \"dew\" , share = \"40 %\" }]",
    );
    let by_hand = plan.pieces[0].by_hand.as_ref().unwrap();
    assert!(by_hand.trials >= 5);
    assert_eq!(by_hand.kinds.len(), 2);
    for k in &by_hand.kinds {
        assert!(0 < k.stones_50 && k.stones_50 <= k.stones_95, "{k:?}");
        let spare = plan.spare.kinds.iter().find(|s| s.kind == k.kind).unwrap();
        assert!(spare.need_95.unwrap() >= spare.need && spare.quantity > spare.need);
        // Two copies: the middle of the sum lies near twice the middle.
        let twice = 2.0 * k.stones_50 as f64;
        assert!((spare.need as f64 - twice).abs() < 0.1 * twice, "{} {twice}", spare.need);
    }
}

#[test]
fn by_sheet_every_count_is_certain() {
    let plan = wide("sheet", "\"sea glass\"");
    assert!(plan.pieces[0].by_hand.is_none());
    assert!(plan.spare.kinds.iter().all(|k| k.need_95.is_none()));
}

#[test]
fn what_is_set_or_recoloured_in_the_document_counts_beside_the_heap() {
    let by_hand = r#""sea glass"
by_hand = [
  { set = ["40 mm", "40 mm"], kind = "dew" },
  { set = ["80 mm", "40 mm"], kind = "dew" },
  { recolour = ["100 mm", "100 mm"], kind = "dew" },
  { recolour = ["102 mm", "101 mm"], kind = "dew" },
  { recolour = ["104 mm", "103 mm"], kind = "dew" },
  { recolour = ["106 mm", "99 mm"], kind = "dew" },
]
"#;
    let plan = wide("hand", by_hand);
    let laid = plan.pieces[0].kinds.iter().find(|k| k.kind == "dew").unwrap().stones;
    assert!((3..=6).contains(&laid), "{laid}");
    let dew = plan.pieces[0].by_hand.as_ref().unwrap().kinds.iter().find(|k| k.kind == "dew");
    let dew = dew.unwrap();
    assert_eq!((dew.stones_50, dew.stones_95), (laid, laid));
    let spare = plan.spare.kinds.iter().find(|k| k.kind == "dew").unwrap();
    assert!(spare.quantity >= 2 * laid, "{}", spare.quantity);
}
