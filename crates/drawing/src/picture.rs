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
