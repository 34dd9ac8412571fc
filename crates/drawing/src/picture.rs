//! How a piece will look when it is set.

use crate::stone::{WAYS, shadow, symbol, way_of};
use crate::{Drawing, Instance, Item, Layer, SymbolId, blank};
use lay::{Finish, Piece, PieceLay};

/// The picture of a piece at true size: the page is the blank's bounding box, in the blank's frame.
///
/// Layers, from the bottom: `blank`, `shadows`, `stones`. Each stone is one instance in `stones`,
/// with its `place_no`, its centre exactly as laid and half its [`reach_mm`](lay::Kind::reach_mm)
/// as radius. Holes and what lies outside the blank stay empty. How a stone catches the light
/// depends on its `place_no` alone, so the same lay gives the same picture.
///
/// # Panics
/// If `lay` names a kind that `piece` does not have: it is not a lay of this piece.
pub fn picture(piece: &Piece, lay: &PieceLay) -> Drawing {
    let mut drawing = Drawing::new(&piece.name, &description(piece, lay), piece.blank.bounds());
    let blank = blank::layer(&mut drawing, &piece.blank, piece.blank_colour);

    let shadows_of: Vec<SymbolId> = [false, true]
        .into_iter()
        .map(|clear| {
            let symbol = shadow(&mut drawing, clear);
            drawing.symbol(symbol)
        })
        .collect();
    let mut known: Vec<Option<SymbolId>> = vec![None; piece.kinds.len() * WAYS as usize];
    let mut shadows = Vec::with_capacity(lay.stones.len());
    let mut stones = Vec::with_capacity(lay.stones.len());
    for (place_no, stone) in (1..).zip(&lay.stones) {
        let (kind_no, way) = (stone.kind as usize, way_of(place_no));
        let kind = &piece.kinds[kind_no];
        let slot = &mut known[kind_no * WAYS as usize + way as usize];
        let symbol = *slot.get_or_insert_with(|| {
            let symbol = symbol(&mut drawing, kind, kind_no, way);
            drawing.symbol(symbol)
        });
        let stone = Instance {
            symbol,
            centre: stone.place.point(),
            radius: kind.reach_mm / 2.0,
            turn_deg: stone.place.turn_deg,
            place_no: Some(place_no),
        };
        shadows.push(Item::Instance(Instance {
            symbol: shadows_of[usize::from(kind.finish == Finish::Clear)],
            place_no: None,
            ..stone
        }));
        stones.push(Item::Instance(stone));
    }
    let shadows = Layer::new("shadows", shadows).clipped_to(&piece.blank);
    drawing.layers = vec![blank, shadows, Layer::new("stones", stones)];
    drawing
}

/// What the picture shows, in a sentence: size, and stones by kind.
fn description(piece: &Piece, lay: &PieceLay) -> String {
    let size = piece.blank.bounds();
    let mut text = format!(
        "A blank of {:.1} by {:.1} mm with {} stones",
        size.width(),
        size.height(),
        lay.stones.len()
    );
    let mut counts = vec![0_usize; piece.kinds.len()];
    lay.stones.iter().for_each(|s| counts[s.kind as usize] += 1);
    let by_kind: Vec<String> = (counts.iter().zip(&piece.kinds))
        .filter(|(count, _)| **count > 0)
        .map(|(count, kind)| format!("{count} {} ({})", kind.name, kind.size))
        .collect();
    if !by_kind.is_empty() {
        text.push_str(": ");
        text.push_str(&by_kind.join(", "));
    }
    text.push('.');
    text
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use geometry::{Point, shapes};
    use lay::{Chart, Colour, Kind, Place, Shape, Stone};

    fn kind(name: &str, reach_mm: f64, finish: Finish) -> Kind {
        Kind {
            name: name.to_owned(),
            shape: Shape::Round,
            size: format!("{reach_mm} mm"),
            fit_mm: reach_mm,
            reach_mm,
            spread_mm: 0.0,
            colour: Colour(230, 150, 40),
            finish,
        }
    }

    pub(crate) fn laid(n: u32) -> (Piece, PieceLay) {
        let piece = Piece {
            name: "flask".to_owned(),
            chart: Chart::Plane,
            blank: shapes::circle(40.0).moved(Point::new(3.0, -8.0)),
            blank_colour: Colour(20, 30, 60),
            kinds: vec![kind("amber", 3.9, Finish::Foiled), kind("ice", 2.0, Finish::Clear)],
            zones: vec![],
            changes: vec![],
        };
        let stone = |i: u32| {
            let at = Point::new(f64::from(i % 7) * 4.0 - 9.0, f64::from(i / 7) - 8.0);
            Stone { place: Place::on_plane(at), kind: i % 2, zone: 0, row: 1, by_hand: false }
        };
        let stones = (0..n).map(stone).collect();
        (
            piece,
            PieceLay {
                chart: Chart::Plane,
                stones,
                zones: vec![],
                coverage: 0.0,
                bare_spots: vec![],
                findings: vec![],
            },
        )
    }

    fn instances(layer: &Layer) -> Vec<Instance> {
        let of = |item: &Item| match item {
            Item::Instance(instance) => Some(*instance),
            Item::Shape(_) | Item::Text(_) => None,
        };
        layer.items.iter().filter_map(of).collect()
    }

    #[test]
    fn each_stone_is_one_instance_in_its_place_over_one_shadow() {
        let (piece, lay) = laid(21);
        let drawing = picture(&piece, &lay);
        assert_eq!(drawing.page, piece.blank.bounds());
        let names: Vec<&str> = drawing.layers.iter().map(|l| l.name.as_str()).collect();
        assert_eq!(names, ["blank", "shadows", "stones"]);
        let (shadows, stones) = (instances(&drawing.layers[1]), instances(&drawing.layers[2]));
        assert_eq!((shadows.len(), stones.len()), (21, 21));
        for (i, (drawn, stone)) in stones.iter().zip(&lay.stones).enumerate() {
            assert_eq!(drawn.place_no, Some(i as u32 + 1));
            assert_eq!(drawn.centre, stone.place.point());
            assert_eq!(drawn.radius, piece.kinds[stone.kind as usize].reach_mm / 2.0);
            let name = &drawing.symbols[drawn.symbol.0].name;
            assert!(name.starts_with(&format!("kind-{}-", stone.kind + 1)), "{name}");
        }
    }

    #[test]
    fn stones_of_a_kind_share_few_symbols_and_are_not_all_alike() {
        let (piece, lay) = laid(400);
        let drawing = picture(&piece, &lay);
        let of_amber = drawing.symbols.iter().filter(|s| s.name.starts_with("kind-1-")).count();
        assert_eq!(of_amber, WAYS as usize);
    }

    #[test]
    fn a_stone_looks_the_same_whatever_else_is_laid() {
        let looks = |n: u32| {
            let (piece, lay) = laid(n);
            let drawing = picture(&piece, &lay);
            let fifth = instances(&drawing.layers[2])[4];
            drawing.symbols[fifth.symbol.0].name.clone()
        };
        assert_eq!(looks(5), looks(50));
    }

    #[test]
    fn the_description_counts_the_stones() {
        let (piece, lay) = laid(3);
        let text = picture(&piece, &lay).description;
        let expect = "A blank of 40.0 by 40.0 mm with 3 stones: 2 amber (3.9 mm), 1 ice (2 mm).";
        assert_eq!(text, expect);
        let (piece, lay) = laid(0);
        let text = picture(&piece, &lay).description;
        assert_eq!(text, "A blank of 40.0 by 40.0 mm with 0 stones.");
    }
}
