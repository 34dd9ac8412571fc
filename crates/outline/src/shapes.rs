//! The painted shapes of a drawing, with their transforms and clip paths.

use std::rc::Rc;

use kurbo::{Affine, BezPath};
use usvg::{Group, Node};

use crate::source::Sources;

/// What a shape paints.
#[derive(Clone)]
pub(crate) enum Paint {
    /// What the curve encloses.
    Fill(geometry::boolean::FillRule),
    /// A band along the curve.
    Stroke(Rc<kurbo::Stroke>),
}

/// One painted shape.
#[derive(Clone)]
pub(crate) struct Shape {
    /// The curve in its own units, y down.
    pub curve: Rc<BezPath>,
    /// From its own units to user units of the page.
    pub place: Affine,
    /// What it paints.
    pub paint: Paint,
    /// What it is cut to, all of them.
    pub clips: Vec<Rc<Clip>>,
}

/// A clip path: the shapes within which something shows.
pub(crate) struct Clip {
    /// Together they enclose what shows.
    pub shapes: Vec<Shape>,
}

/// What came out of a drawing.
#[derive(Default)]
pub(crate) struct Shapes {
    /// In order of painting.
    pub shapes: Vec<Shape>,
    /// Groups with a mask that was left out.
    pub masks: usize,
    /// Groups with a filter that was left out.
    pub filters: usize,
    /// Paths with neither fill nor stroke.
    pub unpainted: usize,
}

/// Collects the shapes of a drawing.
pub(crate) fn collect(tree: &usvg::Tree, sources: &Sources) -> Shapes {
    let mut found = Shapes::default();
    found.group(tree.root(), Affine::IDENTITY, &[], sources);
    found
}

impl Shapes {
    /// Depth is bounded by what the document may nest.
    fn group(&mut self, group: &Group, above: Affine, clips: &[Rc<Clip>], sources: &Sources) {
        if group.opacity().get() == 0.0 {
            return;
        }
        self.masks += usize::from(group.mask().is_some());
        self.filters += usize::from(!group.filters().is_empty());
        // Multiplied in `f64`: `usvg` has the product too, but in `f32`.
        let place = above * affine(group.transform());
        let mut clips = clips.to_vec();
        let mut clip = group.clip_path();
        while let Some(c) = clip {
            clips.push(Rc::new(self.clip(c, place, sources)));
            clip = c.clip_path();
        }
        for node in group.children() {
            match node {
                Node::Group(g) => self.group(g, place, &clips, sources),
                Node::Path(p) => self.path(p, place, &clips, sources),
                // Nothing is loaded to make either of; the document's remarks name them.
                Node::Image(_) | Node::Text(_) => {}
            }
        }
    }

    fn clip(&mut self, clip: &usvg::ClipPath, place: Affine, sources: &Sources) -> Clip {
        let mut within = Shapes::default();
        within.group(clip.root(), place * affine(clip.transform()), &[], sources);
        Clip { shapes: within.shapes }
    }

    fn path(&mut self, path: &usvg::Path, place: Affine, clips: &[Rc<Clip>], sources: &Sources) {
        let fill = path.fill().filter(|f| f.opacity().get() > 0.0);
        let stroke = path.stroke().filter(|s| s.opacity().get() > 0.0);
        if fill.is_none() && stroke.is_none() {
            self.unpainted += 1;
            return;
        }
        if !path.is_visible() {
            return;
        }
        let curve = Rc::new(sources.curve(path.data()));
        let shape = |paint| Shape { curve: Rc::clone(&curve), place, paint, clips: clips.to_vec() };
        if let Some(fill) = fill {
            let rule = match fill.rule() {
                usvg::FillRule::NonZero => geometry::boolean::FillRule::NonZero,
                usvg::FillRule::EvenOdd => geometry::boolean::FillRule::EvenOdd,
            };
            self.shapes.push(shape(Paint::Fill(rule)));
        }
        if let Some(stroke) = stroke {
            self.shapes.push(shape(Paint::Stroke(Rc::new(pen(stroke)))));
        }
    }
}

fn affine(t: usvg::Transform) -> Affine {
    Affine::new([t.sx, t.ky, t.kx, t.sy, t.tx, t.ty].map(f64::from))
}

/// The stroke in kurbo's terms.
fn pen(stroke: &usvg::Stroke) -> kurbo::Stroke {
    let join = match stroke.linejoin() {
        usvg::LineJoin::Miter | usvg::LineJoin::MiterClip => kurbo::Join::Miter,
        usvg::LineJoin::Round => kurbo::Join::Round,
        usvg::LineJoin::Bevel => kurbo::Join::Bevel,
    };
    let cap = match stroke.linecap() {
        usvg::LineCap::Butt => kurbo::Cap::Butt,
        usvg::LineCap::Round => kurbo::Cap::Round,
        usvg::LineCap::Square => kurbo::Cap::Square,
    };
    let pen = kurbo::Stroke::new(f64::from(stroke.width().get()))
        .with_join(join)
        .with_miter_limit(f64::from(stroke.miterlimit().get()))
        .with_caps(cap);
    match stroke.dasharray() {
        Some(dashes) => {
            let dashes: Vec<f64> = dashes.iter().map(|d| f64::from(*d)).collect();
            pen.with_dashes(f64::from(stroke.dashoffset()), dashes)
        }
        None => pen,
    }
}
