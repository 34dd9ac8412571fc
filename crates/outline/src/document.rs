//! From bytes to XML, and what the XML alone tells: limits kept, curves, things that get lost.

use roxmltree::{Document, Node, ParsingOptions};

use crate::path_data::Fault;
use crate::source::{self, Sources};
use crate::{OutlineError, Remark, copies, limits};

const SVG: &str = "http://www.w3.org/2000/svg";
const XLINK: &str = "http://www.w3.org/1999/xlink";

/// What can be told before shapes are resolved.
pub(crate) struct Facts {
    /// The curves as drawn.
    pub sources: Sources,
    /// What will not come into the outline.
    pub remarks: Vec<Remark>,
    /// Millimetres to one unit of the `viewBox`, exactly, if the page states its width or height
    /// in a real unit.
    pub stated_scale: Option<f64>,
    /// Whether the page or a shape states its size in a real unit.
    pub has_real_size: bool,
    /// Whether there is any element that draws.
    pub has_shapes: bool,
}

/// The text of a file, if it can be a drawing at all.
pub(crate) fn text_of(bytes: &[u8]) -> Result<&str, OutlineError> {
    if bytes.len() > limits::BYTES {
        return Err(OutlineError::TooLarge { bytes: bytes.len() });
    }
    const KINDS: [(&[u8], &str); 7] = [
        (b"%PDF", "a PDF document"),
        (b"%!PS", "a PostScript document"),
        (b"\x89PNG", "a PNG picture"),
        (b"\xff\xd8\xff", "a JPEG picture"),
        (b"GIF8", "a GIF picture"),
        (b"RIFF", "a WebP picture or a sound"),
        (b"PK\x03\x04", "a ZIP archive"),
    ];
    if bytes.starts_with(b"\x1f\x8b") {
        return Err(OutlineError::Compressed);
    }
    if bytes.starts_with(b"\xff\xfe") || bytes.starts_with(b"\xfe\xff") {
        return Err(OutlineError::Utf16);
    }
    if let Some((_, kind)) = KINDS.iter().find(|(magic, _)| bytes.starts_with(magic)) {
        return Err(OutlineError::OtherKind { kind });
    }
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let text =
        std::str::from_utf8(bytes).map_err(|e| OutlineError::NotUtf8 { at: e.valid_up_to() })?;
    if text.trim().is_empty() { Err(OutlineError::Empty) } else { Ok(text) }
}

/// The XML of a text, its outermost element an `svg`.
pub(crate) fn parse(text: &str) -> Result<Document<'_>, OutlineError> {
    let options = ParsingOptions {
        allow_dtd: true, // drawing programs declare namespaces as entities
        nodes_limit: 1_000_000,
        ..ParsingOptions::default()
    };
    let doc = Document::parse_with_options(text, options).map_err(|e| xml_error(&e, text))?;
    let root = doc.root_element();
    let name = root.tag_name();
    match (name.name(), name.namespace()) {
        ("svg", None | Some(SVG)) => {}
        ("svg", Some(other)) => {
            return Err(OutlineError::NotSvg { root: shortened(&format!("svg` of `{other}")) });
        }
        (other, _) => return Err(OutlineError::NotSvg { root: shortened(other) }),
    }
    Ok(doc)
}

fn xml_error(error: &roxmltree::Error, text: &str) -> OutlineError {
    let pos = match error {
        // The reader does not say where the text ends.
        roxmltree::Error::UnclosedRootNode | roxmltree::Error::UnexpectedEndOfStream => {
            end_of(text)
        }
        _ => error.pos(),
    };
    let (line, column) = (pos.row, pos.col);
    match error {
        roxmltree::Error::EntityReferenceLoop(_) => OutlineError::Entities { line, column },
        roxmltree::Error::NodesLimitReached => OutlineError::TooManyElements,
        _ => {
            let reason = error.to_string().replace(&format!(" at {}", error.pos()), "");
            OutlineError::Xml { line, column, reason: shortened(&reason) }
        }
    }
}

fn end_of(text: &str) -> roxmltree::TextPos {
    let lines = text.lines().count().max(1);
    let last = text.lines().last().unwrap_or("").chars().count();
    let number = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    roxmltree::TextPos::new(number(lines), number(last).saturating_add(1))
}

/// Looks through the document once.
pub(crate) fn facts(doc: &Document<'_>) -> Result<Facts, OutlineError> {
    copies::check(doc)?;
    let mut scribe = Scribe::default();
    for node in doc.descendants().filter(|n| is_svg(*n)) {
        scribe.note(node)?;
    }
    let (stated_scale, page_is_real) = page_scale(doc.root_element())?;
    let has_real_size = page_is_real || scribe.real_size;
    let drawing = ["path", "rect", "circle", "ellipse", "line", "polyline", "polygon", "use"];
    let has_shapes = doc.descendants().any(|n| drawing.contains(&n.tag_name().name()));
    let remarks = scribe.remarks();
    Ok(Facts { remarks, sources: scribe.sources, stated_scale, has_real_size, has_shapes })
}

fn is_svg(node: Node<'_, '_>) -> bool {
    node.is_element() && matches!(node.tag_name().namespace(), None | Some(SVG))
}

pub(crate) fn line(node: Node<'_, '_>) -> u32 {
    node.document().text_pos_at(node.range().start).row
}

/// Where an element points, by either name of the attribute.
pub(crate) fn href<'a>(node: Node<'a, '_>) -> Option<&'a str> {
    node.attribute("href").or_else(|| node.attribute((XLINK, "href")))
}

/// Things of one kind: how many, and the first.
#[derive(Default)]
struct Tally {
    count: usize,
    line: u32,
    what: String,
}

impl Tally {
    fn add(&mut self, node: Node<'_, '_>, what: &str) {
        if self.count == 0 {
            self.line = line(node);
            self.what = shortened(what);
        }
        self.count += 1;
    }
}

/// Writes down curves and losses on the way through the document.
#[derive(Default)]
struct Scribe {
    sources: Sources,
    texts: Tally,
    images: Tally,
    outside: Tally,
    cut_short: Tally,
    skipped: Tally,
    /// Whether a shape states its size in a real unit.
    real_size: bool,
}

impl Scribe {
    fn note(&mut self, node: Node<'_, '_>) -> Result<(), OutlineError> {
        match node.tag_name().name() {
            "path" => {
                let d = node.attribute("d").unwrap_or("");
                match source::remember(&mut self.sources, d) {
                    None => {}
                    Some(Fault::Unreadable) => self.cut_short.add(node, ""),
                    Some(Fault::HugeArc) => return Err(OutlineError::HugeArc { line: line(node) }),
                }
            }
            name @ ("polyline" | "polygon") => {
                if let Some(points) = node.attribute("points") {
                    self.sources.add_points(points, name == "polygon");
                }
            }
            "rect" => self.note_size(node, &["width", "height"]),
            "circle" => self.note_size(node, &["r"]),
            "ellipse" => self.note_size(node, &["rx", "ry"]),
            "text" if is_shown(node) => {
                let pieces = node.descendants().filter(Node::is_text).filter_map(|n| n.text());
                let text: String = pieces.collect();
                if !text.trim().is_empty() {
                    self.texts.add(node, &text.split_whitespace().collect::<Vec<_>>().join(" "));
                }
            }
            "image" if is_shown(node) => self.images.add(node, ""),
            "use" => match href(node) {
                Some(target) if !target.starts_with('#') => self.outside.add(node, target),
                _ => {}
            },
            _ => {}
        }
        Ok(())
    }

    /// Notes a shape that has no size, or one that is no length.
    fn note_size(&mut self, node: Node<'_, '_>, attributes: &[&str]) {
        for name in attributes {
            let fault = match node.attribute(*name) {
                // An ellipse takes one radius for the other.
                None if *name == "rx" || *name == "ry" => continue,
                None => format!("no `{name}`"),
                Some(value) => match value.parse::<svgtypes::Length>() {
                    Ok(length) if length.number > 0.0 => {
                        self.real_size |= millimetres(length).is_some();
                        continue;
                    }
                    Ok(_) => format!("`{name}` is {value}"),
                    Err(_) => format!("`{name}` is no length: {value}"),
                },
            };
            if is_shown(node) {
                self.skipped.add(node, &fault);
            }
            return;
        }
    }

    fn remarks(&mut self) -> Vec<Remark> {
        let mut remarks = Vec::new();
        let some = |t: &mut Tally| (t.count > 0).then(|| std::mem::take(t));
        if let Some(t) = some(&mut self.texts) {
            remarks.push(Remark::TextLost { line: t.line, count: t.count, text: t.what });
        }
        if let Some(t) = some(&mut self.images) {
            remarks.push(Remark::ImageIgnored { line: t.line, count: t.count });
        }
        if let Some(t) = some(&mut self.outside) {
            let target = t.what;
            remarks.push(Remark::ReferenceRefused { line: t.line, count: t.count, target });
        }
        if let Some(t) = some(&mut self.cut_short) {
            remarks.push(Remark::PathCutShort { line: t.line, count: t.count });
        }
        if let Some(t) = some(&mut self.skipped) {
            remarks.push(Remark::ShapeSkipped { line: t.line, count: t.count, what: t.what });
        }
        remarks
    }
}

/// Whether an element is drawn where it stands, as far as its ancestors' attributes tell.
fn is_shown(node: Node<'_, '_>) -> bool {
    node.ancestors().filter(Node::is_element).all(|n| {
        let kept_back = ["defs", "symbol", "clipPath", "mask", "pattern", "marker"];
        let style: String =
            n.attribute("style").unwrap_or("").chars().filter(|c| !c.is_whitespace()).collect();
        !kept_back.contains(&n.tag_name().name())
            && n.attribute("display") != Some("none")
            && !style.contains("display:none")
    })
}

/// Millimetres to a unit of the `viewBox`, if stated, and whether the page has a real size.
fn page_scale(svg: Node<'_, '_>) -> Result<(Option<f64>, bool), OutlineError> {
    let length = |name: &str| -> Result<Option<svgtypes::Length>, OutlineError> {
        let Some(value) = svg.attribute(name) else { return Ok(None) };
        match value.parse::<svgtypes::Length>() {
            Ok(l) if l.number > 0.0 => Ok(Some(l)),
            Ok(_) => Err(no_page(svg, name, value)),
            Err(_) => Ok(None), // readers take it as missing
        }
    };
    let (width, height) = (length("width")?, length("height")?);
    let view_box = match svg.attribute("viewBox") {
        None => None,
        Some(value) => match value.parse::<svgtypes::ViewBox>() {
            Ok(v) => Some(v),
            Err(_) => return Err(no_page(svg, "viewBox", value)),
        },
    };
    let real = [width.and_then(millimetres), height.and_then(millimetres)];
    let scale = view_box.and_then(|v| match real {
        // Both: the drawing is fitted into the page (`preserveAspectRatio` at its default).
        [Some(w), Some(h)] => Some((w / v.w).min(h / v.h)),
        [Some(w), None] if height.is_none() => Some(w / v.w),
        [None, Some(h)] if width.is_none() => Some(h / v.h),
        _ => None,
    });
    Ok((scale, real.iter().any(Option::is_some)))
}

fn no_page(svg: Node<'_, '_>, name: &str, value: &str) -> OutlineError {
    OutlineError::NoPage { line: line(svg), what: shortened(&format!("{name}=\"{value}\"")) }
}

/// A length in a real unit, mm (CSS Values 4, absolute lengths).
fn millimetres(length: svgtypes::Length) -> Option<f64> {
    let n = length.number;
    match length.unit {
        svgtypes::LengthUnit::Mm => Some(n),
        svgtypes::LengthUnit::Cm => Some(n * 10.0),
        svgtypes::LengthUnit::In => Some(n * 25.4),
        svgtypes::LengthUnit::Pt => Some(n * 25.4 / 72.0),
        svgtypes::LengthUnit::Pc => Some(n * 25.4 / 6.0),
        _ => None,
    }
}

/// The first 60 characters, control characters left out.
fn shortened(text: &str) -> String {
    let mut chars = text.chars().filter(|c| !c.is_control());
    let mut short: String = chars.by_ref().take(60).collect();
    if chars.next().is_some() {
        short.push('…');
    }
    short
}
