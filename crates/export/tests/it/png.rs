//! The PNG, decoded again.

use crate::support::{BARE, BLANK, HOLE, plaque};
use drawing::{Drawing, Ink, Item, Layer, Text, picture};
use export::{Pixels, PngError, png};
use geometry::{Bounds, Point};
use lay::Piece;

struct Image {
    width: u32,
    height: u32,
    rgba: Vec<u8>,
    px_per_metre: Option<(u32, u32)>,
}

impl Image {
    fn decode(bytes: &[u8]) -> Image {
        let mut reader = ::png::Decoder::new(std::io::Cursor::new(bytes)).read_info().unwrap();
        let mut rgba = vec![0; reader.output_buffer_size().unwrap()];
        let frame = reader.next_frame(&mut rgba).unwrap();
        assert_eq!(frame.color_type, ::png::ColorType::Rgba);
        let px_per_metre = reader.info().pixel_dims.map(|d| (d.xppu, d.yppu));
        Image { width: frame.width, height: frame.height, rgba, px_per_metre }
    }

    /// The pixel that shows the point `p` of the piece.
    fn at(&self, piece: &Piece, p: Point) -> [u8; 4] {
        let b = piece.blank.bounds();
        let scale = f64::from(self.width) / b.width();
        let (x, y) = ((p.x - b.min.x) * scale, (b.max.y - p.y) * scale);
        let i = (y as usize * self.width as usize + x as usize) * 4;
        [self.rgba[i], self.rgba[i + 1], self.rgba[i + 2], self.rgba[i + 3]]
    }
}

fn from_blank([r, g, b, _]: [u8; 4]) -> u8 {
    r.abs_diff(BLANK.0).max(g.abs_diff(BLANK.1)).max(b.abs_diff(BLANK.2))
}

#[test]
fn stones_blank_and_holes_show_where_they_are() {
    let (piece, lay) = plaque();
    let image = Image::decode(&png(&picture(&piece, &lay), Pixels::Across(800)).unwrap());
    assert_eq!((image.width, image.height), (800, 480));
    for (no, stone) in (1..).zip(&lay.stones) {
        let pixel = image.at(&piece, stone.place.point());
        assert_eq!(pixel[3], 255, "stone {no}");
        assert!(from_blank(pixel) > 12, "stone {no}: {pixel:?}");
    }
    let bare = image.at(&piece, BARE);
    assert!(bare[3] == 255 && from_blank(bare) < 12, "{bare:?}");
    assert_eq!(image.at(&piece, HOLE)[3], 0, "the hole is empty");
    let corner = piece.blank.bounds().min + Point::new(0.2, 0.2);
    assert_eq!(image.at(&piece, corner)[3], 0, "outside the round corner is empty");
}

#[test]
fn the_true_size_is_in_the_file() {
    let (piece, lay) = plaque();
    let image = Image::decode(&png(&picture(&piece, &lay), Pixels::PerInch(254.0)).unwrap());
    assert_eq!((image.width, image.height), (200, 120));
    assert_eq!(image.px_per_metre, Some((10_000, 10_000)));
}

#[test]
fn same_lay_same_bytes() {
    let (piece, lay) = plaque();
    let draw = || png(&picture(&piece, &lay), Pixels::Across(300)).unwrap();
    assert_eq!(draw(), draw());
}

#[test]
fn what_cannot_be_a_picture_is_refused_in_words() {
    let (piece, lay) = plaque();
    let plaque = picture(&piece, &lay);
    let empty = Drawing::new("", "", Bounds::EMPTY);
    let cases = [
        png(&plaque, Pixels::Across(0)),
        png(&plaque, Pixels::PerInch(f64::NAN)),
        png(&plaque, Pixels::Across(12_001)),
        png(&plaque, Pixels::PerInch(1e9)),
        png(&empty, Pixels::Across(100)),
    ];
    let text: Vec<String> = cases
        .into_iter()
        .map(|case| case.map_or_else(|e: PngError| e.to_string(), |_| "drawn".to_owned()))
        .collect();
    insta::assert_snapshot!(text.join("\n"));
}

/// The renderer is given a few thousand stones at a time.
#[test]
fn the_last_of_many_stones_is_drawn_like_the_first() {
    let (piece, mut lay) = plaque();
    let few = Image::decode(&png(&picture(&piece, &lay), Pixels::Across(200)).unwrap());
    let others = lay.stones.split_off(1);
    lay.stones.extend(vec![lay.stones[0]; 4100]);
    lay.stones.extend(others);
    let many = Image::decode(&png(&picture(&piece, &lay), Pixels::Across(200)).unwrap());
    for stone in &lay.stones[4101..] {
        let p = stone.place.point();
        assert_eq!(many.at(&piece, p)[3], 255);
        assert!(from_blank(few.at(&piece, p)) > 12 && from_blank(many.at(&piece, p)) > 12, "{p:?}");
    }
}

#[test]
fn text_is_seen_without_any_font_of_the_system() {
    let page = geometry::shapes::rectangle(20.0, 10.0).bounds();
    let mut drawing = Drawing::new("label", "", page);
    let text = Text::middle("H", page.centre(), 8.0, Ink::solid(lay::Colour(0, 0, 0)));
    drawing.layers = vec![Layer::new("labels", vec![Item::Text(text)])];
    let image = Image::decode(&png(&drawing, Pixels::Across(200)).unwrap());
    let inked: Vec<usize> =
        (0..image.rgba.len() / 4).filter(|i| image.rgba[i * 4 + 3] > 127).collect();
    let rows = inked.iter().map(|i| i / image.width as usize);
    let (top, bottom) = (rows.clone().min().unwrap(), rows.max().unwrap());
    // Capitals 8 mm high at 10 pixels to the mm, about the middle of 100 pixels.
    assert!((79..=81).contains(&(bottom - top + 1)), "{top} {bottom}");
    assert!((top + bottom + 1).abs_diff(100) <= 2, "{top} {bottom}");
}
