//! Colours in Lab and differences by CIEDE2000 over a grid of sRGB, for the outside check.
//!
//! `cargo run -p planning --example colour_pairs > pairs.json`, then
//! `checks/colour_pairs.py pairs.json`.

use lay::Colour;
use planning::{colour_difference, lab};
use serde_json::{Value, json};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let steps = [0, 1, 11, 40, 128, 200, 254, 255];
    let mut colours = vec![];
    for r in steps {
        for g in steps {
            colours.extend(steps.map(|b| Colour(r, g, b)));
        }
    }
    let rgb = |c: Colour| json!([c.0, c.1, c.2]);
    // Neighbours in the grid and colours far apart.
    let pairs: Vec<Value> = (0..colours.len())
        .flat_map(|i| [1, 8, 64, 97, 251].map(|step| (i, (i * 7 + step) % colours.len())))
        .chain((1..colours.len()).map(|i| (i - 1, i)))
        .map(|(a, b)| (colours[a], colours[b]))
        .map(|(a, b)| {
            json!({
                "a": rgb(a), "b": rgb(b), "lab_a": lab(a), "lab_b": lab(b),
                "difference": colour_difference(a, b),
            })
        })
        .collect();
    println!("{}", serde_json::to_string(&pairs)?);
    Ok(())
}
