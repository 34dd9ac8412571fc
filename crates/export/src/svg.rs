//! A drawing as SVG 1.1.

use crate::{FACE, PageFrame};
use drawing::{
    Anchor, Dash, Drawing, Gradient, GradientId, Ink, Instance, Item, Layer, Outline, Paint, Path,
    Shape, Span, Stroke, Symbol, Text,
};
use geometry::{Bounds, Curve, Point, Region, Segment};
use std::fmt::Write;

/// The drawing as an SVG 1.1 file at true size: one unit is one millimetre, x right and y down from
/// the page's top left corner. Lengths are rounded to 0.0001 mm.
///
/// Each layer is a group whose `id` is the layer's name; each symbol is a group in `defs`, of
/// radius 1. **To measure a stone**: it is the element with the id `stone-N`, where N is its
/// `place_no`,
///
/// ```xml
/// <use id="stone-12" xlink:href="#kind-1-4" transform="translate(12.3456 7.8) scale(1.95)"/>
/// ```
///
/// `translate` is its centre and `scale` half its drawn diameter, both within 0.00005 mm; a
/// `rotate` stands between them if the stone is turned. The first circle of every stone's symbol
/// has radius 1, and nothing of the symbol leaves it.
pub fn svg(drawing: &Drawing) -> String {
    let frame = PageFrame::of(drawing.page);
    let mut out = String::with_capacity(
        4096 + 90 * drawing.layers.iter().map(|l| l.items.len()).sum::<usize>(),
    );
    let (width, height) = (mm(drawing.page.width()), mm(drawing.page.height()));
    out.push_str("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    out.push_str("<svg xmlns=\"http://www.w3.org/2000/svg\" ");
    out.push_str("xmlns:xlink=\"http://www.w3.org/1999/xlink\" version=\"1.1\" ");
    put(&mut out, format_args!("width=\"{width}mm\" height=\"{height}mm\" "));
    put(&mut out, format_args!("viewBox=\"0 0 {width} {height}\" role=\"img\">\n"));
    put(&mut out, format_args!("  <title>{}</title>\n", escaped(&drawing.title)));
    put(&mut out, format_args!("  <desc>{}</desc>\n", escaped(&drawing.description)));
    out.push_str("  <defs>\n");
    // A gradient runs in the frame of the shapes it colours: of the page or of a symbol.
    let on_page = painted_on_page(drawing);
    for (no, gradient) in drawing.gradients.iter().enumerate() {
        let frame = if on_page[no] { frame } else { PageFrame::of_symbol() };
        put_gradient(&mut out, no, gradient, frame);
    }
    drawing.symbols.iter().for_each(|s| put_symbol(&mut out, s));
    let clips = clips(drawing);
    for (no, region) in (1..).zip(&clips) {
        let d = path_data(&Path::from(*region), frame);
        put(
            &mut out,
            format_args!("    <clipPath id=\"clip-{no}\"><path d=\"{d}\"/></clipPath>\n"),
        );
    }
    out.push_str("  </defs>\n");
    drawing.layers.iter().for_each(|l| put_layer(&mut out, drawing, &clips, l, frame));
    out.push_str("</svg>\n");
    out
}

/// For each gradient, whether a shape of a layer is painted with it.
fn painted_on_page(drawing: &Drawing) -> Vec<bool> {
    let mut on_page = vec![false; drawing.gradients.len()];
    for item in drawing.layers.iter().flat_map(|l| &l.items) {
        let Item::Shape(shape) = item else { continue };
        for paint in [shape.fill, shape.stroke.map(|s| s.paint)].into_iter().flatten() {
            if let Paint::Gradient(GradientId(no)) = paint {
                on_page[no] = true;
            }
        }
    }
    on_page
}

/// The regions that layers are clipped to, each once.
fn clips(drawing: &Drawing) -> Vec<&Region> {
    let mut clips: Vec<&Region> = vec![];
    for region in drawing.layers.iter().filter_map(|l| l.clip.as_ref()) {
        if !clips.contains(&region) {
            clips.push(region);
        }
    }
    clips
}

fn put_layer(
    out: &mut String,
    drawing: &Drawing,
    clips: &[&Region],
    layer: &Layer,
    frame: PageFrame,
) {
    put(out, format_args!("  <g id=\"{}\"", layer.name));
    let clip = layer.clip.as_ref().and_then(|region| clips.iter().position(|c| *c == region));
    if let Some(no) = clip {
        put(out, format_args!(" clip-path=\"url(#clip-{})\"", no + 1));
    }
    out.push_str(">\n");
    for item in &layer.items {
        out.push_str("    ");
        match item {
            Item::Shape(shape) => put_shape(out, shape, frame),
            Item::Instance(instance) => put_instance(out, drawing, instance, frame),
            Item::Text(text) => put_text(out, text, frame),
        }
    }
    out.push_str("  </g>\n");
}

fn put_instance(out: &mut String, drawing: &Drawing, instance: &Instance, frame: PageFrame) {
    out.push_str("<use ");
    if let Some(place_no) = instance.place_no {
        put(out, format_args!("id=\"stone-{place_no}\" "));
    }
    let at = frame.page_from_drawing(instance.centre);
    let name = &drawing.symbols[instance.symbol.0].name;
    put(
        out,
        format_args!("xlink:href=\"#{name}\" transform=\"translate({} {})", mm(at.x), mm(at.y)),
    );
    if instance.turn_deg != 0.0 {
        // SVG turns clockwise on a page whose y runs down.
        put(out, format_args!(" rotate({})", mm(-instance.turn_deg)));
    }
    put(out, format_args!(" scale({})\"/>\n", mm(instance.radius)));
}

fn put_symbol(out: &mut String, symbol: &Symbol) {
    put(out, format_args!("    <g id=\"{}\">\n", symbol.name));
    for shape in &symbol.shapes {
        out.push_str("      ");
        put_shape(out, shape, PageFrame::of_symbol());
    }
    out.push_str("    </g>\n");
}

fn put_shape(out: &mut String, shape: &Shape, frame: PageFrame) {
    match &shape.outline {
        Outline::Circle { centre, radius } => {
            let c = frame.page_from_drawing(*centre);
            put(
                out,
                format_args!("<circle cx=\"{}\" cy=\"{}\" r=\"{}\"", mm(c.x), mm(c.y), mm(*radius)),
            );
        }
        Outline::Path(path) => put(out, format_args!("<path d=\"{}\"", path_data(path, frame))),
    }
    match shape.fill {
        Some(paint) => put_paint(out, "fill", paint),
        None => out.push_str(" fill=\"none\""),
    }
    if let Some(Stroke { paint, width, dash }) = shape.stroke {
        put_paint(out, "stroke", paint);
        put(out, format_args!(" stroke-width=\"{}\"", mm(width)));
        if let Some(Dash { on, off }) = dash {
            put(out, format_args!(" stroke-dasharray=\"{} {}\"", mm(on), mm(off)));
        }
    }
    out.push_str("/>\n");
}

fn put_text(out: &mut String, text: &Text, frame: PageFrame) {
    let at = frame.page_from_drawing(text.at);
    let anchor = match text.anchor {
        Anchor::Left => "start",
        Anchor::Middle => "middle",
        Anchor::Right => "end",
    };
    put(out, format_args!("<text transform=\"translate({} {})", mm(at.x), mm(at.y)));
    if text.turn_deg != 0.0 {
        put(out, format_args!(" rotate({})", mm(-text.turn_deg)));
    }
    // A line of text stands on its baseline, half a capital below its middle.
    put(
        out,
        format_args!(
            "\" y=\"{}\" font-family=\"{}\" font-size=\"{}\" text-anchor=\"{anchor}\"",
            mm(text.height_mm / 2.0),
            FACE.family,
            mm(text.height_mm / FACE.capitals)
        ),
    );
    put_paint(out, "fill", Paint::Flat(text.ink));
    put(out, format_args!(">{}</text>\n", escaped(&text.text)));
}

fn put_paint(out: &mut String, attribute: &str, paint: Paint) {
    match paint {
        Paint::Flat(Ink { colour, opacity }) => {
            put(out, format_args!(" {attribute}=\"{}\"", colour.hex()));
            if opacity != 1.0 {
                put(out, format_args!(" {attribute}-opacity=\"{}\"", mm(opacity)));
            }
        }
        Paint::Gradient(GradientId(no)) => {
            put(out, format_args!(" {attribute}=\"url(#paint-{})\"", no + 1));
        }
    }
}

fn put_gradient(out: &mut String, no: usize, gradient: &Gradient, frame: PageFrame) {
    let kind = match gradient.span {
        Span::Linear { from, to } => {
            let (a, b) = (frame.page_from_drawing(from), frame.page_from_drawing(to));
            put(out, format_args!("    <linearGradient id=\"paint-{}\" ", no + 1));
            put(out, format_args!("x1=\"{}\" y1=\"{}\" ", mm(a.x), mm(a.y)));
            put(out, format_args!("x2=\"{}\" y2=\"{}\" ", mm(b.x), mm(b.y)));
            "linearGradient"
        }
        Span::Radial { centre, radius, focus } => {
            let (c, f) = (frame.page_from_drawing(centre), frame.page_from_drawing(focus));
            put(out, format_args!("    <radialGradient id=\"paint-{}\" ", no + 1));
            put(out, format_args!("cx=\"{}\" cy=\"{}\" r=\"{}\" ", mm(c.x), mm(c.y), mm(radius)));
            put(out, format_args!("fx=\"{}\" fy=\"{}\" ", mm(f.x), mm(f.y)));
            "radialGradient"
        }
    };
    out.push_str("gradientUnits=\"userSpaceOnUse\">");
    for stop in &gradient.stops {
        put(out, format_args!("<stop offset=\"{}\" ", mm(stop.offset)));
        put(out, format_args!("stop-color=\"{}\"", stop.ink.colour.hex()));
        if stop.ink.opacity != 1.0 {
            put(out, format_args!(" stop-opacity=\"{}\"", mm(stop.ink.opacity)));
        }
        out.push_str("/>");
    }
    put(out, format_args!("</{kind}>\n"));
}

/// A region as the `d` of an SVG path: mm, to the right and down from the top left corner of `page`.
pub fn region_path(region: &Region, page: Bounds) -> String {
    path_data(&Path::from(region), PageFrame::of(page))
}

/// The `d` of a path.
fn path_data(path: &Path, frame: PageFrame) -> String {
    let mut d = String::new();
    for ring in &path.rings {
        put_run(&mut d, &ring.segments, frame, true);
    }
    for line in &path.lines {
        put_run(&mut d, line, frame, false);
    }
    d
}

fn put_run(d: &mut String, segments: &[Segment], frame: PageFrame, closed: bool) {
    let Some(first) = segments.first() else { return };
    let put_point = |d: &mut String, command: &str, p: Point| {
        let p = frame.page_from_drawing(p);
        put(d, format_args!("{command}{} {}", mm(p.x), mm(p.y)));
    };
    put_point(d, "M", first.from);
    for (no, segment) in segments.iter().enumerate() {
        match segment.curve {
            // The last side of a closed polygon is drawn by closing it.
            Curve::Line if closed && no + 1 == segments.len() => {}
            Curve::Line => put_point(d, "L", segment.to),
            Curve::Arc { radius, ccw, .. } => {
                // An arc is given by its ends and radius, and near half a turn the rounding of the
                // ends would move its middle by much more: it goes in two parts.
                let half = segment.point_at(0.5);
                let way = if ccw { "0 0 0 " } else { "0 0 1 " };
                let command = format!("A{0} {0} {way}", mm(radius));
                if segment.sweep().abs() > std::f64::consts::FRAC_PI_2 {
                    put_point(d, &command, half);
                }
                put_point(d, &command, segment.to);
            }
        }
    }
    if closed {
        d.push('Z');
    }
}

/// A number to four decimals, without trailing zeros and never −0.
fn mm(value: f64) -> String {
    let text = format!("{value:.4}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// Text for XML: what it cannot hold is left out.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '\n' | '\t' => out.push(c),
            '\u{fffe}' | '\u{ffff}' => {}
            c if c.is_control() => {}
            c => out.push(c),
        }
    }
    out
}

/// Writing to a `String` cannot fail.
fn put(out: &mut String, text: std::fmt::Arguments<'_>) {
    let _ = out.write_fmt(text);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short_and_round() {
        let cases = [
            (60.0, "60"),
            (0.00004, "0"),
            (-0.00004, "0"),
            (-1.50004, "-1.5"),
            (12.345_678, "12.3457"),
            (100.0, "100"),
        ];
        for (value, expect) in cases {
            assert_eq!(mm(value), expect);
        }
    }

    #[test]
    fn text_becomes_safe_xml() {
        assert_eq!(escaped("a<b & \"c\"\u{1}\u{ffff}"), "a&lt;b &amp; \"c\"");
    }
}
