//! A drawing as a frame of the typesetter, at true size.

use drawing::{
    Anchor, Drawing, Ink, Instance, Item, Layer, Outline, Paint, Path, Shape, Stroke, Text,
};
use export::FACE;
use geometry::{Curve as Bend, Point, Segment};
use std::sync::LazyLock;
use typst::layout::{Abs, Angle, Em, Frame, FrameItem, GroupItem, Size, Transform};
use typst::layout::{Point as Spot, Ratio};
use typst::syntax::Span;
use typst::text::{Font, FontInstance, FontVariant, Glyph, Lang, TextItem};
use typst::visualize::{
    Color, Curve, DashPattern, FillRule, FixedStroke, Geometry, LineCap, LineJoin,
    Paint as Colouring, Shape as Figure,
};

/// Points in a millimetre: a point is 1/72 inch (ISO 32000-1, 8.3.2.3), an inch 25.4 mm.
const PT_PER_MM: f64 = 72.0 / 25.4;

/// From the drawing to the paper: where the top left corner is, and how far each axis is stretched
/// to make up for a printer that does not keep to size.
#[derive(Clone, Copy)]
pub(crate) struct Stretch {
    /// Across.
    pub(crate) x: f64,
    /// Down.
    pub(crate) y: f64,
}

impl Stretch {
    /// Of things that have no direction, such as the width of a line.
    fn mean(self) -> f64 {
        (self.x * self.y).sqrt()
    }
}

/// The drawing on its page, whose top left corner is that of the frame.
///
/// Instances of one symbol that follow each other are drawn shape by shape, all of them at once:
/// they must not overlap, which stones never do. A gradient shows the colour of its middle.
pub(crate) fn frame(drawing: &Drawing, stretch: Stretch) -> Frame {
    let to = ToPaper { corner: Point::new(drawing.page.min.x, drawing.page.max.y), stretch };
    let far = to.spot(Point::new(drawing.page.max.x, drawing.page.min.y));
    let mut frame = Frame::hard(Size::new(far.x, far.y));
    for layer in &drawing.layers {
        let mut inside = Frame::soft(frame.size());
        to.layer(drawing, layer, &mut inside);
        let mut group = GroupItem::new(inside);
        group.clip = layer.clip.as_ref().map(|region| {
            let mut curve = Curve::new();
            to.outline(&mut curve, &Outline::from(region), &|p| p);
            curve
        });
        frame.push(Spot::zero(), FrameItem::Group(group));
    }
    frame
}

#[derive(Clone, Copy)]
struct ToPaper {
    corner: Point,
    stretch: Stretch,
}

impl ToPaper {
    /// To a thousandth of a point, 0.35 µm: shorter files, and far finer than any printer.
    fn spot(self, p: Point) -> Spot {
        let x = (p.x - self.corner.x) * PT_PER_MM * self.stretch.x;
        let y = (self.corner.y - p.y) * PT_PER_MM * self.stretch.y;
        Spot::new(Abs::pt(thousandth(x)), Abs::pt(thousandth(y)))
    }

    fn length(self, mm: f64) -> Abs {
        Abs::pt(thousandth(mm * PT_PER_MM * self.stretch.mean()))
    }

    fn layer(self, drawing: &Drawing, layer: &Layer, into: &mut Frame) {
        let mut items = layer.items.iter().peekable();
        while let Some(item) = items.next() {
            match item {
                Item::Shape(shape) => {
                    into.push(
                        Spot::zero(),
                        self.shape(shape, 1.0, |to, curve| {
                            to.outline(curve, &shape.outline, &|p| p);
                        }),
                    );
                }
                Item::Text(text) => self.text(text, into),
                Item::Instance(first) => {
                    let mut run = vec![*first];
                    while let Some(Item::Instance(next)) = items
                        .next_if(|i| matches!(i, Item::Instance(i) if i.symbol == first.symbol))
                    {
                        run.push(*next);
                    }
                    self.run(drawing, &run, into);
                }
            }
        }
    }

    /// Instances of one symbol.
    fn run(self, drawing: &Drawing, run: &[Instance], into: &mut Frame) {
        let Some(symbol) = run.first().and_then(|i| drawing.symbols.get(i.symbol.0)) else {
            return;
        };
        let scale = run.first().map_or(1.0, |i| i.radius);
        for shape in &symbol.shapes {
            let item = self.shape(shape, scale, |to, curve| {
                for instance in run {
                    let turn = Point::unit(instance.turn_deg.to_radians());
                    let place = |p: Point| instance.centre + p.turned(turn) * instance.radius;
                    to.outline(curve, &shape.outline, &place);
                }
            });
            into.push(Spot::zero(), item);
        }
    }

    /// The look of `shape`, whose lines are `scale` times as wide, along what `draw` draws.
    fn shape(self, shape: &Shape, scale: f64, draw: impl FnOnce(ToPaper, &mut Curve)) -> FrameItem {
        let mut curve = Curve::new();
        draw(self, &mut curve);
        let figure = Figure {
            geometry: Geometry::Curve(curve),
            fill: shape.fill.map(colouring),
            fill_rule: FillRule::NonZero,
            stroke: shape.stroke.map(|s| self.stroke(s, scale)),
        };
        FrameItem::Shape(figure, Span::detached())
    }

    fn stroke(self, stroke: Stroke, scale: f64) -> FixedStroke {
        FixedStroke {
            paint: colouring(stroke.paint),
            thickness: self.length(stroke.width * scale),
            cap: LineCap::Butt,
            join: LineJoin::Round,
            dash: stroke.dash.map(|d| DashPattern {
                array: vec![self.length(d.on * scale), self.length(d.off * scale)],
                phase: Abs::zero(),
            }),
            miter_limit: Ratio::new(4.0),
        }
    }

    fn outline(self, curve: &mut Curve, outline: &Outline, place: &dyn Fn(Point) -> Point) {
        match outline {
            Outline::Circle { centre, radius } => {
                let at = |x: f64, y: f64| *centre + Point::new(x, y) * *radius;
                let ends = [at(1.0, 0.0), at(0.0, 1.0), at(-1.0, 0.0), at(0.0, -1.0), at(1.0, 0.0)];
                curve.move_(self.spot(place(ends[0])));
                for pair in ends.windows(2) {
                    let arc = Segment::arc(pair[0], pair[1], *centre, *radius, true);
                    self.segment(curve, &arc, place);
                }
                curve.close();
            }
            Outline::Path(path) => self.path(curve, path, place),
        }
    }

    fn path(self, curve: &mut Curve, path: &Path, place: &dyn Fn(Point) -> Point) {
        let closed = path.rings.iter().map(|r| (&r.segments, true));
        let open = path.lines.iter().map(|l| (l, false));
        for (segments, closes) in closed.chain(open) {
            let Some(first) = segments.first() else { continue };
            curve.move_(self.spot(place(first.from)));
            segments.iter().for_each(|s| self.segment(curve, s, place));
            if closes {
                curve.close();
            }
        }
    }

    /// A line, or an arc as cubic curves of at most a quarter turn each: within 0.03 % of the radius.
    fn segment(self, curve: &mut Curve, segment: &Segment, place: &dyn Fn(Point) -> Point) {
        let Bend::Arc { centre, .. } = segment.curve else {
            curve.line(self.spot(place(segment.to)));
            return;
        };
        let sweep = segment.sweep();
        let n = (sweep.abs() / std::f64::consts::FRAC_PI_2 - 1e-9).ceil().max(1.0);
        let step = sweep / n;
        // How far the handles reach, in radii: (4/3) tan(angle/4), the usual fit of a cubic.
        let reach = 4.0 / 3.0 * libm::tan(step / 4.0);
        for i in 0..n as u32 {
            let from = segment.point_at(f64::from(i) / n);
            let to = segment.point_at(f64::from(i + 1) / n);
            let (a, b) = ((from - centre).left() * reach, (to - centre).left() * reach);
            let (a, b) = (place(from + a), place(to - b));
            curve.cubic(self.spot(a), self.spot(b), self.spot(place(to)));
        }
    }

    fn text(self, text: &Text, into: &mut Frame) {
        let Some(item) = self.glyphs(text) else { return };
        let width = item.width();
        let left = match text.anchor {
            Anchor::Left => Abs::zero(),
            Anchor::Middle => -width * 0.5,
            Anchor::Right => -width,
        };
        let down = self.length(text.height_mm) * 0.5;
        let at = self.spot(text.at);
        if text.turn_deg == 0.0 {
            let at = Spot::new(rounded(at.x + left), rounded(at.y + down));
            into.push(at, FrameItem::Text(item));
            return;
        }
        let mut line = Frame::soft(Size::zero());
        line.push(Spot::new(left, down), FrameItem::Text(item));
        let mut group = GroupItem::new(line);
        group.transform = Transform::rotate(Angle::deg(-text.turn_deg));
        into.push(at, FrameItem::Group(group));
    }

    /// The letters side by side; what the face lacks is left out.
    fn glyphs(self, text: &Text) -> Option<TextItem> {
        let font = face()?;
        let mut shown = String::new();
        let mut glyphs = vec![];
        for c in text.text.chars() {
            let Some(id) = font.ttf().glyph_index(c) else { continue };
            let from = u16::try_from(shown.len()).ok()?;
            shown.push(c);
            let range = from..u16::try_from(shown.len()).ok()?;
            glyphs.push(Glyph {
                id: id.0,
                x_advance: font.x_advance(id.0).unwrap_or(Em::zero()),
                x_offset: Em::zero(),
                y_advance: Em::zero(),
                y_offset: Em::zero(),
                range,
                span: (Span::detached(), 0),
            });
        }
        (!glyphs.is_empty()).then(|| TextItem {
            font: font.clone(),
            size: self.length(text.height_mm / FACE.capitals),
            fill: Colouring::Solid(colour(text.ink)),
            stroke: None,
            lang: Lang::ENGLISH,
            region: None,
            text: shown.into(),
            glyphs,
        })
    }
}

/// The face of text in drawings.
fn face() -> Option<&'static FontInstance> {
    static FONT: LazyLock<Option<FontInstance>> = LazyLock::new(|| {
        let font: Font = crate::fonts::FONTS.all.first()?.clone();
        Some(font.instantiate(FontVariant::default(), Abs::pt(10.0), &Default::default()))
    });
    FONT.as_ref()
}

fn colouring(paint: Paint) -> Colouring {
    match paint {
        Paint::Flat(ink) => Colouring::Solid(colour(ink)),
        // Sheets use none; pictures are better put in as pictures.
        Paint::Gradient(_) => Colouring::Solid(Color::from_u8(128, 128, 128, 255)),
    }
}

fn colour(ink: Ink) -> Color {
    let c = ink.colour;
    Color::from_u8(c.0, c.1, c.2, (ink.opacity.clamp(0.0, 1.0) * 255.0).round() as u8)
}

fn thousandth(pt: f64) -> f64 {
    (pt * 1000.0).round() / 1000.0 + 0.0
}

fn rounded(length: Abs) -> Abs {
    Abs::pt(thousandth(length.to_pt()))
}
