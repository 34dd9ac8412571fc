//! Prints a grid of adhesive figures as JSON, for `checks/adhesive.py` to reckon again.

use geometry::shapes;
use lay::{Chart, Colour, Finish, Kind, Piece, Shape};
use planning::Given;
use planning::adhesive::{
    Adhesive, AdhesiveSort, Amount, Apply, Container, Facts, Label, LabelError, Ratio, RatioBy,
    Room, Section, bead_ml, dot_ul, film_ml, open_min, pot_min,
};
use planning::glue::{GlueInput, GluedPiece, glue};
use planning::stretches::{BenchPoint, Limit, RESERVE, Stretch, StretchKind, Stretches};
use rust_decimal::Decimal;
use serde_json::{Value, json};
use std::error::Error;

fn main() -> Result<(), Box<dyn Error>> {
    let grid = json!({
        "ml_per_us_fluid_ounce": units::ML_PER_FLUID_OUNCE,
        "ml_per_us_gallon": units::ML_PER_GALLON,
        "reserve": RESERVE,
        "dots": dots(),
        "beads": beads(),
        "films": films(),
        "times": times()?,
        "mixes": mixes()?,
        "orders": orders()?,
    });
    println!("{}", serde_json::to_string_pretty(&grid)?);
    Ok(())
}

/// Every round size of the trade's chart, at both ends of its range.
fn dots() -> Vec<Value> {
    let ends = lay::sizes::ROUND.iter().flat_map(|&(ss, low, high)| [(ss, low), (ss, high)]);
    ends.map(|(ss, d)| json!({ "ss": ss, "diameter_mm": d, "ul": dot_ul(d) })).collect()
}

fn beads() -> Vec<Value> {
    let mut beads = vec![];
    for (name, section) in [("half", Section::Half), ("round", Section::Round)] {
        for width_mm in [0.26, 0.41, 0.60, 0.84, 1.19, 1.60] {
            for length_mm in [1.0, 163.5, 20_000.0] {
                let ml = bead_ml(width_mm, section, length_mm);
                beads.push(json!({ "section": name, "width_mm": width_mm, "length_mm": length_mm, "ml": ml }));
            }
        }
    }
    beads
}

fn films() -> Vec<Value> {
    let thousandth_mm = 0.001 * 25.4;
    let mut films = vec![];
    for area_mm2 in [100.0, 92_903.04, 2_400.0, 54.3] {
        for thickness_mm in [thousandth_mm, 0.1, 0.5, 1.0, 3.0] {
            let ml = film_ml(area_mm2, thickness_mm);
            films.push(json!({ "area_mm2": area_mm2, "thickness_mm": thickness_mm, "ml": ml }));
        }
    }
    films
}

fn facts(sort: AdhesiveSort, label: Label) -> Result<Facts, LabelError> {
    Adhesive { name: "bench".into(), sort, label }.facts()
}

fn room(temperature_c: f64) -> Room {
    Room { temperature_c: Given::document(temperature_c), humidity: Given::usual(0.5) }
}

fn times() -> Result<Vec<Value>, LabelError> {
    let mut times = vec![];
    for (sort, stated_min) in [
        (AdhesiveSort::SolventGel, 5.0),
        (AdhesiveSort::FiveMinuteEpoxy, 3.5),
        (AdhesiveSort::CoatingEpoxy, 40.0),
        (AdhesiveSort::SlowResin, 90.0),
    ] {
        let f = facts(sort, Label { open_min: Some(stated_min), ..Label::default() })?;
        for temperature_c in [5.0, 15.0, 18.5, 21.0, 25.0, 27.3, 35.0] {
            for mass_g in [3.0, 100.0, 250.0, 800.0] {
                let room = room(temperature_c);
                times.push(json!({
                    "two_part": f.two_part.is_some(), "stated_min": stated_min,
                    "temperature_c": temperature_c, "mass_g": mass_g,
                    "open_min": open_min(&f, &room), "pot_min": pot_min(&f, &room, mass_g),
                }));
            }
        }
    }
    Ok(times)
}

fn mixes() -> Result<Vec<Value>, LabelError> {
    let mut mixes = vec![];
    for (a, b) in [(1.0, 1.0), (2.0, 1.0), (100.0, 43.0)] {
        for by in [RatioBy::Volume, RatioBy::Weight] {
            for (density_a, density_b) in [(1.15, 1.02), (1.17, 0.95), (1.16, 0.985), (0.98, 1.1)] {
                let f = facts(
                    AdhesiveSort::CoatingEpoxy,
                    Label {
                        ratio: Some(Ratio { a, b }),
                        ratio_by: Some(by),
                        density_a_g_per_ml: Some(density_a),
                        density_b_g_per_ml: Some(density_b),
                        // Off by some percent: A and B go by their own.
                        density_g_per_ml: Some(1.2),
                        ..Label::default()
                    },
                )?;
                mixes.push(json!({
                    "a": a, "b": b, "by": by, "density_a": density_a, "density_b": density_b,
                    "ml": 37.5, "amount": Amount::of_ml(&f, 37.5),
                }));
            }
        }
    }
    Ok(mixes)
}

/// A stretch of so many stones, lying on so much of the piece.
fn stretch(number: u32, stones: u32, area_cm2: f64) -> Stretch {
    let corner = BenchPoint { right_mm: 0.0, down_mm: 0.0 };
    Stretch {
        number,
        zone: "all".into(),
        zone_index: 0,
        first_row: number,
        last_row: number,
        first_place_no: 1,
        last_place_no: stones,
        start: corner,
        stop: corner,
        stones,
        kinds: vec![StretchKind { kind: "sea glass".into(), kind_index: 0, stones }],
        order: (1..=stones).collect(),
        kind_changes: 0,
        glue_line_mm: 4.0 * f64::from(stones),
        glue_lines: 1,
        glue_width_mm: Some(1.2),
        area_cm2,
        usual_min: f64::from(stones) * 60.0 / 320.0,
        slow_min: f64::from(stones) * 60.0 / 270.0,
    }
}

fn pieces() -> Vec<Piece> {
    let kind = Kind {
        name: "sea glass".into(),
        shape: Shape::Round,
        size: "SS16".into(),
        fit_mm: 4.0,
        reach_mm: 3.9,
        spread_mm: 0.05,
        colour: Colour(42, 157, 143),
        finish: Finish::Foiled,
    };
    let piece = |name: &str| Piece {
        name: name.into(),
        chart: Chart::Plane,
        blank: shapes::rectangle(60.0, 40.0),
        blank_colour: Colour(20, 32, 56),
        kinds: vec![kind.clone()],
        zones: vec![],
        changes: vec![],
    };
    vec![piece("badge"), piece("flask panel")]
}

/// Whole orders: badges and flask panels in several numbers, put on in three ways.
fn orders() -> Result<Vec<Value>, Box<dyn Error>> {
    let pieces = pieces();
    let worked = |list: Vec<Stretch>| Stretches {
        open_min: Some(30.0),
        open_at_c: 25.0,
        label_open_min: None,
        limit_min: 24.0,
        limited_by: Limit::OpenTime,
        usual_min: list.iter().map(|s| s.usual_min).sum(),
        slow_min: list.iter().map(|s| s.slow_min).sum(),
        stretches: list,
        reasons: vec![],
    };
    let badge = worked(vec![stretch(1, 13, 3.1)]);
    let panel = worked(vec![stretch(1, 60, 22.0), stretch(2, 47, 18.5), stretch(3, 20, 7.5)]);
    let ways = [
        ("dot", Apply::Dot),
        ("bead", Apply::Bead { width_mm: 1.2, section: Section::Half }),
        ("film", Apply::Film { thickness_mm: 2.0 }),
    ];
    let mut orders = vec![];
    for (way, apply) in ways {
        for copies in [1, 12, 35, 400] {
            for temperature_c in [18.0, 25.0, 31.0] {
                let label = Label {
                    pot_min: Some(40.0),
                    waste: Some(0.175),
                    container: Some(Container::Ml(32.0)),
                    price: Some(Decimal::new(1_195, 2)),
                    density_g_per_ml: Some(1.15),
                    density_a_g_per_ml: Some(1.16),
                    density_b_g_per_ml: Some(1.04),
                    ..Label::default()
                };
                let adhesives = [Adhesive {
                    name: "clear coat".into(),
                    sort: AdhesiveSort::CoatingEpoxy,
                    label,
                }];
                let of = |piece, stretches, copies| GluedPiece {
                    piece,
                    stretches,
                    copies,
                    adhesive: 0,
                    apply: Given::document(apply),
                    base: None,
                    heights_mm: vec![],
                    stressed: false,
                    flexible: false,
                };
                let (plan, _) = glue(&GlueInput {
                    adhesives: &adhesives,
                    room: room(temperature_c),
                    pieces: vec![of(&pieces[0], &badge, copies), of(&pieces[1], &panel, copies)],
                })?;
                orders.push(json!({
                    "way": way, "temperature_c": temperature_c, "diameter_mm": 3.9,
                    "stated_pot_min": 40.0, "waste": 0.175,
                    "density_a": 1.16, "density_b": 1.04,
                    "container_ml": 32.0, "price": "11.95", "width_mm": 1.2, "thickness_mm": 2.0,
                    "stretches": [badge.stretches, panel.stretches], "plan": plan,
                }));
            }
        }
    }
    Ok(orders)
}
