//! The picture of a piece at the bench: what is set, what is next, what is still bare.

use desk::bench::{Frozen, FrozenRow, FrozenStretch};
use std::fmt::Write;

/// What of the piece is shown, and how.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum View {
    /// The row at hand, large, each stone with its mark.
    Close,
    /// The whole piece.
    Whole,
    /// The whole piece without room round it: to be tapped.
    Tap,
    /// The whole piece at true size, light, to lie under a clear blank.
    Under,
}

/// What is drawn.
pub(super) struct Picture<'a> {
    /// The lay.
    pub(super) frozen: &'a Frozen,
    /// Index of the stretch at hand, and of its row; none when no row is.
    pub(super) at: Option<(usize, usize)>,
    /// How.
    pub(super) view: View,
}

/// A box of the piece, mm.
#[derive(Clone, Copy)]
struct Window {
    x: f64,
    y: f64,
    width: f64,
    height: f64,
}

/// Room round the piece in every picture but the true-size one, mm.
const ROOM_MM: f64 = 1.5;
/// A close-up is at least so many stones wide.
const STONES_ACROSS: f64 = 9.0;

/// An ink that can be read on a colour.
pub(super) fn ink_on(colour: &str) -> &'static str {
    let channel = |at: usize| {
        let byte = colour.get(at..at + 2).and_then(|h| u8::from_str_radix(h, 16).ok());
        f64::from(byte.unwrap_or(0)) / 255.0
    };
    // Rec. 601 luma: enough to choose between two inks.
    let luma = 0.299 * channel(1) + 0.587 * channel(3) + 0.114 * channel(5);
    if luma > 0.55 { "#101418" } else { "#ffffff" }
}

impl Picture<'_> {
    /// The picture as SVG.
    pub(super) fn svg(&self) -> String {
        let f = self.frozen;
        let window = self.window();
        let mut out = String::with_capacity(4096 + 80 * f.stones.kind.len());
        let Window { x, y, width, height } = window;
        let size = match self.view {
            View::Under => format!(" width=\"{width:.3}mm\" height=\"{height:.3}mm\""),
            _ => String::new(),
        };
        put(
            &mut out,
            format_args!(
                "<svg xmlns=\"http://www.w3.org/2000/svg\"{size} viewBox=\"{x:.3} {y:.3} {width:.3} {height:.3}\" font-family=\"sans-serif\">"
            ),
        );
        let (ground, edge) = match self.view {
            View::Under => ("#ffffff", "#707880"),
            _ => (f.blank.colour.as_str(), "#808890"),
        };
        put(
            &mut out,
            format_args!(
                "<path d=\"{}\" fill=\"{ground}\" stroke=\"{edge}\" stroke-width=\".3\" fill-rule=\"evenodd\"/>",
                f.blank.path
            ),
        );
        if f.zones.len() > 1 {
            for zone in &f.zones {
                put(
                    &mut out,
                    format_args!(
                        "<path d=\"{}\" fill=\"none\" stroke=\"{edge}\" stroke-width=\".12\" stroke-dasharray=\".8 .6\"/>",
                        zone.path
                    ),
                );
            }
        }
        self.stones(&mut out, window);
        if let Some((stretch, row)) = self.at.and_then(|(s, r)| f.row(s, r)) {
            self.row(&mut out, row);
            self.glue(&mut out, stretch);
        }
        out.push_str("</svg>");
        out
    }

    fn window(&self) -> Window {
        let f = self.frozen;
        let whole = |room: f64| Window {
            x: -room,
            y: -room,
            width: f.width_mm + 2.0 * room,
            height: f.height_mm + 2.0 * room,
        };
        let row = self.at.and_then(|(s, r)| f.row(s, r)).map(|r| r.1);
        match (self.view, row) {
            (View::Under | View::Tap, _) => whole(0.0),
            (View::Close, Some(row)) => close_up(f, row, whole(ROOM_MM)),
            _ => whole(ROOM_MM),
        }
    }

    /// Every stone in the window: set ones in full, others as rings.
    fn stones(&self, out: &mut String, window: Window) {
        let f = self.frozen;
        let set = self.set();
        let marks = self.view == View::Under;
        for (i, kind) in f.stones.kind.iter().enumerate() {
            let Some(kind) = f.kinds.get(*kind as usize) else { continue };
            let (x, y, r) = (f.stones.right_mm[i], f.stones.down_mm[i], kind.drawn_mm / 2.0);
            let inside = x + r > window.x
                && x - r < window.x + window.width
                && y + r > window.y
                && y - r < window.y + window.height;
            if !inside {
                continue;
            }
            let paint = if marks {
                "fill=\"#f3f1ec\" stroke=\"#59616a\" stroke-width=\".12\"".to_owned()
            } else if set.get(i).copied().unwrap_or(false) {
                format!(
                    "fill=\"{}\" stroke=\"#000\" stroke-opacity=\".35\" stroke-width=\".1\"",
                    kind.colour
                )
            } else {
                "fill=\"#888\" fill-opacity=\".12\" stroke=\"#888\" stroke-opacity=\".75\" stroke-width=\".1\"".to_owned()
            };
            put(out, format_args!("<circle cx=\"{x:.3}\" cy=\"{y:.3}\" r=\"{r:.3}\" {paint}/>"));
            if marks {
                letter(out, x, y, r, "#333a42", &kind.mark);
            }
        }
    }

    /// Which stones are set, by index.
    fn set(&self) -> Vec<bool> {
        let f = self.frozen;
        let mut set = vec![self.at.is_none(); f.stones.kind.len()];
        let Some((stretch, row)) = self.at else { return set };
        let before = f.stretches.iter().take(stretch).flat_map(|s| &s.rows);
        let here = f.stretches.get(stretch).into_iter().flat_map(|s| s.rows.iter().take(row));
        for place in before.chain(here).flat_map(|r| &r.places) {
            if let Some(stone) = (*place as usize).checked_sub(1).and_then(|i| set.get_mut(i)) {
                *stone = true;
            }
        }
        set
    }

    /// The row at hand: the way through it, and its stones with a double ring, which shows on any
    /// colour.
    fn row(&self, out: &mut String, row: &FrozenRow) {
        let f = self.frozen;
        let spots: Vec<_> =
            row.places.iter().filter_map(|p| Some((f.spot(*p)?, f.kind_at(*p)?))).collect();
        let close = self.view == View::Close;
        for (spot, kind) in &spots {
            let kind = &f.kinds[*kind];
            let (x, y, r) = (spot.right_mm, spot.down_mm, kind.drawn_mm / 2.0);
            put(
                out,
                format_args!(
                    "<circle cx=\"{x:.3}\" cy=\"{y:.3}\" r=\"{r:.3}\" fill=\"{}\" stroke=\"#101418\" stroke-width=\"{:.2}\"/>",
                    kind.colour,
                    r * 0.2
                ),
            );
            put(
                out,
                format_args!(
                    "<circle cx=\"{x:.3}\" cy=\"{y:.3}\" r=\"{:.3}\" fill=\"none\" stroke=\"#fff\" stroke-width=\"{:.2}\"/>",
                    r * 0.86,
                    r * 0.1
                ),
            );
            if self.view != View::Whole {
                letter(out, x, y, r, ink_on(&kind.colour), &kind.mark);
            }
        }
        if close && spots.len() > 1 {
            let way: Vec<String> =
                spots.iter().map(|(s, _)| format!("{:.3},{:.3}", s.right_mm, s.down_mm)).collect();
            put(
                out,
                format_args!(
                    "<polyline points=\"{}\" fill=\"none\" stroke=\"#fff\" stroke-opacity=\".55\" stroke-width=\".25\"/>",
                    way.join(" ")
                ),
            );
        }
    }

    /// Where the glue of the stretch starts and stops: a triangle and a square, beside the stone.
    fn glue(&self, out: &mut String, stretch: &FrozenStretch) {
        let r = match self.view {
            View::Whole => (self.frozen.width_mm.max(self.frozen.height_mm) / 40.0).max(1.0),
            _ => 1.0,
        };
        let paint = format!("fill=\"#ffd23f\" stroke=\"#101418\" stroke-width=\"{:.2}\"", r * 0.25);
        let (x, y) = (stretch.start.right_mm, stretch.start.down_mm);
        put(
            out,
            format_args!(
                "<path d=\"M{:.3} {:.3}V{:.3}L{:.3} {y:.3}Z\" {paint}/>",
                x - r,
                y - r,
                y + r,
                x + r
            ),
        );
        let (x, y) = (stretch.stop.right_mm, stretch.stop.down_mm);
        put(
            out,
            format_args!(
                "<rect x=\"{:.3}\" y=\"{:.3}\" width=\"{:.3}\" height=\"{:.3}\" {paint}/>",
                x - r * 0.8,
                y - r * 0.8,
                r * 1.6,
                r * 1.6
            ),
        );
    }
}

/// The row with room round it, as wide as a picture is, within the piece.
fn close_up(f: &Frozen, row: &FrozenRow, whole: Window) -> Window {
    let spots: Vec<_> = row.places.iter().filter_map(|p| f.spot(*p)).collect();
    let largest = f.kinds.iter().map(|k| k.drawn_mm).fold(1.0, f64::max);
    let range = |values: &dyn Fn(&desk::bench::Spot) -> f64| {
        spots
            .iter()
            .map(values)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |m, v| (m.0.min(v), m.1.max(v)))
    };
    let (left, right) = range(&|s| s.right_mm);
    let (top, bottom) = range(&|s| s.down_mm);
    if !(left.is_finite() && top.is_finite()) {
        return whole;
    }
    let across = (right - left + 4.0 * largest).max(STONES_ACROSS * largest);
    let down = bottom - top + 4.0 * largest;
    // Four by three, so that pictures of rows do not jump in size.
    let width = across.max(down * 4.0 / 3.0).min(whole.width.max(whole.height * 4.0 / 3.0));
    let height = width * 0.75;
    let (x, y) = ((left + right - width) / 2.0, (top + bottom - height) / 2.0);
    Window { x, y, width, height }
}

fn letter(out: &mut String, x: f64, y: f64, r: f64, ink: &str, mark: &str) {
    let size = if mark.len() > 1 { r * 0.9 } else { r * 1.15 };
    put(
        out,
        format_args!(
            "<text x=\"{x:.3}\" y=\"{:.3}\" font-size=\"{size:.3}\" font-weight=\"700\" text-anchor=\"middle\" fill=\"{ink}\">{mark}</text>",
            y + size * 0.36
        ),
    );
}

fn put(out: &mut String, text: std::fmt::Arguments<'_>) {
    // Writing to a string never fails.
    let _ = out.write_fmt(text);
}
