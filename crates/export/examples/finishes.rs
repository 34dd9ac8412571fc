//! Draws every finish on pale, dark and coloured blanks, to look at:
//! `cargo run --release -p export --example finishes -- FOLDER`.

use export::{Pixels, png, svg, write_atomically};
use geometry::{Point, shapes};
use lay::{
    Along, Arrangement, Chart, Colour, Colouring, Finish, Gauge, Kind, MixPart, Piece, PieceLay,
    Place, Rows, Shape, Stone, Zone, ZoneLay,
};
use std::path::Path;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let folder = std::env::args().nth(1).ok_or("give a folder for the pictures")?;
    let blanks = [
        ("pale", Colour(0xf4, 0xf1, 0xea)),
        ("dark", Colour(0x22, 0x24, 0x2a)),
        ("navy", Colour(0x1d, 0x2c, 0x54)),
    ];
    for (name, colour) in blanks {
        draw(&folder, name, &badge(colour), 1200)?;
    }
    draw(&folder, "sign", &sign(300.0, 160.0), 2000)?;
    draw(&folder, "wall", &sign(1500.0, 800.0), 3000)
}

fn draw(
    folder: &str,
    name: &str,
    (piece, lay): &(Piece, PieceLay),
    width: u32,
) -> Result<(), Box<dyn std::error::Error>> {
    let start = std::time::Instant::now();
    let picture = drawing::picture(piece, lay);
    let text = svg(&picture);
    let drawn = start.elapsed();
    let image = png(&picture, Pixels::Across(width))?;
    println!(
        "{name}: {} stones, SVG {} kB in {drawn:.1?}, PNG {} kB in {:.1?}",
        lay.stones.len(),
        text.len() / 1000,
        image.len() / 1000,
        start.elapsed() - drawn
    );
    write_atomically(&Path::new(folder).join(format!("{name}.svg")), text.as_bytes(), true)?;
    write_atomically(&Path::new(folder).join(format!("{name}.png")), &image, true)?;
    Ok(())
}

fn kind(name: &str, mm: f64, hex: u32, finish: Finish) -> Kind {
    let colour = Colour((hex >> 16) as u8, (hex >> 8) as u8, hex as u8);
    Kind {
        name: name.to_owned(),
        shape: Shape::Round,
        size: format!("{mm} mm"),
        fit_mm: mm + 0.1,
        reach_mm: mm,
        spread_mm: 0.05,
        colour,
        finish,
    }
}

/// A badge of 60 × 40 mm with a slot, in stripes of one kind each.
fn badge(blank_colour: Colour) -> (Piece, PieceLay) {
    let slot = shapes::circle(6.0).moved(Point::new(0.0, 14.0));
    let mut rings = shapes::rounded_rectangle(60.0, 40.0, 6.0).rings().to_vec();
    rings.extend(slot.rings().iter().map(geometry::Ring::reversed));
    let blank = geometry::Region::new(rings).expect("a rectangle with a round hole");
    let kinds = vec![
        kind("amber", 3.9, 0xe8a020, Finish::Foiled),
        kind("coral", 3.9, 0xf0604a, Finish::Foiled),
        kind("navy", 3.9, 0x1c3a8c, Finish::Foiled),
        kind("crystal", 3.9, 0xe9eef2, Finish::Foiled),
        kind("jet", 3.9, 0x15151a, Finish::Foiled),
        kind("crystal rainbow", 3.9, 0xe9eef2, Finish::Rainbow),
        kind("clear", 3.9, 0xf4f8fb, Finish::Clear),
        kind("pearl", 3.9, 0xf3e9dc, Finish::Pearl),
        kind("gold", 3.9, 0xc8a045, Finish::Metallic),
    ];
    honeycomb(blank, blank_colour, kinds, |row, _| row)
}

/// A sign of so many millimetres; 300 × 160 take some 4,500 small stones.
fn sign(width: f64, height: f64) -> (Piece, PieceLay) {
    let kinds = vec![
        kind("amber", 3.3, 0xe8a020, Finish::Foiled),
        kind("coral", 3.3, 0xf0604a, Finish::Foiled),
        kind("navy", 3.3, 0x1c3a8c, Finish::Foiled),
        kind("crystal", 3.3, 0xe9eef2, Finish::Foiled),
    ];
    let blank = shapes::rounded_rectangle(width, height, 20.0);
    honeycomb(blank, Colour(0x22, 0x24, 0x2a), kinds, |_, at| {
        let waves = at.y + 14.0 * libm::sin(at.x / 22.0);
        (waves + height) as usize / 20
    })
}

/// Interlocking rows of equal stones, the kind of each by row and place.
fn honeycomb(
    blank: geometry::Region,
    blank_colour: Colour,
    kinds: Vec<Kind>,
    kind_of: impl Fn(usize, Point) -> usize,
) -> (Piece, PieceLay) {
    let pitch = kinds[0].fit_mm;
    let bounds = blank.bounds().grown(-pitch / 2.0 - 0.5);
    let mut stones = vec![];
    let mut row = 0;
    loop {
        let y = bounds.max.y - f64::from(row) * pitch * 0.75_f64.sqrt();
        if y < bounds.min.y {
            break;
        }
        let mut x = bounds.min.x + if row % 2 == 0 { 0.0 } else { pitch / 2.0 };
        while x <= bounds.max.x {
            let at = Point::new(x, y);
            if blank.clearance(at) >= pitch / 2.0 + 0.5 {
                let kind = kind_of(row as usize, at) % kinds.len();
                stones.push(Stone {
                    place: Place::on_plane(at),
                    kind: kind as u32,
                    zone: 0,
                    row: row + 1,
                    by_hand: false,
                });
            }
            x += pitch;
        }
        row += 1;
    }
    let zone = Zone {
        name: "front".to_owned(),
        region: blank.clone(),
        arrangement: Arrangement::Honeycomb(Rows::Locked(Along::Top)),
        colouring: Colouring::Striped,
        mix: vec![MixPart { kind: 0, share: 1.0, rows: 1 }],
        fillers: vec![],
        spacing_mm: 0.0,
        margin_mm: 0.5,
        gauge: Gauge::Fit,
        seed: 1,
    };
    let laid = ZoneLay {
        n_rows: row,
        n_fillers: 0,
        coverage: 0.0,
        bare_spots: vec![],
        bare_edge: 0.0,
        note: None,
    };
    let chart = Chart::Plane;
    let lay = PieceLay {
        chart,
        stones,
        zones: vec![laid],
        coverage: 0.0,
        bare_spots: vec![],
        findings: vec![],
    };
    let name = "badge".to_owned();
    (Piece { name, chart, blank, blank_colour, kinds, zones: vec![zone], changes: vec![] }, lay)
}
